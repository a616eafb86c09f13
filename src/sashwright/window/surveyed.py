"""What holds for a window: its own findings over those of another window, its family and the house."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.knowledge.work_tables import Fault, Severity
from sashwright.window.components import Piece, expected, kind_named, named, pieces_of
from sashwright.window.condition import Condition, Found, HazardTest, Typical
from sashwright.window.layout import WindowLayout
from sashwright.window.problem import Problem
from sashwright.window.spec import House, Window

From = Literal["own", "like", "family", "house"]
MEASURES = ("length", "count", "area")


@dataclass(frozen=True, slots=True)
class Surveyed:
    """One finding that holds for a window, with the parts that it means."""

    found: Found
    fault: Fault
    pieces: Sequence[Piece]
    source: From

    @property
    def severity(self) -> Severity:
        return self.found.severity or self.fault.usual


def surveyed(layout: WindowLayout, house: House, knowledge: Knowledge) -> list[Surveyed]:
    """All findings that hold for a window, its own first.

    Typical and copied findings on parts that the window has not are passed over. Raises
    ``KnowledgeError`` for a fault that no table has.
    """
    window, pieces = layout.window, pieces_of(layout)
    condition = window.condition
    sound = {piece.name for name in condition.sound for piece in named(name, pieces)}
    kept: list[Surveyed] = []
    for source, found in _in_turn(window, house, layout):
        if source != "own" and kind_named(found.on) is None:
            continue
        parts = named(found.on, pieces)
        if source != "own":
            told = {p.name for each in kept if each.found.fault == found.fault for p in each.pieces}
            parts = [piece for piece in parts if piece.name not in sound | told]
        if parts:
            fault: Fault = knowledge.find("fault", found.fault)
            kept.append(Surveyed(found, fault, parts, source))
    return kept


def _in_turn(window: Window, house: House, layout: WindowLayout) -> Iterator[tuple[From, Found]]:
    """Findings, those that come first before those that they stand in for."""
    condition = window.condition
    yield from (("own", found) for found in condition.found)
    other = condition.like and next((w for w in house.windows if w.number == condition.like), None)
    if other:
        for found in other.condition.found:
            yield (
                "like",
                found.model_copy(
                    update={"moisture": None, "probe": None, "note": "", "photos": ()}
                ),
            )
    if condition.as_typical:
        yield from (("family", found) for found in layout.family.typical.found)
        yield from (("house", found) for found in house.typical.found)


def hazard(layout: WindowLayout, house: House, which: Literal["lead", "asbestos"]) -> HazardTest:
    """The test that holds for a window: its own, else its family's, else the house's."""
    given: list[Typical] = [layout.window.condition, layout.family.typical, house.typical]
    tests: list[HazardTest] = [getattr(each, which) for each in given]
    return next((test for test in tests if test.result != "not tested"), tests[0])


def said_anything(condition: Condition) -> bool:
    """Whether a window was surveyed itself."""
    return condition != Condition()


# --- what can be wrong ------------------------------------------------------------


def condition_problems(layout: WindowLayout, knowledge: Knowledge) -> Iterator[Problem]:
    """What contradicts the window or the tables in its own condition, decision and hours."""
    window = layout.window
    # Most windows say nothing of their own, and to list the parts takes longer than all the rest.
    tells = window.condition.found or window.condition.sound
    pieces = pieces_of(layout) if tells else {}
    for index, found in enumerate(window.condition.found):
        at = f"condition.found.{index}"
        parts = named(found.on, pieces)
        if not parts:
            yield Problem(f"{at}.on", repr(found.on), expected(found.on, pieces))
            continue
        yield from _fault_problems(at, found, {piece.kind for piece in parts}, knowledge)
        yield from _extent_problems(at, found, parts)
    for index, name in enumerate(window.condition.sound):
        if not named(name, pieces):
            yield Problem(f"condition.sound.{index}", repr(name), expected(name, pieces))
    if window.decision is not None:
        row = window.decision.alternative
        yield from _row("decision.alternative", "scope", row, knowledge)
    for index, spent in enumerate(window.spent):
        yield from _row(f"spent.{index}.task", "task", spent.task, knowledge)


def typical_problems(at: str, typical: Typical, knowledge: Knowledge) -> Iterator[Problem]:
    """The same of a family's or a house's typical findings, which no one window must fit."""
    for index, found in enumerate(typical.found):
        field, kind = f"{at}.found.{index}", kind_named(found.on)
        if kind is None:
            yield Problem(
                f"{field}.on",
                repr(found.on),
                "a part of a window, such as lower.bottom_rail or sill",
            )
        else:
            yield from _fault_problems(field, found, {kind}, knowledge)


def like_problems(house: House) -> Iterator[Problem]:
    """Windows said to be like one that is not there, or that is said to be like another itself."""
    conditions: Mapping[str, Condition] = {w.number: w.condition for w in house.windows}
    for index, window in enumerate(house.windows):
        like = window.condition.like
        if like is None:
            continue
        if like not in conditions or like == window.number:
            yield Problem(
                f"windows.{index}.condition.like",
                repr(like),
                "the number of another window of the house",
            )
        elif conditions[like].like is not None:
            yield Problem(
                f"windows.{index}.condition.like",
                f"{like!r}, which is like {conditions[like].like} itself",
                "a window with findings of its own",
            )


def _row(field: str, table: str, key: str, knowledge: Knowledge) -> Iterator[Problem]:
    try:
        knowledge.find(table, key)
    except KnowledgeError as error:
        yield Problem(field, repr(key), str(error).partition(", expected ")[2].rstrip("."))


def _fault_problems(
    at: str, found: Found, kinds: set[str], knowledge: Knowledge
) -> Iterator[Problem]:
    wrong = list(_row(f"{at}.fault", "fault", found.fault, knowledge))
    if wrong:
        yield from wrong
        return
    fault: Fault = knowledge.find("fault", found.fault)
    if not kinds & set(fault.on):
        yield Problem(
            f"{at}.fault",
            f"{found.fault!r} on {found.on}",
            f"a fault of {' or '.join(sorted(kinds))}; it can be on {', '.join(fault.on)}",
        )
    if found.severity is not None and found.severity not in fault.severities:
        yield Problem(
            f"{at}.severity", repr(found.severity), f"one of {', '.join(fault.severities)}"
        )
    for name in MEASURES:
        if getattr(found, name) is not None and name != fault.measured:
            measure = "no measure" if fault.measured == "whole" else f"a {fault.measured}"
            yield Problem(f"{at}.{name}", f"a {name} for {found.fault}", measure)


def _extent_problems(at: str, found: Found, parts: Sequence[Piece]) -> Iterator[Problem]:
    """More of a part than there is of it."""
    if found.count is not None and len(parts) > 1 and found.count > len(parts):
        yield Problem(f"{at}.count", str(found.count), f"at most {len(parts)}: there are no more")
    length = sum(piece.length for piece in parts)
    if found.length is not None and length and found.length > length * 1.1:
        yield Problem(
            f"{at}.length", f"{found.length / 0.0254:.4g} in", f"at most {length / 0.0254:.4g} in"
        )
