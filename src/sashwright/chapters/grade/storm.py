"""The storm sash: what it bears itself, and how much of the wind it keeps off the window."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from scipy.optimize import brentq

from sashwright.chapters.grade.glass import glass_of
from sashwright.chapters.grade.members import Beam, Stretch, bars_of, beam, grid_of, of_beam
from sashwright.chapters.grade.resistance import Resistance, least
from sashwright.chapters.grade.timber import Section, section_of, timber_of
from sashwright.chapters.seal.limits import RATED_PRESSURE
from sashwright.chapters.seal.paths import BY_NAME
from sashwright.chapters.seal.window import AT_75, Sealed
from sashwright.physics.beams import tributary
from sashwright.window.layout import SashLayout
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed
from sashwright.window.storm import OutsidePiece

MIDDLE_HOOKS = 4
"""Hooks from which a pair is at half the height of the storm; common practice."""


@dataclass(frozen=True, slots=True)
class Storm:
    """A storm sash that hangs there now: what it bears, and its part of a steady pressure.

    ``share`` is of a pressure that lasts [-]; a gust is over before the air space has filled.
    """

    resistances: tuple[Resistance, ...]
    share: float
    said: bool
    """Whether there are sizes to reckon with: a tracked window has none."""


def storm_of(placed: Placed, sealed: Sealed) -> Storm | None:
    """The storm sash of a window; None where none hangs."""
    family = placed.family
    if family.storm == "none":
        return None
    share = steady_share(sealed)
    if family.storm_sash.kind == "combination":
        return Storm((), share, said=False)
    try:
        piece = placed.storm_sash
    except LayoutError:
        return Storm((), share, said=False)
    return Storm(tuple(_resistances(piece, placed)), share, said=True)


def steady_share(sealed: Sealed) -> float:
    """Part of a lasting pressure that stands across the storm, by the air that leaks through both [-]."""
    alone = sealed.with_storm.whole[0, AT_75] - sum(
        flow for name, flow in sealed.path_flows.items() if not BY_NAME[name].behind_storm
    )

    def surplus(pressure: float) -> float:
        return sealed.storm.flow(pressure) - float(alone)

    if alone <= 0 or surplus(RATED_PRESSURE) <= 0:
        return 1.0
    return float(brentq(surplus, 0.0, RATED_PRESSURE)) / RATED_PRESSURE


def _resistances(piece: OutsidePiece, placed: Placed) -> Iterator[Resistance]:
    """Glass, bars and middle rail; the stiles where the wind pulls the storm off its stop."""
    knowledge, spec = placed.knowledge, placed.family.storm_sash
    glass = least(list(glass_of("storm", piece.pieces.panes, spec.glazing, knowledge)))
    if glass is not None:
        yield glass
    bars = [bar for panel in piece.panels for each in bars_of(panel, knowledge) for bar in each]
    weak = min(bars, key=lambda bar: bar.strength_capacity, default=None)
    if weak is not None:
        named = _named(weak, "storm.bars", "a bar of the storm sash")
        yield _strength(named)
    for below, above in pairwise(piece.panels):
        yield _strength(_middle_rail(piece, below, above, placed))
    yield _strength(_stile(piece, placed), outward_only=True)


def _strength(each: Beam, *, outward_only: bool = False) -> Resistance:
    """A storm that bends loses tightness, no more: nobody asks it to keep to L/175."""
    return of_beam(each, outward_only=outward_only)[0]


def _named(each: Beam, on: str, name: str) -> Beam:
    return Beam(on, name, each.span, each.timber, each.section, each.load, each.under_one)


def _middle_rail(piece: OutsidePiece, below: SashLayout, above: SashLayout, placed: Placed) -> Beam:
    spec, knowledge = placed.family.storm_sash, placed.knowledge
    span = piece.width
    stretches: list[Stretch] = [(0.0, span, spec.middle_rail, 0.0)]
    points = []
    for panel, row in ((below, -1), (above, 0)):
        grid = grid_of(panel)
        heights = [grid.height(r) for r in range(len(grid.up) - 1)]
        for column in range(len(grid.across) - 1):
            width = grid.width(column)
            peak, corner = tributary(1.0, width, heights[row])
            stretches.append((grid.across[column] + span / 2, width, float(peak), float(corner)))
        uprights, _ = bars_of(panel, knowledge)
        points += [
            (float(bar.under_one.reaction), x + span / 2)
            for bar, x in zip(uprights, grid.across[1:-1], strict=True)
        ]
    return beam(
        "storm.middle_rail",
        "the middle rail of the storm sash",
        span,
        timber_of(knowledge.find("wood", spec.wood), spec.moisture),
        section_of(spec.middle_rail, below.profile, 2),
        (stretches, points),
    )


def _stile(piece: OutsidePiece, placed: Placed) -> Beam:
    """Between the hangers at the head and the hooks at the sill, with half of the storm's width on it.

    Four hooks or more are taken to hold it at half its height as well.
    """
    spec = placed.family.storm_sash
    span = piece.height / (2 if spec.hook_count >= MIDDLE_HOOKS else 1)
    section: Section = section_of(spec.stile, piece.panels[0].profile, 1)
    return beam(
        "storm.left_stile",
        "a stile of the storm sash",
        span,
        timber_of(placed.knowledge.find("wood", spec.wood), spec.moisture),
        section,
        ([(0.0, span, piece.width / 2, 0.0)], ()),
    )
