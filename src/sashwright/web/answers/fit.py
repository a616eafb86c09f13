"""Fit through the year: clearances place by place, the moisture behind them, the stop, another wood."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.web.answers.say import NONE, Say, capital, days, long_date, short_date

WHO = {"upper": "Upper sash", "lower": "Lower sash", "frame": "Frame"}


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """One clearance of a window."""

    place: str
    name: str
    today: str
    least: str
    least_on: str
    greatest: str
    greatest_on: str
    binds: str
    rattles: str
    leave: str
    relief: str
    amiss: bool


@dataclass(frozen=True, slots=True)
class MoistureRow:
    """Moisture of a sash or of the frame."""

    name: str
    today: str
    source: str
    least: str
    least_on: str
    greatest: str
    greatest_on: str


@dataclass(frozen=True, slots=True)
class StopText:
    """Where to set the inside stop."""

    single: str
    """One setting that does all year, or nothing."""
    tight: str
    tight_on: str
    loose: str
    loose_on: str
    reach: str
    slot: str
    enough: bool


@dataclass(frozen=True, slots=True)
class OtherRow:
    """One clearance with the sash of the present wood, and of another."""

    name: str
    movement: str
    other_movement: str
    binds: str
    other_binds: str
    rattles: str
    other_rattles: str


@dataclass(frozen=True, slots=True)
class Fit:
    """All that the page shows of the fit of a window."""

    places: tuple[PlaceRow, ...]
    moisture: tuple[MoistureRow, ...]
    stop: StopText | None
    present: str
    other: str
    compared: tuple[OtherRow, ...]

    @property
    def differs(self) -> bool:
        """Whether the other wood sticks or rattles on other days at all."""
        return any((r.binds, r.rattles) != (r.other_binds, r.other_rattles) for r in self.compared)


def fit_shown(answer: WindowAnswer, system: units.System) -> Fit | None:
    """The fit of a window; None where its sizes contradict each other."""
    values = answer.values
    if not values:
        return None
    say = Say(system)
    stop = values["stop"]
    present, other = values["alternative"]["present"], values["alternative"]["other"]
    return Fit(
        tuple(_place(place, row, say) for place, row in values["clearances"].items()),
        tuple(_moisture(who, row) for who, row in values["moisture"].items()),
        None if stop is None else _stop(stop, say),
        present["name"],
        other["name"],
        tuple(
            _compared(row["name"], present["clearances"][place], other["clearances"][place], say)
            for place, row in values["clearances"].items()
        ),
    )


def _place(place: str, row: Mapping[str, Any], say: Say) -> PlaceRow:
    return PlaceRow(
        place,
        capital(row["name"]),
        say.gap(row["today_mm"]),
        say.gap(row["least_mm"]),
        short_date(row["least_day"]),
        say.gap(row["greatest_mm"]),
        short_date(row["greatest_day"]),
        days(row["binding_days"], row["binding_days_at_worst"]),
        days(row["rattling_days"], row["rattling_days_at_worst"]),
        say.gap(row["leave_today_mm"]),
        say.amount(row["relief_mm"]),
        bool(row["binding_days_at_worst"] or row["rattling_days_at_worst"]),
    )


def _moisture(who: str, row: Mapping[str, Any]) -> MoistureRow:
    reading = row.get("reading_day")
    source = row.get("source", "estimated")
    return MoistureRow(
        WHO[who],
        f"{row['today_pct']:.1f} %" if "today_pct" in row else NONE,
        f"{source}, {long_date(reading)}" if reading else source,
        f"{row['least_pct']:.1f} %",
        short_date(row["least_day"]),
        f"{row['greatest_pct']:.1f} %",
        short_date(row["greatest_day"]),
    )


def _stop(row: Mapping[str, Any], say: Say) -> StopText:
    single = row["single_shift_mm"]
    return StopText(
        "" if single is None else say.shift(single),
        say.shift(row["wet_shift_mm"]),
        long_date(row["wet_day"]),
        say.shift(row["dry_shift_mm"]),
        long_date(row["dry_day"]),
        say.gap(row["reach_mm"]),
        say.gap(row["slot_mm"]) if row["slot_mm"] else "none: it is nailed",
        row["slot_long_enough"],
    )


def _compared(name: str, one: Mapping[str, Any], other: Mapping[str, Any], say: Say) -> OtherRow:
    def count(row: Mapping[str, Any], key: str) -> str:
        return days(row[key], row[key])

    return OtherRow(
        capital(name),
        say.gap(one["movement_mm"]),
        say.gap(other["movement_mm"]),
        count(one, "binding_days"),
        count(other, "binding_days"),
        count(one, "rattling_days"),
        count(other, "rattling_days"),
    )
