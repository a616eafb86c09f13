"""Air that gets by: path by path, state by state, and of the house through the year."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.papers.words import Words
from sashwright.physics.hourly_year import MONTH_NAMES
from sashwright.web.answers.say import NONE, Say, capital, percent


@dataclass(frozen=True, slots=True)
class PathRow:
    """One path of the air through a window."""

    path: str
    name: str
    state: str
    amount: str
    area: str
    between: str
    flow: str
    share: str


@dataclass(frozen=True, slots=True)
class StateRow:
    """A state of a window or of all windows, alone and behind a storm sash."""

    name: str
    flow: str
    share: str
    stormed: str
    stormed_share: str
    rated: str
    class_: str


@dataclass(frozen=True, slots=True)
class StepRow:
    """What to do about a path, and what it saves."""

    does: str
    saves: str
    share: str


@dataclass(frozen=True, slots=True)
class Seal:
    """All that the page shows of the air through a window."""

    flow: str
    between: str
    area: str
    storm: str
    storm_share: str
    storm_there: bool
    rated: str
    """Flow by area of opening, as new windows are rated."""
    factor: str
    """What the tables are scaled by; nothing where by nothing."""
    paths: tuple[PathRow, ...]
    states: tuple[StateRow, ...]
    steps: tuple[StepRow, ...]


def seal_shown(answer: WindowAnswer, system: units.System) -> Seal | None:
    """The air through a window; None where its sizes contradict each other."""
    values = answer.values
    if not values:
        return None
    say = Say(system)
    found = values["as_found"]
    stormed = next(row for row in values["scenarios"] if row["storm"])
    factor = values["factor_source"]
    return Seal(
        say.flow(found["flow_75_m3_s"]),
        f"{say.flow(found['flow_75_low_m3_s'])} to {say.flow(found['flow_75_high_m3_s'])}",
        say.area(found["leakage_area_cm2"]),
        say.flow(stormed["flow_75_m3_s"]),
        percent(stormed["share_of_found"]),
        values["storm"]["there"],
        Words(system).flow_by_area(found["unit_per_area_m3_s_m2"]),
        "" if factor == "tables" else f"× {values['factor']:.2f}, {factor}",
        tuple(_path(row, say) for row in values["paths"]),
        tuple(_states(values["scenarios"], say)),
        tuple(_step(row, say) for row in values["steps"]),
    )


def _path(row: Mapping[str, Any], say: Say) -> PathRow:
    amount = NONE
    if row["length_m"] is not None:
        amount = say.run(row["length_m"] * 1000)
    elif row["count"] is not None:
        amount = str(row["count"])
    low, high = row["leakage_area_low_cm2"], row["leakage_area_high_cm2"]
    return PathRow(
        row["path"],
        capital(row["words"].removeprefix("the ")),
        row["state_name"],
        amount,
        say.area(row["leakage_area_cm2"]),
        f"{say.area(low).split()[0]} to {say.area(high)}",
        say.flow(row["flow_75_m3_s"]),
        percent(row["share"]),
    )


def _states(scenarios: Iterable[Mapping[str, Any]], say: Say) -> Iterable[StateRow]:
    rows = list(scenarios)
    stormed = {row["name"]: row for row in rows if row["storm"]}
    for row in rows:
        if row["storm"]:
            continue
        behind = stormed[row["name"]]
        yield StateRow(
            capital(row["name"]),
            say.flow(row["flow_75_m3_s"]),
            percent(row["share_of_found"]),
            say.flow(behind["flow_75_m3_s"]),
            percent(behind["share_of_found"]),
            "yes" if row["meets_rated_limit"] else "no",
            str(row["en_12207"]["overall"] or NONE),
        )


def _step(row: Mapping[str, Any], say: Say) -> StepRow:
    return StepRow(
        capital(row["does"]), say.flow(row["saves_75_m3_s"]), percent(row["saves_share"])
    )


# --- the house ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class WindowRow:
    """One window among those of the house."""

    number: str
    flow: str
    stormed: str
    share: float
    """Of the leakiest window."""
    worst: str
    first: str
    """What to do first."""


@dataclass(frozen=True, slots=True)
class TotalRow:
    """All windows together in one state."""

    name: str
    flow: str
    share: str
    stormed: str
    stormed_share: str
    mean: str
    stormed_mean: str


@dataclass(frozen=True, slots=True)
class Month:
    """Air exchange in a month, as found and with every step done."""

    name: str
    found: str
    best: str
    found_share: float
    best_share: float


@dataclass(frozen=True, slots=True)
class Air:
    """All that the page shows of the air through the windows of a house."""

    windows: tuple[WindowRow, ...]
    totals: tuple[TotalRow, ...]
    months: tuple[Month, ...]
    of_house: bool
    """Whether the exchange is that of the whole house, not of its windows alone."""
    changes: str
    """Air changes an hour, where the volume is known."""
    share: str
    """Of the house's air that goes through its windows, where it was tested."""
    weather: str


