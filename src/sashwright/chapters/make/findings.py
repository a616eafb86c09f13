"""What the bench must know about a cutting list as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sashwright.chapters.answer import Finding
from sashwright.chapters.make.bench import SASH
from sashwright.chapters.make.cutlist import CutList
from sashwright.chapters.make.frame_maker import Usual
from sashwright.chapters.make.rough import Allowance
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge, Wood
from sashwright.units import INCH

DURABLE = frozenset({"resistant", "very resistant"})
TIGHT = 3 / 16 * INCH
"""Less than this to plane off, and a cupped board does not clean up [m]; judgement."""


def house_findings(
    found: CutList, knowledge: Knowledge, words: Words, allowance: Allowance, *, chosen: bool
) -> Iterator[Finding]:
    """``chosen`` tells whether somebody named the wood."""
    if not found.parts and not found.glass:
        yield Finding(
            "note",
            "list",
            "Nothing is to be made: the alternatives taken ask for no new parts.",
            "the list follows what was decided at each window, or is usual there",
            "treat chapter",
        )
        return
    yield Finding(
        "ok",
        "list",
        f"{found.totals.pieces} pieces of wood{_panes(found)} are listed.",
        "by what was decided at each window, or was asked for",
        "treat chapter",
    )
    yield from _durable(found, knowledge, chosen=chosen)
    yield from _tight(found, words)
    yield from _frames(found)
    yield from _usual(found.usual, knowledge, words)
    yield from _sills(found, knowledge)
    yield from _old_glass(found, knowledge)


def _panes(found: CutList) -> str:
    count = sum(pane.count for pane in found.glass)
    return f" and {count} panes" if count else ""


def _durable(found: CutList, knowledge: Knowledge, *, chosen: bool) -> Iterator[Finding]:
    # A member of an old sash is made in its own wood.
    new = {(made.window, made.unit) for made in found.made if made.unit in SASH}
    species = dict.fromkeys(p.species for p in found.parts if (p.window, p.unit) in new)
    for key in species:
        row: Wood = knowledge.find("wood", key)
        if row.decay_us in DURABLE or row.decay_en in ("1", "2", "1-2"):
            continue
        group = f"its heartwood is grouped {row.decay_us}" if row.decay_us else "it is not grouped"
        what = "Sash parts are" if chosen else "Nobody named a wood, so sash parts are"
        yield Finding(
            "caution",
            "wood",
            f"{what} listed in {row.name.lower()}: choose a durable species where they stand in the weather.",
            f"{group} against decay; sapwood never lasts",
            row.source,
        )


def _tight(found: CutList, words: Words) -> Iterator[Finding]:
    """Thicknesses that leave little to plane away."""
    spare = {
        round(part.thickness, 6): (part.quarters, part.quarters * INCH / 4 - part.thickness)
        for part in found.parts
        if part.layers == 1 and part.quarters * INCH / 4 - part.thickness < TIGHT - 1e-9
    }
    for thickness, (quarters, over) in sorted(spare.items()):
        yield Finding(
            "note",
            "lumber",
            f"{words.fine(thickness)} parts come out of {quarters}/4 with {words.fine(over)} to plane: pick "
            "flat boards, or take the next thickness.",
            f"less than {words.fine(TIGHT)} does not clean up a cupped board",
            "judgement",
        )


def _frames(found: CutList) -> Iterator[Finding]:
    for kind, why in (
        ("box", "linings close the pocket, as the wall is of masonry"),
        ("skeleton", "the wall's studs close the pocket"),
    ):
        numbers = [number for number, each in found.frames.items() if each == kind]
        if numbers:
            yield Finding(
                "note",
                "frame",
                f"A {kind} frame is listed at {_all(numbers)}.",
                f"{why}; say otherwise where it is not so",
                "the house's wall and the family's",
            )


def _all(numbers: Sequence[str]) -> str:
    if len(numbers) > 8:
        return f"{len(numbers)} windows"
    return f"window{'s' if len(numbers) > 1 else ''} {', '.join(numbers)}"


def _usual(usual: Sequence[Usual], knowledge: Knowledge, words: Words) -> Iterator[Finding]:
    """Sizes that were not given."""
    by_part: dict[str, list[Usual]] = {}
    for each in usual:
        by_part.setdefault(each.part, []).append(each)
    for key, sizes in by_part.items():
        row = knowledge.find("frame_part", key)
        told = ", ".join(
            f"{_SIZE[each.size]} {words.fine(getattr(row, each.size))}" for each in sizes
        )
        yield Finding(
            "note",
            f"frame.{key.replace('-', '_')}",
            f"{row.name}: {told} is the trade's usual; the specification does not give it.",
            row.note or "a size that no field of the family has",
            f"{row.source} ({row.status})",
        )


_SIZE = {"thickness": "thickness", "width": "width", "extra": "extra length at each end"}


def _sills(found: CutList, knowledge: Knowledge) -> Iterator[Finding]:
    """Wood that the table names in place of the frame's own."""
    row = knowledge.find("frame_part", "sill")
    if row.wood and any(p.species == row.wood and "sill" in p.name for p in found.parts):
        wood = knowledge.find("wood", row.wood)
        yield Finding(
            "note",
            "frame.sill",
            f"Sills are listed in {wood.name.lower()}, the trade's usual: the family names one wood for its "
            "frame.",
            "a sill lies in water more than any other part",
            f"{row.source} ({row.status})",
        )


def _old_glass(found: CutList, knowledge: Knowledge) -> Iterator[Finding]:
    """Glass that nobody makes any more."""
    old = [p for p in found.glass if knowledge.find("glass", p.glass).kind == "old sheet"]
    if old:
        count = sum(pane.count for pane in old)
        yield Finding(
            "note",
            "glass",
            f"{count} panes are of old sheet glass: save the old ones, or cut them from salvaged panes.",
            "it is not made any more; its waves should keep their way",
            "common practice",
        )
