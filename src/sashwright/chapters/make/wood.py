"""The wood of sash, storms and screens as parts to cut: rough sizes, joints, mouldings, marks."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from sashwright.chapters.make.boards import Clear
from sashwright.chapters.make.curves import segments
from sashwright.chapters.make.cut import INITIALS, CutPart, JointEnd, Moulded, Unit
from sashwright.chapters.make.rough import LONG, Allowance
from sashwright.chapters.words import Words
from sashwright.window.layout import SashLayout
from sashwright.window.members import haunch_width
from sashwright.window.pieces import Part

SHORT: Mapping[str, str] = {
    "left stile": "LS", "right stile": "RS", "stile": "ST", "top rail": "TR", "curved head rail": "HR",
    "meeting rail": "MR", "middle rail": "CR", "bottom rail": "BR", "upright bar": "UB", "cross bar": "XB",
}  # fmt: skip
"""Letters of a mark; CR is the middle (cross) rail of a storm or screen."""
VERTICAL = "rift or vertical grain preferred, straight, along the part"
ANY = "straight, along the part"
MOST_LAYERS = 4


class Stock(NamedTuple):
    """Rough lumber for a thickness: quarters of each board, and how many are glued up."""

    quarters: int
    layers: int


def stock_of(thickness: float, allowance: Allowance) -> Stock:
    """The thinnest lumber sold that a part can be planed from, glued up where one board is too thin.

    Raises ``ValueError`` where it would take more than four boards.
    """
    for layers in range(1, MOST_LAYERS + 1):
        quarters = allowance.quarters(thickness / layers)
        if quarters is not None:
            return Stock(quarters, layers)
    raise ValueError(f"found a thickness of {thickness:g} m, expected no more than four boards")


@dataclass(frozen=True, slots=True)
class Draft:
    """A part as it will be finished, before it has a window and rough sizes."""

    name: str
    short: str
    """Letters of its mark."""
    sizes: tuple[float, float, float]
    """Length, width, thickness [m]."""
    species: str
    ends: tuple[JointEnd, JointEnd]
    stile: bool = False
    grain: str = ANY
    clear: Clear = "no"
    moulding: Moulded | None = None
    note: str = ""
    shoulder: float | None = None
    volume: float | None = None
    """That of a plain prism where not given [m3]."""
    count: int = 1


@dataclass(frozen=True, slots=True)
class Maker:
    """What every part of one unit has in common."""

    window: str
    unit: Unit
    stamp: str
    """The window's number, or the mark that its frame, storm and screen have."""
    allowance: Allowance
    words: Words
    wood: str | None = None
    """Species in place of the unit's own."""

    def mark(self, short: str) -> str:
        return f"{self.stamp} {INITIALS[self.unit]}-{short}"

    def part(self, draft: Draft) -> CutPart:
        """A part with its rough sizes and stock. Raises ``ValueError`` where it is too thick."""
        length, width, thickness = draft.sizes
        stock = stock_of(thickness, self.allowance)
        rough = self.allowance.rough_stile if draft.stile else self.allowance.rough
        rough_length, rough_width = rough(length, width)
        note = "; ".join(text for text in (draft.note, _glued(stock)) if text)
        volume = length * width * thickness if draft.volume is None else draft.volume
        shoulder = length if draft.shoulder is None else draft.shoulder
        return CutPart(
            self.window, self.unit, draft.name, draft.count, length, width, thickness, rough_length,
            rough_width, stock.quarters, self.wood or draft.species, draft.grain, draft.clear,
            draft.ends, draft.moulding, self.mark(draft.short), note, shoulder, volume, stock.layers,
        )  # fmt: skip


def _glued(stock: Stock) -> str:
    return f"glued up of {stock.layers} boards" if stock.layers > 1 else ""


def unit_parts(
    maker: Maker, parts: Sequence[Part], panels: Sequence[SashLayout], *, glazed: bool
) -> list[CutPart]:
    """The parts of a sash, or of a storm or screen that may have two ``panels``, like ones together."""
    return gathered(one_part(maker, part, panels, glazed=glazed) for part in parts)


def gathered(parts: Iterable[CutPart]) -> list[CutPart]:
    """Parts that are alike but for their hand, on one line."""
    groups: dict[tuple[object, ...], list[CutPart]] = {}
    for part in parts:
        sizes = tuple(round(v, 7) for v in (part.length, part.width, part.thickness))
        key = (part.window, part.unit, _unhanded(part.name), part.species, part.note, *sizes)
        groups.setdefault(key, []).append(part)
    found = []
    marks: Counter[tuple[str, str]] = Counter()
    for group in groups.values():
        first, count = group[0], sum(part.count for part in group)
        if count > 1 and _unhanded(first.name) != first.name:
            mark = first.mark.replace("-LS", "-ST").replace("-RS", "-ST")
            first = replace(first, name=_unhanded(first.name), mark=mark)
        marks[first.unit, first.mark] += 1
        if (place := marks[first.unit, first.mark]) > 1:
            # Like in name, not in size.
            first = replace(first, mark=f"{first.mark}{place}")
        volume = sum(part.finished_volume for part in group) / count
        found.append(replace(first, count=count, volume=volume))
    return found


