"""How fast the heat of a house is followed through a year, beside two peers.

Run ``python -m benchmarks.house_heat`` from the project's folder, in its environment. The house has 12 rooms,
24 windows, doors and partitions on two floors. One peer steps the same equations, written as one matrix, in
plain numpy; the other gives them to scipy's ``solve_ivp``. Both are slow, so they get a few days and are
counted up to the year.
"""

from __future__ import annotations

import sys
import time

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from benchmarks.common import Figure, report, times, typical
from sashwright.physics.constants import AIR_HEAT
from sashwright.physics.house_heat import (
    DOWNWARD,
    LEVEL,
    UPWARD,
    Air,
    Element,
    Factors,
    Flows,
    Hours,
    House,
    Room,
    air,
    coupled,
    factors,
    five_nodes,
    hours,
    massless,
    simulate,
)
from sashwright.physics.network import Crack, Hole, Link, Network, Opening, Zone

Array = NDArray[np.float64]

ROOMS, HOURS = 12, 8760
LIMIT = 2.0
"""For a year of heat and air together, once compiled [s]."""
AT_LEAST_FASTER = 20
"""How much longer either peer must take."""
DAYS = 4
AGREE, AGREE_FINE = 1e-8, 0.02
"""Greatest difference from the plain loop, and with short steps from the integrator [K]."""
FINE = 60
"""Steps an hour that are compared with the integrator."""
SIDES = ("north", "east", "south", "west")


