"""What comes next, and when? The plan of upkeep of every window, and of the house year by year."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, Step, WindowAnswer
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.days import day_number, said, year_of
from sashwright.chapters.keep.changes import changes_of
from sashwright.chapters.keep.clocks import SAID, Clock, Visited, past_of
from sashwright.chapters.keep.due import Due, due_of, times
from sashwright.chapters.keep.exposure import Exposure, exposure_of
from sashwright.chapters.keep.upkeep import Item, items_of
from sashwright.chapters.make.standing import Move
from sashwright.chapters.make.tracks import Track, tracks_of
from sashwright.chapters.make.wanted import Wrong
from sashwright.knowledge.climate import Place
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.physics.hourly_year import HourlyYear
from sashwright.window.resolve import Placed
from sashwright.window.spec import House

YEARS = 30
"""How far the plan looks ahead; as long as the usual study of keeping or replacing."""
DONE = ("visit", "shop", "hours", "looked")
"""Clocks that tell when a thing was done last."""
Tracks = Mapping[str, Sequence[Track]]


@dataclass(frozen=True)
class Recorded:
    """What the record knows beside the house: visits, what went through the shop, the pieces."""

    visits: Sequence[Visited] = ()
    moves: Sequence[Move] = ()
    tracks: tuple[Tracks, Wrong] | None = None
    """As :func:`tracks_of` gives them, where they are at hand."""


@dataclass(frozen=True, slots=True)
class Kept:
    """One thing at one window, with its clock and when it is due."""

    number: str
    item: Item
    clock: Clock
    due: Due
    days: tuple[str, ...]
    """On which it is planned."""


NOTHING = Recorded()


def keep(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    *,
    today: str,
    record: Recorded = NOTHING,
    years: int = YEARS,
    place: Place | None = None,
    year: HourlyYear | None = None,
) -> Answer:
    """The upkeep of the windows of a house (all, or those with ``numbers``), from today on.

    Parameters
    ----------
    today
        The date that everything is reckoned from.
    record
        What was done on visits, and what went through the shop: each sets the clock of what it did.
    years
        How far to look ahead.
    place, year
        Of the weather, for the weeks in which storms and screens are changed.

    A window that contradicts itself is answered with what is wrong. Raises ``KeyError`` for a window that
    the house has not, ``ValueError`` for what is no date.
    """
    day_number(today)
    found, wrong = record.tracks or tracks_of(house, knowledge, numbers)
    wanted = [window.number for window in house.windows] if numbers is None else list(numbers)
    last = year_of(today) + years
    answers: list[WindowAnswer] = []
    kept: list[Kept] = []
    for number in wanted:
        if number in wrong:
            answers.append(wrong[number])
            continue
        try:
            answer, mine = _window(house, found[number], record, today, last)
        except KnowledgeError as error:
            answer, mine = contradicted(number, error), []
        answers.append(answer)
        kept += mine
    changes = changes_of(house, today, years, place=place, year=year)
    values = {
        "today": today,
        "years": list(_by_year(kept, year_of(today), last)),
        "due": [_brief(each) for each in _sorted(kept, "due")],
        "soon": [_brief(each) for each in _sorted(kept, "soon")],
        "unknown": sum(each.due.status == "unknown" for each in kept),
        "next_look": min(
            (
                each.due.planned
                for each in kept
                if each.item.row.what == "inspect" and each.due.planned
            ),
            default=None,
        ),
        "changes": changes,
        "changes_source": "the season chapter" if changes else None,
    }
    return Answer("keep", house.name, answers, values, list(_house_findings(values)))


# --- one window -----------------------------------------------------------------------


def _window(
    house: House,
    tracks: Sequence[Track],
    record: Recorded,
    today: str,
    last: int,
) -> tuple[WindowAnswer, list[Kept]]:
    placed: Placed = tracks[0].placed
    window = placed.window
    exposure = exposure_of(placed, house.walls.get(window.wall))
    past = past_of(placed, house, tracks, record.visits, record.moves)
    kept: list[Kept] = []
    for item in items_of(placed, exposure):
        clock = past.clock(item.row)
        due = due_of(item, clock, today)
        kept.append(Kept(window.number, item, clock, due, tuple(times(item, due, last))))
    values = {
        "room": window.room,
        "wall": window.wall,
        "storey": window.storey,
        "exposure": {
            "sun": round(exposure.sun, 4),
            "rain": exposure.rain,
            "height": exposure.height,
            "cover": exposure.cover,
        },
        "items": [_values(each) for each in kept],
    }
    findings = [*_findings(kept)]
    working = [*_steps(kept, exposure)]
    return WindowAnswer(window.number, values, findings, working), kept


def _values(each: Kept) -> dict[str, Any]:
    row, life, due = each.item.row, each.item.life, each.due
    low, likely, high = life.years
    return {
        "key": row.key,
        "what": row.what,
        "name": row.name,
        "does": row.does,
        "on": row.on,
        "life_years_low": low,
        "life_years": likely,
        "life_years_high": high,
        "factor": life.factor,
        "last": each.clock.start if each.clock.known_by in DONE else None,
        "known_by": each.clock.known_by,
        "faults": list(each.clock.faults),
        "due_early": due.early,
        "due": due.likely,
        "due_late": due.late,
        "planned": due.planned,
        "status": due.status,
        "times": list(each.days),
        "source": life.source,
    }


def _brief(each: Kept) -> dict[str, Any]:
    row = each.item.row
    return {
        "number": each.number, "key": row.key, "what": row.what, "name": row.name, "does": row.does,
        "on": row.on, "due": each.due.likely, "planned": each.due.planned,
        "because": _because(each), "faults": list(each.clock.faults),
    }  # fmt: skip


def _because(each: Kept) -> str:
    clock = each.clock
    if clock.known_by == "fault":
        return f"found: {'; '.join(clock.faults[:2])}"
    return SAID[clock.known_by]


def _sorted(kept: Sequence[Kept], status: str) -> list[Kept]:
    found = [each for each in kept if each.due.status == status]
    # What was found faulty before what only comes round.
    return sorted(found, key=lambda each: (not each.clock.faults, each.due.likely or ""))


def _findings(kept: Sequence[Kept]) -> Iterator[Finding]:
    for each in kept:
        row, due = each.item.row, each.due
        if due.status == "due" and each.clock.faults:
            yield Finding(
                "caution", row.what, f"{row.name}: due now.", _because(each), "survey"
            )  # fmt: skip
        elif due.status == "due":
            since = (
                f" since {said(due.likely)}" if due.likely and due.likely != each.days[0] else ""
            )
            yield Finding(
                "caution",
                row.what,
                f"{row.name}: due{since}.",
                _because(each),
                each.item.life.source,
            )
        elif due.status == "soon" and due.likely:
            yield Finding(
                "note", row.what, f"{row.name}: due {said(due.likely)}.", _because(each),
                each.item.life.source,
            )  # fmt: skip


def _steps(kept: Sequence[Kept], exposure: Exposure) -> Iterator[Step]:
    for each in kept:
        life, due = each.item.life, each.due
        if each.item.row.weathers == "yes":
            yield Step(
                f"life: {each.item.row.name.lower()}",
                "likely life x sun x rain x height x storm cover, each where it tells",
                {
                    "likely_years": life.likely,
                    "sun": round(exposure.sun, 4),
                    "rain": exposure.rain,
                    "height": exposure.height,
                    "cover": exposure.cover if each.item.row.covered == "yes" else 1.0,
                },
                round(life.likely * life.factor, 3),
                "years",
                f"{life.source}; factors: judgement",
            )
        if due.likely is not None and each.clock.start is not None:
            yield Step(
                f"due: {each.item.row.name.lower()}",
                "day it was done last + life; sound at the survey: + half of it; faulty: that day",
                {
                    "from": each.clock.start,
                    "known_by": SAID[each.clock.known_by],
                    "years": round(life.likely * life.factor, 3),
                },
                due.likely,
                "date",
                life.source,
            )


# --- the house ------------------------------------------------------------------------


def _by_year(kept: Sequence[Kept], first: int, last: int) -> Iterator[dict[str, Any]]:
    """What each year brings, thing by thing with its windows, in the order of the months."""
    for year in range(first, last + 1):
        rows: dict[str, dict[str, Any]] = {}
        for each in kept:
            for day in each.days:
                if year_of(day) == year:
                    row = each.item.row
                    found = rows.setdefault(
                        row.key,
                        {
                            "key": row.key, "what": row.what, "name": row.name, "does": row.does,
                            "on": row.on, "from": day, "windows": [],
                        },
                    )  # fmt: skip
                    found["from"] = min(found["from"], day)
                    if each.number not in found["windows"]:
                        found["windows"].append(each.number)
        yield {"year": year, "rows": sorted(rows.values(), key=lambda row: str(row["from"]))}


def _house_findings(values: Mapping[str, Any]) -> Iterator[Finding]:
    due, unknown = values["due"], values["unknown"]
    faulty = {row["number"] for row in due if row["faults"]}
    if faulty:
        yield Finding(
            "caution",
            "house",
            f"Faults are waiting at {len(faulty)} window{'' if len(faulty) == 1 else 's'}: "
            f"{', '.join(sorted(faulty))}.",
            "found at the survey, and not done since",
            "survey; the record of visits",
        )
    if unknown:
        yield Finding(
            "note",
            "house",
            f"Of {unknown} things nobody knows when they were done last: look the windows over first.",
            "a life can only be reckoned from a day",
            "the record",
        )
    if not due and not unknown:
        yield Finding(
            "ok", "house", "Nothing is due.", "all clocks were set", "the record of visits"
        )
