"""Moisture through boards whose two faces stand in different air, day by day.

Many boards are followed at once: arrays end in an axis of boards. Each board is a slab, its moisture
known at both faces and at equal steps between them; what passes a face must first pass the air and the
paint upon it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.diffusion import fitted_diffusion, fitted_powers

Array = NDArray[np.float64]

DAY = 86400.0
"""Seconds in a day [s]."""
STEPS = 8
"""Steps through the thickness, an even number; more change the mean of a window's member by some 1e-4 [-]."""

# Share of each neighbour in what a place holds: with a twelfth the error of constant diffusion shrinks
# with the fourth power of the step, not the second (the compact scheme of Numerov, or Crandall 1955).
_NEIGHBOUR = 1 / 12
# The implicit two-stage step of R. Alexander (1977): second order, and it damps what is faster than a
# step, as the faces of a bare board are.
_GAMMA = 1 - math.sqrt(0.5)
# The years before the year are walked in blocks of so many days, so many times round.
_BLOCK = 5
_ROUNDS = 3
# Days walked singly before New Year, so that the faces forget the blocks.
_RUN_UP = 30
# What is left of a disturbance after a year: of a board with a lag of 18 days, and of ten years.
_QUICKEST, _SLOWEST = 1e-9, 0.9


@dataclass(frozen=True, slots=True)
class Slabs:
    """Boards of wood.

    ``thickness`` [m], shape (boards,); ``diffusion``, what ``fit_diffusion`` makes of each board's wood,
    shape (4, 4, boards); ``depth`` [m], shape (boards,), how far the wood reaches behind an edge that
    moisture enters as well.
    """

    thickness: Array
    diffusion: Array
    depth: Array


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the boards stand in at equal steps of time.

    In between, ``settled`` changes in proportion, the others hold the mean of the two times.
    ``temperature`` of the wood at its outer and inner face [°C], shape (2, times, boards).
    ``settled``, the moisture content that the wood would settle at, in the air at its outer face, its
    inner face and its edge [-], and ``transfer``, the ease of getting there [m/s], both of shape
    (3, times, boards): see :func:`transfer_coefficient`. A transfer of 0 closes a face.
    """

    temperature: Array
    settled: Array
    transfer: Array

    def at(self, picked: NDArray[np.int_]) -> Surroundings:
        """Only some of the times, in the order picked."""
        return Surroundings(
            self.temperature[:, picked], self.settled[:, picked], self.transfer[:, picked]
        )


def transfer_coefficient(
    permeance: Array | float, saturation: Array | float, chord: Array | float, dry: Array | float
) -> Array | float:
    r"""Ease with which moisture passes air and paint, for differences of moisture content [m/s].

    .. math:: \beta = W p_s / (\rho\, \Delta M / \Delta h)

    Parameters
    ----------
    permeance : float or array
        Of air and paint together, to differences of vapour pressure [kg/(Pa s m2)].
    saturation : float or array
        Vapour pressure of saturated air at the face [Pa].
    chord : float or array
        Rise of equilibrium moisture content over that of relative humidity, both fractions [-].
    dry : float or array
        Oven-dry mass in a volume of the wood [kg/m3].
    """
    return permeance * saturation / (dry * chord)


def mean_weights(steps: int) -> Array:
    """Weight of each place in the mean over the thickness: Simpson's rule, shape (steps + 1,)."""
    weights = np.full(steps + 1, 2.0)
    weights[1::2] = 4.0
    weights[[0, -1]] = 1.0
    weights /= 3 * steps
    return weights


