"""Alternatives for the windows of a house as plots show them: which of them, by which names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

Row = Mapping[str, Any]

SHORT: Mapping[str, str] = {
    "keep": "As found",
    "repair": "Put in order",
    "repair-strip-spring": "In order, spring strip",
    "repair-strip-rib": "In order, rib",
    "repair-strip-bulb": "In order, bulb",
    "repair-strip-pile": "In order, pile",
    "repair-strip-felt": "In order, felt",
    "storm": "Clear storms",
    "storm-low-e": "Low-e storms",
    "storm-stays": "Storms in tracks",
    "inside": "Inside storms",
    "repair-storm": "In order, clear storms",
    "repair-storm-low-e": "In order, low-e storms",
    "repair-inside-low-e": "In order, inside storms",
    "unit": "Insulated glass in old",
    "new-sash": "New sash",
    "replace-pvc": "Replaced, PVC",
    "replace-wood": "Replaced, clad wood",
}
"""Names for the ends of lines."""


def short(row: Row) -> str:
    """A name for the end of a line."""
    return SHORT.get(row["key"], row["name"])


def leading(alternatives: Sequence[Row], base: str) -> list[Row]:
    """Those that a plot has room for, in their order: of ways that are much alike, the one that costs least.

    Parameters
    ----------
    alternatives
        Rows of the worth chapter.
    base
        Key of the one that all are compared with.
    """
    best: dict[tuple[str, ...], Row] = {}
    for row in alternatives:
        kind = _kind(row, base)
        if kind not in best or row["net_present_cost"] < best[kind]["net_present_cost"]:
            best[kind] = row
    return [row for row in alternatives if row in best.values()]


def _kind(row: Row, base: str) -> tuple[str, ...]:
    if row["key"] == base or row["group"] == "replace":
        return (row["key"],)
    glass = row["glass"].partition("-")[0]
    joints = "as found" if row["joints"] == "as found" else "worked on"
    return (joints, "storm" if glass == "inside" and joints == "worked on" else glass)


def compared_with(alternatives: Sequence[Row], base: str) -> str:
    """What all are compared with, for the middle of a sentence."""
    name = str(next(row["name"] for row in alternatives if row["key"] == base))
    return f"{name[:1].lower()}{name[1:]}"


def beside(values: Sequence[float], base: Sequence[float]) -> list[float]:
    """A course less that of the base, year by year."""
    return [value - zero for value, zero in zip(values, base, strict=True)]


def scaled(most: float) -> tuple[float, str]:
    """What figures of an axis are divided by, and the word for it."""
    return (1000.0, "thousand ") if most >= 1500 else (1.0, "")