def air_shown(answer: Answer, system: units.System) -> Air:
    """The air of a house, its leakiest window first."""
    say, values = Say(system), answer.values
    exchange = values["air_exchange"]
    share = values["windows_share"]
    rows = [] if exchange is None else exchange["scenarios"]
    changes = rows[0]["air_changes_h"] if rows else None
    return Air(
        tuple(_windows(answer.windows, say)),
        tuple(_totals(values["totals"], rows, say)),
        tuple(_months(rows, say)),
        exchange is not None and exchange["of"] == "house",
        "" if changes is None else f"{changes:.2f}",
        "" if share is None else percent(min(share, 1.0)),
        "" if exchange is None else exchange["weather"],
    )


def _windows(answers: Sequence[WindowAnswer], say: Say) -> Iterable[WindowRow]:
    known = [answer for answer in answers if answer.values]
    most = max((each.values["as_found"]["flow_75_m3_s"] for each in known), default=0.0)
    for answer in sorted(known, key=lambda each: -each.values["as_found"]["flow_75_m3_s"]):
        values = answer.values
        flow = values["as_found"]["flow_75_m3_s"]
        stormed = next(row for row in values["scenarios"] if row["storm"])
        worst = max(values["paths"], key=lambda row: row["flow_75_m3_s"])
        steps = values["steps"]
        yield WindowRow(
            answer.number,
            say.flow(flow),
            say.flow(stormed["flow_75_m3_s"]),
            flow / most if most else 0.0,
            f"{worst['words']}, {percent(worst['share'])}",
            steps[0]["does"] if steps else NONE,
        )


def _totals(
    totals: Iterable[Mapping[str, Any]], rows: Iterable[Mapping[str, Any]], say: Say
) -> Iterable[TotalRow]:
    by = {(row["name"], row["storm"]): row["flow_75_m3_s"] for row in totals}
    means = {(row["name"], row["storm"]): row["mean_m3_s"] for row in rows}
    found = by.get(("as found", False), 0.0)

    def mean(name: str, *, storm: bool) -> str:
        value = means.get((name, storm))
        return NONE if value is None else say.flow(value)

    for name, storm in by:
        if storm:
            continue
        alone, behind = by[name, False], by[name, True]
        yield TotalRow(
            capital(name),
            say.flow(alone),
            percent(alone / found) if found else NONE,
            say.flow(behind),
            percent(behind / found) if found else NONE,
            mean(name, storm=False),
            mean(name, storm=True),
        )


def _months(rows: Sequence[Mapping[str, Any]], say: Say) -> Iterable[Month]:
    alone = [row for row in rows if not row["storm"]]
    if not alone:
        return
    found, best = alone[0]["months_m3_s"], alone[-1]["months_m3_s"]
    most = max(found) or 1.0
    for name, one, other in zip(MONTH_NAMES, found, best, strict=True):
        yield Month(name, say.flow(one), say.flow(other), one / most, other / most)
