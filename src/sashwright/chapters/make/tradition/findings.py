"""What a tradition would have, and what had to give way: advice, never a rule."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from sashwright.chapters.answer import Finding, Level
from sashwright.chapters.make.tradition.build import Making
from sashwright.chapters.make.tradition.opening import HAIR
from sashwright.chapters.make.tradition.pattern import NEAR, Fitted
from sashwright.chapters.make.tradition.sizes import NAMES, Given
from sashwright.chapters.words import Words
from sashwright.knowledge.rows import Row
from sashwright.knowledge.tradition_tables import BoxPlace, SizeName
from sashwright.units import INCH

ON: dict[SizeName, str] = {
    "thickness": "upper", "stile": "upper.stile", "top-rail": "upper.top_rail",
    "meeting-rail": "lower.meeting_rail", "bottom-rail": "lower.bottom_rail", "muntin": "upper.muntin",
    "horn": "upper.stile", "sill": "frame.sill", "head": "frame.head", "casing": "frame.casing",
    "parting-bead": "frame.parting_bead", "inside-stop": "frame.inside_stop", "pocket": "pocket",
    "blind-stop": "frame.blind_stop", "pulley-stile": "frame.pulley_stile",
}  # fmt: skip
"""The part of the window that a size is of, where it has one that is drawn."""
PROFILE: frozenset[SizeName] = frozenset(
    {"rabbet-width", "rabbet-depth", "moulding-width", "moulding-depth"}
)
REBATE = 0.25 * INCH
"""Masonry behind the reveal is cut back at least this much more than the box asks [m]; judgement."""


def findings_of(
    making: Making, box: BoxPlace, fitted: Fitted, given: Given, words: Words
) -> Iterator[Finding]:
    yield _lites(fitted, words)
    yield from _moved(making, fitted, given, words)
    yield from _head(making, fitted)
    yield from _masonry(making, box, fitted, words)
    yield from _wood(making)
    yield from _glass(making, fitted)
    yield from _horns(fitted)
    yield from _bias(making, fitted)
    yield _memory(making, fitted)


def _source(row: Row) -> str:
    return row.source if row.status in row.source else f"{row.source} ({row.status})"


def _lites(fitted: Fitted, words: Words) -> Finding:
    built, row = fitted.built, fitted.row
    size = " by ".join(words.length(each) for each in built.lite)
    below = " in the lower sash" if built.told_by.which == "lower" else ""
    what = f"{built.pattern.says}, with lites {size}{below}"
    if row is None:
        return Finding(
            "note", "upper.lites", f"{what}.", "this pattern is none of the tradition's", ""
        )
    times = f"{built.ratio:.2f} times as high as wide"
    usual = f"usual {row.ratio_usual:.2f}, found from {row.ratio_low:.2f} to {row.ratio_high:.2f}"
    width = built.way.width
    if not fitted.within:
        return Finding(
            "caution",
            "upper.lites",
            f"{what}, are {times}, which the tradition does not have: take another pattern, or "
            "another tradition.",
            usual,
            _source(row),
        )
    if not row.width_low - HAIR <= width <= row.width_high + HAIR:
        between = f"{words.length(row.width_low)} to {words.length(row.width_high)}"
        return Finding(
            "note",
            "upper.lites",
            f"{what}, are {times}; the pattern was usual in sash openings {between} wide, and this is "
            f"{words.length(width)}.",
            usual,
            _source(row),
        )
    level: Level = "ok" if abs(fitted.off) <= NEAR else "note"
    return Finding(level, "upper.lites", f"{what}, are {times}.", usual, _source(row))


def _moved(making: Making, fitted: Fitted, given: Given, words: Words) -> Iterator[Finding]:
    """Sizes that are not as usual, and why."""
    sizes = fitted.built.sizes
    for name in NAMES:
        row, size = sizes.rows[name], sizes[name]
        if abs(size - row.usual) <= HAIR:
            continue
        usual = f"usual {words.fine(row.usual)}, found from {words.fine(row.low)} to {words.fine(row.high)}"
        what = f"{row.name.partition(',')[0]} {words.fine(size)}"
        on = ON.get(name, "tradition")
        if name in given.sizes:
            outside = ", which the tradition does not have" if sizes.outside(name) else ""
            yield Finding("note", on, f"{what} was asked for{outside}.", usual, _source(row))
        elif name == "pocket":
            yield Finding(
                "note",
                on,
                f"{what}, as no weight goes into the usual one.",
                usual,
                _source(row),
            )
        elif name in PROFILE:
            yield Finding(
                "note",
                on,
                f"{what}, drawn in so that muntin and sash hold together.",
                usual,
                _source(row),
            )
        else:
            yield Finding(
                "note",
                on,
                f"{what} gives way, so that the lites come nearer to their usual proportion.",
                f"{usual}; with every size as usual they would be {fitted.before:.2f} times as high as wide",
                _source(row),
            )


def _head(making: Making, fitted: Fitted) -> Iterator[Finding]:
    shape, heads = fitted.built.window.head.shape, making.tradition.heads
    if shape not in heads:
        yield Finding(
            "note",
            "frame.head",
            f"The head follows the opening; the tradition would have it {' or '.join(heads)}.",
            "an arched opening asks for an arched sash, or for a board over a square one",
            _source(making.tradition),
        )


def _masonry(making: Making, box: BoxPlace, fitted: Fitted, words: Words) -> Iterator[Finding]:
    if making.opening.kind != "masonry":
        return
    sizes = fitted.built.sizes
    usual = making.tradition.box
    if box == "behind":
        lining = float(making.knowledge.find("frame_part", "back-lining").thickness or 0.0)
        far = sizes["pulley-stile"] + fitted.built.family.pocket.across + lining
        cut = max(far - sizes["reveal"], 0.0) + REBATE
        yield Finding(
            "note",
            "pocket",
            f"The box stands behind the outer reveal, so the masonry must be {words.length(cut)} wider at "
            "each side behind it: measure there, and over the head.",
            f"the box is {words.length(far)} deep beside the sash opening, and "
            f"{words.fine(sizes['reveal'])} of that shows",
            _source(sizes.rows["reveal"]),
        )
    if box != usual:
        yield Finding(
            "note",
            "pocket",
            f"The box stands {box} the opening's masonry; the tradition would have it {usual}.",
            "behind: only a margin of it shows; within: all of it does",
            _source(making.tradition),
        )
    yield Finding(
        "note",
        "frame",
        "The frame is a box with linings: list it so when parts are cut.",
        "masonry has no studs to close the weight pocket",
        "frame chapter of the cutting list",
    )


def _wood(making: Making) -> Iterator[Finding]:
    row = making.knowledge.wood[making.wood]
    usual = making.knowledge.find("wood", making.tradition.wood)
    if row.key != usual.key:
        yield Finding(
            "note",
            "wood",
            f"The sash are of {row.name.lower()}, where {usual.name.lower()} was usual.",
            "paint hides the difference; movement, weight and durability it does not",
            _source(making.tradition),
        )


def _glass(making: Making, fitted: Fitted) -> Iterator[Finding]:
    panes = fitted.built.family.sash.glazing.panes
    if panes != making.tradition.panes:
        now = making.knowledge.find("glass", panes[0]).name
        yield Finding(
            "note",
            "upper.glass",
            f"The lites are glazed with {now[:1].lower()}{now[1:]}: single thick glass was not used so "
            "large.",
            "habit: single thick glass up to about 28 by 34 in",
            "Cyclopedia of Architecture, Carpentry and Building; no wind design",
        )


def _horns(fitted: Fitted) -> Iterator[Finding]:
    row, horn = fitted.built.sizes.rows["horn"], fitted.built.sizes["horn"]
    if horn and not row.high:
        yield Finding(
            "note",
            "upper.stile",
            "Horns are later than this tradition.",
            "the meeting rail was dovetailed or bridled into the stile",
            _source(row),
        )


def _bias(making: Making, fitted: Fitted) -> Iterator[Finding]:
    bias = fitted.built.family.hanging.bias
    if bias == making.tradition.bias:
        return
    usual, taken = (making.knowledge.find("bias", key) for key in (making.tradition.bias, bias))
    yield Finding(
        "note",
        "upper.weight",
        f"Weights are by another habit than the usual one: {taken.name[:1].lower()}{taken.name[1:]}.",
        f"by the usual one ({usual.name[:1].lower()}{usual.name[1:]}) a sash would move by itself",
        "hang chapter: balance of forces",
    )


def _memory(making: Making, fitted: Fitted) -> Finding:
    rows: list[Row] = [*fitted.built.sizes.rows.values(), making.tradition]
    if fitted.row is not None:
        rows.append(fitted.row)
    count = Counter(row.status for row in rows)
    told = ", ".join(f"{number} {status}" for status, number in count.most_common())
    return Finding(
        "note",
        "tradition",
        "This is what was usual, not what stood in this house: measure a window of the same age nearby "
        "before anything is cut.",
        f"of the {len(rows)} rows it is drawn from: {told}",
        "tables of the traditions",
    )
