"""A small house weighed up, keep or replace: its document and its answer, for pictures, pages and papers."""

from __future__ import annotations

from functools import cache
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.chapters.worth import worth
from sashwright.knowledge.load import load
from sashwright.record.outdoors import named
from sashwright.window.check import house_from
from sashwright.window.spec import House
from tests.factories import window_document

KNOWLEDGE = load()
DRAWS = 40
"""Enough for ranges, whatever they are."""


def bare_document(**fields: Any) -> dict[str, Any]:
    """Four bare windows, one to a wall, in Boston."""
    walls = ("north", "east", "south", "west")
    windows = [window_document(str(at + 1), wall=wall) for at, wall in enumerate(walls)]
    return {
        "name": "12 Elm Street",
        "climate": "Boston",
        "families": {"A": {}},
        "windows": windows,
        "air": {"volume": "9000 ft3"},
        **fields,
    }


def bare_house(**fields: Any) -> House:
    return house_from(bare_document(**fields), KNOWLEDGE)


@cache
def weighed(
    draws: int = DRAWS, *, due: bool = False, costs: tuple[tuple[str, float], ...] = ()
) -> Answer:
    """The answer for it, with the shop's own ``costs``; each once."""
    house = bare_house(running={"costs": dict(costs)})
    year = named("Boston").year
    return worth(house, KNOWLEDGE, year=year, draws=draws, repair_due=due)
