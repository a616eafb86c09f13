"""What a drawing needs on paper at a given scale: lettering, dimension lines, leaders, and extent.

Everything here is in paper millimetres, y up, with the model's origin at (0, 0).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from sashwright.drawing.model import (
    Anchor,
    Bounds,
    Callouts,
    Chain,
    Dimension,
    Drawing,
    Group,
    Item,
    Point,
    Text,
)

MARGIN = 2.5
LETTERING = 2.4
LINE_SPACING = 3.6
TICK = 0.9
GAP = 1.2
OVERSHOOT = 1.4
CLEAR = 0.9
"""Round the sheet; height of figures; between callouts; half a tick; before and beyond an extension
line; between a dimension line and its figure [mm]."""
TICK_ROOM = 1.6
BETWEEN_FIGURES = 1.0
"""What a figure needs beyond its width between two ticks, and from another beside it [mm]."""

FRACTION = re.compile(r"(?:(\d+) )?(\d+)/(\d+)")
FRACTION_SIZE = 0.72
"""Size of a fraction's figures against the whole number's."""


class Stroke(NamedTuple):
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    pen: str


class Lettering(NamedTuple):
    """A line of text; ``angle`` [degrees] counter-clockwise."""

    x: float
    y: float
    text: str
    pen: str
    size: float
    anchor: Anchor
    angle: float = 0.0


class Dot(NamedTuple):
    """Where a leader ends."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Marks:
    """The strokes, dots and letters that stand for one dimension or column of callouts."""

    strokes: tuple[Stroke, ...]
    letters: tuple[Lettering, ...]
    dots: tuple[Dot, ...] = ()


# --- lettering ------------------------------------------------------------------------------------

_NARROW = frozenset(" .,:;'’|!ijlI()[]/ft-")
_WIDE = frozenset("mwMWGOQ—@%&")


def text_width(text: str, size: float) -> float:
    """Length of a line of lettering [mm], near enough for laying out; errs to the long side."""
    width = 0.0
    at = 0
    for match in FRACTION.finditer(text):
        width += _plain_width(text[at : match.start()])
        whole, top, bottom = match.groups()
        width += _plain_width(whole or "")
        width += FRACTION_SIZE * (_plain_width(top + bottom)) + 0.30
        at = match.end()
    return (width + _plain_width(text[at:])) * size


def _plain_width(text: str) -> float:
    width = 0.0
    for letter in text:
        if letter in _NARROW:
            width += 0.32
        elif letter in _WIDE:
            width += 0.86
        else:
            width += 0.66 if letter.isupper() else 0.55
    return width


def lettering_of(item: Text, k: float) -> Lettering | None:
    """A text at ``k`` millimetres a metre; nothing where it has no room."""
    if item.room is not None and text_width(item.text, item.size) > item.room * k:
        return None
    x, y = item.at[0] * k + item.shift[0], item.at[1] * k + item.shift[1]
    return Lettering(x, y, item.text, item.pen, item.size, item.anchor, item.angle)


def letters_box(letters: Lettering) -> Bounds:
    """The upright rectangle round a line of lettering."""
    width = text_width(letters.text, letters.size)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[letters.anchor]
    turn = math.radians(letters.angle)
    cos, sin = math.cos(turn), math.sin(turn)
    low, high = -0.28 * letters.size, 0.85 * letters.size
    corners = [(start, low), (start + width, low), (start + width, high), (start, high)]
    xs = [letters.x + x * cos - y * sin for x, y in corners]
    ys = [letters.y + x * sin + y * cos for x, y in corners]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


# --- dimensions -----------------------------------------------------------------------------------


