"""The year of a window as plain values, for screens, papers and JSON."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.answer import mm
from sashwright.chapters.fit.course import USUAL, Course
from sashwright.chapters.fit.judge import PlaceYear, Stop
from sashwright.chapters.fit.year import SashYear, WindowYear

Array = NDArray[np.float64]


def percent(fraction: float) -> float:
    return round(float(fraction) * 100, 2)


def day_number(day: int) -> int:
    """As people count days of the year, from 1."""
    return day + 1


def values_of(year: WindowYear, other: WindowYear) -> dict[str, Any]:
    """All values of one window; ``other`` is the same window with its sash of another wood."""
    return {
        "today": None if year.today is None else day_number(year.today),
        "moisture": {
            **{which: _moisture(sash) for which, sash in year.sash.items()},
            "frame": _extremes(year.members["pulley stile"].course),
        },
        "clearances": {each.place.place: _clearance(each, year.today) for each in year.places},
        "stop": None if year.stop is None else _stop(year.stop),
        "alternative": _alternative(year, other),
        "curves": _curves(year),
    }


def _extremes(course: Course) -> dict[str, Any]:
    usual = course[USUAL]
    return {
        "least_pct": percent(usual.min()),
        "least_day": day_number(int(usual.argmin())),
        "greatest_pct": percent(usual.max()),
        "greatest_day": day_number(int(usual.argmax())),
        "mean_pct": percent(usual.mean()),
        "low_pct": percent(course.min()),
        "high_pct": percent(course.max()),
    }


def _moisture(sash: SashYear) -> dict[str, Any]:
    reading = sash.reading
    return {
        **_extremes(sash.course),
        "today_pct": percent(sash.today),
        "source": sash.source,
        "reading_day": None if reading is None else day_number(reading.day),
        "shift_pct": None if reading is None else percent(reading.shift),
    }


def _clearance(each: PlaceYear, today: int | None) -> dict[str, Any]:
    limits = each.limits
    return {
        "name": each.place.name,
        "as_measured_mm": mm(each.place.gap),
        "today_mm": None if today is None else mm(each.usual[today]),
        "least_mm": mm(each.least),
        "least_day": day_number(each.tightest),
        "greatest_mm": mm(each.greatest),
        "greatest_day": day_number(each.widest),
        "low_mm": mm(each.lowest),
        "high_mm": mm(each.highest),
        "binds_at_mm": mm(limits.binds),
        "wanted_least_mm": mm(limits.least),
        "rattles_above_mm": None if limits.rattles is None else mm(limits.rattles),
        "binding_days": each.binding[0],
        "binding_days_at_worst": each.binding[1],
        "rattling_days": each.rattling[0],
        "rattling_days_at_worst": each.rattling[1],
        "leave_today_mm": mm(each.leave),
        "relief_mm": mm(each.relief),
    }


def _stop(stop: Stop) -> dict[str, Any]:
    return {
        "slot_mm": mm(stop.slot),
        "wet_day": day_number(stop.wet_day),
        "wet_shift_mm": mm(stop.wet_shift),
        "dry_day": day_number(stop.dry_day),
        "dry_shift_mm": mm(stop.dry_shift),
        "reach_mm": mm(stop.reach),
        "slot_long_enough": stop.enough,
        "single_shift_mm": None if stop.single_shift is None else mm(stop.single_shift),
    }


def _alternative(year: WindowYear, other: WindowYear) -> dict[str, Any]:
    """The same window with its sash of another wood, settled in the same air as the present one was."""

    def wood(of: WindowYear) -> Mapping[str, Any]:
        found = {which: of.members[f"{which}.stile"].followed.wood for which in ("upper", "lower")}
        return {
            "wood": {which: row.key for which, row in found.items()},
            "name": " and ".join(dict.fromkeys(row.name for row in found.values())),
            "clearances": {
                each.place.place: {
                    "least_mm": mm(each.least),
                    "greatest_mm": mm(each.greatest),
                    "movement_mm": mm(each.greatest - each.least),
                    "binding_days": each.binding[0],
                    "rattling_days": each.rattling[0],
                }
                for each in of.places
            },
        }

    return {"present": wood(year), "other": wood(other)}


def _curves(year: WindowYear) -> dict[str, Any]:
    """Daily arrays for the picture, 1 January first: moisture [%], clearances [mm]."""
    moisture: dict[str, Course] = {which: sash.course for which, sash in year.sash.items()}
    moisture["frame"] = year.members["pulley stile"].course
    return {
        "moisture_pct": {
            name: _band(course[USUAL], course.min(axis=0), course.max(axis=0), 100, 2)
            for name, course in moisture.items()
        },
        "clearance_mm": {
            each.place.place: _band(each.usual, each.low, each.high, 1000, 2)
            for each in year.places
        },
    }


def _band(usual: Array, low: Array, high: Array, scale: float, digits: int) -> dict[str, Any]:
    rows = np.round(np.stack([low, usual, high]) * scale, digits).tolist()
    return dict(zip(("low", "usual", "high"), rows, strict=True))
