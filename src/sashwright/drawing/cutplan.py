"""A board as it goes under the saw: strips, cuts with their kerfs, knots hatched, marks on every part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from string import ascii_letters
from typing import Any

from sashwright import units
from sashwright.drawing.model import Drawing, Group, Item, Line, Text, drawing, rectangle
from sashwright.drawing.paper import text_width

SCALE = 1 / 24
"""Of lengths along the board."""
ACROSS = 2.0
"""Widths are drawn so many times larger, so that a narrow strip can be read."""
SMALL, LEAST = 2.2, 1.6
"""Lettering of a part's mark, and the least to which a short part may shrink it [mm]."""
KEY, KEY_LINE = 2.1, 110.0
"""Lettering of the key below a board, and how long a line of it may always be [mm]."""
FOOT = 0.3048


def board_drawing(
    row: Mapping[str, Any], system: units.System = "us", scale: float = SCALE
) -> Drawing:
    """One board of a cutting plan (a row of ``boards`` in the answer ``cut``).

    Lengths are to ``scale``, widths twice as large. The marked end is on the left; the rule below reads
    from it.
    """
    length, width = row["length_m"], row["width_m"] * ACROSS
    k = 1000 * scale
    key: list[str] = []
    items = [
        rectangle(0.0, 0.0, length, width, "rough"),
        *_strips(row, system, k, key),
        *_offcuts(row, k),
        *(_defect(start, end, width) for start, end in row["defects_m"]),
        rectangle(0.0, 0.0, length, width, "outline"),
        Group(tuple(_rule(length, system, k)), classes="rule", hidden=True),
        Group(tuple(_key(key, max(length * k, KEY_LINE))), classes="key", hidden=True),
    ]
    return drawing(f"Board {row['piece']}", _says(row, system), items, scale)


def long(metres: float, system: units.System) -> str:
    """A length along a board, bare: to 1/16 inch or a millimetre."""
    nearest = 16 if system == "us" else 1.0
    return units.format_length(metres, system, nearest=nearest, marks=False)


def _says(row: Mapping[str, Any], system: units.System) -> str:
    """The plan in words: strip by strip, from the marked end."""
    strips = []
    for at, strip in enumerate(row["strips"], 1):
        cuts = ", ".join(
            f"{cut['label']} {long(cut['to_m'] - cut['from_m'], system)}" for cut in strip["cuts"]
        )
        strips.append(f"strip {at}, {long(strip['far_m'] - strip['near_m'], system)} wide: {cuts}")
    size = f"{long(row['width_m'], system)} by {long(row['length_m'], system)}"
    unit = "inches" if system == "us" else "mm"
    return f"{size} {unit}; {'; '.join(strips) or 'nothing is cut from it'}."


def _strips(
    row: Mapping[str, Any], system: units.System, k: float, key: list[str]
) -> Iterator[Item]:
    """Parts strip by strip; what their own lettering cannot say goes into ``key``."""
    letters = iter(ascii_letters)
    for strip in row["strips"]:
        low, high = strip["near_m"] * ACROSS, strip["far_m"] * ACROSS
        for cut in strip["cuts"]:
            # A part narrower than its strip is ripped again; the rest stays blank.
            top = min(low + cut["width_m"] * ACROSS, high)
            box = (cut["from_m"], low, cut["to_m"], top)
            figure = long(cut["to_m"] - cut["from_m"], system)
            text = _lettering(cut["label"], figure, box, k)
            if text is None:
                letter = next(letters, "*")
                size = min(LEAST, max((top - low) * k - 0.3, 1.0))
                text = Text(_middle(box), letter, "figure", size, shift=(0.0, -0.34 * size))
                key.append(f"{letter}: {_short(cut['label'])} {figure}")
            elif figure not in text.text:
                key.append(f"{text.text} {figure}")
            yield Group(
                (rectangle(*box, "wood fine-outline"), text),
                f"{cut['label']}, {figure}",
                classes="cutpart",
            )
        for edge in (low, high):
            if 0 < edge < row["width_m"] * ACROSS:
                yield Line((strip["from_m"], edge), (strip["to_m"], edge), "edge")


Box = tuple[float, float, float, float]


def _lettering(label: str, figure: str, box: Box, k: float) -> Text | None:
    """As much of a part's label as it has room for, along it or up it; nothing where not even its mark."""
    left, low, right, high = box
    room, height = (right - left) * k - 1.0, (high - low) * k - 0.5
    short = _short(label)
    for text in (f"{label}  {figure}", f"{short}  {figure}", short):
        size = min(SMALL, height)
        wide = text_width(text, 1.0)
        if wide * size > room:
            size = room / wide
        if size >= LEAST:
            return Text(_middle(box), text, "figure", size, shift=(0.0, -0.34 * size))
    if text_width(short, LEAST) <= height + 0.4 and room + 1.0 >= LEAST:
        return Text(_middle(box), short, "figure", LEAST, angle=90.0, shift=(0.34 * LEAST, 0.0))
    return None


def _short(label: str) -> str:
    """The mark of a part, without its name."""
    mark, _, name = label.partition("-")
    return f"{mark}-{name.partition(' ')[0]}" if name else label


def _middle(box: Box) -> tuple[float, float]:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def _key(entries: Sequence[str], room: float) -> Iterator[Text]:
    """What is too short to be written on, in lines below the rule."""
    lines: list[str] = []
    # Parts alike are told once.
    for entry in dict.fromkeys(entries):
        longer = f"{lines[-1]};  {entry}" if lines else entry
        if lines and text_width(longer, KEY) <= room:
            lines[-1] = longer
        else:
            lines.append(entry)
    for at, line in enumerate(lines):
        yield Text((0.0, 0.0), line, "figure", KEY, "start", shift=(0.0, -7.6 - 2.9 * at))


def _offcuts(row: Mapping[str, Any], k: float) -> Iterator[Item]:
    for piece in row["offcuts"]:
        low, high = piece["near_m"] * ACROSS, piece["far_m"] * ACROSS
        start, end = piece["from_m"], piece["to_m"]
        yield rectangle(start, low, end, high, "paper fine-outline")
        if (high - low) * k > LEAST and text_width("keep", LEAST) < (end - start) * k:
            size = min(SMALL, (high - low) * k)
            at = ((start + end) / 2, (low + high) / 2)
            yield Text(at, "keep", "pencil-note", size, shift=(0.0, -0.34 * size))


def _defect(start: float, end: float, width: float) -> Item:
    return rectangle(start, 0.0, end, width, "amiss pencil", "metal")


def _rule(length: float, system: units.System, k: float) -> Iterator[Item]:
    """Feet, or half metres, from the marked end."""
    step = FOOT if system == "us" else 0.5
    for at in range(int(length / step + 1e-6) + 1):
        x = at * step
        below = -(1.2 if at % 2 else 2.0) / k
        yield Line((x, 0.0), (x, below), "faint")
        if at % 2 == 0 and at:
            text = f"{at}'" if system == "us" else f"{x:g} m"
            yield Text((x, below), text, "figure", 2.0, shift=(0.0, -2.2))