def dimension_marks(item: Dimension, k: float) -> Marks:
    """Extension lines, dimension line, ticks and figure.

    The figure stands above the line, or reads from the right of an upright one; where the space
    between the ticks is too short for it, it goes just past the end.
    """
    upright = item.axis == "y"
    # Laid out as if level: "along" the dimension and "across" it.
    a0, c0 = _turned(item.start, upright, k)
    a1, c1 = _turned(item.end, upright, k)
    if a1 < a0:
        a0, c0, a1, c1 = a1, c1, a0, c0
    line = (item.start[0] if upright else item.start[1]) * k + item.offset
    width = text_width(item.text, LETTERING)
    fits = figure_fits(item.text, a1 - a0)
    flat = [
        *_extension(a0, c0, line),
        *_extension(a1, c1, line),
        (a0, line, a1 if fits else a1 + 1.0 + width, line, item.pen),
        *((a - TICK, line - TICK, a + TICK, line + TICK, _tick(item.pen)) for a in (a0, a1)),
    ]
    # An upright figure reads from the right, so it stands on the left of its line.
    away = -CLEAR if upright else CLEAR
    at = (a0 + a1) / 2 if fits else a1 + 1.4
    strokes = tuple(_stroke(*piece, upright=upright) for piece in flat)
    x, y = (line + away, at) if upright else (at, line + away)
    pen = "pencil-note" if "pencil" in item.pen else "figure"
    figure = Lettering(
        x, y, item.text, pen, LETTERING, "middle" if fits else "start", 90.0 if upright else 0.0
    )
    return Marks(strokes, (figure,))


def figure_fits(text: str, length: float) -> bool:
    """Whether a figure stands between two ticks so far apart [mm]."""
    return text_width(text, LETTERING) + TICK_ROOM <= length


def chain_marks(item: Chain, k: float) -> list[Marks]:
    """Marks of each link: figures that do not fit between their ticks are set clear of each other.

    They stand on the outer side of the line, past the ends of the extension lines, each with a
    leader to the middle of its own link.
    """
    marks = [dimension_marks(link, k) for link in item.links]
    wide = [index for index, link in enumerate(item.links) if not _link_fits(link, k)]
    middles = [(item.links[i].start[0] + item.links[i].end[0]) * k / 2 for i in wide]
    widths = [text_width(item.links[i].text, LETTERING) for i in wide]
    for index, middle, x in zip(wide, middles, abreast(middles, widths), strict=True):
        marks[index] = _figure_outside(item.links[index], marks[index], k, middle, x)
    return marks


def _link_fits(link: Dimension, k: float) -> bool:
    return figure_fits(link.text, abs(link.end[0] - link.start[0]) * k)


def _figure_outside(link: Dimension, marks: Marks, k: float, middle: float, x: float) -> Marks:
    line = link.start[1] * k + link.offset
    if link.offset > 0:
        # Above the figures that fit, which stand over the line.
        foot = near = line + CLEAR + 0.85 * LETTERING + 0.7
    else:
        foot = line - OVERSHOOT - 0.4 - 0.85 * LETTERING
        near = foot + 0.85 * LETTERING
    figure = _moved(marks.letters[0], x, foot)
    ends = sorted((link.start[0] * k, link.end[0] * k))
    strokes = [
        # Without the run that would carry a figure past the end.
        Stroke(ends[0], line, ends[1], line, s.pen) if s.y1 == s.y2 == line else s
        for s in marks.strokes
    ]
    leader = Stroke(middle, line, x, near, "leader")
    return replace(marks, strokes=(*strokes, leader), letters=(figure,))


def _moved(letters: Lettering, x: float, y: float) -> Lettering:
    """The same words about another middle."""
    return letters._replace(x=x, y=y, anchor="middle")


def abreast(wanted: Sequence[float], widths: Sequence[float]) -> list[float]:
    """Middles as near the wanted ones as can be, in their order, with figures clear of each other."""
    if not wanted:
        return []
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    steps = [0.0]
    for before, after in pairwise(order):
        steps.append(steps[-1] + (widths[before] + widths[after]) / 2 + BETWEEN_FIGURES)
    blocks: list[list[float]] = []
    for place, index in enumerate(order):
        blocks.append([wanted[index] - steps[place]])
        while len(blocks) > 1 and _mean(blocks[-1]) < _mean(blocks[-2]):
            blocks[-2].extend(blocks.pop())
    levels = [_mean(block) for block in blocks for _ in block]
    found = {index: levels[place] + steps[place] for place, index in enumerate(order)}
    return [found[index] for index in range(len(wanted))]


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)


def _tick(pen: str) -> str:
    return "pencil" if "pencil" in pen else "tick"


