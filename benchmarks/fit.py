"""How fast the fit chapter follows a house through the year, beside a general integrator.

Run ``python -m benchmarks.fit`` from the project's folder, in its environment. The peer solves the same
equations of the same members one by one with scipy's ``solve_ivp``; it takes a second or two for each, so
it is given a sample of them.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from benchmarks.common import Figure, report, times, typical
from benchmarks.houses import house_of
from sashwright.chapters.fit import fit
from sashwright.chapters.fit.course import (
    PARTS_OF_DAY,
    Run,
    Standing,
    assembled,
    followed,
    runs_of,
)
from sashwright.knowledge.load import load
from sashwright.physics.daily import DailyClimate, daily
from sashwright.physics.diffusion import fitted_diffusion, fitted_powers
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.indoor import indoor_climate
from sashwright.physics.normals import Known, complete_normals
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.physics.slab import DAY, STEPS, Slabs, Surroundings, mean_weights, year_round
from sashwright.physics.typical_year import typical_year
from sashwright.window.boards import boards_of
from sashwright.window.resolve import place_all
from sashwright.window.spec import FamilyChanges, House

Array = NDArray[np.float64]

WINDOWS = 40
LIMIT = 0.5
"""For the whole answer of the house, curves and working included [s]."""
AT_LEAST_FASTER = 50
"""How much longer the peer must take over the same members."""
FINE = 6
"""Steps a day that are compared with the peer. The chapter takes fewer, which only bare wood tells."""
AGREE = 1e-4
"""Greatest difference of moisture content on any day [-]."""
SAMPLE = 8
STATES = ("painted", "failed", "primed", "bare")


def cold_year() -> HourlyYear:
    """A typical year of a cold place, from made-up monthly figures."""
    season = -np.cos(2 * np.pi * (np.arange(12) - 0.5) / 12)
    known = Known(
        temperature=8 + 13 * season,
        temperature_max=13 + 13 * season,
        temperature_min=3 + 13 * season,
        temperature_deviation=4 - 1.2 * season,
        humidity=0.70 + 0.02 * season,
        dew_point=2.5 + 11 * season,
        pressure=np.full(12, 100_500.0),
        wind_speed=np.full(12, 4.0),
        wind_deviation=np.full(12, 2.2),
        wind_shares=np.full((12, 8), 0.12),
        wind_speeds=np.full((12, 8), 4.1),
        global_horizontal=160 + 90 * season,
        diffuse_horizontal=75 + 35 * season,
    )
    return typical_year(
        complete_normals(known, 43.7, 20.0),
        latitude=43.7,
        longitude=-70.3,
        elevation=20.0,
        utc_offset=-5.0,
        of="a made-up cold place",
    )


def cold_climate() -> DailyClimate:
    """That year in a heated house."""
    year = cold_year()
    vapour = year.humidity * saturation_pressure(year.temperature)
    return daily(year, indoor_climate(year.temperature, vapour))


def varied_house() -> House:
    """The demo house's windows on all walls, with paint in every state, some behind storms."""
    house = house_of(WINDOWS)
    walls, storms = list(house.walls), ("none", "winter")
    windows = [
        window.model_copy(
            update={
                "wall": walls[at % len(walls)],
                "changes": FamilyChanges.model_validate(
                    {
                        "sash": {"coating_state": STATES[at // 4 % len(STATES)]},
                        "storm": storms[at // 16 % len(storms)],
                    }
                ),
            }
        )
        for at, window in enumerate(house.windows)
    ]
    return house.model_copy(update={"windows": tuple(windows)})


# --- the peer -----------------------------------------------------------------------


@dataclass(frozen=True)
class Member:
    """One board of many, with what it stands in on each day and the next."""

    slabs: Slabs
    surroundings: Surroundings
    at: int

    def mean_of_days(self, start: float, days: int) -> Array:
        """Mean moisture at the start of each of so many days, from a uniform start, by LSODA."""
        found = solve_ivp(
            self._rate(),
            (0.0, days * DAY * (1 - 1e-12)),
            np.full(STEPS + 1, start),
            method="LSODA",
            t_eval=np.arange(days) * DAY,
            rtol=1e-7,
            atol=1e-9,
            max_step=DAY / 4,
        )
        means: Array = mean_weights(STEPS) @ found.y
        return means

    def _rate(self):  # type: ignore[no-untyped-def]
        at, slabs = self.at, self.slabs
        step, depth = slabs.thickness[at] / STEPS, slabs.depth[at]
        fit_ = slabs.diffusion[:, :, at][:, :, None]
        ring = self.surroundings.at(np.arange(366) % 365)
        warm, settled, transfer = (
            values[:, :, at] for values in (ring.temperature, ring.settled, ring.transfer)
        )
        warm, transfer = ((v[:, 1:] + v[:, :-1]) / 2 for v in (warm, transfer))
        place = (np.arange(STEPS) + 0.5) / STEPS
        faces = [fitted_powers(fit_, warm[:, day]) for day in range(365)]
        powers = [f[:, :1] + (f[:, 1:] - f[:, :1]) * place for f in faces]
        # What a place holds, with its neighbours' twelfth; the faces stand for half a step.
        couple = np.ones(STEPS) / 12
        own = np.full(STEPS + 1, 10 / 12)
        own[[0, -1]] = 5 / 12
        held = np.linalg.inv(np.diag(own) + np.diag(couple, 1) + np.diag(couple, -1))

        def rate(seconds: float, moisture: Array) -> Array:
            elapsed = seconds / DAY
            day = int(elapsed)
            share, day = elapsed - day, day % 365
            air = settled[:, day] + share * (settled[:, day + 1] - settled[:, day])
            ease = transfer[:, day]
            diffusion = fitted_diffusion(powers[day], (moisture[1:] + moisture[:-1]) / 2)
            flow = diffusion / step**2 * np.diff(moisture)
            gain = np.zeros(STEPS + 1)
            gain[:-1] += flow
            gain[1:] -= flow
            gain[0] += ease[0] / step * (air[0] - moisture[0])
            gain[-1] += ease[1] / step * (air[1] - moisture[-1])
            inward = depth / (3 * diffusion.mean())
            edge = ease[2] / (depth * (1 + ease[2] * inward))
            changed: Array = held @ gain + edge * (air[2] - moisture)
            return changed

        return rate


def runs_of_house(house: House) -> Sequence[Run]:
    """Every sash member of the house at every level of its coating, each kind once."""
    knowledge = load()
    boards = (
        followed(board, Standing(house.walls[placed.window.wall], placed.family.storm), knowledge)
        for placed in place_all(house, knowledge)
        for board in boards_of(placed.layout)
        if board.stands == "in the opening"
    )
    return list({run.key: run for each in boards for run in runs_of(each, knowledge)}.values())


def against_the_peer(runs: Sequence[Run], climate: DailyClimate) -> tuple[Figure, bool]:
    """Our time for all members beside the peer's, and whether their answers agree."""
    slabs, surroundings = assembled(runs, climate)
    count = len(runs)
    ours = typical(times(lambda: year_round(slabs, surroundings, parts=FINE), 3))
    years = {parts: year_round(slabs, surroundings, parts=parts) for parts in (PARTS_OF_DAY, FINE)}
    off: dict[tuple[int, str], float] = {}
    spent = 0.0
    sample = np.linspace(0, count - 1, SAMPLE).round().astype(int).tolist()
    for at in sample:
        start = time.perf_counter()
        # From our own mean, so that one year is enough to forget it; the second is compared.
        theirs = Member(slabs, surroundings, at).mean_of_days(float(years[FINE][0, at]), 730)[365:]
        spent += (time.perf_counter() - start) / 2
        coat = runs[at].board.board.outer
        kind = "paint" if coat is not None and coat.state in ("painted", "primed") else "bare wood"
        for parts, year in years.items():
            worst = float(np.abs(theirs - year[:, at]).max())
            off[parts, kind] = max(worst, off.get((parts, kind), 0.0))
    peer = spent / SAMPLE * count
    print(
        f"the peer takes {peer / count:.2f} s for a year of one member (from {SAMPLE} of {count}), "
        f"{peer:.0f} s for all: {peer / ours:.0f} times as long"
    )
    for (parts, kind), worst in sorted(off.items()):
        print(f"greatest difference on any day, {parts} steps a day, {kind:9} {worst:.1e} kg/kg")
    figure = Figure(
        f"{count} members through the year, {FINE} steps a day",
        ours,
        peer / AT_LEAST_FASTER,
        "peer/50",
    )
    agree = max(worst for (parts, _), worst in off.items() if parts == FINE) <= AGREE
    return figure, agree


def main() -> int:
    house, knowledge, climate = varied_house(), load(), cold_climate()
    # Counted on one core, whatever else the machine is doing.
    whole = times(lambda: fit(house, knowledge, climate, today=45), 7, clock=time.process_time)
    figures = [Figure(f"{WINDOWS} windows through the year, all answers", typical(whole), LIMIT)]
    figure, agree = against_the_peer(runs_of_house(house), climate)
    failed = report([*figures, figure])
    if not agree:
        print(f"answers differ by more than {AGREE:.0e}")
    return int(failed or not agree)


if __name__ == "__main__":
    sys.exit(main())
