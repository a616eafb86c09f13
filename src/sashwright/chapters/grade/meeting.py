"""The meeting rails: each by itself, or both as one where a lock holds their closing faces together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sashwright.chapters.grade.members import (
    Beam,
    Load,
    Stretch,
    beam,
    grid_of,
    of_beam,
    on_edge,
)
from sashwright.chapters.grade.resistance import Resistance
from sashwright.chapters.grade.timber import section_of, timber_of
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.beams import Bending, along
from sashwright.window.layout import SashLayout, WindowLayout


def meeting_rail(
    sash: SashLayout, layout: WindowLayout, uprights: Sequence[Beam], knowledge: Knowledge
) -> Beam:
    """A meeting rail between the beads and stops that hold the stiles."""
    upper, grid = sash.which == "upper", grid_of(sash)
    span = layout.window.width - layout.family.frame.parting_bead_projection
    row = 0 if upper else len(grid.up) - 2
    stretches: list[Stretch] = [
        (grid.across[c] + span / 2, grid.width(c), *on_edge(grid.width(c), grid.height(row)))
        for c in range(len(grid.across) - 1)
    ]
    if upper:
        # The lower sash's rail lies behind this one, out of the wind.
        stretches.append((0.0, span, sash.spec.meeting_rail, 0.0))
    points = [
        (float(bar.under_one.reaction), x + span / 2)
        for bar, x in zip(uprights, grid.across[1:-1], strict=True)
    ]
    return beam(
        f"{sash.which}.meeting_rail",
        f"the meeting rail of the {sash.which} sash",
        span,
        timber_of(knowledge.find("wood", sash.spec.wood), sash.spec.moisture),
        section_of(sash.spec.meeting_rail, sash.profile, 1, sash.check[0], behind=upper),
        (stretches, points),
    )


LOCKS = ("sash-lock", "sash-lock-lever", "sash-lock-keeper", "sash-screw")
"""Rows of the hardware table that hold the meeting rails together."""


def tied(layout: WindowLayout) -> bool:
    """Whether the meeting rails bend as one: check rails close on each other, and a lock holds them so."""
    locked = any(item.item in LOCKS for item in layout.family.hardware)
    return locked and layout.family.meeting.style == "check"


@dataclass(frozen=True, slots=True)
class Pair:
    """Both meeting rails, and what they bear by themselves or as one."""

    upper: Beam
    lower: Beam
    together: bool

    @property
    def stiffness(self) -> float:
        return self.upper.stiffness + self.lower.stiffness

    def load(self) -> Load:
        """Of the two as one, under 1 Pa."""
        rails = (self.upper, self.lower)
        stretches = [each for rail in rails for each in rail.load[0]]
        return stretches, [each for rail in rails for each in rail.load[1]]

    def bent(self) -> Bending:
        """Of the two as one, under 1 Pa."""
        stretches, points = self.load()
        return along(self.upper.span, self.stiffness, stretches=stretches, points=points)

    def lock_force(self) -> float:
        """What the lock holds under 1 Pa [N], so that the middles of the rails go alike."""
        upper, lower = self.upper, self.lower
        apart = abs(float(upper.under_one.deflection) - float(lower.under_one.deflection))
        give = upper.span**3 / 48 * (1 / upper.stiffness + 1 / lower.stiffness)
        return apart / give

    def resistances(self, *, together: bool) -> Iterator[Resistance]:
        """Of each rail; as one they sag alike and bear moment by their stiffness."""
        if not together:
            yield from of_beam(self.upper)
            yield from of_beam(self.lower)
            return
        both = self.bent()
        for rail in (self.upper, self.lower):
            share = rail.stiffness / self.stiffness
            bent = Bending(
                float(both.moment) * share, float(both.deflection), float(both.reaction) * share
            )
            one = Beam(rail.on, rail.name, rail.span, rail.timber, rail.section, rail.load, bent)
            yield from of_beam(one, share, whole=self.load())


def pair_of(
    layout: WindowLayout,
    upper_bars: Sequence[Beam],
    lower_bars: Sequence[Beam],
    knowledge: Knowledge,
) -> Pair:
    return Pair(
        meeting_rail(layout.upper, layout, upper_bars, knowledge),
        meeting_rail(layout.lower, layout, lower_bars, knowledge),
        tied(layout),
    )
