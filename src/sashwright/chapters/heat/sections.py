"""Two-dimensional conduction through the sections of a window, as they are drawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from sashwright.chapters.heat.centre import given, own
from sashwright.chapters.heat.cut import Cut
from sashwright.chapters.heat.cuts import Cutting
from sashwright.chapters.heat.flows import (
    Convention,
    Field,
    Gaps,
    InteriorStorm,
    SectionFlow,
    StormPlace,
)
from sashwright.chapters.heat.remember import Remembered
from sashwright.chapters.heat.through import Asked, through
from sashwright.window.layout import Which
from sashwright.window.resolve import Placed

__all__ = ["Convention", "Field", "Gaps", "InteriorStorm", "SectionFlow", "StormPlace", "sections"]

MOST = 400
"""Sections kept in memory: of a large house with storms on and off, some 40 MB."""

_through = Remembered(through, MOST)


def sections(
    placed: Placed,
    *,
    storm: StormPlace = "none",
    convention: Convention = "en",
    gaps: Mapping[Which, Gaps] | None = None,
    films: Mapping[Which, tuple[float, float]] | None = None,
    interior: InteriorStorm | None = None,
) -> dict[str, SectionFlow]:
    """Heat through head, jambs, meeting rails, sill, muntins and mullions of a window.

    Parameters
    ----------
    placed : Placed
    storm : {"none", "exterior", "interior"}
        The wood storm sash in its rabbet as the family describes it, or a panel on the room side.
    convention : {"en", "na"}
        ISO 10077-2: 0 and 20 °C, insulating panel for U of the frame, psi. Or ISO 15099 with the winter
        of the North American rating: -18 and 21 °C, U of frame and edge with the glass in place.
    gaps : mapping of sash to conductances, optional
        See ``Gaps``. So wide a space keeps its conductance where it is narrower, beside the frame; at the
        centre the U of the model is that of films, panes and these. Where not given, EN 673 with bare
        glass, or the balance of ISO 15099 in the rating's winter.
    films : mapping of sash to a pair, optional
        Over glass, outdoors and in the room, radiation included [W/(m2 K)]; only for ``na``, where those
        of the balance are meant. Where not given, those of bare glass a metre high.
    interior : InteriorStorm, optional
        Needed for an interior storm.

    Returns
    -------
    dict of SectionFlow
        By name; muntins only of sash that have them, the mullion only where a window shares a pocket.

    Raises
    ------
    ValueError
        If an interior storm is asked for and not given or has no place in the frame, or if the number of
        conductances is not that of the spaces.
    LayoutError, KnowledgeError
        Where the storm sash cannot be laid out.
    """
    if storm == "interior" and interior is None:
        raise ValueError(
            "found no interior storm, expected one where sections with it are asked for"
        )
    centre = own(placed, convention, interior) if gaps is None else given(gaps, films, convention)
    cutting = Cutting(placed, storm, interior if storm == "interior" else None, centre)
    return {
        cut.name: _placed(_through(_asked(cut, convention, storm)), cut) for cut in cutting.cuts()
    }


def _asked(cut: Cut, convention: Convention, storm: StormPlace) -> Asked:
    """The same for windows of all sizes and both sides, wherever they are cut alike."""
    return Asked(cut.anywhere, convention, storm)


def _placed(flow: SectionFlow, cut: Cut) -> SectionFlow:
    """Its temperatures put where the section is drawn."""
    depth, along = flow.field.nodes.T
    along = along + cut.origin
    across = np.stack([depth, along] if cut.upright else [cut.side * along, depth], axis=1)
    return replace(flow, field=replace(flow.field, nodes=across))
