"""Heat that goes with the air through the cracks: a line of its own beside what the window conducts.

Flows are the seal chapter's. The pressure is the one that presses as much air through every crack of the
house as wind and warmth do in the mean of the heating season, by the enhanced model of the ASHRAE Handbook
of Fundamentals; without weather it is the usual 4 Pa, which is more than most houses see.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from sashwright.chapters.heat.builds import Build, Choices
from sashwright.chapters.seal.flows import Barrier, Guess, flows_of, storm_of
from sashwright.chapters.seal.house import calibrate, exchange_of, factor_for, weather_of
from sashwright.chapters.seal.limits import RATED_LIMIT, RATED_PRESSURE
from sashwright.chapters.seal.paths import PLACES, Leak, coefficients, exponents
from sashwright.chapters.seal.window import Factor, Sealed, factor_of
from sashwright.knowledge.climate import Place
from sashwright.knowledge.tables import Knowledge, Leakage
from sashwright.physics.constants import AIR_HEAT
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.leakage import (
    AIR_DENSITY,
    REFERENCE_PRESSURE,
    coefficient_from_area,
    parallel_flow,
    stages_flow,
)
from sashwright.window.cracks import Cracks
from sashwright.window.resolve import Placed
from sashwright.window.spec import House

EXPONENT = 0.65
"""Of the air through a new window [-]; usual."""
INSIDE_PANEL = "storm-inside"
"""How an inside panel sits where the record has none: a row of the leakage table."""


@dataclass(frozen=True, slots=True)
class Pressure:
    """The steady pressure that stands for wind and warmth [Pa], and where it comes from."""

    pascals: float
    source: str
    known: bool
    """Whether it is worked out from weather."""

    @property
    def says(self) -> str:
        """In a sentence."""
        if not self.known:
            return "the reference of leakage areas, for no weather is known; most houses see less"
        return "which presses as much air through as wind and warmth do in the mean of the heating season"


USUAL = Pressure(
    REFERENCE_PRESSURE,
    "4 Pa, the reference of leakage areas: no weather is known here, and most houses see less",
    known=False,
)


def pressure_of(
    house: House, windows: Sequence[Sealed], year: HourlyYear | None, place: Place | None
) -> Pressure:
    """Of a house in its heating season."""
    weather = weather_of(year, place)
    if weather is None:
        return USUAL
    exchange = exchange_of(house, windows, weather)
    mean = exchange.heating_mean() or exchange.mean()
    if mean <= 0:
        return USUAL
    return Pressure(
        mean ** (1 / exchange.exponent),
        f"air exchange by the enhanced model in the mean of the heating season; {weather.source}",
        known=True,
    )


def seal_all(house: House, laid: Mapping[str, Placed]) -> dict[str, Sealed]:
    """Windows with what fan tests say of them, as the seal chapter has it."""
    plain = [Sealed(each, factor_of(each, Factor())) for each in laid.values()]
    general = factor_for(calibrate(house.air, plain))
    return {number: Sealed(each, factor_of(each, general)) for number, each in laid.items()}


@dataclass(frozen=True, slots=True)
class Air:
    """Air through a window in one state [m3/s]: likely, and by the ends of the tables' ranges."""

    flow: float
    low: float
    high: float

    @property
    def heat(self) -> float:
        """What it carries off for each kelvin [W/K]."""
        return heat_of(self.flow)


def heat_of(flow: float) -> float:
    """What a flow of air [m3/s] carries off for each kelvin [W/K]."""
    return AIR_DENSITY * AIR_HEAT * flow


def air_of(build: Build, choices: Choices, sealed: Sealed, pressure: Pressure) -> Air:
    """What a build lets through, its joints as found."""
    if build.wood == "new":
        return _new(sealed, pressure)
    flows = [
        flow_with(build, choices, sealed, sealed.found, pressure.pascals, guess)
        for guess in _GUESSES
    ]
    return Air(*flows)


_GUESSES: tuple[Guess, ...] = ("likely", "low", "high")


def flow_with(
    build: Build,
    choices: Choices,
    sealed: Sealed,
    leaks: Sequence[Leak],
    pascals: float,
    guess: Guess = "likely",
) -> float:
    """What a build of the old window lets through with its joints in some state [m3/s]."""
    placed = sealed.placed
    outside = storm_of(placed.family, sealed.cracks, placed.knowledge)
    if build.wood in ("prime", "exterior"):
        barrier = outside if build.wood == "exterior" else None
        return float(flows_of([leaks], np.array([pascals]), barrier, guess)[0, 0])
    panel = panel_of(choices, sealed.cracks, placed.knowledge)
    storm = outside if build.wood == "both" else None
    return _behind_panel(leaks, panel, storm, guess, pascals)


def panel_of(choices: Choices, cracks: Cracks, knowledge: Knowledge) -> Barrier:
    """The inside panel as a barrier; a sealed one where the record has none."""
    spec = choices.placed.family.inside_storm
    row: Leakage = knowledge.find("leakage", spec.joint if choices.has_panel else INSIDE_PANEL)
    likely, low, high = (
        np.array(
            [float(coefficient_from_area(cracks.joint * a, row.exponent, row.reference_pressure))]
        )
        for a in (row.area, row.area_low, row.area_high)
    )
    return Barrier(row, likely, low, high, np.array([row.exponent]))


def _behind_panel(
    leaks: Sequence[Leak], panel: Barrier, storm: Barrier | None, guess: Guess, pascals: float
) -> float:
    """The panel closes off the pulley holes too; only the joint of frame and wall goes round it."""
    C, n = coefficients(leaks, guess), exponents(leaks)
    wall = np.array([place.of_the_wall for place in PLACES])
    behind = np.array([place.behind_storm for place in PLACES]) & ~wall
    free = float(parallel_flow(C[wall], n[wall], pascals))
    last = (panel.coefficients(guess), panel.exponents)
    if storm is None:
        return free + float(stages_flow([(C[~wall], n[~wall]), last], pascals))
    rest = ~wall & ~behind
    first = (storm.coefficients(guess), storm.exponents)

    def before(pressure: float) -> float:
        """Past the storm and the sash, and through the pulley holes, into the space before the panel."""
        through = float(stages_flow([first, (C[behind], n[behind])], pressure))
        return through + float(parallel_flow(C[rest], n[rest], pressure))

    def surplus(pressure: float) -> float:
        return before(pascals - pressure) - float(parallel_flow(*last, pressure))

    across = float(brentq(surplus, 0.0, pascals, xtol=1e-9 * pascals))
    return free + before(pascals - across)


def _new(sealed: Sealed, pressure: Pressure) -> Air:
    """A new window that just meets its limit, its frame caulked to the wall."""
    area = sealed.cracks.area
    unit = RATED_LIMIT * area * (pressure.pascals / RATED_PRESSURE) ** EXPONENT
    frame = [
        _caulked(sealed, guess) * float(pressure.pascals) ** _frame_row(sealed).exponent
        for guess in _GUESSES
    ]
    return Air(*(unit + each for each in frame))


def _frame_row(sealed: Sealed) -> Leakage:
    """The joint of frame and wall put in order."""
    knowledge = sealed.placed.knowledge
    row = next(leak.row for leak in sealed.found if leak.place.of_the_wall)
    return knowledge.leakage.get(row.repaired, row)


def _caulked(sealed: Sealed, guess: Guess) -> float:
    row = _frame_row(sealed)
    area = {"likely": row.area, "low": row.area_low, "high": row.area_high}[guess]
    return float(
        coefficient_from_area(sealed.cracks.area * area, row.exponent, row.reference_pressure)
    )
