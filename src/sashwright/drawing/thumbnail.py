"""Small clean elevations: one for a schedule, or a whole wall of a house storey by storey."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sashwright.drawing.frame import Frame
from sashwright.drawing.model import (
    Drawing,
    Group,
    Hatch,
    Item,
    Line,
    Polygon,
    Text,
    bounds_of,
    drawing,
    rectangle,
)
from sashwright.drawing.sash import lite_outline, sash_outline
from sashwright.drawing.shade import shade_under
from sashwright.window.layout import SashLayout
from sashwright.window.outlines.mullion import SIDES, mullion_width, neighbour
from sashwright.window.resolve import Placed

SILL_ABOVE_FLOOR = 0.66
"""Where the survey gives no height of the sill above the floor [m]; 26 in is usual."""
LEAST_STOREY = 2.75
"""From floor to floor where nothing tells [m]."""
BETWEEN = 0.55
"""Between windows whose places along the wall are not known [m]."""
HEAD_ROOM = 0.45
"""Least from the head of a casing to the next floor [m]."""


def thumbnail(placed: Placed) -> Drawing:
    """A window from outside without lettering."""
    window = placed.window
    lites = [sash.spec.lites for sash in (placed.layout.upper, placed.layout.lower)]
    over = " over ".join(str(grid.columns * grid.rows) for grid in lites)
    return drawing(f"Window {window.number}", f"{over} lites", _small(placed), 0.025)


def _small(placed: Placed) -> list[Item]:
    layout = placed.layout
    frame = Frame(layout)
    upper, lower = layout.upper, layout.lower
    foot = frame.sill_height(frame.casing_out)
    far = [_far(placed, frame, index) for index in (0, 1)]
    casing: list[Item] = []
    if layout.family.frame.casing_width:
        casing = [
            *(frame.leg(side, frame.casing_edge, far[i], foot, "fine-outline frame")
              for i, (side, _) in enumerate(SIDES)),
            _head(frame, far),
        ]  # fmt: skip
    return [
        *casing,
        *_sill(frame, far),
        frame.outline(min(frame.casing_edge, 0.0), 0.0, "fine-outline wood"),
        sash_outline(lower, "small wood"),
        *_glass(lower),
        sash_outline(upper, "small wood"),
        *_glass(upper),
        shade_under(frame, upper.face - frame.blind_out, upper.bottom),
    ]


def _far(placed: Placed, frame: Frame, index: int) -> float:
    """Outer edge of the casing; half way over a mullion, so that two windows meet there."""
    side = SIDES[index][0]
    if neighbour(placed, side) is None:
        return frame.casing_far
    return mullion_width(placed, side) / 2


def _head(frame: Frame, far: Sequence[float]) -> Polygon:
    if frame.layout.head_arc is not None:
        return frame.head(frame.casing_edge, frame.casing_far, "fine-outline frame")
    half = frame.layout.window.width / 2
    low, high = frame.crown(frame.casing_edge), frame.crown(frame.casing_far)
    return rectangle(-half - far[0], low, half + far[1], high, "fine-outline frame")


def _sill(frame: Frame, far: Sequence[float]) -> Iterator[Polygon]:
    half = frame.layout.window.width / 2
    nose = frame.sill_height(frame.sill_nose)
    foot = nose - frame.sill_drop
    yield rectangle(-half - far[0], foot, half + far[1], 0.0, "fine-outline frame")


def _glass(sash: SashLayout) -> Iterator[Polygon]:
    return (lite_outline(lite, 0.0, "small glass") for lite in sash.lites)


@dataclass(frozen=True, slots=True)
class Stamp:
    """What is written over a small window: a letter, on a wash with a hatch, and what it says."""

    letter: str
    says: str
    pen: str = ""
    hatch: Hatch | None = None


def stamp_swatch(stamp: Stamp) -> Drawing:
    """A patch with a stamp on it, for a key."""
    items: list[Item] = [rectangle(0.0, 0.0, 0.008, 0.006, "edge wood")]
    if stamp.pen:
        items.append(rectangle(0.0, 0.0, 0.008, 0.006, f"edge {stamp.pen}", stamp.hatch))
    items.append(Text((0.004, 0.003), stamp.letter, "title halo", 3.4, shift=(0.0, -1.2)))
    return drawing(stamp.says.capitalize(), "Patch of a key.", items, 1.0)


# --- a wall ---------------------------------------------------------------------------------------


def wall_strip(
    windows: Sequence[Placed],
    title: str = "",
    *,
    classes: Mapping[str, str] | None = None,
    links: Mapping[str, str] | None = None,
    stamps: Mapping[str, Stamp] | None = None,
) -> Drawing:
    """The windows of one wall, seen from outside, each storey above the one below.

    Parameters
    ----------
    windows
        Windows of one wall; placed by ``along`` where all of a storey have it, else evenly.
    classes
        Class names by window number, such as ``finding-fail``.
    links
        Addresses by window number.
    stamps
        What is written over windows by number.
    """
    classes, links, stamps = classes or {}, links or {}, stamps or {}
    storeys = sorted({placed.window.storey for placed in windows})
    floors = _floors(windows, storeys)
    groups: list[Item] = []
    for storey in storeys:
        row = [placed for placed in windows if placed.window.storey == storey]
        for placed, x in _along(row):
            at = (x, _sill_level(placed, floors[storey]))
            groups.append(_one(placed, at, classes, links, stamps))
    numbers = ", ".join(placed.window.number for placed in windows)
    lines = list(_floor_lines(groups, floors)) if groups else []
    name = title or (f"{windows[0].window.wall} wall" if windows else "wall")
    words = f"Elevations of {len(windows)} windows, storey by storey: {numbers}."
    return drawing(name, words if windows else "No windows yet.", [*lines, *groups], 0.02)


def _one(
    placed: Placed,
    at: tuple[float, float],
    classes: Mapping[str, str],
    links: Mapping[str, str],
    stamps: Mapping[str, Stamp],
) -> Group:
    number = placed.window.number
    stamp = stamps.get(number)
    frame = Frame(placed.layout)
    foot = frame.sill_height(frame.sill_nose) - frame.sill_drop
    label = Text((0.0, foot), number, "figure", size=2.8, shift=(0.0, -3.4))
    return Group(
        (*_small(placed), *(_stamped(frame, stamp) if stamp else ()), label),
        f"window {number}: {stamp.says}" if stamp else f"window {number}",
        id=f"window-{number}",
        classes=f"window {classes.get(number, '')}".strip(),
        data=(("number", number),),
        shift=at,
        href=links.get(number, ""),
    )


def _stamped(frame: Frame, stamp: Stamp) -> Iterator[Item]:
    if stamp.pen:
        yield replace(frame.outline(0.0, 0.0, stamp.pen), hatch=stamp.hatch)
    middle = frame.layout.window.height / 2
    yield Text((0.0, middle), stamp.letter, "title halo", 6.0, shift=(0.0, -2.1))


def _sill_level(placed: Placed, floor: float) -> float:
    above = placed.window.sill_above_floor
    return floor + (SILL_ABOVE_FLOOR if above is None else above)


def _floors(windows: Sequence[Placed], storeys: Sequence[int]) -> dict[int, float]:
    """Height of each storey's floor: one upon the other, high enough for its windows [m]."""
    floors: dict[int, float] = {}
    level = 0.0
    for storey in storeys:
        floors[storey] = level
        reach = [
            _sill_level(placed, 0.0) + Frame(placed.layout).crown(0.0) + _casing_top(placed)
            for placed in windows
            if placed.window.storey == storey
        ]
        level += max(LEAST_STOREY, max(reach) + HEAD_ROOM)
    return floors


