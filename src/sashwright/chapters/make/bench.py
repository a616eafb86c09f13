"""The bench: what each window asks for, turned into parts, panes, units and findings."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from sashwright.chapters.answer import Finding
from sashwright.chapters.make.cut import UNITS, CutPart, GlassPart, Unit
from sashwright.chapters.make.frame_maker import FrameKind, Usual, frame_kind
from sashwright.chapters.make.framing import WholeFrame
from sashwright.chapters.make.glazing import unit_glass
from sashwright.chapters.make.mending import Mender
from sashwright.chapters.make.rough import Allowance
from sashwright.chapters.make.tally import Made
from sashwright.chapters.make.wanted import Wanted
from sashwright.chapters.make.wood import Maker, gathered, unit_parts
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.window.components import outside_area
from sashwright.window.layout import Which
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed
from sashwright.window.spec import House
from sashwright.window.storm import HANGERS, OutsidePiece

SASH: Mapping[Unit, Which] = {"upper sash": "upper", "lower sash": "lower"}


@dataclass
class Bench:
    """Gathers the parts of window after window."""

    house: House
    knowledge: Knowledge
    marks: Mapping[str, str]
    allowance: Allowance
    words: Words
    wood: str | None
    kind: FrameKind | None
    """Of frames, where it is said."""
    only: Collection[Unit] | None
    """Units to list; all where None."""
    parts: list[CutPart] = field(default_factory=list)
    glass: list[GlassPart] = field(default_factory=list)
    made: list[Made] = field(default_factory=list)
    findings: dict[str, list[Finding]] = field(default_factory=dict)
    kinds: dict[str, FrameKind] = field(default_factory=dict)
    used: set[Usual] = field(default_factory=set)

    def make(self, wanted: Wanted) -> None:
        """List what one window asks for."""
        for unit in wanted.units:
            if not self.lists(unit):
                continue
            try:
                if unit in SASH:
                    self._sash(wanted.placed, unit, SASH[unit])
                elif unit in ("storm", "screen"):
                    self._outside(wanted.placed, unit)
                elif unit == "frame":
                    self._frame(wanted.placed)
            except (LayoutError, KnowledgeError, ValueError) as error:
                self._tell(
                    wanted.number, "fail", unit, str(error), "it cannot be laid out", "geometry"
                )
        if wanted.repairs:
            self._mend(wanted)

    def lists(self, unit: Unit) -> bool:
        """Whether a unit is listed at all."""
        return self.only is None or unit in self.only

    def maker(self, number: str, unit: Unit, wood: str | None = None) -> Maker:
        """A maker of parts; ``wood`` in place of the unit's own."""
        stamp = self.marks[number] if unit in ("storm", "screen", "frame") else number
        return Maker(number, unit, stamp, self.allowance, self.words, wood)

    def _sash(self, placed: Placed, unit: Unit, which: Which) -> None:
        maker, facts = self.maker(placed.window.number, unit, self.wood), placed.sash(which)
        self.parts += unit_parts(maker, facts.pieces.parts, [facts.layout], glazed=True)
        self.glass += unit_glass(maker, [facts.layout], self.knowledge)
        items = tuple((i.item, i.count) for i in placed.family.hardware if i.on == which)
        spec = facts.layout.spec
        self.made.append(
            Made(
                placed.window.number, unit, spec.coating, spec.coats, facts.pieces.painted_area, items,
                mass_kg=facts.mass.total,
            )
        )  # fmt: skip

    def _outside(self, placed: Placed, unit: Unit) -> None:
        storm, number = placed.family.storm_sash, placed.window.number
        if unit == "storm" and storm.kind != "wood sash":
            self._tell(
                number, "note", unit, "The storm is a combination window: it is bought, not made.",
                "a tracked window, not a hung sash", "survey",
            )  # fmt: skip
            return
        piece = placed.storm_sash if unit == "storm" else placed.screen
        if piece is None:
            self._tell(
                number, "note", unit, "The family has no screen: say whether it is full or half.",
                "no screen is described", "survey",
            )  # fmt: skip
            return
        maker = self.maker(number, unit)
        glazed = unit == "storm"
        self.parts += unit_parts(maker, piece.pieces.parts, piece.panels, glazed=glazed)
        if glazed:
            self.glass += unit_glass(maker, piece.panels, self.knowledge)
        self.made.append(self._hung_outside(placed, unit, piece))

    def _hung_outside(self, placed: Placed, unit: Unit, piece: OutsidePiece) -> Made:
        storm, spec = placed.family.storm_sash, piece.panels[0].spec
        items = ((storm.hangers, HANGERS), (storm.hooks, storm.hook_count))
        mesh = placed.family.screen.mesh if unit == "screen" else ""
        cloth = piece.mesh / self.knowledge.find("mesh", mesh).mass_per_area if mesh else 0.0
        return Made(
            placed.window.number, unit, spec.coating, spec.coats, piece.pieces.painted_area,
            tuple((key, count) for key, count in items if key != "none" and count),
            mesh=mesh, cloth_m2=cloth, mass_kg=piece.total,
        )  # fmt: skip

    def _frame(self, placed: Placed) -> None:
        number, family = placed.window.number, placed.family
        kind = self.kind or frame_kind(self.house, placed)
        self.kinds[number] = kind
        frame = WholeFrame(self.maker(number, "frame"), placed, kind, self.used)
        self.parts += gathered(piece.part for piece in frame.pieces())
        hung = sum(sash.hung for sash in (placed.layout.upper, placed.layout.lower))
        spec = family.frame
        self.made.append(
            Made(
                number, "frame", spec.coating, spec.coats, outside_area(placed.layout),
                pulleys=((family.hanging.pulley, 2 * hung),) if hung else (),
            )
        )  # fmt: skip
        if placed.left is not None or placed.right is not None:
            self._tell(
                number, "note", "frame",
                "The frame shares a mullion: its sill, head and casings reach to the middle of it; make "
                "each in one with the neighbour's.",
                "two frames are one piece of work", "geometry of the frame",
            )  # fmt: skip

    def _mend(self, wanted: Wanted) -> None:
        number = wanted.number
        mender = Mender(
            wanted.placed,
            {unit: self.maker(number, unit) for unit in UNITS},
            self.kind or frame_kind(self.house, wanted.placed),
            self.used,
            frozenset(wanted.units),
        )
        try:
            mender.mend(wanted.repairs)
        except (LayoutError, KnowledgeError, ValueError) as error:
            self._tell(number, "fail", "repairs", str(error), "it cannot be laid out", "geometry")
        self.parts += gathered(part for part in mender.parts if self.lists(part.unit))
        self.glass += (pane for pane in mender.glass if self.lists(pane.unit))
        for name, says in mender.instead.items():
            self._tell(
                number, "note", name, says, "the scarf needs sound wood", "geometry; judgement"
            )
        for name in dict.fromkeys(mender.unmeasured):
            self._tell(
                number, "caution", name,
                f"Nobody measured how far the fault on {name} goes: the new wood is listed for all of it.",
                "no length was given with the finding", "survey",
            )  # fmt: skip

    def _tell(self, number: str, level: str, on: str, says: str, because: str, source: str) -> None:
        finding = Finding(level, on, says, because, source)  # type: ignore[arg-type]
        self.findings.setdefault(number, []).append(finding)
