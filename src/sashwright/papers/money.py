"""Money on paper: to the cent, exactly as the price has it."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from sashwright.chapters.worth.say import SIGNS


def money(amount: str | Decimal, currency: str) -> str:
    """``$1,234.50``, ``-€3.00``, ``CHF 12.00``."""
    value = Decimal(amount)
    return f"{'-' if value < 0 else ''}{SIGNS.get(currency, f'{currency} ')}{abs(value):,.2f}"


def span(values: Mapping[str, str], currency: str) -> str:
    """``$1,200.00 to $1,900.00``; one sum where both ends are the same."""
    low, high = values["low"], values["high"]
    return (
        money(low, currency)
        if low == high
        else f"{money(low, currency)} to {money(high, currency)}"
    )


def change(amount: str, currency: str) -> str:
    """``adds $40.00``, ``takes off $40.00``, ``changes nothing``."""
    value = Decimal(amount)
    if not value:
        return "changes nothing"
    return f"{'adds' if value > 0 else 'takes off'} {money(abs(value), currency)}"
