"""Windows of a house with their families' data, their own changes and their neighbours put together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.window.layout import SashLayout, Which, WindowLayout
from sashwright.window.mass import SashMass, weigh
from sashwright.window.mouldings import with_own
from sashwright.window.partial import overlay
from sashwright.window.parts import take_apart
from sashwright.window.pieces import SashParts
from sashwright.window.placing import lay_out
from sashwright.window.problem import LayoutError, Problem
from sashwright.window.spec import Family, House, Window
from sashwright.window.storm import OutsidePiece, screen, storm_sash
from sashwright.window.surveyed import like_problems


@dataclass(frozen=True)
class SashFacts:
    """What follows from a sash's layout: its pieces and its mass."""

    layout: SashLayout
    pieces: SashParts
    mass: SashMass


@dataclass(frozen=True, eq=False)
class Placed:
    """A laid-out window, the tables it is computed with, and the windows it shares mullion pockets with."""

    layout: WindowLayout
    knowledge: Knowledge
    left: WindowLayout | None = None
    right: WindowLayout | None = None

    @cached_property
    def upper(self) -> SashFacts:
        return self._facts("upper")

    @cached_property
    def lower(self) -> SashFacts:
        return self._facts("lower")

    def sash(self, which: Which) -> SashFacts:
        """Pieces and mass of one sash; worked out once, whichever chapters ask."""
        return self.upper if which == "upper" else self.lower

    def _facts(self, which: Which) -> SashFacts:
        sash = self.layout.sash(which)
        pieces = take_apart(sash, self.layout, self.knowledge)
        return SashFacts(sash, pieces, weigh(pieces, sash, self.layout, self.knowledge))

    @cached_property
    def storm_sash(self) -> OutsidePiece:
        """The storm sash that the family describes. Raises as :func:`sashwright.window.storm.storm_sash`."""
        return storm_sash(self.layout, self.knowledge)

    @cached_property
    def screen(self) -> OutsidePiece | None:
        """The insect screen, where the family has one. Raises likewise."""
        return screen(self.layout, self.knowledge)

    @property
    def window(self) -> Window:
        return self.layout.window

    @property
    def family(self) -> Family:
        return self.layout.family


Laid = tuple[Window, Placed | LayoutError | KnowledgeError]
"""A window and how it is laid out, or what keeps it from that."""


def family_of(house: House, window: Window) -> Family:
    """The window's family with the window's own changes. Raises ``LayoutError`` for an unknown family."""
    if window.family not in house.families:
        raise LayoutError(window.number, [_unknown_family(house, window)])
    return overlay(house.families[window.family], window.changes)


def _unknown_family(house: House, window: Window) -> Problem:
    known = ", ".join(sorted(house.families)) or "none yet"
    return Problem("family", repr(window.family), f"one of the house's families: {known}")


def place_each(
    house: House, knowledge: Knowledge, numbers: Sequence[str] | None = None
) -> Iterator[Laid]:
    """Each window of a house (or those of ``numbers``), laid out once, or what keeps it from that.

    Raises ``KeyError`` for a number the house does not have.
    """
    knowledge = with_own(house, knowledge)
    by_number = {window.number: window for window in house.windows}
    right_of = {w.beside: w.number for w in house.windows if w.beside}
    laid: dict[str, WindowLayout | LayoutError | KnowledgeError] = {}

    def lay(number: str) -> WindowLayout | LayoutError | KnowledgeError:
        if number not in laid:
            window = by_number[number]
            try:
                laid[number] = lay_out(window, family_of(house, window), knowledge)
            except (LayoutError, KnowledgeError) as error:
                laid[number] = error
        return laid[number]

    def neighbour(number: str | None) -> WindowLayout | None:
        if number is None or number not in by_number:
            return None
        layout = lay(number)
        return layout if isinstance(layout, WindowLayout) else None

    for number in by_number if numbers is None else numbers:
        window, layout = by_number[number], lay(number)
        if isinstance(layout, WindowLayout):
            yield (
                window,
                Placed(
                    layout, knowledge, neighbour(window.beside), neighbour(right_of.get(number))
                ),
            )
        else:
            yield window, layout


def place_all(house: House, knowledge: Knowledge) -> list[Placed]:
    """Every window of a house, laid out once each. Raises as ``place``."""
    placed = []
    for _, each in place_each(house, knowledge):
        if not isinstance(each, Placed):
            raise each
        placed.append(each)
    return placed


def place(house: House, number: str, knowledge: Knowledge) -> Placed:
    """One window of a house, laid out, with its neighbours.

    Raises ``KeyError`` if the house has no such window, ``LayoutError`` if sizes contradict each other,
    ``KnowledgeError`` for an unknown row.
    """
    _, placed = next(place_each(house, knowledge, [number]))
    if not isinstance(placed, Placed):
        raise placed
    return placed


def reference_problems(house: House) -> Iterator[Problem]:
    """Names in a house that lead nowhere: families, walls, neighbours; numbers given twice."""
    yield from _mark_problems(house)
    yield from like_problems(house)
    numbers = [window.number for window in house.windows]
    seen: set[str] = set()
    sharing: dict[str, str] = {}
    left = {window.number: window.beside for window in house.windows}
    walls = {window.number: (window.wall, window.storey) for window in house.windows}
    for index, window in enumerate(house.windows):
        at = f"windows.{index}"
        if window.number in seen:
            yield Problem(f"{at}.number", repr(window.number), "a number no other window has")
        seen.add(window.number)
        if window.family not in house.families:
            unknown = _unknown_family(house, window)
            yield Problem(f"{at}.family", unknown.found, unknown.expected)
        if window.wall not in house.walls:
            yield Problem(
                f"{at}.wall",
                repr(window.wall),
                f"one of the house's walls: {', '.join(sorted(house.walls))}",
            )
        if window.beside is None:
            continue
        if window.beside not in numbers or window.beside == window.number:
            yield Problem(
                f"{at}.beside", repr(window.beside), "the number of another window of the house"
            )
        elif window.beside in sharing:
            yield Problem(
                f"{at}.beside",
                repr(window.beside),
                f"a window whose right pocket is free; window {sharing[window.beside]} shares it already",
            )
        elif (at_left := walls[window.beside]) != (window.wall, window.storey):
            yield Problem(
                f"{at}.beside",
                f"{window.beside!r} on the {at_left[0]} wall, storey {at_left[1]}",
                f"a window on the same wall and storey: {window.wall}, storey {window.storey}",
            )
        elif _goes_round(left, window.number):
            yield Problem(
                f"{at}.beside",
                repr(window.beside),
                "a row of windows that does not close on itself",
            )
        sharing.setdefault(window.beside, window.number)


def _mark_problems(house: House) -> Iterator[Problem]:
    """Marks cut into two windows alike, and a front that is no wall of the house."""
    seen: set[str] = set()
    for index, window in enumerate(house.windows):
        if window.mark is None:
            continue
        if window.mark.upper() in seen:
            yield Problem(f"windows.{index}.mark", repr(window.mark), "a mark no other window has")
        seen.add(window.mark.upper())
    front = house.changeover.front
    if front is not None and front not in house.walls:
        known = ", ".join(sorted(house.walls))
        yield Problem("changeover.front", repr(front), f"one of the house's walls: {known}")


def _goes_round(left: Mapping[str, str | None], start: str) -> bool:
    """Whether going to the left from window to window leads back to where it started."""
    at = left[start]
    for _ in left:
        if at is None or at == start:
            return at == start
        at = left.get(at)
    # Caught in a ring further to the left: told at a window of that ring.
    return False
