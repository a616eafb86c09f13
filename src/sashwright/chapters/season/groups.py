"""Which pieces of a house can stand in for each other: the same shape and, within a hair, the same size."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sashwright.window.storm import OutsidePiece

ALIKE = 0.0254 / 16
"""Greatest difference of width or height within a group [m]: half of the usual clearance both sides
together, so that every piece goes in with the other half to spare; common practice."""
HAIR = 1e-9


def interchangeable(pieces: Mapping[str, OutsidePiece]) -> list[list[str]]:
    """Marks in groups of pieces that fit each other's windows; singles are left out.

    Within a group no two pieces differ by more than ``ALIKE`` in width, in height or in where their
    middle rail is, and all have the same head, foot and lights.
    """
    shapes: dict[Any, list[str]] = {}
    for mark, piece in pieces.items():
        shapes.setdefault(_shape(piece), []).append(mark)
    groups: list[list[str]] = []
    for marks in shapes.values():
        groups += _alike(sorted(marks, key=lambda mark: (*_sizes(pieces[mark]), mark)), pieces)
    return sorted(sorted(group) for group in groups if len(group) > 1)


def _alike(marks: list[str], pieces: Mapping[str, OutsidePiece]) -> list[list[str]]:
    """Each piece joins the first group all of whose pieces it is alike to."""
    groups: list[list[str]] = []
    for mark in marks:
        for group in groups:
            if all(_fit(pieces[mark], pieces[other]) for other in group):
                group.append(mark)
                break
        else:
            groups.append([mark])
    return groups


def _fit(one: OutsidePiece, other: OutsidePiece) -> bool:
    pairs = zip(_sizes(one), _sizes(other), strict=True)
    return all(abs(a - b) <= ALIKE + HAIR for a, b in pairs)


def _sizes(piece: OutsidePiece) -> tuple[float, ...]:
    middles = tuple(panel.top - piece.outline.bottom for panel in piece.panels[:-1])
    return (piece.width, piece.height, piece.thickness, *middles)


def _shape(piece: OutsidePiece) -> tuple[Any, ...]:
    """What has to be the same: number of panels and their lights, the head, the foot's bevel."""
    lights = tuple(
        (panel.spec.lites.columns, panel.spec.lites.rows, panel.spec.glazing.panes)
        for panel in piece.panels
    )
    arc = piece.outline.arc
    radius = None if arc is None else round(arc.radius / ALIKE)
    return piece.owner, lights, radius, round(piece.outline.slope, 3)
