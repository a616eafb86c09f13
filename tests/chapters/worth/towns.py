"""Plain houses to weigh up, as rows of a table of houses, and the weather of their towns."""

from __future__ import annotations

from functools import cache
from typing import Any

from sashwright.chapters.worth.columns import read
from sashwright.chapters.worth.model import Model
from sashwright.chapters.worth.stock import Stock
from sashwright.knowledge.load import load
from sashwright.physics.hourly_year import HourlyYear
from sashwright.record.outdoors import named

KNOWLEDGE = load()


def year(climate: str) -> HourlyYear:
    return named(climate).year


STOCK = Stock(KNOWLEDGE, year)


def row(**cells: Any) -> dict[str, Any]:
    """A two-storey house of 160 m2 with 20 windows in Boston, but for ``cells``."""
    return {"id": "a house", "climate": "Boston", "windows": 20, "floor_area_m2": 160, **cells}


@cache
def _model(cells: tuple[tuple[str, Any], ...], **how: Any) -> Model:
    return Model(STOCK._home(read(row(**dict(cells)))), KNOWLEDGE, **how)


def model(*, draws: int = 0, repair_due: bool = False, **cells: Any) -> Model:
    """The house weighed up; each once."""
    return _model(tuple(sorted(cells.items())), draws=draws, repair_due=repair_due)
