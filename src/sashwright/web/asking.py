"""Asks the chapters about one window of a house, once for all parts of a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.fit import fit_window
from sashwright.chapters.hang import hang_window
from sashwright.chapters.parts import parts_window
from sashwright.chapters.seal import seal_window
from sashwright.chapters.season import season_window
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.physics.daily import DailyClimate
from sashwright.window.changeover import Changeover
from sashwright.window.mouldings import with_own
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House, Wall, Window


@dataclass(frozen=True, eq=False)
class Asked:
    """A window, laid out where its sizes allow, and what the chapters say of it."""

    window: Window
    found: Placed | LayoutError | KnowledgeError
    knowledge: Knowledge
    system: units.System

    @property
    def placed(self) -> Placed | None:
        return self.found if isinstance(self.found, Placed) else None

    @cached_property
    def hang(self) -> WindowAnswer:
        if isinstance(self.found, Placed):
            return hang_window(self.found, self.system)
        return contradicted(self.window.number, self.found)

    @cached_property
    def parts(self) -> WindowAnswer:
        if isinstance(self.found, Placed):
            return parts_window(self.found, self.system)
        return contradicted(self.window.number, self.found)

    def fit(self, daily: DailyClimate, wall: Wall | None, today: int) -> WindowAnswer:
        """Its fit through the year; ``today`` is a day of the year, from 1."""
        if isinstance(self.found, Placed):
            return fit_window(self.found, daily, wall, self.system, today)
        return contradicted(self.window.number, self.found)

    def seal(self) -> WindowAnswer:
        """The air that gets by, as the tables have it."""
        if not isinstance(self.found, Placed):
            return contradicted(self.window.number, self.found)
        try:
            return seal_window(self.found, self.system)
        except KnowledgeError as error:
            return contradicted(self.window.number, error)

    def season(self, mark: str, rules: Changeover) -> WindowAnswer:
        """Its storm sash and screen; ``mark`` is what the house's numbering gives it."""
        if isinstance(self.found, Placed):
            return season_window(self.found, self.system, mark, rules)
        return contradicted(self.window.number, self.found)


def ask(house: House, number: str, knowledge: Knowledge, system: units.System) -> Asked:
    """One window of a house. Raises ``KeyError`` for a number it does not have."""
    return next(ask_each(house, [number], knowledge, system))


def ask_each(
    house: House, numbers: Sequence[str], knowledge: Knowledge, system: units.System
) -> Iterator[Asked]:
    """Some windows of a house, laid out once each; their tables have the house's own mouldings."""
    knowledge = with_own(house, knowledge)
    for window, found in place_each(house, knowledge, numbers):
        yield Asked(window, found, knowledge, system)
