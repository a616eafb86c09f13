"""Storm sash and screens: of a window, and the change of a whole house."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.knowledge.tables import Knowledge
from sashwright.papers.words import Words
from sashwright.web.answers.say import NONE, Say, capital, minutes
from sashwright.web.present import name
from sashwright.window.spec import House

REACH = {
    "ground": "from the ground",
    "steps": "from a stepladder",
    "ladder": "from a ladder",
}
HANGS = {"none": "none hangs yet", "winter": "hangs in winter", "all year": "stays all year"}


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part or a glass of a storm sash or screen."""

    name: str
    count: int
    thickness: str
    width: str
    length: str
    what: str


@dataclass(frozen=True, slots=True)
class Piece:
    """A storm sash or a screen."""

    title: str
    hangs: str
    width: str
    height: str
    thickness: str
    mass: str
    uncertainty: str
    reach: str
    people: int
    minutes: str
    facts: tuple[tuple[str, str], ...]
    parts: tuple[PartRow, ...]


@dataclass(frozen=True, slots=True)
class Season:
    """All that the page shows of a window's storm sash and screen."""

    mark: str
    mark_given: bool
    pieces: tuple[Piece, ...]
    kept_up: str
    """What stays up all year in place of a wood storm sash; nothing where none does."""


def season_shown(answer: WindowAnswer, knowledge: Knowledge, system: units.System) -> Season | None:
    """Storm sash and screen of a window; None where its sizes contradict each other."""
    values = answer.values
    if not values:
        return None
    pieces = []
    if values["storm"] is not None:
        pieces.append(_storm(values["storm"], HANGS[values["storm_hangs"]], knowledge, system))
    if values["screen"] is not None:
        kind = f"{values['screen_kind']} screen"
        pieces.append(_piece("Screen", kind, values["screen"], (), knowledge, system))
    tracked = values["storm"] is None and values["storm_hangs"] != "none"
    return Season(
        values["mark"] or "",
        values["mark_given"],
        tuple(pieces),
        values["storm_kind"] if tracked else "",
    )


def _storm(
    values: Mapping[str, Any], hangs: str, knowledge: Knowledge, system: units.System
) -> Piece:
    say = Say(system)
    upper, lower = values["air_space_upper_mm"], values["air_space_lower_mm"]
    holes = values["weep_holes"]
    facts = (
        ("Hangers", name(knowledge, "hardware", values["hangers"])),
        ("Hooks", str(values["hooks"])),
        ("Weep holes", str(holes) if holes else "none"),
        ("Air before the glass, upper, lower", f"{say.length(upper)}, {say.length(lower)}"),
    )
    return _piece("Storm sash", hangs, values, facts, knowledge, system)


def _piece(
    title: str,
    hangs: str,
    values: Mapping[str, Any],
    facts: tuple[tuple[str, str], ...],
    knowledge: Knowledge,
    system: units.System,
) -> Piece:
    words = Words(system)
    top = values["top_above_ground_mm"]
    reach = REACH[values["reach"]]
    return Piece(
        title,
        hangs,
        words.size(values["width_mm"]),
        words.size(values["height_mm"]),
        words.size(values["thickness_mm"]),
        words.mass(values["mass_kg"]),
        words.mass(values["mass_uncertainty_kg"]),
        reach if top is None else f"{reach}, top {Say(system).run(top)} up",
        values["people"],
        minutes(values["minutes"]),
        facts,
        tuple(_parts(values, knowledge, words)),
    )


def _parts(values: Mapping[str, Any], knowledge: Knowledge, words: Words) -> Iterable[PartRow]:
    for row in values["parts"]:
        yield PartRow(
            capital(row["name"].replace("_", " ")),
            row["count"],
            words.size(row["thickness_mm"]),
            words.size(row["width_mm"]),
            words.size(row["length_mm"]),
            row["joint"],
        )
    for row in values["glass"]:
        yield PartRow(
            "Glass",
            row["count"],
            words.size(row["thickness_mm"]),
            words.glass(row["width_mm"]),
            words.glass(row["height_mm"]),
            name(knowledge, "glass", row["glass"]),
        )


# --- the house ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ChangeText:
    """One of the two changes of the year."""

    title: str
    first: str
    last: str
    weeks: str


