"""How fast glazing is balanced through a year, beside a general solver of equations.

Run ``python -m benchmarks.heat`` from the project's folder, in its environment. The peer solves the same
equations hour by hour with scipy's ``root``, written out once more in plain numbers; it would take minutes,
so it is given a sample, and its time is scaled up.
"""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import root

from benchmarks.common import Figure, report, times, typical
from benchmarks.fit import cold_year
from sashwright.physics.cavity import wind_convection
from sashwright.physics.glazing import (
    Balance,
    CoatedPane,
    Conditions,
    Gap,
    Pane,
    PlainPane,
    detailed_balance,
    hourly_gain,
    plain_from_normal,
)
from sashwright.physics.hourly_year import HOURS, HourlyYear
from sashwright.physics.sunlight import on_plane, sky_of

Array = NDArray[np.float64]

WINDOWS = 40
HEIGHTS = np.linspace(0.55, 1.52, WINDOWS)[:, None]
"""Of the glass, each window another [m]."""
FACING = np.arange(WINDOWS) % 4
"""Wall of each window."""
LIMIT = 1.0
"""For all states of all windows and alternatives [s]."""
AT_LEAST_FASTER = 50
"""How much longer the peer must take over the same states."""
AGREE = 1e-5
"""Greatest difference of any face [K]."""
SAMPLE = 40
"""States of each alternative that the peer solves."""
INDOOR = 20.0
SKY = 6.0
"""By so much what the glass sees is colder than the air [K]."""


@dataclass(frozen=True)
class Alternative:
    name: str
    panes: Sequence[Pane]
    gaps: Sequence[Gap]
    sun: Sequence[PlainPane | CoatedPane]


def alternatives() -> list[Alternative]:
    clear, coated = Pane(0.003), Pane(0.003, 1.0, 0.84, 0.15)
    bare, oxide = plain_from_normal(0.834, 0.075), CoatedPane(0.70, 0.11, 0.12)
    acrylic, plastic = Pane(0.003, 0.19, 0.90, 0.90), plain_from_normal(0.85, 0.075)
    return [
        Alternative("single", [clear], [], [bare]),
        Alternative("clear storm", [clear, clear], [Gap(0.075)], [bare, bare]),
        Alternative("low-e storm", [coated, clear], [Gap(0.075)], [oxide, bare]),
        Alternative("double unit", [clear, coated], [Gap(0.0127)], [bare, oxide]),
        Alternative("inside panel", [clear, acrylic], [Gap(0.05)], [bare, plastic]),
    ]


@dataclass(frozen=True)
class Weather:
    conditions: Conditions
    walls: list[tuple[Array, Array, Array]]
    """Angle of incidence [rad], direct and diffuse sun [W/m2] on each of four walls."""


def weather(year: HourlyYear) -> Weather:
    sky = sky_of(year)
    planes = [on_plane(sky, facing) for facing in (0.0, 90.0, 180.0, 270.0)]
    convection = wind_convection(year.wind_speed)
    return Weather(
        Conditions(year.temperature, INDOOR, convection, outdoor_radiant=year.temperature - SKY),
        [(np.arccos(p.cosine), p.beam, p.diffuse + p.ground) for p in planes],
    )


def taken_up(of: Alternative, through: Weather) -> list[Array]:
    """Sun absorbed in each pane of each window, each of shape (windows, hours) [W/m2]."""
    walls = np.stack([hourly_gain(of.sun, *wall).absorbed for wall in through.walls])
    return [np.ascontiguousarray(walls[FACING, k]) for k in range(len(of.panes))]


def balanced(of: Alternative, through: Weather, absorbed: Sequence[Array]) -> Balance:
    return detailed_balance(
        of.panes, of.gaps, through.conditions, height=HEIGHTS, absorbed=absorbed
    )


# --- the peer -----------------------------------------------------------------------


def air(kelvin: float) -> tuple[float, float]:
    """Conductivity, and what a length cubed and a difference make a Rayleigh number."""
    conductivity = 2.873e-3 + 7.760e-5 * kelvin
    viscosity = 3.723e-6 + 4.940e-8 * kelvin
    density = 101325.0 * 28.97e-3 / (8.314462618 * kelvin)
    heat = 1002.737 + 1.2324e-2 * kelvin
    return conductivity, density**2 * 9.81 * heat / (viscosity * conductivity * kelvin)


def crossed(ra: float, meeting: float) -> float:
    return min(max((ra / meeting - 1) * 10, 0.0), 1.0)


def in_gap(outer: float, inner: float, width: float, height: float) -> float:
    conductivity, factor = air((outer + inner) / 2)
    ra = factor * width**3 * abs(inner - outer)
    first = 1 + 1.7596678e-10 * math.pow(min(ra, 1e4), 2.2984755)
    middle = 0.028154 * math.pow(ra, 0.4134)
    first += (middle - first) * crossed(ra, 1e4)
    first += (0.0673838 * math.pow(ra, 1 / 3) - middle) * crossed(ra, 5e4)
    return max(first, 0.242 * math.pow(ra * width / height, 0.272)) * conductivity / width


