"""Windows that share a mullion: which, and how far apart."""

from __future__ import annotations

from typing import Literal

from sashwright.window.layout import WindowLayout
from sashwright.window.resolve import Placed

Side = Literal[-1, 1]
SIDES: tuple[tuple[Side, str], ...] = ((-1, "left"), (1, "right"))
"""Seen from outside."""


def neighbour(placed: Placed, side: Side) -> WindowLayout | None:
    """The window that shares a mullion on this side, seen from outside."""
    return placed.left if side < 0 else placed.right


def mullion_width(placed: Placed, side: Side) -> float:
    """Between the faces of the two pulley stiles [m].

    The pocket's clear width is that of the window which names the other.
    """
    layout = placed.layout
    owner = layout if side < 0 or placed.right is None else placed.right
    beside = neighbour(placed, side) or layout
    stiles = layout.family.frame.pulley_stile + beside.family.frame.pulley_stile
    return owner.family.pocket.mullion + stiles
