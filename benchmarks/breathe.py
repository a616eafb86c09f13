"""How fast the air of a house is followed through the year, beside a general root finder.

Run ``python -m benchmarks.breathe`` from the project's folder, in its environment. The peer solves the same
balances, all links of an hour at once in numpy, with scipy's ``root``, hour by hour, each from the
pressures of the hour before. It takes some milliseconds for each, so it is given a sample, and its time for
that is scaled to the year. Then the demo house as the chapters follow it: all its rooms, windows and doors,
heat and air together.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import root

from benchmarks.airflow_balance import Balance
from benchmarks.common import Figure, report, times, typical
from sashwright.chapters.breathe import breathe
from sashwright.chapters.breathe.limits import Limits
from sashwright.chapters.breathe.plans import Household
from sashwright.chapters.breathe.seasons import Calendar
from sashwright.chapters.building import building
from sashwright.knowledge.load import load
from sashwright.physics.hourly_year import HOURS
from sashwright.physics.network import (
    Crack,
    Hole,
    Link,
    Network,
    Opening,
    Solution,
    Zone,
    solve,
    wall_pressures,
)
from sashwright.record.housefile import read_house
from sashwright.record.outdoors import outdoors_of

Array = NDArray[np.float64]

LIMIT = 1.0
"""For the network's year, once the code is compiled [s]."""
COUPLED_LIMIT = 2.0
"""For a year of the demo house's heat and air together, windows open on warm days [s]."""
PLAN_LIMIT = 30.0
"""For the whole answer of the chapter with the search it usually has, its sections known [s]."""
DEMO = Path(__file__).parents[1] / "src" / "sashwright" / "record" / "demo" / "house.toml"
AT_LEAST_FASTER = 100
AGREE = 1e-6
"""Greatest difference of any link's flow, of the largest in its hour [-]."""
SAMPLE = 240
FACES = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}


def house() -> Network:
    """Two floors of five rooms round a hall, two windows in each room and hall, each of two sashes."""
    faces, zones = list(FACES), []
    links: list[Link] = []
    for floor in range(2):
        level = 0.6 + 2.8 * floor
        hall = f"hall {floor}"
        rooms = [f"room {floor}{at}" for at in range(5)] + [hall]
        zones += [Zone(name=name, level=level) for name in rooms]
        for at, name in enumerate(rooms):
            sides = [faces[at % 4], faces[(at + 1) % 4]]
            for side in sides:
                links += _window(side, name, level + 0.7)
            links.append(Crack(start=sides[0], end=name, coefficient=1e-3, height=level + 0.3))
            if name != hall:
                links.append(
                    Opening(start=hall, end=name, width=0.8, bottom=level, top=level + 2.03)
                )
    links.append(Hole(start="hall 0", end="hall 1", area=2.0, height=3.4))
    links += [
        Crack(start=f"room 0{at}", end=f"room 1{at}", coefficient=5e-4, height=3.4)
        for at in range(5)
    ]
    return Network(zones, faces, links)


def _window(face: str, room: str, sill: float) -> list[Link]:
    """Lower sash, upper sash, and what leaks when both are shut."""
    middle, head = sill + 0.75, sill + 1.5
    return [
        Opening(start=face, end=room, width=0.85, bottom=sill, top=middle, grows="up"),
        Opening(start=face, end=room, width=0.85, bottom=middle, top=head, grows="down"),
        Crack(start=face, end=room, coefficient=8e-4, height=middle),
    ]


def year(network: Network) -> dict[str, Any]:
    """Made-up weather, rooms that follow it, and windows opened by it."""
    rng = np.random.default_rng(1)
    hour = np.arange(HOURS)
    day, clock = hour // 24, hour % 24
    spells = _spells(rng, 60.0)
    outdoors = 11 - 12 * np.cos(2 * np.pi * (day - 20) / 365) + 4 * spells
    outdoors += 5 * np.sin(2 * np.pi * (clock - 9) / 24)
    wind = 3.5 * np.exp(0.5 * _spells(rng, 20.0))
    direction = (220 + 90 * _spells(rng, 40.0)) % 360
    rooms = np.array([_spells(rng, 30.0) for _ in network.zones]).T
    warm = np.maximum(20.0, outdoors + 2)[:, None] + rooms
    fraction = np.ones((HOURS, len(network.links)))
    for at, link in enumerate(network.links):
        if not isinstance(link, Opening):
            continue
        if link.start in FACES:
            habit = rng.choice([0.2, 0.5, 1.0])
            fraction[:, at] = np.where(outdoors > rng.uniform(14, 20), habit, 0.0)
        else:
            fraction[:, at] = np.where((clock > 6) & (clock < 22), 1.0, rng.choice([0.02, 1.0]))
    return {
        "temperatures": warm,
        "outdoor_temperature": outdoors,
        "wind_pressure": wall_pressures(list(FACES.values()), wind, direction),
        "fraction": fraction,
    }


