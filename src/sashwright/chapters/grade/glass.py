"""Wind that each pane bears, at its cut size and least thickness."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.answer import Step
from sashwright.chapters.grade.resistance import Resistance
from sashwright.knowledge.tables import Glass, Knowledge
from sashwright.physics.glass_strength import (
    SEALED_FACTOR,
    deflection,
    load_resistance_measured,
)
from sashwright.physics.wind import effective_area
from sashwright.window.pieces import Pane
from sashwright.window.spec import Glazing

Array = NDArray[np.float64]

SCRATCHED = 0.5
"""Strength of glass with a damaged face over that of sound glass [-]: IBC section 2404 halves the
resistance of sandblasted glass (the figure from memory)."""

MODEL = (
    "glass failure prediction model after ASTM E1300: 3 s, 8 of 1000, four sides held; "
    "IBC 2404.1 compares it with 0.6 of the strength-level wind"
)
SHARING = (
    "sealed units share by the cubes of their panes' thickness, ASTM E1300, 2004 to 2012 "
    "(from memory)"
)


def weakest_thickness(glazing: Glazing, glass: Glass) -> float:
    """Measured on the panes themselves, or the least of its class [m]."""
    return min(glazing.least_thickness or glass.thickness_min, glass.thickness)


def pane_resistance(
    widths: Array, heights: Array, glazing: Glazing, knowledge: Knowledge
) -> tuple[Array, Array]:
    """Pressure on lites that breaks the first of their panes, and the thickness of that pane [Pa, m].

    Panes behind each other are a sealed unit: they share by the cubes of their thickness.
    """
    thick = np.array(
        [weakest_thickness(glazing, knowledge.find("glass", key)) for key in glazing.panes]
    )[:, None]
    alone = np.asarray(load_resistance_measured(widths, heights, thick), dtype=np.float64)
    if len(glazing.panes) > 1:
        alone = alone * SEALED_FACTOR * (thick**3).sum(axis=0) / thick**3
    if glazing.surface == "scratched":
        alone = alone * SCRATCHED
    first = alone.argmin(axis=0)
    return alone.min(axis=0), thick[first, 0]


def is_glass(glazing: Glazing, knowledge: Knowledge) -> bool:
    """Whether every pane is glass, which the model is for."""
    return all(knowledge.find("glass", key).kind != "acrylic" for key in glazing.panes)


def lites_of(panes: Sequence[Pane]) -> list[Pane]:
    """One pane of each lite."""
    seen: dict[tuple[int, int], Pane] = {}
    for pane in panes:
        seen.setdefault((pane.column, pane.row), pane)
    return list(seen.values())


def glass_of(
    owner: str, panes: Sequence[Pane], glazing: Glazing, knowledge: Knowledge
) -> Iterator[Resistance]:
    """Resistance of every lite of a sash; an arched one counts as the rectangle round it."""
    lites = lites_of(panes)
    if not lites or not is_glass(glazing, knowledge):
        return
    widths = np.array([pane.width for pane in lites])
    heights = np.array([pane.height for pane in lites])
    capacities, thick = pane_resistance(widths, heights, glazing, knowledge)
    for pane, capacity, t in zip(lites, capacities.tolist(), thick.tolist(), strict=True):
        on = "storm.lite" if owner == "storm" else f"{owner}.lite.{pane.column + 1}.{pane.row + 1}"
        name = f"a lite of the {owner} sash"
        facts = {
            "width_m": pane.width,
            "height_m": pane.height,
            "thickness_m": t,
            "panes": list(glazing.panes),
            "surface": glazing.surface,
        }
        short, long = sorted((pane.width, pane.height))
        yield Resistance(
            on,
            "glass",
            name,
            capacity,
            float(effective_area(long, short)),
            facts=facts,
            steps=(_step(name, facts, capacity, glazing),),
        )


def sag_of(found: Resistance, glazing: Glazing, knowledge: Knowledge, pressure: float) -> float:
    """How far the middle of a lite moves under a pressure [m], its panes sharing it."""
    thick = np.array(
        [weakest_thickness(glazing, knowledge.find("glass", key)) for key in glazing.panes]
    )
    share = thick[0] ** 3 / (thick**3).sum()
    return float(
        deflection(found.facts["width_m"], found.facts["height_m"], thick[0], pressure * share)
    )


def _step(name: str, facts: dict[str, object], capacity: float, glazing: Glazing) -> Step:
    formula = "q of P_b(q, a, b, t) = 0.008"
    if len(glazing.panes) > 1:
        formula += f" x {SEALED_FACTOR} x (sum of t^3) / t^3"
    if glazing.surface == "scratched":
        formula += f" x {SCRATCHED}"
    inputs = {key: facts[key] for key in ("width_m", "height_m", "thickness_m")}
    source = MODEL if len(glazing.panes) == 1 else f"{MODEL}; {SHARING}"
    return Step(f"pressure that breaks {name}", formula, inputs, capacity, "Pa", source)
