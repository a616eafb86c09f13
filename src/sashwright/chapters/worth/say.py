"""How amounts of money and numbers of years are said: to the figures that are known."""

from __future__ import annotations

import math

SIGNS = {"USD": "$", "EUR": "€", "GBP": "£"}


LONG = 1000
"""Years beyond which nobody counts."""


def amount(value: float, currency: str) -> str:
    """An amount to two or three figures: ``$28,700``, ``-$310``, ``CHF 1,200``."""
    sign = SIGNS.get(currency, f"{currency} ")
    size = abs(value)
    digits = (
        0
        if size < 100
        else -(int(math.log10(size)) - 1 if size < 1000 else int(math.log10(size)) - 2)
    )
    text = f"{round(size, digits):,.0f}"
    return f"{'-' if value < 0 and text != '0' else ''}{sign}{text}"


def years(value: float | None) -> str:
    """``8.4 years``, ``148 years``, ``never`` for what is none or infinite."""
    if value is None or not math.isfinite(value):
        return "never"
    if value > LONG:
        return f"over {LONG} years"
    return f"{value:.1f} years" if value < 10 else f"{value:.0f} years"
