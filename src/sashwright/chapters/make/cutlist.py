"""Every part to be made, as a cutting list: what is made at each window, wood and glass, and the totals."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Finding, WindowAnswer
from sashwright.chapters.hang import hang
from sashwright.chapters.hang.totals import totals as hang_totals
from sashwright.chapters.make.bench import SASH, Bench
from sashwright.chapters.make.cut import (
    UNITS,
    CutPart,
    GlassPart,
    JointEnd,
    Moulded,
    Template,
    Unit,
)
from sashwright.chapters.make.frame_maker import FrameKind, Usual
from sashwright.chapters.make.rough import Allowance
from sashwright.chapters.make.strips import strip_lengths
from sashwright.chapters.make.tally import Made, Totals, tally
from sashwright.chapters.make.wanted import Asked, Wanted, Wrong, wanted_of
from sashwright.chapters.season.marks import marks_of
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.window.spec import House

__all__ = [
    "CutList",
    "CutPart",
    "GlassPart",
    "JointEnd",
    "Moulded",
    "Template",
    "Totals",
    "cut_list",
]


@dataclass(frozen=True)
class CutList:
    """The whole list, window by window in the order of the house, and what it comes to."""

    parts: tuple[CutPart, ...]
    glass: tuple[GlassPart, ...]
    totals: Totals
    made: tuple[Made, ...] = ()
    wanted: tuple[Wanted, ...] = ()
    """Every window that could be laid out, also those where nothing is made."""
    wrong: Wrong = field(default_factory=dict)
    findings: Mapping[str, Sequence[Finding]] = field(default_factory=dict)
    """By window."""
    frames: Mapping[str, FrameKind] = field(default_factory=dict)
    """Kind of each frame that is listed, by window."""
    usual: Sequence[Usual] = ()
    """Sizes that the specification does not give and that the frame part table does."""

    def parts_of(self, number: str) -> list[CutPart]:
        return [part for part in self.parts if part.window == number]

    def glass_of(self, number: str) -> list[GlassPart]:
        return [part for part in self.glass if part.window == number]


def cut_list(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    *,
    scope: Collection[Asked] | None = None,
    wood: str | None = None,
    frame: FrameKind | None = None,
    only: Collection[Unit] | None = None,
    allowance: Allowance | None = None,
    system: units.System | None = None,
) -> CutList:
    """Every part to be made for the windows of a house (all, or those with ``numbers``).

    Parameters
    ----------
    scope
        What to list of every window, whatever it needs: ``sash``, ``storm``, ``screen``, ``frame``. Where not
        given, what follows from the alternative decided on or usual at each window.
    wood
        Species of the new sash, in place of the old ones': a row of the wood table.
    frame
        ``box`` or ``skeleton``; where not given, as the wall asks.
    only
        Units to list; all where not given.
    allowance
        What rough sizes have over finished ones; the shop's usual where not given.
    system
        Of the notes; the house's own where not given.

    A window that contradicts itself is answered with what is wrong. Raises ``KeyError`` for a window that
    the house has not, ``KnowledgeError`` for an unknown species, ``ValueError`` for an unknown scope or unit.
    """
    for unit in only or ():
        if unit not in UNITS:
            raise ValueError(f"Found the unit {unit!r}, expected one of {', '.join(UNITS)}.")
    if wood is not None:
        wood = knowledge.find("wood", wood).key
    windows, wrong = wanted_of(house, knowledge, numbers, scope)
    bench = Bench(
        house, knowledge, marks_of(house), allowance or Allowance(), Words(system or house.units), wood,
        frame, only,
    )  # fmt: skip
    for each in windows:
        bench.make(each)
    # Strips go with the sash, old or new.
    sashed = any(bench.lists(unit) for unit in SASH)
    strips = strip_lengths((each for each in windows if sashed and each.strips), knowledge)
    hung = _hung(house, knowledge, bench.made)
    totals = tally(bench.parts, bench.glass, bench.made, strips, hung, knowledge)
    return CutList(
        tuple(bench.parts), tuple(bench.glass), totals, tuple(bench.made), tuple(windows), wrong,
        bench.findings, bench.kinds, tuple(sorted(bench.used)),
    )  # fmt: skip


def _hung(house: House, knowledge: Knowledge, made: Sequence[Made]) -> Mapping[str, Any]:
    """Weights and cords of the new sash, as the hang chapter has them."""
    new: dict[str, list[str]] = {}
    for each in made:
        if each.unit in SASH:
            new.setdefault(each.window, []).append(SASH[each.unit])
    if not new:
        return {}
    answers = hang(house, knowledge, list(new)).windows
    return hang_totals(
        [
            WindowAnswer(each.number, {which: each.values[which] for which in new[each.number]})
            for each in answers
        ]
    )
