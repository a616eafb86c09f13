"""What a worker does, in this process, in another, or on another machine: a part of the rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

from sashwright.chapters.worth.stock import Skipped, Stock
from sashwright.knowledge.load import load
from sashwright.physics.hourly_year import HourlyYear

Part = Sequence[Mapping[str, Any]]
Answered = tuple[list[dict[str, Any]], list[Skipped]]


@lru_cache(maxsize=1)
def _stock(shop_files: tuple[str, ...]) -> Stock:
    """Kept by the worker, with all that it has worked out."""
    return Stock(load(*(Path(name) for name in shop_files)), _year)


def _year(climate: str) -> HourlyYear:
    from sashwright.record.outdoors import named  # noqa: PLC0415

    return named(climate).year


def answer_part(rows: Part, first: int, shop_files: tuple[str, ...] = ()) -> Answered:
    """Results of some rows, the first of them numbered ``first``, and those skipped."""
    return _stock(shop_files).answers(rows, first)