def _casing_top(placed: Placed) -> float:
    return max(Frame(placed.layout).casing_far, 0.0)


def _along(row: Sequence[Placed]) -> Iterator[tuple[Placed, float]]:
    """Each window of a storey with the place of its middle along the wall [m]."""
    places = [placed.window.along for placed in row]
    if all(place is not None for place in places):
        yield from ((placed, place or 0.0) for placed, place in zip(row, places, strict=True))
        return
    edge = 0.0
    before: Placed | None = None
    for placed in _in_order(row):
        half = placed.window.width / 2
        casing = Frame(placed.layout).casing_far
        if before is not None and before.window.number == placed.window.beside:
            x = edge - Frame(before.layout).casing_far + mullion_width(placed, -1) + half
        else:
            x = edge + (BETWEEN if before is not None else 0.0) + casing + half
        yield placed, x
        edge = x + half + casing
        before = placed


def _in_order(row: Sequence[Placed]) -> Iterator[Placed]:
    """As they come, but a window right after the one it stands beside."""
    after = {placed.window.beside: placed for placed in row if placed.window.beside}
    numbers = {placed.window.number for placed in row}
    for placed in row:
        if placed.window.beside in numbers:
            continue
        following: Placed | None = placed
        while following is not None:
            yield following
            following = after.get(following.window.number)


def _floor_lines(groups: Sequence[Item], floors: Mapping[int, float]) -> Iterator[Line]:
    box = bounds_of(groups)
    for level in floors.values():
        yield Line((box.left - 0.25, level), (box.right + 0.25, level), "grid")
