"""Exact money: decimals to the cent, three at a time (low, likely, high), that add without a rest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, NamedTuple

CENT = Decimal("0.01")
NOUGHT = Decimal("0.00")


def exact(number: float | str | Decimal) -> Decimal:
    """A number as people write it: 0.1 is a tenth."""
    return number if isinstance(number, Decimal) else Decimal(str(number))


def cents(amount: Decimal) -> Decimal:
    """To the cent; half a cent away from zero, as bills do."""
    rounded = amount.quantize(CENT, ROUND_HALF_UP)
    return rounded if rounded else NOUGHT


class Range(NamedTuple):
    """Low, likely and high."""

    low: Decimal
    likely: Decimal
    high: Decimal

    def plus(self, other: Range) -> Range:
        return Range(*(a + b for a, b in zip(self, other, strict=True)))

    def minus(self, other: Range) -> Range:
        return Range(*(a - b for a, b in zip(self, other, strict=True)))

    def times(self, factor: Decimal) -> Range:
        """Each times a factor, to the cent."""
        return Range(*(cents(each * factor) for each in self))

    def to_dict(self) -> dict[str, str]:
        return {"low": f"{self.low:f}", "likely": f"{self.likely:f}", "high": f"{self.high:f}"}


def _plain(price: Decimal) -> str:
    """With two decimals, or more where it has them."""
    rounded = price.quantize(CENT)
    return f"{rounded if rounded == price else price:f}"


ZERO = Range(NOUGHT, NOUGHT, NOUGHT)


def all_of(amount: Decimal) -> Range:
    """A sum that is certain."""
    return Range(*[cents(amount)] * 3)


def total(ranges: Iterable[Range]) -> Range:
    """The sum, to the cent exactly."""
    found = ZERO
    for each in ranges:
        found = found.plus(each)
    return found


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a price: ``each`` is the rate of its hours or the price of a unit of its quantity."""

    kind: str
    """labour, setup, access, material, allowance, option, overhead, margin or tax."""
    name: str
    cost: Range
    key: str = ""
    of: str | None = None
    quantity: float | None = None
    unit: str = ""
    each: Decimal | None = None
    hours: tuple[float, float, float] | None = None
    source: str = ""

    def to_dict(self) -> dict[str, Any]:
        return {
            "kind": self.kind,
            "key": self.key,
            "name": self.name,
            "of": self.of,
            "quantity": self.quantity,
            "unit": self.unit,
            "each": None if self.each is None else _plain(self.each),
            "hours_low": None if self.hours is None else self.hours[0],
            "hours": None if self.hours is None else self.hours[1],
            "hours_high": None if self.hours is None else self.hours[2],
            **self.cost.to_dict(),
            "source": self.source,
        }