def in_room(face: float, indoor: float, height: float) -> float:
    """Never turbulent on a pane of such heights."""
    conductivity, factor = air(indoor + (face - indoor) / 4)
    ra = factor * height**3 * abs(face - indoor)
    return 0.56 * math.pow(ra, 0.25) * conductivity / height


def left_over(
    of: Alternative, through: Weather, absorbed: Sequence[Array], window: int, hour: int
) -> Callable[[Array], list[float]]:
    """The equations of one state: heat left over at each face [W/m2]."""
    conditions, sigma, height = through.conditions, 5.670374419e-8, float(HEIGHTS[window, 0])
    outdoor = float(np.asarray(conditions.outdoor)[hour]) + 273.15
    radiant, indoor = outdoor - SKY, INDOOR + 273.15
    film = float(np.asarray(conditions.outside_convection)[hour])
    sun = [float(a[window, hour]) / 2 for a in absorbed]

    def equations(faces: Array) -> list[float]:
        t = faces.tolist()
        outer, inner = of.panes[0].emissivity_outside, of.panes[-1].emissivity_inside
        flow = film * (t[0] - outdoor) + outer * sigma * (t[0] ** 4 - radiant**4)
        left = []
        for k, pane in enumerate(of.panes):
            a, b = t[2 * k], t[2 * k + 1]
            through_pane = pane.conductivity / pane.thickness * (b - a)
            left.append(through_pane - flow + sun[k])
            if k < len(of.gaps):
                c = t[2 * k + 2]
                seen = 1 / pane.emissivity_inside + 1 / of.panes[k + 1].emissivity_outside - 1
                flow = in_gap(b, c, of.gaps[k].width, height) * (c - b)
                flow += sigma * (c**4 - b**4) / seen
            else:
                flow = in_room(b, indoor, height) * (indoor - b)
                flow += inner * sigma * (indoor**4 - b**4)
            left.append(flow - through_pane + sun[k])
        return left

    return equations


def peer(of: Alternative, through: Weather, absorbed: Sequence[Array]) -> tuple[float, float]:
    """Seconds for a state, and how far its faces are from ours [K]."""
    ours = balanced(of, through, absorbed).faces
    spent = off = 0.0
    picked = np.linspace(0, WINDOWS * HOURS - 1, SAMPLE).round().astype(int)
    for window, hour in zip(*np.unravel_index(picked, (WINDOWS, HOURS)), strict=True):
        start = time.perf_counter()
        outdoor = float(np.asarray(through.conditions.outdoor)[hour]) + 273.15
        guess = np.linspace(outdoor, INDOOR + 273.15, 2 * len(of.panes) + 2)[1:-1]
        found = root(left_over(of, through, absorbed, int(window), int(hour)), guess, tol=1e-8)
        spent += time.perf_counter() - start
        off = max(off, float(np.abs(found.x - 273.15 - ours[:, window, hour]).max()))
    return spent / SAMPLE, off


def main() -> int:
    through = weather(cold_year())
    every = alternatives()
    absorbed = [taken_up(of, through) for of in every]
    states = WINDOWS * HOURS

    def all_of_them() -> None:
        for of, sun in zip(every, absorbed, strict=True):
            balanced(of, through, sun)

    # Counted on one core, whatever else the machine is doing.
    ours = typical(times(all_of_them, 5, clock=time.process_time))
    sun = typical(
        times(lambda: [taken_up(of, through) for of in every], 5, clock=time.process_time)
    )
    theirs, agree = 0.0, True
    for of, taken in zip(every, absorbed, strict=True):
        alone = typical(
            times(lambda: balanced(of, through, taken), 3, clock=time.process_time)  # noqa: B023
        )
        each, off = peer(of, through, taken)
        theirs += each * states
        agree = agree and off <= AGREE
        print(
            f"{of.name:13} {alone / states * 1e6:6.2f} us a state, the peer {each * 1e6:7.0f} us "
            f"(from {SAMPLE} of {states:,}); faces within {off:.1e} K"
        )
    what = f"{WINDOWS} windows, {len(every)} alternatives, {HOURS:,} hours"
    failed = report(
        [
            Figure(what, ours, LIMIT),
            Figure("the sun in all their panes before that", sun, LIMIT),
            Figure(what, ours, theirs / AT_LEAST_FASTER, f"peer/{AT_LEAST_FASTER}"),
        ]
    )
    if not agree:
        print(f"answers differ by more than {AGREE:.0e} K")
    return int(failed or not agree)


if __name__ == "__main__":
    sys.exit(main())