def year_round(slabs: Slabs, days: Surroundings, steps: int = STEPS, parts: int = 1) -> Array:
    """Mean moisture content of each board on each day of a year that repeats itself [-].

    Parameters
    ----------
    slabs : Slabs
        The boards.
    days : Surroundings
        At the middle of each day of the year, one after the other.
    steps : int
        Through the thickness, an even number.
    parts : int
        Of each day.

    Returns
    -------
    array
        Shape (days, boards).

    Notes
    -----
    Painted boards are followed within 1e-4 of the moisture content by one part a day, bare ones, whose
    faces go to and fro with each day's weather, by two; a bare bead half an inch thick within 3e-4. Slow
    boards need years to forget how they started; that time is walked in blocks of days, and what is
    then left of the start is taken off as a geometric series.
    """
    count = days.settled.shape[1]
    start, shrink = _worn_in(slabs, _blocks(days), _first_guess(days, steps))
    start, _ = march(slabs, days.at(np.arange(count - _RUN_UP, count + 1) % count), start, DAY)
    _, means = march(slabs, days.at(np.arange(count + 1) % count), start, DAY, parts)
    # A year later each board should stand where it stood. What it is off fades as it did in the blocks,
    # in cold weather slower than in warm.
    off = (means[-1] - means[0]) / (1 - shrink)
    pace = days.transfer.sum(axis=0)
    passed = (pace.cumsum(axis=0) - pace) / pace.sum(axis=0)
    faded = shrink**passed
    year: Array = means[:-1] + off * faded
    return year


def _first_guess(days: Surroundings, steps: int) -> Array:
    ease = days.transfer.sum(axis=(0, 1))
    mean = (days.transfer * days.settled).sum(axis=(0, 1)) / ease
    return np.repeat(mean[None, :], steps + 1, axis=0)


