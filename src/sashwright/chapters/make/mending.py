"""New wood and glass for a mended window: splices, dutchmen, single members, beads, panes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from sashwright.chapters.make.cut import CutPart, GlassPart, JointEnd, Unit
from sashwright.chapters.make.frame_maker import FrameKind, Usual
from sashwright.chapters.make.framing import WholeFrame
from sashwright.chapters.make.glazing import gathered_glass, glass_part, glazed_lites
from sashwright.chapters.make.wood import Draft, Maker, one_part
from sashwright.chapters.treat.rules import Judged
from sashwright.units import INCH
from sashwright.window.components import Piece
from sashwright.window.layout import SashLayout
from sashwright.window.pieces import Part
from sashwright.window.resolve import Placed

SCARF = 6
"""A scarf is so many times as long as the part is thick: 1:4 to 1:8 in repairs, from memory."""
BEYOND = 2 * INCH
"""Sound wood cut away beyond the decay that was found [m]; from memory."""
PATCH_BEYOND = INCH / 2
"""Of a dutchman at each of its ends, and at its back half of that [m]; judgement."""
LEAST_PATCH = INCH / 2
"""Least thickness of a dutchman [m]; judgement."""
SLIP_INTO_RAIL = 2 * INCH
"""Of a slip tenon in the rail [m]: 1 1/2 to 2 in, Window Preservation Standards."""
WHOLE_FROM = 0.8
"""Where a splice would be as long as this share of its member, the member is made new [-]; judgement."""

WHOLE = frozenset({
    "new-member", "new-muntin", "sill-new", "casing-new", "trim-new", "bead-new", "stop-new",
    "pocket-cut",
})  # fmt: skip
SCARFED = frozenset({"splice", "sill-splice"})
LET_IN = SCARFED | {"dutchman", "slip-tenon"}
GLASS = "glass-new"
OWNER: Mapping[str, Unit] = {
    "upper": "upper sash", "lower": "lower sash", "storm": "storm", "screen": "screen", "frame": "frame",
}  # fmt: skip


@dataclass
class Mender:
    """Gathers what the findings of one window ask of the bench."""

    placed: Placed
    makers: Mapping[Unit, Maker]
    kind: FrameKind
    used: set[Usual]
    made: frozenset[Unit]
    """Units that are made whole: their findings fall away."""
    parts: list[CutPart] = field(default_factory=list)
    glass: list[GlassPart] = field(default_factory=list)
    unmeasured: list[str] = field(default_factory=list)
    """Parts whose fault nobody measured."""
    instead: dict[str, str] = field(default_factory=dict)
    """Parts made new although a splice was asked for, and why."""
    _whole: set[str] = field(default_factory=set)

    def mend(self, repairs: Sequence[Judged]) -> None:
        """Members made new come first: nothing is let into them."""
        for tasks in (WHOLE, LET_IN):
            for each in repairs:
                for task in () if each.rule is None else each.rule.tasks:
                    if task in tasks:
                        for piece in each.surveyed.pieces:
                            self._wood(task, each, piece)
        for each in repairs:
            if each.rule is not None and GLASS in each.rule.tasks:
                self._panes(each)
        self.glass = gathered_glass(self.glass)

    # --- wood ---

    def _wood(self, task: str, each: Judged, piece: Piece) -> None:
        if OWNER[piece.of] in self.made or piece.name in self._whole:
            return
        used: set[Usual] = set()
        members = list(self._members(piece, used))
        if task in WHOLE:
            self._whole.add(piece.name)
            self.used |= used
            self.parts += [replace(part, note=_also(part.note, "a new one")) for part in members]
        elif members:
            member = members[0]
            if task == "slip-tenon":
                self.parts += self._slip_tenon(each, piece, member)
            elif task == "dutchman":
                self.parts.append(self._dutchman(each, piece, member))
            else:
                self.parts.append(self._splice(each, piece, member))

    def _length(self, each: Judged, piece: Piece, member: CutPart) -> float:
        """How much of the part is gone [m]."""
        if each.surveyed.found.length is None:
            self.unmeasured.append(piece.name)
            return member.shoulder
        return each.surveyed.found.length / len(each.surveyed.pieces)

    def _splice(self, each: Judged, piece: Piece, member: CutPart) -> CutPart:
        """A new end: what is gone and some sound wood, the scarf, and the joint at its end."""
        scarf, joint = SCARF * member.thickness, member.joint_ends[0]
        gone, words = self._length(each, piece, member), self.makers["splice"].words
        length = gone + BEYOND + scarf + joint.tenon
        if length >= WHOLE_FROM * member.length:
            self._whole.add(piece.name)
            self.instead[piece.name] = (
                f"A splice in {piece.name} would be {words.length(length)} of its "
                f"{words.length(member.length)}: a new one is listed."
            )
            return replace(
                member, count=1, note=_also(member.note, "a new one in place of a splice")
            )
        note = (
            f"{words.length(gone)} gone, {words.length(BEYOND)} beyond, scarf 1 in {SCARF} over "
            f"{words.length(scarf)}"
        )
        ends = (joint, JointEnd(f"scarf 1 in {SCARF}"))
        return self._let_in("splice", piece, member, length, member.thickness, note, ends)

    def _dutchman(self, each: Judged, piece: Piece, member: CutPart) -> CutPart:
        gone = min(self._length(each, piece, member), member.shoulder)
        probe = each.surveyed.found.probe or 0.0
        deep = min(max(probe + PATCH_BEYOND / 2, LEAST_PATCH), member.thickness)
        length = min(gone + 2 * PATCH_BEYOND, member.length)
        words = self.makers["splice"].words
        note = f"over {words.length(gone)}, ends bevelled under; width to suit what is cut out"
        end = JointEnd("bevelled, let in")
        return self._let_in("dutchman", piece, member, length, deep, note, (end, end))

    def _slip_tenon(self, each: Judged, piece: Piece, member: CutPart) -> Iterator[CutPart]:
        joint = max(member.joint_ends, key=lambda end: end.tenon)
        if not joint.tenon or not joint.thickness:
            return
        count = min(each.surveyed.found.count or 1, 2)
        length = joint.tenon + SLIP_INTO_RAIL
        wide = member.width - joint.haunch
        note = "let into the rail, glued and pinned"
        end = JointEnd("slip tenon", joint.tenon)
        part = self._let_in(
            "slip tenon", piece, member, length, joint.thickness, note, (end, JointEnd("let in"))
        )
        yield replace(self._narrowed(part, wide), count=count)

    def _narrowed(self, part: CutPart, width: float) -> CutPart:
        _, rough = self.makers["splice"].allowance.rough(part.length, width)
        volume = part.length * width * part.thickness
        return replace(part, width=width, rough_width=rough, volume=volume)

    def _let_in(
        self,
        what: str,
        piece: Piece,
        member: CutPart,
        length: float,
        thickness: float,
        note: str,
        ends: tuple[JointEnd, JointEnd],
    ) -> CutPart:
        """New wood let into an old member: of its species, its grain and its moulding."""
        short = member.mark.rpartition("-")[2]
        place = f"{member.unit}, " if member.unit != "frame" else ""
        moulding = None if member.moulding is None else replace(member.moulding, edges=1)
        draft = Draft(
            f"{what}, {place}{member.name}",
            self.makers[member.unit].mark(short).rpartition(" ")[2],
            (length, member.width, thickness),
            member.species,
            ends,
            grain=f"as the old wood; {member.grain}",
            clear="must",
            moulding=moulding if what == "splice" else None,
            note=note,
        )
        return self.makers["splice"].part(draft)

    # --- the members of the window ---

    def _members(self, piece: Piece, used: set[Usual]) -> Iterator[CutPart]:
        """What a part of the survey is when it is made new; ``used`` gets the sizes from the table."""
        _, _, name = piece.name.partition(".")
        if piece.of == "frame":
            yield from self._framed(name, used)
            return
        parts, panels = self._unit(piece)
        maker, glazed = self.makers[OWNER[piece.of]], piece.of != "screen"
        wanted, _, number = name.replace("_", " ").partition(".")
        names = {wanted, "curved head rail" if wanted == "top rail" else wanted}
        names |= {"cross bar"} if wanted == "cross bars" else set()
        like = [part for part in parts if part.name in names]
        if number.isdigit():
            like = like[int(number) - 1 : int(number)]
        for part in like:
            yield one_part(maker, part, panels, glazed=glazed)

    def _unit(self, piece: Piece) -> tuple[Sequence[Part], Sequence[SashLayout]]:
        placed = self.placed
        if piece.of in ("upper", "lower"):
            facts = placed.upper if piece.of == "upper" else placed.lower
            return facts.pieces.parts, [facts.layout]
        outside = placed.storm_sash if piece.of == "storm" else placed.screen
        if outside is None:
            return (), ()
        return outside.pieces.parts, outside.panels

    def _framed(self, name: str, used: set[Usual]) -> Iterator[CutPart]:
        every: set[Usual] = set()
        frame = WholeFrame(self.makers["frame"], self.placed, self.kind, every)
        if name.startswith("pocket"):
            there = self.placed.family.pocket.cover_height > 0
            pieces = [frame.cover(name.rpartition(".")[2])] if there else []
        else:
            pieces = [p for p in frame.pieces() if p.at == name or p.at.startswith(f"{name}.")]
        rows = {piece.row for piece in pieces}
        used |= {each for each in every if each.part in rows}
        yield from (piece.part for piece in pieces)

    # --- glass ---

    def _panes(self, each: Judged) -> None:
        """New panes for broken ones; so many of a group as were counted."""
        pieces = [piece for piece in each.surveyed.pieces if piece.kind in ("lite", "storm lite")]
        count = each.surveyed.found.count
        if count is not None and len(pieces) > 1:
            pieces = pieces[: max(math.ceil(len(pieces) * each.share - 1e-9), 1)]
        for piece in pieces:
            if OWNER[piece.of] in self.made or piece.name in self._whole:
                continue
            self._whole.add(piece.name)
            self.glass += self._pane(piece)

    def _pane(self, piece: Piece) -> Iterator[GlassPart]:
        _, panels = self._unit(piece)
        maker, where = self.makers[OWNER[piece.of]], piece.name.split(".")[2:]
        below = 0
        for panel in panels:
            for lite in glazed_lites(panel, self.placed.knowledge):
                part = glass_part(maker, panel, lite, below, self.placed.knowledge)
                if not where or part.lites == (".".join(where),):
                    yield part
            below += len(panel.rows)


def _also(note: str, more: str) -> str:
    return f"{note}; {more}" if note else more
