"""The most valuable filling of a length, for every length at once: dynamic programming in numpy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.make.cutting.problem import Ints

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Filled:
    """``best[u]``: the greatest value of pieces that add up to exactly u; minus infinity where none do."""

    best: Floats
    _chunks: list[tuple[int, int, int, NDArray[np.bool_]]]
    _kinds: int
    step: int = 1
    """Sizes were rounded up, and room down, to so many steps of the grid; totals count in them."""

    def pieces(self, total: int) -> Ints:
        """How many of each piece the best filling of exactly ``total`` has."""
        counts = np.zeros(self._kinds, dtype=np.int64)
        for index, number, size, taken in reversed(self._chunks):
            if taken[total]:
                counts[index] += number
                total -= size
        return counts

    def within(self, room: int, least_rest: int = 0) -> tuple[float, int]:
        """The best value in ``room`` and the total that gives it: it leaves nothing, or ``least_rest``."""
        room //= self.step
        full = float(self.best[room])
        if least_rest > room:
            return (full, room) if full > 0 else (0.0, 0)
        at = int(np.argmax(self.best[: room - least_rest + 1]))
        value = float(self.best[at])
        return (full, room) if full > value else (value, at)


def fill(
    sizes: Sequence[int], values: Floats, copies: Sequence[int], room: int, step: int = 1
) -> Filled:
    """Fillings of every length up to ``room``, each piece at most ``copies`` times.

    With a ``step`` of several the sizes are rounded up to it and the room down: every filling is a true
    one, but not every true one is found. It is that many times faster. Pieces without value are left
    out. Copies are taken in bundles of 1, 2, 4 ..., of which every number can be made up.
    """
    room //= step
    best = np.full(room + 1, -np.inf)
    best[0] = 0.0
    chunks = []
    for index, (size, value, most) in enumerate(zip(sizes, values, copies, strict=True)):
        steps = -(-size // step)
        if value <= 0 or steps > room:
            continue
        for number in bundles(min(most, room // steps)):
            long = number * steps
            gain = best[:-long] + number * value
            taken = np.zeros(room + 1, dtype=np.bool_)
            np.greater(gain, best[long:], out=taken[long:])
            np.maximum(best[long:], gain, out=best[long:])
            chunks.append((index, number, long, taken))
    return Filled(best, chunks, len(sizes), step)


def bundles(most: int) -> Iterator[int]:
    """1, 2, 4 ... and a rest that adds up to ``most``."""
    number = 1
    while most > 0:
        taken = min(number, most)
        yield taken
        most -= taken
        number *= 2
