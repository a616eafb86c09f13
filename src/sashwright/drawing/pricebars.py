"""Prices as ranges, beside each other: low, likely and high."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from sashwright.drawing.model import Drawing, drawing
from sashwright.drawing.rangebars import Bar, level_marks, range_chart


@dataclass(frozen=True, slots=True)
class Priced:
    """One price: of a window, or of one way with it."""

    name: str
    low: Decimal
    likely: Decimal
    high: Decimal
    marked: bool = False


def price_bars(prices: Sequence[Priced], currency: str, title: str = "Prices") -> Drawing:
    """Bars from the low to the high price with a stroke at the likely one."""
    if not prices:
        return drawing(title, "Nothing is priced.", (), 1.0)
    bars = [
        Bar(
            each.name,
            float(each.low),
            float(each.likely),
            float(each.high),
            f"{each.likely:,.0f} ({each.low:,.0f} to {each.high:,.0f})",
            marked=each.marked,
        )
        for each in prices
    ]
    high = max(*(bar.high or 0.0 for bar in bars), 1.0)
    ends = (0.0, 1.02 * high)
    notes = [
        f"{currency}. Bars: all lines at their lowest to all at their highest. Stroke: the likely price."
    ]
    said = "; ".join(f"{bar.name}, {bar.figure}" for bar in bars)
    items = range_chart(bars, ends, level_marks(ends), notes, zero=True)
    return drawing(title, f"{currency}: {said}.", items, 1.0)
