"""Asks the chapters about one window of a house, once for all parts of a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.hang import hang_window
from sashwright.chapters.parts import parts_window
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House, Window


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


def ask(house: House, number: str, knowledge: Knowledge, system: units.System) -> Asked:
    """One window of a house. Raises ``KeyError`` for a number it does not have."""
    return next(ask_each(house, [number], knowledge, system))


def ask_each(
    house: House, numbers: Sequence[str], knowledge: Knowledge, system: units.System
) -> Iterator[Asked]:
    """Some windows of a house, laid out once each."""
    for window, found in place_each(house, knowledge, numbers):
        yield Asked(window, found, knowledge, system)
