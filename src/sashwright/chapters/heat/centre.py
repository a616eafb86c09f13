"""Conductances at the centre of the glass, as given or by the convention's own rules for bare glass."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from sashwright.chapters.heat.cut import Layer
from sashwright.chapters.heat.cutter import Centre
from sashwright.chapters.heat.flows import Convention, Gaps, InteriorStorm
from sashwright.physics.gases import GasName
from sashwright.physics.glazing import (
    NFRC_WINTER,
    Gap,
    Pane,
    detailed_balance,
    en673_gap_resistances,
)
from sashwright.physics.glazing.layers import BARE_EMISSIVITY, EN_BARE_EMISSIVITY
from sashwright.window.layout import Which, WindowLayout
from sashwright.window.resolve import Placed

USUAL = 29.4, 7.6
"""Films over bare glass in the rating's winter, outdoors and in the room [W/(m2 K)]: of single glass 1 m
high by the balance of ISO 15099."""

Values = tuple[tuple[float, ...], tuple[float, float]]


def given(
    gaps: Mapping[Which, Gaps],
    films: Mapping[Which, tuple[float, float]] | None,
    convention: Convention,
) -> Centre:
    """As the caller says."""

    def centre(_: WindowLayout, which: Which, __: tuple[Layer, ...], ___: int) -> Values:
        found = tuple(float(gap) for gap in gaps[which])
        return found, _films(None if films is None else films[which], convention)

    return centre


def own(placed: Placed, convention: Convention, interior: InteriorStorm | None) -> Centre:
    """By EN 673, or the balance of ISO 15099 in the rating's winter; bare glass, air but in sealed units."""

    def centre(layout: WindowLayout, which: Which, panes: tuple[Layer, ...], before: int) -> Values:
        sash = layout.sash(which)
        _, _, bottom, top = sash.daylight
        own_panes = len(sash.spec.glazing.panes)
        bare = EN_BARE_EMISSIVITY if convention == "en" else BARE_EMISSIVITY
        glass = []
        for k, pane in enumerate(panes):
            faces = bare, bare
            if interior is not None and k >= before + own_panes:
                faces = interior.emissivity_outside, interior.emissivity_inside
            glass.append(Pane(pane.far - pane.near, pane.conductivity, *faces))
        spaces = []
        for k in range(len(panes) - 1):
            width = panes[k + 1].near - panes[k].far
            sealed = before <= k < before + own_panes - 1
            gas: GasName = sash.spec.glazing.gas if sealed else "air"
            share = sash.spec.glazing.gas_share / 100 if gas != "air" else 1.0
            spaces.append(Gap(width, gas, share))
        return _worked_out(tuple(glass), tuple(spaces), round(top - bottom, 3), convention)

    return centre


@lru_cache(maxsize=256)
def _worked_out(
    panes: tuple[Pane, ...], gaps: tuple[Gap, ...], height: float, convention: Convention
) -> Values:
    if convention == "en":
        found = tuple(1 / each for each in en673_gap_resistances(panes, gaps)) if gaps else ()
        return found, _films(None, convention)
    row = detailed_balance(panes, gaps, NFRC_WINTER, height=height).resistances
    films = 1 / float(row[0]), 1 / float(row[-1])
    return tuple(1 / float(each) for each in row[2:-1:2]), films


def _films(films: tuple[float, float] | None, convention: Convention) -> tuple[float, float]:
    """Only the North American convention has films that hang on the glass."""
    if convention == "en":
        return 0.0, 0.0
    return USUAL if films is None else films