def _spells(rng: np.random.Generator, hours: float) -> Array:
    """A year of chance with mean 0 and deviation 1 that keeps for so many hours."""
    keep = np.exp(-1 / hours)
    push = rng.normal(size=HOURS) * np.sqrt(1 - keep**2)
    values, now = np.empty(HOURS), 0.0
    for at in range(HOURS):
        now = keep * now + push[at]
        values[at] = now
    return values


def against_the_peer(
    network: Network, hours: dict[str, Any], found: Solution
) -> tuple[float, float, int]:
    """The peer's time for the year [s], the greatest difference, and how many hours it gave up on."""
    spent, worst, lost = 0.0, 0.0, 0
    for hour in np.linspace(1, HOURS - 1, SAMPLE).round().astype(int).tolist():
        start = time.process_time()
        balance = Balance(network, hours, hour)
        theirs = root(balance.gains, found.pressures[hour - 1], method="hybr", tol=1e-12)
        spent += time.process_time() - start
        net = (found.forth - found.back)[hour]
        scale = np.abs(net).max()
        if np.abs(theirs.fun).max() > AGREE / 10 * scale:
            lost += 1
            continue
        worst = max(worst, float(np.abs(balance.flows(theirs.x) - net).max() / scale))
    return spent / SAMPLE * HOURS, worst, lost


def demo_house() -> list[Figure]:
    """The demo house: a year of its heat and air, and the chapter's whole answer."""
    knowledge = load()
    house = read_house(DEMO, knowledge)
    outdoors = outdoors_of(house)
    made = building(house, knowledge, outdoors.year)
    household = Household(made, Calendar(made.year), Limits(made))
    scenario = household.scenario(household.all_open)
    found = made.course(scenario)
    print(
        f"demo house: {len(made.zones)} rooms, {len(made.opaque) + len(made.windows)} elements, "
        f"{len(made.air_side.links)} links, {found.turns.mean():.1f} turns an hour"
    )
    coupled = typical(times(lambda: made.course(scenario), 3, clock=time.process_time))
    start = time.process_time()
    breathe(house, knowledge, year=outdoors.year)
    whole = time.process_time() - start
    return [
        Figure("the demo house's heat and air through the year", coupled, COUPLED_LIMIT),
        Figure("its plan, searched and compared", whole, PLAN_LIMIT),
    ]


def main() -> int:
    network = house()
    hours = year(network)
    start = time.perf_counter()
    found = solve(network, **hours)
    print(
        f"first call, compiling or fetching what was compiled: {time.perf_counter() - start:.2f} s"
    )
    # Counted on one core, whatever else the machine is doing.
    ours = typical(times(lambda: solve(network, **hours), 7, clock=time.process_time))
    peer, worst, lost = against_the_peer(network, hours, found)
    print(
        f"{len(network.zones)} rooms, {len(network.links)} links, {HOURS} hours, "
        f"{found.rounds.mean():.1f} rounds an hour, at most {found.rounds.max()}"
    )
    print(
        f"the peer takes {peer / HOURS * 1000:.1f} ms an hour, {peer:.0f} s for the year (scaled from "
        f"{SAMPLE} hours): {peer / ours:.0f} times as long; it gave up on {lost} of them"
    )
    print(f"greatest difference of a flow in the others: {worst:.1e} of the hour's largest")
    between, rooms = found.exchange(network), len(network.zones)
    into, out = between.sum(axis=1)[:, :rooms], between.sum(axis=2)[:, :rooms]
    kept = np.abs(into - out) / into
    print(f"the most that a room gains or loses: {kept.max():.1e} of what passes it")
    failed = report(
        [
            Figure("the network's air through the year", ours, LIMIT),
            Figure("the same", ours, peer / AT_LEAST_FASTER, f"peer/{AT_LEAST_FASTER}"),
            *demo_house(),
        ]
    )
    agree = worst <= AGREE and lost < SAMPLE / 4 and kept.max() <= AGREE
    if not agree:
        print("the answers differ, or the peer found too few")
    return int(failed or not agree)


if __name__ == "__main__":
    sys.exit(main())