def _turned(point: Point, upright: bool, k: float) -> Point:
    return (point[1] * k, point[0] * k) if upright else (point[0] * k, point[1] * k)


def _extension(
    along: float, start: float, line: float
) -> Iterator[tuple[float, float, float, float, str]]:
    sign = 1.0 if line >= start else -1.0
    if abs(line - start) > GAP:
        yield along, start + sign * GAP, along, line + sign * OVERSHOOT, "dim"


def _stroke(x1: float, y1: float, x2: float, y2: float, pen: str, *, upright: bool) -> Stroke:
    return Stroke(y1, x1, y2, x2, pen) if upright else Stroke(x1, y1, x2, y2, pen)


# --- callouts -------------------------------------------------------------------------------------


def callout_marks(item: Callouts, k: float) -> Marks:
    """Names in a column, kept apart, with leaders that do not cross."""
    sign = 1.0 if item.side == "right" else -1.0
    column = item.base * k + sign * item.offset
    notes = sorted(item.notes, key=lambda note: (-note[0][1], note[0][0]))
    targets = [(x * k, y * k) for (x, y), _ in notes]
    heights = _spread([y for _, y in targets], LINE_SPACING * item.size / LETTERING)
    strokes: list[Stroke] = []
    letters: list[Lettering] = []
    for (x, y), height, (_, name) in zip(targets, heights, notes, strict=True):
        elbow = column - sign * 2.4
        strokes.append(Stroke(column - sign * 0.7, height, elbow, height, "leader"))
        strokes.append(Stroke(elbow, height, x, y, "leader"))
        anchor: Anchor = "start" if sign > 0 else "end"
        low = height - item.size / 3
        letters.append(Lettering(column, low, name, "note", item.size, anchor))
    return Marks(tuple(strokes), tuple(letters), tuple(Dot(x, y) for x, y in targets))


def _spread(wanted: list[float], apart: float) -> list[float]:
    """Heights as near the wanted ones (falling) as can be, no two nearer than ``apart``.

    Neighbours that would touch are set as one block about the mean of what they want.
    """
    blocks: list[list[float]] = []
    for height in wanted:
        blocks.append([height])
        while len(blocks) > 1 and _top(blocks[-1], apart) > _bottom(blocks[-2], apart) - apart:
            blocks[-2].extend(blocks.pop())
    return [_top(block, apart) - index * apart for block in blocks for index in range(len(block))]


def _top(block: list[float], apart: float) -> float:
    return sum(block) / len(block) + (len(block) - 1) * apart / 2


def _bottom(block: list[float], apart: float) -> float:
    return _top(block, apart) - (len(block) - 1) * apart


# --- extent ---------------------------------------------------------------------------------------


def extent(drawing: Drawing, k: float) -> Bounds:
    """The sheet that the drawing needs at ``k`` millimetres a metre, a small margin included."""
    boxes = [Bounds(*(edge * k for edge in drawing.bounds)), *_boxes(drawing.items, k)]
    return Bounds(
        min(box.left for box in boxes) - MARGIN,
        min(box.bottom for box in boxes) - MARGIN,
        max(box.right for box in boxes) + MARGIN,
        max(box.top for box in boxes) + MARGIN,
    )


def _boxes(items: Iterable[Item], k: float) -> Iterator[Bounds]:
    for item in items:
        match item:
            case Text():
                letters = lettering_of(item, k)
                if letters is not None:
                    yield letters_box(letters)
            case Dimension():
                yield from _marks_boxes(dimension_marks(item, k))
            case Chain():
                for marks in chain_marks(item, k):
                    yield from _marks_boxes(marks)
            case Callouts():
                yield from _marks_boxes(callout_marks(item, k))
            case Group():
                dx, dy = item.shift[0] * k, item.shift[1] * k
                for box in _boxes(item.items, k):
                    yield Bounds(box.left + dx, box.bottom + dy, box.right + dx, box.top + dy)
            case _:
                pass


def _marks_boxes(marks: Marks) -> Iterator[Bounds]:
    for x1, y1, x2, y2, _ in marks.strokes:
        yield Bounds(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
    for letters in marks.letters:
        yield letters_box(letters)