def _unhanded(name: str) -> str:
    return name.removeprefix("left ").removeprefix("right ")


def one_part(maker: Maker, part: Part, panels: Sequence[SashLayout], *, glazed: bool) -> CutPart:
    """One member of a sash, a storm or a screen."""
    # Only the topmost panel can have an arch.
    sash = panels[-1] if part.name == "curved head rail" else panels[0]
    if part.name == "curved head rail" and sash.inner_arc is not None:
        return maker.part(_curved(maker, part, sash, glazed=glazed))
    spec = sash.spec
    draft = Draft(
        part.name,
        SHORT[part.name],
        (part.length, part.width, part.thickness),
        spec.wood,
        _ends(part, sash, glazed=glazed),
        stile=part.kind == "stile",
        grain="quarter-sawn" if spec.grain == "quarter" else VERTICAL,
        clear=_clear(part),
        moulding=_sticking(part, sash) if glazed else None,
        note="; ".join(_notes(maker, part, sash)),
        shoulder=part.shoulder,
        volume=part.solid.volume,
    )
    return maker.part(draft)


def _curved(maker: Maker, part: Part, sash: SashLayout, *, glazed: bool) -> Draft:
    """The head rail of an arch, sawn in segments."""
    inner, arc, words = sash.inner_arc, sash.arc, maker.words
    assert inner is not None
    assert arc is not None
    angle = 2 * math.asin(min(part.shoulder / 2 / inner.radius, 1.0))
    found = segments(arc.radius, inner.radius, angle)
    low, high = sash.profile.nose
    end = JointEnd("slip tenon", 0.0, high - low if glazed else sash.thickness / 3)
    radii = f"sawn to radii {words.length(arc.radius)} and {words.length(inner.radius)}"
    return Draft(
        part.name if found.pieces == 1 else "curved head rail, segment",
        SHORT[part.name],
        (found.length, found.width, part.thickness),
        sash.spec.wood,
        (end, end),
        grain=ANY,
        clear="must",
        moulding=_sticking(part, sash) if glazed else None,
        note=radii,
        volume=part.solid.volume / found.pieces,
        count=found.pieces,
    )


def _clear(part: Part) -> Clear:
    """Bars break at a knot; a long part is weakened, and shows it."""
    if part.kind == "bar":
        return "must"
    return "wish" if part.kind == "stile" or part.length >= LONG else "no"


def _sticking(part: Part, sash: SashLayout) -> Moulded | None:
    moulding = sash.spec.moulding
    if not moulding.width or not moulding.depth:
        return None
    both = part.kind == "bar" or part.name == "middle rail"
    return Moulded(moulding.shape, moulding.width, moulding.depth, 2 if both else 1)


# --- joints -----------------------------------------------------------------------


def _ends(part: Part, sash: SashLayout, *, glazed: bool) -> tuple[JointEnd, JointEnd]:
    if part.kind == "stile":
        return _stile_ends(part, sash)
    low, high = sash.profile.nose
    # A screen has no rabbet: its tenon is a third of the thickness.
    thick = high - low if glazed else sash.thickness / 3
    if part.kind == "bar":
        return _bar_ends(part, thick)
    tenon = max((part.length - part.shoulder) / 2, 0.0)
    haunch = haunch_width(sash, part.width) if "haunched" in part.joint else 0.0
    end = JointEnd(part.joint, tenon, thick, haunch)
    return end, end


def _stile_ends(part: Part, sash: SashLayout) -> tuple[JointEnd, JointEnd]:
    """Foot and top. At a meeting rail without horns the mortise is open: the rail's bridle joint."""
    below, above = sash.horns
    if part.sash in ("storm", "screen"):
        end = JointEnd("mortised for the haunched tenon")
        return end, end
    outer = JointEnd("mortised for the haunched tenon")
    if part.sash == "upper" and sash.arc is not None:
        outer = JointEnd("mortised for the slip tenon, its end cut to the arch")
    horn = below or above
    meeting = (
        JointEnd("mortised, horn left on", horn=horn)
        if horn
        else JointEnd("open mortise for the bridle joint")
    )
    return (meeting, outer) if part.sash == "upper" else (outer, meeting)


def _bar_ends(part: Part, thick: float) -> tuple[JointEnd, JointEnd]:
    beyond = part.length - part.shoulder
    stub = "stub tenon, coped"
    if part.joint == "stub tenons":
        end = JointEnd(stub, beyond / 2, thick)
        return end, end
    coped = JointEnd("coped to the upright bar")
    return (JointEnd(stub, beyond, thick) if beyond > 1e-9 else coped), coped


def _notes(maker: Maker, part: Part, sash: SashLayout) -> Iterator[str]:
    words = maker.words
    if part.name == "bottom rail" and sash.bevel:
        yield "foot bevelled to the sill"
    if part.name == "meeting rail" and sash.check_reach:
        yield f"thickened by {words.fine(sash.check_reach)} to close on the other"
    if part.kind == "stile" and sash.hung and part.sash in ("upper", "lower"):
        yield "ploughed for the cord"
