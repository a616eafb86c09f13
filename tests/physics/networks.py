"""Random airflow networks for tests."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.network import Crack, Hole, Link, Network, Opening, Zone

Array = NDArray[np.float64]


def usual(rng: np.random.Generator, rooms: int) -> Network:
    """A house: every room has cracks, a window of two sashes and a door to the one before."""
    zones = [Zone(name=f"r{at}", level=2.7 * (at % 2)) for at in range(rooms)]
    faces = ["n", "e", "s", "w"]
    links: list[Link] = []
    for at, zone in enumerate(zones):
        sill, face = zone.level + 0.7, faces[int(rng.integers(4))]
        width = float(rng.uniform(0.5, 1.2))
        links += [
            Opening(start=face, end=zone.name, width=width, bottom=sill, top=sill + 0.8, grows="up"),
            Opening(
                start=zone.name, end=face, width=width, bottom=sill + 0.8, top=sill + 1.6,
                grows="down",
            ),
            Crack(
                start=faces[int(rng.integers(4))],
                end=zone.name,
                coefficient=float(rng.uniform(1e-4, 3e-3)),
                exponent=float(rng.uniform(0.5, 1.0)),
                height=float(zone.level + rng.uniform(0, 2.5)),
            ),
        ]  # fmt: skip
        if at:
            other = zones[int(rng.integers(at))]
            if other.level == zone.level:
                links.append(
                    Opening(
                        start=zone.name,
                        end=other.name,
                        width=0.8,
                        bottom=zone.level,
                        top=zone.level + 2.0,
                    )
                )
            else:
                links.append(Hole(start=zone.name, end=other.name, area=1.5, height=2.7))
    return Network(zones, faces, links)


def usual_hours(rng: np.random.Generator, network: Network, hours: int) -> dict[str, Any]:
    """What ``solve`` takes: rooms and weather of ordinary hours, any sash open anyhow."""
    rooms, faces, links = len(network.zones), len(network.faces), len(network.links)
    return {
        "temperatures": rng.uniform(17, 28, (hours, rooms)),
        "outdoor_temperature": rng.uniform(-15, 32, hours),
        "wind_pressure": rng.normal(0, 4, (hours, faces)),
        "fraction": np.where(rng.random((hours, links)) < 0.3, 0.0, rng.random((hours, links))),
        "pressure": rng.uniform(85_000, 103_000, hours),
    }


def nasty(rng: np.random.Generator) -> Network:
    """Anything between anything: openings of all sizes, a hair's breadth to a barn door."""
    zones = [
        Zone(name=f"z{at}", level=float(rng.choice([0, 2.7, rng.uniform(0, 10)])))
        for at in range(int(rng.integers(1, 20)))
    ]
    faces = [f"f{at}" for at in range(int(rng.integers(1, 5)))]
    nodes = [*(zone.name for zone in zones), *faces]
    links: list[Link] = []
    for _ in range(int(rng.integers(len(zones), 5 * len(zones) + 2))):
        start, end = (nodes[at] for at in rng.choice(len(nodes), 2, replace=False))
        size, height = float(10 ** rng.uniform(-7, 2)), float(rng.uniform(0, 10))
        match int(rng.integers(3)):
            case 0:
                exponent = float(rng.choice([0.5, 0.65, 1.0, rng.uniform(0.5, 1)]))
                links.append(
                    Crack(
                        start=start,
                        end=end,
                        coefficient=size / 10,
                        exponent=exponent,
                        height=height,
                    )
                )
            case 1:
                top = height + float(10 ** rng.uniform(-3, 1))
                grows: Any = rng.choice(["across", "up", "down"])
                links.append(
                    Opening(
                        start=start,
                        end=end,
                        width=size,
                        bottom=height,
                        top=top,
                        grows=str(grows),  # type: ignore[arg-type]
                    )
                )
            case _:
                links.append(Hole(start=start, end=end, area=size, height=height))
    return Network(zones, faces, links)


def nasty_hours(rng: np.random.Generator, network: Network, hours: int) -> dict[str, Any]:
    """Calm and storm, rooms of exactly, almost and not at all one temperature, links shut and ajar."""
    rooms, faces, links = len(network.zones), len(network.faces), len(network.links)
    spread = [0.0, 1e-9, 1e-3, 1.0, 20.0]
    open_ = rng.choice([1.0, 1e-6, 0.5], (hours, links))
    return {
        "temperatures": 20 + rng.choice(spread, (hours, 1)) * rng.normal(size=(hours, rooms)),
        "outdoor_temperature": rng.choice([20.0, -10.0, 20.0001, 35.0], hours),
        "wind_pressure": rng.choice(spread, (hours, 1)) * rng.normal(size=(hours, faces)),
        "fraction": np.where(rng.random((hours, links)) < 0.3, 0.0, open_),
    }
