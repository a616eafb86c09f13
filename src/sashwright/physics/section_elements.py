"""Elements of second order on the triangles of a section: equations, flows, and where they are rough.

Temperatures are sought at the corners and in the middle of each side. All integrals over elements are
exact: the conductivity is the same all over a triangle and its sides are straight.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.linalg import splu

from sashwright.physics.section_mesh import Indices, Mesh

Array = NDArray[np.float64]
Film = tuple[Indices, float, float]
"""Sides that a film covers, its resistance [m2 K/W], the temperature beyond it [°C]."""

# Corners that products of gradients belong to, and where those go in an element's matrix. Its rows and
# columns are corners 0, 1, 2, then the middles of sides 01, 12, 20.
_PAIRS = ((0, 0), (1, 1), (2, 2), (0, 1), (1, 2), (2, 0))


def _shares() -> Array:
    """How much of each product of gradients stands in each of the 36 places of the matrix."""
    sides = ((0, 1), (1, 2), (2, 0))
    pair = {frozenset(p): k for k, p in enumerate(_PAIRS)}
    share = np.zeros((6, 6, 6))
    for i in range(3):
        share[i, i, i] = 1.0
        for j in range(3):
            if i != j:
                share[i, j, pair[frozenset((i, j))]] = -1 / 3
    for k, (i, j) in enumerate(sides):
        both = pair[frozenset((i, j))]
        for corner in (i, j):
            share[corner, 3 + k, both] = share[3 + k, corner, both] = 4 / 3
        share[3 + k, 3 + k, [i, j, both]] = 8 / 3
        for m, other in enumerate(sides):
            if m != k:
                apart = {i, j} ^ set(other)
                share[3 + k, 3 + m, pair[frozenset(apart)]] = 8 / 3
    return share.reshape(36, 6).T


_SHARES = _shares()
_FILM = np.array([[4.0, -1.0, 2.0], [-1.0, 4.0, 2.0], [2.0, 2.0, 16.0]]) / 30
_MEAN = np.array([1.0, 1.0, 4.0]) / 6


class Elements:
    """The equations of one mesh, for any conductivities and films."""

    def __init__(self, mesh: Mesh) -> None:
        self.mesh = mesh
        corners = mesh.nodes[mesh.triangles]
        # Gradient of what is 1 in a corner and 0 on the side facing it: that side turned, over twice the
        # area.
        run = np.roll(corners, 1, axis=1) - np.roll(corners, -1, axis=1)
        turned = np.stack([-run[:, :, 1], run[:, :, 0]], axis=2)
        twice = run[:, 0, 0] * run[:, 1, 1] - run[:, 0, 1] * run[:, 1, 0]
        self._gradients = turned / twice[:, None, None]
        self._areas = twice / 2
        self._places = np.concatenate([mesh.triangles, len(mesh.nodes) + mesh.sides_of], axis=1)

    @property
    def unknowns(self) -> int:
        return len(self.mesh.nodes) + len(self.mesh.sides)

    @cached_property
    def _products(self) -> Array:
        """Of the gradients, over each triangle, spread over its matrix; shape (triangles, 36)."""
        g = self._gradients
        products = np.stack([(g[:, i] * g[:, j]).sum(axis=1) for i, j in _PAIRS], axis=1)
        return np.asarray((products * self._areas[:, None]) @ _SHARES)

    @cached_property
    def _rows_and_columns(self) -> tuple[Indices, Indices]:
        places = self._places
        return np.repeat(places, 6, axis=1).ravel(), np.tile(places, (1, 6)).ravel()

    def _film_places(self, sides: Indices) -> Indices:
        return np.column_stack([self.mesh.sides[sides], len(self.mesh.nodes) + sides])

    def temperatures(self, conductivity: Array, films: Sequence[Film]) -> Array:
        """At all corners, then in the middles of all sides [°C]; ``conductivity`` of each triangle."""
        rows, columns = [self._rows_and_columns[0]], [self._rows_and_columns[1]]
        values = [(self._products * conductivity[:, None]).ravel()]
        right = np.zeros(self.unknowns)
        for sides, resistance, beyond in films:
            places = self._film_places(sides)
            passing = self.mesh.lengths[sides] / resistance
            rows.append(np.repeat(places, 3, axis=1).ravel())
            columns.append(np.tile(places, (1, 3)).ravel())
            values.append((passing[:, None] * _FILM.ravel()).ravel())
            np.add.at(right, places, beyond * passing[:, None] * _MEAN)
        matrix = coo_array(
            (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))),
            shape=(self.unknowns,) * 2,
        ).tocsc()
        # Symmetric, with its greatest values on the diagonal: no rows need be exchanged.
        factors = splu(
            matrix,
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )
        return np.asarray(factors.solve(right))

    def entering(self, temperature: Array, film: Film) -> float:
        """Heat that comes in through a film [W/m]."""
        sides, resistance, beyond = film
        faces = temperature[self._film_places(sides)] @ _MEAN
        return float(((beyond - faces) * self.mesh.lengths[sides]).sum() / resistance)

    def on(self, temperature: Array, sides: Indices) -> Array:
        """Temperatures at the ends and middles of these sides [°C]."""
        return np.asarray(temperature[self._film_places(sides)].ravel())

    def at(self, temperature: Array, point: tuple[float, float]) -> float | None:
        """Temperature at a point; None outside the section."""
        corners = self.mesh.nodes[self.mesh.triangles]
        shares = (
            1 + ((np.asarray(point) - corners)[:, :, None] @ self._gradients[..., None])[..., 0, 0]
        )
        best = int(shares.min(axis=1).argmax())
        share = shares[best]
        if share.min() < -1e-6:
            return None
        around = np.roll(share, -1)
        weights = np.concatenate([share * (2 * share - 1), 4 * share * around])
        return float(weights @ temperature[self._places[best]])

    def roughness(self, temperature: Array, conductivity: Array, films: Sequence[Film]) -> Array:
        """How much of the error each triangle holds, up to a factor: the flow of heat jumps across its sides.

        For each side h j² / k, with j the jump of the flow across it (at the edge, what the film does
        not take), integrated along it, h its length and k the sum of the conductivities.
        """
        mesh, sides_of = self.mesh, self.mesh.sides_of
        values = temperature[self._places]
        g = self._gradients
        plain = (values[:, :3, None] * g).sum(axis=1)
        jump = np.zeros((len(mesh.sides), 2))
        across = np.bincount(
            sides_of.ravel(), np.repeat(conductivity, 3), minlength=len(mesh.sides)
        )
        slopes = []
        for corner in range(3):
            # At a corner: its own value three times over, and the middles of the two sides that meet there.
            after, before = (corner + 1) % 3, (corner + 2) % 3
            slope = 4 * values[:, corner, None] * g[:, corner] - plain
            slope += 4 * values[:, 3 + corner, None] * g[:, after]
            slope += 4 * values[:, 3 + before, None] * g[:, before]
            slopes.append(slope * conductivity[:, None])
        for k in range(3):
            first, last = k, (k + 1) % 3
            # Outward of this triangle, along the gradient that falls towards the side.
            out = -g[:, (k + 2) % 3]
            out = out / np.hypot(out[:, 0], out[:, 1])[:, None]
            flows = [(slopes[end] * out).sum(axis=1) for end in (first, last)]
            swapped = mesh.triangles[:, first] > mesh.triangles[:, last]
            low = np.where(swapped, flows[1], flows[0])
            high = np.where(swapped, flows[0], flows[1])
            np.add.at(jump, sides_of[:, k], np.stack([low, high], axis=1))
        for sides, resistance, beyond in films:
            jump[sides] -= (beyond - temperature[mesh.sides[sides]]) / resistance
        a, b = jump.T
        each = mesh.lengths**2 * (a * a + a * b + b * b) / (3 * across)
        return np.asarray(each[sides_of].sum(axis=1))
