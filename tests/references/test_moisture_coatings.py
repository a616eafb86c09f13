"""How much paint slows moisture, against the moisture-excluding effectiveness of finishes.

Forest Products Laboratory: Wood Handbook, FPL-GTR-190 (2010), table 16-3; W. C. Feist, J. K. Little,
J. M. Wennesheimer, The Moisture-Excluding Effectiveness of Finishes on Wood Surfaces, FPL-RP-462 (1985).
Ponderosa pine sapwood, 5/8 x 3 x 5 in., settled at 30 % humidity and 80 °F, then held at 90 %. A finish
keeps out so much of what bare wood takes up in the same time [%].
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import brentq

from sashwright.chapters.fit.course import STILL_AIR, coat_resistance, sorption_chord
from sashwright.knowledge.load import load
from sashwright.physics.diffusion import fit_diffusion
from sashwright.physics.moisture import equilibrium_moisture_content
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.physics.slab import DAY, Slabs, Surroundings, march, transfer_coefficient
from sashwright.physics.wood import specific_gravity
from sashwright.window.boards import Coat

Array = NDArray[np.float64]

WARM = (80 - 32) / 1.8
DAYS = (1, 7, 14)
PINE = load().wood["ponderosa-pine"]


@cache
def gain(resistance: float) -> tuple[float, float, float]:
    """Share of its whole gain that a specimen has taken up after 1, 7 and 14 days."""
    sides = (5 / 8, 3.0, 5.0)
    volume = math.prod(sides)
    area = 2 * (sides[0] * sides[1] + sides[0] * sides[2] + sides[1] * sides[2])
    # All six faces take part: a slab with as much face for its wood.
    thickness = 2 * volume / area * 0.0254
    green, shrinkage = PINE.specific_gravity_green, PINE.shrinkage_volumetric
    start = equilibrium_moisture_content(WARM, 0.30)
    end = equilibrium_moisture_content(WARM, 0.90)
    ease = transfer_coefficient(
        1 / (resistance + STILL_AIR),
        saturation_pressure(WARM),
        sorption_chord(),
        1000 * specific_gravity(green, 0.12, shrinkage),
    )
    parts = 8
    one = np.ones((DAYS[-1] + 1, 1))
    _, means = march(
        Slabs(
            np.array([thickness]),
            fit_diffusion(specific_gravity(green, 0.0, shrinkage))[:, :, None],
            np.array([1.0]),
        ),
        Surroundings(
            np.full((2, len(one), 1), WARM),
            np.stack([end * one] * 3),
            np.stack([ease * one, ease * one, 0 * one]),
        ),
        np.full((9, 1), start),
        DAY,
        parts,
    )
    first, second, third = ((float(means[day, 0]) - start) / (end - start) for day in DAYS)
    return first, second, third


def effectiveness(resistance: float) -> list[float]:
    """Moisture-excluding effectiveness after 1, 7 and 14 days [%]."""
    return [
        100 * (1 - coated / bare) for coated, bare in zip(gain(resistance), gain(0.0), strict=True)
    ]


def test_bare_specimens_settle_within_a_week() -> None:
    first, second, third = gain(0.0)
    assert 0.6 < first < 0.8
    assert second > 0.999
    assert third > 0.999999


FILMS = {
    "acrylic house primer, 2": (66, 14, 2),
    "acrylic house primer, 3": (72, 20, 4),
    "acrylic flat house paint, 2": (77, 28, 11),
    "acrylic flat house paint, 3": (84, 39, 16),
    "alkyd house primer, 1": (85, 46, 24),
    "alkyd house primer, 2": (93, 70, 49),
    "alkyd house primer, 3": (95, 78, 60),
    "urethane varnish, 2": (83, 43, 23),
    "urethane varnish, 3": (90, 64, 44),
    "solid-colour oil stain, 2": (84, 48, 26),
    "solid-colour oil stain, 3": (90, 64, 42),
}


@pytest.mark.parametrize("film", FILMS)
def test_one_resistance_tells_all_three_times(film: str) -> None:
    """Each film's resistance taken from 7 days alone foretells what it lets through in 1 and in 14."""
    day, week, fortnight = FILMS[film]
    resistance = brentq(lambda r: effectiveness(r)[1] - week, 1e7, 1e11)
    ours = effectiveness(resistance)
    # Printed to the point. The first day hangs on how fast bare wood is, which is known to a tenth at
    # best: that alone is up to three points.
    assert ours[0] == pytest.approx(day, abs=3)
    # House paints and primers agree within four points. The varnish and the stain, which fit does not
    # rest on, let through less and less as the wood behind them fills: six.
    assert ours[2] == pytest.approx(fortnight, abs=4 if "house" in film else 6)


@pytest.mark.parametrize(
    ("coating", "coats", "printed"),
    [
        ("acrylic-primer", 1, (43, 6, 1)),
        ("acrylic-primer", 2, (66, 14, 2)),
        ("acrylic-primer", 3, (72, 20, 4)),
        ("acrylic-paint", 1, (52, 12, 5)),
        ("acrylic-paint", 2, (77, 28, 11)),
        ("acrylic-paint", 3, (84, 39, 16)),
        ("oil-primer", 1, (85, 46, 24)),
        ("oil-primer", 2, (93, 70, 49)),
        ("oil-primer", 3, (95, 78, 60)),
        ("oil", 1, (12, 0, 0)),
        ("oil", 2, (22, 0, 0)),
        ("oil", 3, (33, 2, 0)),
        # One and two coats keep out far less: 12 and 46 after a day, nothing after a week.
        ("water-repellent", 3, (78, 27, 11)),
    ],
)
def test_coatings_of_the_table(coating: str, coats: int, printed: tuple[int, int, int]) -> None:
    ours = effectiveness(coat_resistance(Coat(coating, coats, "painted"), load()))
    # The table has one resistance for each coat, while a first coat also sinks in: so the first day is
    # off by up to thirteen points, the week and the fortnight, which count for seasons, by five.
    assert ours[0] == pytest.approx(printed[0], abs=13)
    assert ours[1:] == pytest.approx(printed[1:], abs=5)


@pytest.mark.parametrize(
    ("coating", "printed"),
    # Three coats after 14 days, as FPL-RP-462 is quoted.
    [("oil-paint", 41), ("varnish", 30)],
)
def test_three_coats_after_a_fortnight(coating: str, printed: int) -> None:
    ours = effectiveness(coat_resistance(Coat(coating, 3, "painted"), load()))
    assert ours[2] == pytest.approx(printed, abs=1)
