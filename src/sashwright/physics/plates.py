r"""Rectangular plates under even pressure, held on four sides: small and large deflections.

Large deflections follow von Kármán: bending, and the stretch that sagging causes. Everything about them
is without dimension, so that one solution serves all plates of a shape:

.. math:: \hat q = \frac{q (ab)^2}{E t^4}, \qquad \hat w = \frac wt, \qquad
   \hat s = \frac{s\, ab}{E t^2}

with the sides a ≥ b [m], the thickness t [m], the pressure q [Pa], Young's modulus E [Pa], deflections w
[m] and stresses s [Pa].
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.polynomial import Legendre
from numpy.polynomial.legendre import leggauss
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

Edges = Literal["free", "straight"]
"""What the supported edges do in the plane of the plate.

``free``: they slip in and out as they like, as glass in putty is taken to do (ASTM E1300);
``straight``: each moves in as a whole, as between the panels of a fuselage. They never sink, and turn
freely.
"""

# Terms of the series for small deflections; the fifth power of the last is some 1e-9 of the first.
_TERMS = 60
# Newton's method: most steps for one load, and a step of the deflection that changes nothing any more.
_TURNS = 60
_CLOSE = 1e-11


# --- small deflections ----------------------------------------------------------------


def small_deflection(
    short: ArrayLike,
    long: ArrayLike,
    thickness: ArrayLike,
    pressure: ArrayLike,
    *,
    modulus: float,
    poisson: float,
) -> float | Array:
    r"""Deflection of the middle while it is small [m].

    .. math:: w = \alpha \frac{q\, b^4}{D}, \qquad D = \frac{E t^3}{12 (1 - \nu^2)}

    Parameters
    ----------
    short, long, thickness : float or array
        b, a and t [m].
    pressure : float or array
        q [Pa].
    modulus, poisson : float
        E [Pa] and ν [-].

    Notes
    -----
    Levy's series (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, section 30). Good to 2 %
    up to a quarter of the thickness in a square pane; beyond, it is too large.

    Examples
    --------
    >>> round(small_deflection(1.0, 1.0, 0.01, 100.0, modulus=70e9, poisson=0.3) * 1e3, 5)
    0.06337
    """
    b, a, t, q = _arrays(short, long, thickness, pressure)
    _check_sides(b, a, t)
    stiffness = modulus * t**3 / (12 * (1 - poisson**2))
    return _plain(small_coefficients(a / b)[0] * q * b**4 / stiffness)


def small_stress(
    short: ArrayLike, long: ArrayLike, thickness: ArrayLike, pressure: ArrayLike, *, poisson: float
) -> float | Array:
    r"""Largest bending stress while deflections are small, at the middle, across the pane [Pa].

    .. math:: s = \frac{6 M}{t^2}, \qquad M = (\beta_x + \nu \beta_y)\, q\, b^2

    Parameters and source are those of :func:`small_deflection`.
    """
    b, a, t, q = _arrays(short, long, thickness, pressure)
    _check_sides(b, a, t)
    _, across, along = small_coefficients(a / b)
    return _plain(6 * (across + poisson * along) * q * b**2 / t**2)


def small_coefficients(ratio: ArrayLike) -> tuple[Array, Array, Array]:
    """α of :func:`small_deflection` and the two curvatures of the middle, times D / (q b²) [-].

    ``ratio`` is long over short, 1 or more. The curvatures are across (the short way) and along.
    """
    m = np.arange(1, 2 * _TERMS, 2, dtype=np.float64)
    turn = m * np.pi * np.asarray(ratio, dtype=np.float64)[..., None] / 2
    # Beyond this the hyperbolic functions overflow, and their term is nothing.
    turn = np.minimum(turn, 350.0)
    sign = np.where(m % 4 == 1, 1.0, -1.0)
    shape = sign * 4 / (np.pi * m) ** 5
    held = turn * np.tanh(turn) / (2 * np.cosh(turn))
    free = 1 - 1 / np.cosh(turn) - held
    square = (np.pi * m) ** 2
    return (
        (shape * free).sum(axis=-1),
        (shape * square * free).sum(axis=-1),
        (shape * square * held).sum(axis=-1),
    )


# --- large deflections ----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Bent:
    """A plate under one load, all without dimension; the fields at places of one quarter of it.

    ``load`` q̂ and ``deflection`` of the middle ŵ. ``major`` and ``minor`` are the principal stresses ŝ of
    the face away from the load, ``weight`` the share of the plate that each place stands for; the last
    place is the middle and has none. Tension counts positive.
    """

    load: float
    deflection: float
    major: Array
    minor: Array
    weight: Array

    @property
    def stress(self) -> float:
        """Largest tension on the face away from the load, ŝ [-]."""
        return float(self.major.max())


def bend(
    ratio: float,
    loads: Sequence[float],
    *,
    poisson: float,
    edges: Edges = "free",
    terms: int = 9,
) -> list[Bent]:
    """A plate with sides of ``ratio`` [-], 1 or more, under rising even ``loads`` q̂ [-].

    ``terms`` is how many terms each way describe deflection and stress, by symmetry of one quarter only:
    9 are good for 0.5 % of the stress up to loads of some 1000.

    Notes
    -----
    Von Kármán's plate. The deflection is a double sine series, as it must be on hinged edges; the stretch
    comes from a stress function, of polynomials that leave no stress on ``free`` edges, of cosines that
    leave no shear on the others. Both meet the equations in the mean, weighted with their own terms
    (Galerkin), so that the strain energy is least; the nonlinear equations are solved by Newton's method.

    Raises
    ------
    ValueError
        When the ratio is below 1, or loads fall.
    """
    if not ratio >= 1:
        raise ValueError(f"found sides of ratio {ratio:g}, expected long over short, 1 or more")
    if any(np.diff([0.0, *loads]) < 0):
        raise ValueError("found loads that fall, expected them rising from 0")
    return _Plate(ratio, poisson, edges, terms).under(loads)


class _Plate:
    """The equations of a plate of one shape: sides √r and 1/√r, thickness and modulus 1."""

    def __init__(self, ratio: float, poisson: float, edges: Edges, terms: int) -> None:
        self.poisson = poisson
        self.stiffness = 1 / (12 * (1 - poisson**2))
        a, b = ratio**0.5, ratio**-0.5
        x, along = _points(a, 4 * terms + 8)
        y, across = _points(b, 4 * terms + 8)
        # A quarter stands for the whole.
        self.weight = 4 * np.outer(along, across).ravel()
        self.w = _products(_sines(x, a, terms), _sines(y, b, terms))
        self.stress = _stress_terms(x, y, a, b, terms, edges)
        odd = np.arange(1, 2 * terms, 2) * np.pi
        m, n = (side.ravel() for side in np.meshgrid(odd / a, odd / b, indexing="ij"))
        self.bending = self.stiffness * (m**2 + n**2) ** 2 / 4
        # Integral of each sine over the plate.
        self.pull = 4 / (m * n)
        self.stretch, self.compliance = self._coupling()

    def _coupling(self) -> tuple[Array, Array]:
        """Work of each stress term on the slopes of each two terms of w; and that of stress on stress.

        Shapes (stress terms, terms of w, terms of w) and (stress terms, stress terms).
        """
        sx, sy, sxy = (field * self.weight[:, None] for field in self.stress)
        wx, wy = self.w[1], self.w[2]
        stretch = np.empty((sx.shape[1], wx.shape[1], wx.shape[1]))
        for i in range(len(stretch)):
            shear = wx.T @ (sxy[:, i, None] * wy)
            stretch[i] = wx.T @ (sx[:, i, None] * wx) + wy.T @ (sy[:, i, None] * wy)
            stretch[i] += shear + shear.T
        x, y, xy = self.stress
        nu = self.poisson
        compliance: Array = x.T @ (sx - nu * sy) + y.T @ (sy - nu * sx) + 2 * (1 + nu) * xy.T @ sxy
        return stretch / 2, compliance

    def under(self, loads: Sequence[float]) -> list[Bent]:
        inverse: Array = np.linalg.inv(self.compliance).astype(np.float64)
        now, before, answers = np.zeros_like(self.pull), 0.0, []
        for load in loads:
            # Far steps are walked in several, each no more than doubling the load.
            parts = max(1, int(np.ceil(np.log2(load / max(before, 5.0)))) if load > 0 else 1)
            for part in range(1, parts + 1):
                now = self._solve(now, load * 2.0 ** (part - parts), inverse)
            before = load
            answers.append(self._answer(load, now, inverse))
        return answers

    def _solve(self, start: Array, load: float, inverse: Array) -> Array:
        """Terms of the deflection at which the forces on each of them vanish."""
        now = start
        for _ in range(_TURNS):
            reach = self.stretch @ now
            strain = reach @ now
            membrane = inverse @ strain
            held = 2 * np.tensordot(membrane, self.stretch, 1)
            rest = load * self.pull - self.bending * now - held @ now
            tangent = np.diag(self.bending) + held + 4 * reach.T @ inverse @ reach
            step: Array = np.linalg.solve(tangent, rest).astype(np.float64)
            # The energy is steep where the plate is stiff: no step may overthrow the shape.
            size = float(np.abs(now).max())
            most = float(np.abs(step).max()) / max(0.5, size)
            now = now + step / max(1.0, most)
            if float(np.abs(step).max()) < _CLOSE * max(1.0, size):
                return now
        raise ArithmeticError(f"found no shape of the plate under a load of {load:g}")

    def _answer(self, load: float, terms: Array, inverse: Array) -> Bent:
        membrane = inverse @ (self.stretch @ terms @ terms)
        w, _, _, wxx, wyy, wxy = (field @ terms for field in self.w)
        fibre, nu = 6 * self.stiffness, self.poisson
        sx, sy, sxy = (field @ membrane for field in self.stress)
        sx = sx - fibre * (wxx + nu * wyy)
        sy = sy - fibre * (wyy + nu * wxx)
        sxy = sxy - fibre * (1 - nu) * wxy
        mean, radius = (sx + sy) / 2, np.hypot((sx - sy) / 2, sxy)
        return Bent(load, float(w[-1]), mean + radius, mean - radius, self.weight)


def _points(side: float, count: int) -> tuple[Array, Array]:
    """Places from an edge to the middle with their weights; last the middle itself, without one."""
    at, weight = leggauss(count)
    places = np.append((at + 1) * side / 4, side / 2)
    return places, np.append(weight * side / 4, 0.0)


def _sines(at: Array, side: float, terms: int) -> list[Array]:
    """Odd sines and their first two derivatives at places, shape (places, terms) each."""
    k = np.arange(1, 2 * terms, 2) * np.pi / side
    turn = at[:, None] * k
    return [np.sin(turn), k * np.cos(turn), -(k**2) * np.sin(turn)]


def _products(x: list[Array], y: list[Array]) -> list[Array]:
    """Value, d/dx, d/dy, d²/dx², d²/dy², d²/dxdy of all products, shape (places, terms) each."""
    orders = [(0, 0), (1, 0), (0, 1), (2, 0), (0, 2), (1, 1)]
    return [np.kron(x[i], y[j]).astype(np.float64) for i, j in orders]


def _stress_terms(
    x: Array, y: Array, a: float, b: float, terms: int, edges: Edges
) -> tuple[Array, Array, Array]:
    """Stresses along x, along y and in shear of each term of the stress function."""
    make = _clamped if edges == "free" else _cosines
    f = _products(make(x, a, terms), make(y, b, terms))
    sx, sy, sxy = f[4], f[3], -f[5]
    if edges == "free":
        return sx, sy, sxy
    # Without the constant, which is no stress.
    return sx[:, 1:], sy[:, 1:], sxy[:, 1:]


def _clamped(at: Array, side: float, terms: int) -> list[Array]:
    """Even polynomials that vanish at the edge together with their slope, and two derivatives."""
    z, scale = 2 * at / side - 1, 2 / side
    edge = Legendre.fromroots([-1, -1, 1, 1])
    columns = [edge * Legendre.basis(2 * i) for i in range(terms)]
    return [
        np.stack(
            [p.deriv(order)(z) * scale**order / (1 + i) for i, p in enumerate(columns)], axis=1
        )
        for order in range(3)
    ]


def _cosines(at: Array, side: float, terms: int) -> list[Array]:
    """Even cosines, the constant first, and their first two derivatives."""
    k = 2 * np.arange(terms) * np.pi / side
    turn = at[:, None] * k
    return [np.cos(turn), -k * np.sin(turn), -(k**2) * np.cos(turn)]


# --- small helpers --------------------------------------------------------------------


def _arrays(*values: ArrayLike) -> list[Array]:
    return [np.asarray(value, dtype=np.float64) for value in values]


def _check_sides(short: Array, long: Array, thickness: Array) -> None:
    if not np.all((short > 0) & (thickness > 0)):
        raise ValueError("found a side or thickness of zero or less, expected all above zero")
    if np.any(long < short):
        raise ValueError("found a long side below the short one, expected the short one first")


def _plain(value: Array) -> float | Array:
    """A plain float where there is one number only."""
    return float(value) if value.ndim == 0 else value
