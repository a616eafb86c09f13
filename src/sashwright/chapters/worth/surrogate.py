"""A year's need as a polynomial of what draws change, so that a thousand years cost no more than eighty.

The polynomial is fitted to years that are followed hour by hour, at points spread evenly over the box of
all that alternatives and draws reach; others, kept apart, say how far off it is. An alternative's own year
stays exact: only the difference of a draw from it comes from the polynomial.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import combinations_with_replacement

import numpy as np
from numpy.typing import NDArray
from scipy.stats import qmc

Array = NDArray[np.float64]

DEGREE = 3
POINTS = 56
"""Years followed for the fit; a cubic of four inputs has 35 coefficients."""
TESTS = 8
"""Years followed to see how far off it is."""


@dataclass(frozen=True, eq=False)
class Polynomial:
    """A polynomial of the inputs, each scaled to -1 to 1 over its range; several outputs at once."""

    low: Array
    high: Array
    coefficients: Array
    """(terms, outputs)"""
    off: Array
    """Root mean square difference at the points kept apart, (outputs,)."""

    def __call__(self, inputs: Array) -> Array:
        """(..., inputs) to (..., outputs)."""
        found: Array = _terms(self._scaled(inputs)) @ self.coefficients
        return found

    def _scaled(self, inputs: Array) -> Array:
        wide = np.where(self.high > self.low, self.high - self.low, 1.0)
        scaled: Array = 2 * (inputs - self.low) / wide - 1
        return scaled


def _terms(scaled: Array) -> Array:
    """All products of up to ``DEGREE`` inputs, (..., terms)."""
    columns = [np.ones(scaled.shape[:-1])]
    for degree in range(1, DEGREE + 1):
        for which in combinations_with_replacement(range(scaled.shape[-1]), degree):
            columns.append(np.prod([scaled[..., at] for at in which], axis=0))
    return np.stack(columns, axis=-1)


def fitted(work_out: Callable[[Array], Array], low: Array, high: Array) -> Polynomial:
    """Fit to a function of one point, shape (inputs,) to (outputs,), within a box."""
    spread = qmc.Halton(d=len(low), scramble=False).random(POINTS + TESTS + 1)[1:]
    points = low + spread * (high - low)
    found = np.array([work_out(point) for point in points])
    bare = Polynomial(low, high, np.zeros((0, found.shape[1])), np.zeros(found.shape[1]))
    terms = _terms(bare._scaled(points))
    apart = np.zeros(len(points), dtype=bool)
    apart[:: len(points) // TESTS] = True
    coefficients, *_ = np.linalg.lstsq(terms[~apart], found[~apart], rcond=None)
    off = np.sqrt(((terms[apart] @ coefficients - found[apart]) ** 2).mean(axis=0))
    return Polynomial(low, high, coefficients, off)
