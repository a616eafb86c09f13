"""Lines of equal value through a field that is linear in each triangle of a mesh."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def contour(nodes: Array, triangles: NDArray[np.int64], values: Array, level: float) -> list[Array]:
    """Where the field has a value: open or closed lines, each of shape (points, 2), the longest first.

    Parameters
    ----------
    nodes
        Shape (nodes, 2).
    triangles
        Node numbers, shape (triangles, 3).
    values
        At the nodes.

    Notes
    -----
    Marching triangles. A node that has the very value counts as above it, so that a line enters each
    triangle that it crosses once and leaves it once.
    """
    above = values >= level
    inside = above[triangles]
    crossed = triangles[inside.any(axis=1) & ~inside.all(axis=1)]
    if not len(crossed):
        return []
    ways: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for corners in crossed:
        one, other = _sides(corners, above)
        ways.setdefault(one, []).append(other)
        ways.setdefault(other, []).append(one)
    lines = [
        np.array([_between(nodes, values, side, level) for side in chain])
        for chain in _chains(ways)
    ]
    return sorted(lines, key=_length, reverse=True)


def _sides(corners: NDArray[np.int64], above: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """The two sides of a triangle with one end above and one below."""
    a, b, c = (int(corner) for corner in corners)
    return [
        (min(one, other), max(one, other))
        for one, other in ((a, b), (b, c), (c, a))
        if above[one] != above[other]
    ]


def _chains(ways: dict[tuple[int, int], list[tuple[int, int]]]) -> Iterator[list[tuple[int, int]]]:
    """Sides one after the other: from the edge of the mesh to the edge, then what goes round."""
    left = set(ways)
    ends = [side for side, others in ways.items() if len(others) == 1]
    for start in (*ends, *ways):
        if start not in left:
            continue
        chain, at = [start], start
        left.discard(start)
        while True:
            onward = next((side for side in ways[at] if side in left), None)
            if onward is None:
                break
            chain.append(onward)
            left.discard(onward)
            at = onward
        if len(chain) > 2 and start in ways[at]:
            chain.append(start)
        yield chain


def _between(nodes: Array, values: Array, side: tuple[int, int], level: float) -> Array:
    one, other = side
    share = (level - values[one]) / (values[other] - values[one])
    found: Array = nodes[one] + share * (nodes[other] - nodes[one])
    return found


def _length(line: Array) -> float:
    return float(np.hypot(*np.diff(line, axis=0).T).sum())