@dataclass(frozen=True, slots=True)
class SwapRow:
    """One stop of the walk."""

    mark: str
    number: str
    place: str
    autumn: str
    reach: str
    heaviest: str
    people: int
    minutes: str


@dataclass(frozen=True, slots=True)
class MarkRow:
    """A window and the mark cut into it."""

    number: str
    place: str
    mark: str
    given: bool
    says: str = ""


@dataclass(frozen=True, slots=True)
class Seasons:
    """All that the page shows of the change of a house."""

    changes: tuple[ChangeText, ...]
    swaps: tuple[SwapRow, ...]
    crew: int
    crew_time: str
    person_time: str
    marks: tuple[MarkRow, ...]
    proposed: int
    storms: tuple[tuple[str, ...], ...]
    screens: tuple[tuple[str, ...], ...]
    within: str
    rack: tuple[tuple[str, str], ...]
    care: tuple[tuple[str, tuple[str, ...]], ...]


def seasons_shown(answer: Answer, house: House, system: units.System) -> Seasons:
    """The change of a house, in the order of the walk."""
    say, values = Say(system), answer.values
    alike = values["interchangeable"]
    return Seasons(
        tuple(_changes(values["changeover"])),
        tuple(_swap(row, say) for row in values["swaps"]),
        house.changeover.crew,
        minutes(60 * values["swap_hours_of_crew"]),
        minutes(values["swap_person_minutes"]),
        tuple(_marks(values, house)),
        len(values["marks_proposed"]),
        tuple(map(tuple, alike["storms"])),
        tuple(map(tuple, alike["screens"])),
        say.gap(alike["within_mm"]),
        tuple(_rack(values["rack"], say)),
        tuple(_care(values["care"])),
    )


def _changes(values: Mapping[str, Any] | None) -> Iterable[ChangeText]:
    if values is None:
        return
    for title, key in (("Storms go on", "storms_on"), ("Screens go on", "screens_on")):
        first, last = values[f"{key}_from"], values[f"{key}_by"]
        if first is None and last is None:
            continue
        known = first or last
        weeks = f"weeks {(first or last)['week']} to {(last or first)['week']}"
        yield ChangeText(title, (first or known)["date"], (last or known)["date"], weeks)


def _swap(row: Mapping[str, Any], say: Say) -> SwapRow:
    place = [row["room"], f"{row['wall']} wall", f"storey {row['storey']}"]
    both = row["storm"] and row["screen"]
    return SwapRow(
        row["mark"] or "",
        row["number"],
        ", ".join(filter(None, place)),
        "screen for storm" if both else "storm on" if row["storm"] else "screen off",
        REACH[row["reach"]].removeprefix("from ").removeprefix("the ").removeprefix("a "),
        say.mass(row["heaviest_kg"]),
        row["people"],
        minutes(row["minutes"]),
    )


def _marks(values: Mapping[str, Any], house: House) -> Iterable[MarkRow]:
    windows = {window.number: window for window in house.windows}
    for number, mark in values["marks"].items():
        window = windows[number]
        place = ", ".join(filter(None, (window.room, f"{window.wall} wall")))
        yield MarkRow(number, place, mark or "", window.mark is not None)


def _rack(row: Mapping[str, Any], say: Say) -> Iterable[tuple[str, str]]:
    if not row["storms"] and not row["screens"]:
        return
    yield "Storm sash", f"{row['storms']}, taking {say.run(row['storms_length_mm'])}"
    yield "Screens", f"{row['screens']}, taking {say.run(row['screens_length_mm'])}"
    yield "Length of rack", say.run(row["length_mm"])
    yield "Highest piece", say.run(row["height_mm"])
    yield "Widest piece", say.run(row["depth_mm"]) if row["depth_mm"] else NONE
    yield "Between pieces", say.length(row["gap_mm"])


def _care(rows: Iterable[Mapping[str, str]]) -> Iterable[tuple[str, tuple[str, ...]]]:
    by: dict[str, list[str]] = {}
    for row in rows:
        by.setdefault(row["when"], []).append(row["says"])
    for when, says in by.items():
        yield capital(when), tuple(says)
