"""Heat through upright glazing at the centre, balanced face by face, for any number of states at once.

Method: ISO 15099:2003, 5, as quoted in public sources: gas properties at the mean temperature of each gap,
the correlations of :mod:`sashwright.physics.cavity`, longwave radiation at the true temperatures.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.constants import KELVIN
from sashwright.physics.glazing.conditions import Conditions
from sashwright.physics.glazing.layers import Gap, Pane, check_stack
from sashwright.physics.glazing.network import Around, Link, guessed, links, step

Array = NDArray[np.float64]

ENOUGH = 1e-5
"""States are settled when no face moves by more in a step [K]. A step leaves at most some twentieth of what
was off before it."""
_ROUNDS = 30
# So many states at once that what is worked on stays in the processor's cache.
_AT_ONCE = 16384


@dataclass(frozen=True, slots=True)
class Balance:
    """Glazing at rest in its surroundings; ``...`` is the shape of the states.

    ``faces`` temperature of each face from outdoors to the room [°C], shape (2 panes, ...);
    ``resistances`` of outer film, pane, gap, pane … inner film [m2 K/W], shape (2 panes + 1, ...);
    ``u`` one over their sum [W/(m2 K)]; ``from_room`` and ``to_outdoors`` heat flow outward at the room's
    face and at the outer one [W/m2]: they differ by what the panes absorb.
    """

    faces: Array
    resistances: Array
    u: Array
    from_room: Array
    to_outdoors: Array


def detailed_balance(
    panes: Sequence[Pane],
    gaps: Sequence[Gap],
    conditions: Conditions,
    *,
    height: Array | float = 1.0,
    absorbed: Sequence[Array | float] | None = None,
) -> Balance:
    """Temperatures of the faces, heat flow and U of upright glazing.

    Parameters
    ----------
    panes, gaps : sequence
        From outdoors to the room. A gap may be wide, as behind a storm sash (15 to 150 mm), but closed.
    conditions : Conditions
        On both sides; arrays are as many states.
    height : float or array
        Of the glass [m]: of the cavities and of the air that falls along the room's face. An array is of
        as many states, so that windows of one build can be done together.
    absorbed : sequence of float or array, optional
        Sun taken up in each pane [W/m2]; half of it is set free at either face.

    Returns
    -------
    Balance

    Raises
    ------
    ValueError
        If the stack does not fit, or a state did not settle.

    Notes
    -----
    Newton's method, see :func:`sashwright.physics.glazing.network.step`: four to seven rounds.

    U is that of the films and gaps found, so it is defined even where both sides are equally warm. Where
    the radiant temperatures are the airs' and no sun shines, it is the flow over the difference. Gaps
    with a Rayleigh number above ``cavity.HIGHEST_RAYLEIGH`` (90 mm of air with 20 K across) are beyond
    the measurements.
    """
    check_stack(panes, gaps)
    shape, around = _flattened(conditions, absorbed, height, len(panes))
    count = len(around.outdoor)
    faces = np.empty((2 * len(panes), count))
    resistances = np.empty((len(faces) + 1, count))
    ends = np.empty((2, count))
    edges = np.linspace(0, count, -(-count // _AT_ONCE) + 1).astype(int)
    for start, end in itertools.pairwise(edges):
        now = slice(start, end)
        row, last = _settled(panes, gaps, around.only(now), faces[:, now])
        for k, link in enumerate(row):
            resistances[k, now] = 1 / link.coefficient
        ends[0, now] = row[0].outward + row[0].inner * last[0]
        ends[1, now] = row[-1].outward - row[-1].outer * last[-1]

    def shaped(values: Array) -> Array:
        return values.reshape(values.shape[:-1] + shape)

    return Balance(
        faces=shaped(faces - KELVIN),
        resistances=shaped(resistances),
        u=shaped(1 / resistances.sum(axis=0)),
        from_room=shaped(ends[1]),
        to_outdoors=shaped(ends[0]),
    )


def _flattened(
    conditions: Conditions,
    absorbed: Sequence[Array | float] | None,
    height: Array | float,
    panes: int,
) -> tuple[tuple[int, ...], Around]:
    """The shape of the states, and all of them in one row."""
    if absorbed is not None and len(absorbed) != panes:
        raise ValueError(f"found {len(absorbed)} absorbed values, expected one for each of {panes}")
    c = conditions
    given = [c.outdoor, c.indoor, c.outside_convection, height, *(absorbed or ())]
    optional = [c.outdoor_radiant, c.indoor_radiant, c.inside_convection]
    given += [value for value in optional if value is not None]
    if not all(np.isfinite(value).all() for value in given):
        raise ValueError("found a temperature, film, height or sun that is no number")
    if np.min(c.outside_convection) <= 0:
        raise ValueError("found no convection outdoors, expected more than 0 W/(m2 K)")
    if np.min(height) <= 0:
        raise ValueError(f"found a height of {np.min(height)} m, expected more than 0")
    shape = np.broadcast_shapes(*(np.shape(value) for value in given))

    def row(value: Array | float, more: float = 0.0) -> Array:
        return np.broadcast_to(np.asarray(value, dtype=np.float64) + more, shape).reshape(-1)

    def kelvin(value: Array | float | None, otherwise: Array) -> Array:
        return otherwise if value is None else row(value, KELVIN)

    outdoor, indoor = row(c.outdoor, KELVIN), row(c.indoor, KELVIN)
    return shape, Around(
        outdoor,
        indoor,
        kelvin(c.outdoor_radiant, outdoor),
        kelvin(c.indoor_radiant, indoor),
        row(c.outside_convection),
        None if c.inside_convection is None else row(c.inside_convection),
        # Half of what a pane takes up is set free at either face.
        None if absorbed is None else [half for a in absorbed for half in [row(a) / 2] * 2],
        float(height) if np.ndim(height) == 0 else row(height),
    )


def _settled(
    panes: Sequence[Pane], gaps: Sequence[Gap], around: Around, faces: Array
) -> tuple[list[Link], list[Array]]:
    """Bring ``faces`` [K] to rest: the links before the last, least step, and that step."""
    for k, first in enumerate(guessed(panes, gaps, around)):
        faces[k] = first
    for _ in range(_ROUNDS):
        row = links(panes, gaps, around, faces)
        warmer = step(row, around.sun)
        for k, rise in enumerate(warmer):
            faces[k] += rise
        furthest = max(float(np.abs(rise).max(initial=0.0)) for rise in warmer)
        if furthest <= ENOUGH:
            return row, warmer
    raise ValueError(f"glazing did not settle in {_ROUNDS} rounds; it still moved by {furthest} K")