def house() -> tuple[House, Network]:
    """Six rooms on each of two floors, in a row; two windows each."""
    elements: list[Element] = []
    links: list[Link] = [Hole(start="room 0", end="room 6", area=2.0, height=3.0)]
    for room in range(ROOMS):
        upper, name = room // 6, f"room {room}"
        for at in (room % 4, (room + 1) % 4):
            elements.append(Element(12.0, five_nodes(0.6, 1.2e5, "spread"), room, exposure=at))
            elements.append(Element(1.8, massless(0.17), room, exposure=at))
            low, high = 3.0 * upper + 0.8, 3.0 * upper + 2.2
            links.append(
                Opening(start=name, end=SIDES[at], width=0.8, bottom=low, top=high, grows="up")
            )
            links.append(
                Crack(start=name, end=SIDES[at], coefficient=2e-3, height=(low + high) / 2)
            )
        if room % 6:
            partition = five_nodes(0.3, 5e4, "both")
            elements.append(Element(12.0, partition, room, other_room=room - 1, outside=LEVEL))
            floor = 3.0 * upper
            links.append(
                Opening(
                    start=name, end=f"room {room - 1}", width=0.8, bottom=floor, top=floor + 2.0
                )
            )
        if upper:
            elements.append(
                Element(16.0, five_nodes(0.4, 3e4, "spread"), room, exposure=4, inside=UPWARD)
            )
            between = five_nodes(0.5, 4e4, "both")
            elements.append(
                Element(16.0, between, room, other_room=room - 6, inside=DOWNWARD, outside=UPWARD)
            )
        else:
            elements.append(
                Element(16.0, five_nodes(0.6, 8e4, "spread"), room, exposure=5, inside=DOWNWARD)
            )
    zones = [Zone(name=f"room {room}", level=3.0 * (room // 6)) for room in range(ROOMS)]
    rooms = tuple(Room(40.0, 1.6e5) for _ in range(ROOMS))
    return House(rooms, tuple(elements)), Network(zones, SIDES, links)


def year(f: Factors, network: Network, steps: int = 1) -> tuple[Hours, Air]:
    """Made-up weather; windows open at random when it is mild, heating when it is cold."""
    rng = np.random.default_rng(1)
    at = np.arange(HOURS)
    outdoors = 10 - 12 * np.cos(2 * np.pi * at / HOURS) - 5 * np.cos(2 * np.pi * (at - 3) / 24)
    outdoors += rng.normal(0, 1, HOURS)
    beyond = outdoors[:, None] + np.maximum(rng.normal(0, 5, (HOURS, 6)), 0.0)
    beyond[:, 5] = 10.0
    sun = np.maximum(np.sin(2 * np.pi * (at - 6) / 24), 0)[:, None] * rng.uniform(
        0, 600, (1, ROOMS)
    )
    mild = outdoors > 15
    speed = rng.weibull(2, HOURS)[:, None] * 4.5
    links = network.links
    open_ = np.ones((HOURS, len(links)))
    for number, link in enumerate(links):
        if isinstance(link, Opening) and link.end in SIDES:
            open_[:, number] = np.where(mild, rng.choice([0, 0.05, 0.3, 1.0], HOURS), 0.0)
    heat_to = np.where(mild, -np.inf, 20.0)[:, None]

    def each(values: Array) -> Array:
        return np.repeat(values, steps, axis=0)

    during = hours(
        f, each(outdoors), each(beyond), convective=50.0, radiant=each(sun), heat_to=each(heat_to)
    )
    wind = 0.6 * speed**2 * rng.uniform(-0.6, 0.6, (HOURS, 4))
    levels = [zone.level for zone in network.zones]
    moved = air(network.arrays(), levels, HOURS * steps, wind=each(wind), fraction=each(open_))
    return during, moved


class Peer:
    """The same equations as one matrix: air, stars, nodes; no heating."""

    def __init__(self, f: Factors) -> None:
        self.f, nodes = f, len(f.store)
        size = 2 * ROOMS + nodes
        base, self.outer = np.zeros((size, size)), np.zeros((size, int(f.exposure.max()) + 1))
        pairs = [(n, n + 1, g) for n, g in enumerate(f.link[0]) if g > 0]
        joins = [(2 * ROOMS + a, 2 * ROOMS + b, g) for a, b, g in pairs]
        for face, node in enumerate(f.node):
            room, node_ = int(f.room[face]), 2 * ROOMS + int(node)
            joins += [
                (node_, room, f.convection[0, face]),
                (node_, ROOMS + room, f.radiation[0, face]),
            ]
        for a, b, g in joins:
            base[a, a] += g
            base[b, b] += g
            base[a, b] -= g
            base[b, a] -= g
        for element, column in enumerate(f.exposure):
            if column >= 0:
                node = 2 * ROOMS + f.first[element]
                base[node, node] += f.outer[0, element]
                self.outer[node, column] += f.outer[0, element]
        self.base = base
        self.store = np.concatenate([f.air_store, np.zeros(ROOMS), f.store])

    def of_hour(self, during: Hours, moved: Flows, h: int) -> tuple[Array, Array]:
        """Matrix and right side without what is stored."""
        matrix, right = self.base.copy(), self.outer @ during.beyond[h]
        right[:ROOMS] += during.convective[h]
        right[ROOMS : 2 * ROOMS] += during.radiant[h]
        apart = moved.between[h] * (1 - np.eye(ROOMS))
        arriving = moved.fresh[h] + apart.sum(axis=0)
        matrix[:ROOMS, :ROOMS] += AIR_HEAT * (np.diag(arriving) - apart.T)
        right[:ROOMS] += AIR_HEAT * moved.fresh[h] * during.outdoors[h]
        return matrix, right

    def stepped(self, during: Hours, moved: Flows, count: int) -> Array:
        """Air, (count, rooms), by the same implicit steps."""
        state, found = np.full(len(self.store), 20.0), []
        for h in range(count):
            matrix, right = self.of_hour(during, moved, h)
            state = np.linalg.solve(matrix + np.diag(self.store), right + self.store * state)
            found.append(state[:ROOMS])
        return np.array(found)

    def integrated(self, during: Hours, moved: Flows, count: int) -> Array:
        """Air at the end of each hour by BDF; what has no capacity is put in beforehand."""
        live = self.store > 0
        state, found = np.full(int(live.sum()), 20.0), []
        for h in range(count):
            matrix, right = self.of_hour(during, moved, h)
            cross = matrix[np.ix_(live, ~live)] @ np.linalg.inv(matrix[np.ix_(~live, ~live)])
            slow = -(matrix[np.ix_(live, live)] - cross @ matrix[np.ix_(~live, live)])
            slow /= self.store[live, None] * 3600.0
            push = (right[live] - cross @ right[~live]) / (self.store[live] * 3600.0)
            state = solve_ivp(
                lambda _, x, slow=slow, push=push: slow @ x + push,
                (0.0, 3600.0),
                state,
                method="BDF",
                jac=slow,
                rtol=1e-6,
                atol=1e-6,
            ).y[:, -1]
            found.append(state[:ROOMS])
        return np.array(found)


def main() -> int:
    built, network = house()
    f = factors([built])
    during, moved = year(f, network)
    start = time.perf_counter()
    found = coupled(f, during, moved)
    print(f"first call, with compiling or loading: {time.perf_counter() - start:.1f} s")
    together = typical(times(lambda: coupled(f, during, moved), 5, clock=time.process_time))
    print(
        f"heat and air agree after {found.turns.mean():.2f} turns, at most {found.turns.max()}; "
        f"off by {found.off.max():.4f} K at most"
    )
    flows = found.course.flows
    alone = typical(times(lambda: simulate(f, during, flows), 5, clock=time.process_time))
    free = during._replace(heat_to=np.full_like(during.heat_to, -np.inf))
    peer, count = Peer(f), 24 * DAYS
    begun = time.process_time()
    plain = peer.stepped(free, flows, count)
    plain_time = (time.process_time() - begun) / count * HOURS
    begun = time.process_time()
    fine = peer.integrated(free, flows, count)
    fine_time = (time.process_time() - begun) / count * HOURS
    ours = simulate(f, free, flows, warm_up=0).air[:count]
    short = factors([built], 3600.0 / FINE)
    often, _ = year(short, network, FINE)
    often = often._replace(heat_to=np.full_like(often.heat_to, -np.inf))
    many = Flows(*(np.repeat(values[:count], FINE, axis=0) for values in flows))
    first = Hours._make(values[: count * FINE] for values in often)
    close = simulate(short, first, many, warm_up=0).air[FINE - 1 :: FINE]
    gaps = [float(np.abs(a - b).max()) for a, b in ((ours, plain), (close, fine), (ours, fine))]
    print(f"greatest difference from the plain loop {gaps[0]:.1e} K")
    print(f"from the integrator: {FINE} steps an hour {gaps[1]:.1e} K, one step {gaps[2]:.1e} K")
    figures = [
        Figure(f"{ROOMS} rooms, 24 windows, {HOURS} hours: heat and air", together, LIMIT),
        Figure("heat alone", alone, plain_time / AT_LEAST_FASTER, f"numpy/{AT_LEAST_FASTER}"),
        Figure("heat alone", alone, fine_time / AT_LEAST_FASTER, f"scipy/{AT_LEAST_FASTER}"),
    ]
    failed = report(figures)
    agree = gaps[0] <= AGREE and gaps[1] <= AGREE_FINE
    if not agree:
        print(f"answers differ by more than {AGREE:.0e} or {AGREE_FINE} K")
    return int(failed or not agree)


if __name__ == "__main__":
    sys.exit(main())