def _blocks(days: Surroundings) -> Surroundings:
    """The year in blocks of days, from and to the start of the run-up."""
    count = days.settled.shape[1]
    at = (np.arange(count // _BLOCK + 1) * _BLOCK - _RUN_UP) % count

    def thin(values: Array) -> Array:
        # Means about each picked day, so that no day's weather stands for its neighbours.
        around = [values[:, (at + shift) % count] for shift in range(-2, 3)]
        mean: Array = sum(around[1:], around[0]) / len(around)
        return mean

    return Surroundings(thin(days.temperature), thin(days.settled), thin(days.transfer))


def _worn_in(slabs: Slabs, blocks: Surroundings, start: Array) -> tuple[Array, Array]:
    """The profile that comes back after a year, and what is left of a disturbance after one [-].

    Each round shrinks what is wrong by the same factor, of each board for itself; only a slow board's is
    large enough to be seen.
    """
    seconds = _BLOCK * DAY
    now, step = start, start
    for _ in range(_ROUNDS):
        after, _ = march(slabs, blocks, now, seconds)
        # In the first round the profile takes its shape; what it does then is all of one slow fading.
        before, step, now = step, after - now, after
    scale = (before * before).sum(axis=0)
    shrink = np.divide(
        (step * before).sum(axis=0), scale, out=np.zeros_like(scale), where=scale > 0
    )
    shrink = np.clip(shrink, _QUICKEST, _SLOWEST)
    return now + step * shrink / (1 - shrink), shrink


def march(
    slabs: Slabs, times: Surroundings, start: Array, seconds: float, parts: int = 1
) -> tuple[Array, Array]:
    """Follow the boards from the first of the times to the last.

    Parameters
    ----------
    slabs : Slabs
        The boards.
    times : Surroundings
        At n equal steps of time.
    start : array
        Moisture content at the first time, from the outer face to the inner, at equal steps; shape
        (steps + 1, boards), an even number of steps [-].
    seconds : float
        From one time to the next [s].
    parts : int
        Equal steps in which each of these is walked.

    Returns
    -------
    profile, means : array
        Moisture content at the last time, shape as ``start``, and the mean of each board at every time,
        shape (n, boards).

    Notes
    -----
    Fick's law, with a coefficient that follows moisture and temperature within each step of time. In
    space a compact scheme of fourth order, in time Alexander's of second. What enters an edge works on
    the whole thickness alike: behind it lies a slab of ``depth`` closed at its far side, whose mean in
    slow change lags its surface as if behind a third of that depth.
    """
    weights = mean_weights(len(start) - 1)
    place = (np.arange(len(start) - 1) + 0.5)[:, None] / (len(start) - 1)
    wood = slabs.diffusion[:, :, None, :]
    count = times.settled.shape[1]
    means = np.empty((count, start.shape[1]))
    means[0] = weights @ start
    now, before = start, start
    for at in range(count - 1):
        # From face to face the temperature runs straight, and the powers all but straight with it.
        outer, inner = fitted_powers(wood, _middle(times.temperature, at)).swapaxes(0, 1)
        powers = outer[:, None] + (inner - outer)[:, None] * place
        transfer = _middle(times.transfer, at)
        first, change = times.settled[:, at], times.settled[:, at + 1] - times.settled[:, at]
        for part in range(parts):
            # Half a step of time ahead, as the last step went.
            guess = 1.5 * now - 0.5 * before
            diffusion = fitted_diffusion(powers, (guess[1:] + guess[:-1]) / 2)
            system = _System(slabs, diffusion, transfer, seconds / parts)
            air = first + change * (part / parts), first + change * ((part + 1) / parts)
            before, now = now, system.step(now, *air)
        means[at + 1] = weights @ now
    return now, means


def _middle(values: Array, at: int) -> Array:
    middle: Array = (values[:, at] + values[:, at + 1]) / 2
    return middle


class _System:
    """The implicit equations of one step of time, for all boards at once; all without dimension."""

    def __init__(self, slabs: Slabs, diffusion: Array, transfer: Array, seconds: float) -> None:
        span = _GAMMA * seconds
        step = slabs.thickness / len(diffusion)
        inward = slabs.depth / (3 * diffusion.mean(axis=0))
        self.edge = span * transfer[2] / (slabs.depth * (1 + transfer[2] * inward))
        self.faces = span * transfer[:2] / step
        self.between = span / step**2 * diffusion - _NEIGHBOUR * (1 + self.edge)
        self._factor()

    def _factor(self) -> None:
        """Elimination of the tridiagonal system: ratios of rows, inverse pivots."""
        between, count = self.between, len(self.between)
        diagonal = np.empty((count + 1, between.shape[1]))
        diagonal[:-1] = between
        diagonal[-1] = 0.0
        diagonal[1:] += between
        diagonal += 1 + self.edge
        # The two faces stand for half a step each.
        diagonal[0] += self.faces[0] - (1 + self.edge) / 2
        diagonal[-1] += self.faces[1] - (1 + self.edge) / 2
        ratios = np.empty_like(between)
        for i in range(count):
            np.divide(between[i], diagonal[i], out=ratios[i])
            diagonal[i + 1] -= ratios[i] * between[i]
        self.ratios, self.pivots = ratios, diagonal

    def step(self, now: Array, first: Array, last: Array) -> Array:
        """Moisture after the step, from that before it and the air at its two ends."""
        halfway = self._stage(now, first + _GAMMA * (last - first))
        # The first stage's rate over the rest of the step: (1 - gamma) / gamma of its change.
        return self._stage(now + (1 - _GAMMA) / _GAMMA * (halfway - now), last)

    def _stage(self, start: Array, settled: Array) -> Array:
        known = start + self.edge * settled[2]
        known[0] = known[0] / 2 + self.faces[0] * settled[0]
        known[-1] = known[-1] / 2 + self.faces[1] * settled[1]
        shared = _NEIGHBOUR * (start[1:] - start[:-1])
        known[:-1] += shared
        known[1:] -= shared
        return self._solve(known)

    def _solve(self, known: Array) -> Array:
        """Substitution forward and back; ``known`` is used up."""
        ratios, count = self.ratios, len(self.ratios)
        for i in range(count):
            known[i + 1] += ratios[i] * known[i]
        known /= self.pivots
        for i in range(count - 1, -1, -1):
            known[i] += ratios[i] * known[i + 1]
        return known
