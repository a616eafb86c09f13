"""The fit card of a window: what the installer leaves, planes off and sets, up the ladder."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import Finding, WindowAnswer
from sashwright.chapters.fit import fit
from sashwright.chapters.fit.calendar import date_words, day_of_date
from sashwright.drawing.yearplot import clearance_plot
from sashwright.papers.cautions import FITTING
from sashwright.papers.figures import Picture, Pictures
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.sheet import SIDES, facts
from sashwright.papers.words import NO_WINDOWS, NONE, date
from sashwright.record.outdoors import Outdoors
from sashwright.window.spec import Window

NO_WEATHER = (
    "No weather is known for this house, so its fit through the year cannot be told: give the house a "
    "climate, such as 'Portland, Maine'."
)
SHOWN = (("lower.sides", "upper.sides"), ("lower.faces", "upper.faces"))
"""Clearances whose year is drawn: the first of each that the window has."""
HALF = 0.485
"""Of the page's breadth, for each of two plots."""


def fit_cards(
    job: Job, pictures: Pictures, outdoors: Outdoors | None, today: datetime.date
) -> dict[str, Any]:
    """All words of the fit cards, one for each window; one sentence where no weather is known."""
    words: dict[str, Any] = {
        "head": "Fit",
        "title": "Fit through the year",
        "says": "",
        "cards": [],
    }
    if not job.windows:
        return words | {"says": NO_WINDOWS}
    if outdoors is None:
        return words | {"says": NO_WEATHER}
    numbers = [window.number for window in job.windows]
    day = day_of_date(today.isoformat()) + 1
    climate = outdoors.daily(job.house)
    answer = fit(job.house, job.knowledge, climate, numbers, job.words.system, day)
    cards = [
        card(job, pictures, window, found, today)
        for window, found in zip(job.windows, answer.windows, strict=True)
    ]
    return words | {"cards": cards}


def card(
    job: Job, pictures: Pictures, window: Window, answer: WindowAnswer, today: datetime.date
) -> dict[str, Any]:
    """All words of one card."""
    values = answer.values
    return {
        "head": f"Fit of window {window.number}",
        "title": f"Fit of window {window.number}",
        "number": window.number,
        "room": window.room,
        **facts(job, window),
        "note": "",
        "boxes": list(_boxes(job, values, today)),
        "stop": _stop(job, values.get("stop")),
        "pictures": list(_plots(job, pictures, answer)),
        "columns": ["Clearance", "Recorded", "Tightest", "Loosest", "Leave today", "Take off"],
        "rows": [_row(job, each) for each in values.get("clearances", {}).values()],
        "key": _key() if values else "",
        "findings": [row_of(finding) for finding in gravest_first(_told(answer.findings, values))],
        "hand": "Notes by hand",
        "caution": FITTING,
    }


def _told(findings: Sequence[Finding], values: Mapping[str, Any]) -> Iterator[Finding]:
    """Without those that the boxes say already: what to leave today, and how to set the stop."""
    for finding in findings:
        leave = finding.level == "note" and finding.says.startswith("With the wood at ")
        stop = finding.on == "lower.stop" and finding.level == "ok" and values.get("stop")
        if not leave and not stop:
            yield finding


# --- what to do ----------------------------------------------------------------------------------


def _boxes(job: Job, values: Mapping[str, Any], today: datetime.date) -> Iterator[dict[str, Any]]:
    """One for each sash that slides: what to leave each side, and what to plane off."""
    for which in SIDES:
        place = values.get("clearances", {}).get(f"{which}.sides")
        if place is None:
            continue
        moisture = values["moisture"][which]
        relief = place["relief_mm"]
        metered = moisture["source"] == "meter"
        yield {
            "name": f"{which} sash",
            "leave_word": "Leave each side at least",
            "leave": job.words.gap_at_least(place["leave_today_mm"]),
            "leave_note": f"with the wood at {moisture['today_pct']:.1f} %, "
            f"{'by the meter' if metered else 'estimated'}, on {date(today)}",
            "relief_word": "Plane off each stile",
            "relief": "nothing" if relief <= 0 else job.words.gap_at_least(relief),
            "relief_note": _tightest(job, place),
            "meter": "meter",
            "meter_note": f"through the year {moisture['least_pct']:.0f} to "
            f"{moisture['greatest_pct']:.0f} %",
        }


def _tightest(job: Job, place: Mapping[str, Any]) -> str:
    gap = job.words.gap
    return (
        f"tightest {gap(place['least_mm'])} about {_day(place['least_day'])}, loosest "
        f"{gap(place['greatest_mm'])} about {_day(place['greatest_day'])}"
    )


def _day(number: int) -> str:
    return date_words(number - 1)


def _stop(job: Job, stop: Mapping[str, Any] | None) -> dict[str, Any] | None:
    """The two settings of the inside stop, and whether one of them is enough."""
    if stop is None:
        return None
    single = stop["single_shift_mm"]
    settings = [
        {
            "season": f"{name}, about {_day(stop[f'{key}_day'])}",
            "shift": _shift(job, stop[f"{key}_shift_mm"]),
        }
        for name, key in (("Tightest days", "wet"), ("Loosest days", "dry"))
    ]
    if single is not None:
        settings.insert(0, {"season": "All year", "shift": _shift(job, single)})
    return {"title": "Inside stop", "settings": settings, "note": _stop_note(job, stop)}


def _stop_note(job: Job, stop: Mapping[str, Any]) -> str:
    if stop["single_shift_mm"] is not None:
        return "One setting does all year; the others keep the play aimed at in their own season."
    if stop["slot_mm"] == 0:
        return "It is nailed: it has to be shifted for each season."
    slot = job.words.gap(stop["slot_mm"])
    enough = stop["slot_long_enough"]
    return f"The slot of {slot} {'reaches' if enough else 'is too short for'} both settings."


def _shift(job: Job, mm: float) -> str:
    if job.words.gap(abs(mm)) == job.words.gap(0.0):
        return "where it is"
    return f"{job.words.gap(abs(mm))} {'away from' if mm > 0 else 'toward'} the sash"


# --- the year ------------------------------------------------------------------------------------


def _plots(job: Job, pictures: Pictures, answer: WindowAnswer) -> Iterator[Picture]:
    places = answer.values.get("clearances", {})
    for wanted in SHOWN:
        place = next((name for name in wanted if name in places), None)
        if place is not None:
            plot = clearance_plot(answer, place, job.words.system)
            name = f"{answer.number}-{place.replace('.', '-')}"
            yield {**pictures.plot(name, plot, HALF), "caption": places[place]["name"]}


def _row(job: Job, each: Mapping[str, Any]) -> dict[str, str]:
    gap = job.words.gap
    relief = each["relief_mm"]
    return {
        "name": each["name"],
        "recorded": gap(each["as_measured_mm"]),
        "tightest": gap(each["least_mm"]),
        "tightest_day": _day(each["least_day"]) + _for(each["binding_days"], "binds"),
        "loosest": gap(each["greatest_mm"]),
        "loosest_day": _day(each["greatest_day"]) + _for(each["rattling_days"], "rattles"),
        "leave": job.words.gap_at_least(each["leave_today_mm"]),
        "relief": NONE if relief <= 0 else job.words.gap_at_least(relief),
    }


def _for(days: int, does: str) -> str:
    return f", {does} {days} day{'' if days == 1 else 's'}" if days else ""


def _key() -> str:
    return (
        "Recorded: by the sizes in the record. Tightest and loosest: on a usual day of that date. Leave "
        "and take off hold for the dampest day, with grain and coating at their worst. In the plots the "
        "band is what grain and coating leave uncertain."
    )
