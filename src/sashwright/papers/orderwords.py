"""The words and figures of an order, for the screen, the terminal and the supplier's paper."""

from __future__ import annotations

import math

from sashwright.papers.words import Words, count

LITRES_A_QUART = 0.946352946
SQUARE_METRES_A_FOOT = 0.3048**2
POUND = 0.45359237
FOOT = 0.3048
_PLURALS = {"board foot": "board feet", "foot": "feet", "square foot": "square feet"}
_METRIC = {"foot": (FOOT, "m"), "square foot": (SQUARE_METRES_A_FOOT, "m²")}
_SI = {
    "m": (1 / FOOT, "ft", "m"),
    "m2": (1 / SQUARE_METRES_A_FOOT, "ft²", "m²"),
    "litre": (1 / LITRES_A_QUART, "qt", "L"),
    "kg": (1 / POUND, "lb", "kg"),
}


def shown_in(words: Words, unit: str) -> tuple[float, str]:
    """How many of the reader's units one of a line's is, and what that is called."""
    us = words.system == "us"
    if unit in _SI:
        factor, foot_pound, metric = _SI[unit]
        return (factor, foot_pound) if us else (1.0, metric)
    if unit in _METRIC and not us:
        return _METRIC[unit]
    return 1.0, unit


def amount(words: Words, quantity: float, unit: str) -> str:
    """``22 ft``, ``3.5 lb``, ``12 panes``: rounded up, as a shop would say it."""
    factor, name = shown_in(words, unit)
    text = figure(quantity * factor)
    if name != unit or text == "1" or name in ("m", "kg"):
        return f"{text} {name}"
    return f"{text} {_PLURALS.get(unit, f'{unit}s')}"


def bought(words: Words, quantity: float, unit: str) -> float:
    """What is ordered where so much is needed: the amount as it is said, in the unit of the line."""
    factor, _ = shown_in(words, unit)
    return float(figure(quantity * factor)) / factor


def figure(quantity: float) -> str:
    """Rounded up: to tenths below ten, else whole."""
    step = 0.1 if quantity < 9.95 else 1.0
    value = math.ceil(quantity / step - 1e-6) * step
    return f"{value:.1f}".removesuffix(".0")


def windows(numbers: list[str] | tuple[str, ...], most: int = 6) -> str:
    """``101, 102``; of many only how many."""
    if len(numbers) > most:
        return count(len(numbers), "window")
    return ", ".join(numbers)
