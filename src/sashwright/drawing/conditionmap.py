"""What the survey found, part by part, on the window's own elevation: tinted and hatched by how bad it is.

What cannot be seen from outside stands beside it: the boxes with pulleys, cords and weights to the left
and right, storm sash and screen at half size, and a row of plates for what has no face of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from sashwright.drawing.elevation import elevation
from sashwright.drawing.model import (
    Arc,
    Bounds,
    Drawing,
    Group,
    Item,
    Polygon,
    Polyline,
    Text,
    Vertex,
    bounds_of,
    drawing,
    rectangle,
    walk,
)
from sashwright.drawing.sash import lite_outline
from sashwright.drawing.storm import storm_elevation
from sashwright.knowledge.tables import KnowledgeError
from sashwright.knowledge.work_tables import SEVERITIES
from sashwright.units import INCH
from sashwright.window.components import named, part_words, pieces_of
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.outlines.mullion import SIDES
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed
from sashwright.window.surveyed import Surveyed

Mark = Literal["sound", "slight", "moderate", "severe"]
WASHES: Mapping[Mark, str] = {"slight": "warm-2", "moderate": "warm-3", "severe": "warm-4"}
"""Pens of what is found; the hatch says the same without colour."""
FILLS = frozenset({"wood", "frame", "glass", "metal", "paper", "void"})
SCALE = 0.05

GAP = 2 * INCH
STILE = 3.5 * INCH
BOX = 5.5 * INCH
"""Widths beside the elevation: between things, of a pulley stile seen from the opening, of a box; not to
scale, so that a finger finds them [m]."""
LEAST_COVER = 8 * INCH
"""Where there is none, its place [m]."""
PLATE = (13.5 * INCH, 3.4 * INCH)
"""A plate for a part without a face of its own."""
PLATES = (
    "upper.sash", "upper.putty", "upper.paint", "upper.weatherstrip",
    "lower.sash", "lower.putty", "lower.paint", "lower.weatherstrip", "lower.lock", "lower.lift",
    "frame.frame", "frame.paint", "frame.head", "frame.inside_stop", "frame.stool",
    "frame.inside_casing.left",
    "frame.inside_casing.head", "frame.inside_casing.right", "storm.sash", "storm.paint", "screen.sash",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Told:
    """What is known of one part: the worst of it, and in words."""

    mark: Mark | None = None
    says: str = ""


def told_of(
    placed: Placed, found: Sequence[Surveyed], sound: Iterable[str] = ()
) -> dict[str, Told]:
    """Each part of a window that something is known of, by name.

    Parameters
    ----------
    found
        Findings that hold for the window.
    sound
        Names of parts that were looked at and are sound.
    """
    pieces = pieces_of(placed.layout)
    told = {piece.name: Told("sound", "sound") for name in sound for piece in named(name, pieces)}
    for each in sorted(found, key=lambda one: SEVERITIES.index(one.severity)):
        says = f"{each.fault.name.lower()}, {each.severity}"
        for piece in each.pieces:
            before = told.get(piece.name, Told())
            more = before.says if before.mark != "sound" else ""
            told[piece.name] = Told(each.severity, "; ".join(filter(None, (says, more))))
    return told


def condition_map(
    placed: Placed,
    told: Mapping[str, Told],
    *,
    link: Callable[[str], str] | None = None,
    chosen: str = "",
) -> Drawing:
    """The window with every part that the survey speaks of, each once.

    Parameters
    ----------
    told
        What is known, by the names of :func:`~sashwright.window.components.pieces_of`.
    link
        The address of a part by its name; without it, nothing is a link.
    chosen
        The part, or group of parts, that is outlined in red.
    """
    pieces = pieces_of(placed.layout)
    picked = {piece.name for piece in named(chosen, pieces)} if chosen else set()

    outlined: list[Item] = []

    def shown(name: str, items: Iterable[Item]) -> Group:
        kept = tuple(items)
        if name in picked:
            # Last of all, so that nothing covers it.
            outlined.extend(replace(one, pen="pencil-bold", hatch=None) for one in _outlines(kept))
        return _part(name, kept, told.get(name, Told()), link)

    items: list[Item] = list(_seen(elevation(placed, dimensions=False).items, pieces, shown))
    for which in (placed.layout.upper, placed.layout.lower):
        items.append(_putty(which, told.get(f"{which.which}.putty", Told())))
    seen = bounds_of(items)
    for side, name in SIDES:
        near = GAP + (seen.right if side > 0 else -seen.left)
        items += _box(placed.layout, side, name, near, pieces, shown)
    items += _beside(placed, bounds_of(items), pieces, shown)
    box = bounds_of(items)
    items += _plates([name for name in PLATES if name in pieces], box, shown)
    items.append(Group(tuple(outlined), hidden=True))
    bad = {name: each for name, each in told.items() if each.mark not in (None, "sound")}
    words = "; ".join(f"{part_words(name)}: {each.says}" for name, each in bad.items())
    title = f"Window {placed.window.number}, part by part"
    return drawing(title, f"{words}." if words else "Nothing is found.", items, SCALE)


# --- one part -------------------------------------------------------------------------


def _part(
    name: str, items: tuple[Item, ...], told: Told, link: Callable[[str], str] | None
) -> Group:
    words = part_words(name)
    says = f"{words}: {told.says}" if told.says else words
    drawn = [_tinted(item, told.mark) for item in items]
    if told.mark == "sound":
        drawn.append(_tick(bounds_of(items)))
    return Group(
        tuple(drawn),
        says,
        classes=f"found-{told.mark}" if told.mark else "",
        data=(("part", name),),
        href=link(name) if link else "",
        label=says,
    )


def _outlines(items: Iterable[Item]) -> Iterator[Polygon]:
    return (item for item in walk(items) if isinstance(item, Polygon))


def _tinted(item: Item, mark: Mark | None) -> Item:
    """An item in the wash and hatch of what was found on it."""
    if mark is None or mark == "sound":
        return item
    if isinstance(item, Group):
        return replace(item, items=tuple(_tinted(child, mark) for child in item.items))
    if isinstance(item, Polygon):
        pens = [WASHES[mark] if pen in FILLS else pen for pen in item.pen.split()]
        if WASHES[mark] in pens:
            return replace(item, pen=" ".join(pens), hatch=mark)
    if isinstance(item, Arc):
        return replace(item, pen=item.pen.replace("metal", WASHES[mark]))
    return item


def _tick(box: Bounds) -> Polyline:
    """A tick in the middle of a sound part."""
    x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    step = 0.45 * INCH
    points = ((-1.4, 0.1), (-0.4, -0.9), (1.5, 1.3))
    return Polyline(tuple(Vertex(x + step * dx, y + step * dy) for dx, dy in points), "curve")


# --- what is seen from outside --------------------------------------------------------

Shown = Callable[[str, Iterable[Item]], Group]


def _seen(items: Iterable[Item], pieces: Mapping[str, object], shown: Shown) -> Iterator[Item]:
    """The elevation with each of its parts as a part of the map."""
    for item in items:
        if not isinstance(item, Group):
            yield item
            continue
        name = dict(item.data).get("part", "")
        if name.endswith(".sash"):
            # Its members are parts themselves; a link in a link is none.
            inner = tuple(_seen(item.items, pieces, shown))
            yield replace(item, items=inner, title="", data=())
        elif ".lite." in name and name in pieces:
            yield shown(name, [each for each in item.items if _is_glass(each)])
        elif name in pieces:
            yield shown(name, item.items)
        elif "beside" not in dict(item.data):
            yield replace(item, hidden=True)


def _is_glass(item: Item) -> bool:
    return isinstance(item, Polygon) and "glass" in item.pen


def _putty(sash: SashLayout, told: Told) -> Group:
    """The putty round every lite, mitred at its corners; its plate is what one takes hold of."""
    grown = sash.spec.rabbet_width
    drawn = [_tinted(quad, told.mark) for lite in sash.lites for quad in _ring(lite, grown)]
    return Group(tuple(drawn), data=(("face", f"{sash.which}.putty"),), hidden=True)


def _ring(lite: object, grown: float) -> Iterator[Polygon]:
    if grown <= 0:
        return
    near = lite_outline(lite, 0.0, "").points  # type: ignore[arg-type]
    far = lite_outline(lite, grown, "").points  # type: ignore[arg-type]
    for at in range(len(near)):
        on = (at + 1) % len(near)
        quad = (
            near[at],
            Vertex(near[on].x, near[on].y),
            Vertex(far[on].x, far[on].y, -far[at].bulge),
            Vertex(far[at].x, far[at].y),
        )
        yield Polygon(quad, "fine paper")


# --- the boxes ------------------------------------------------------------------------


def _box(
    layout: WindowLayout,
    side: Literal[-1, 1],
    name: str,
    near: float,
    pieces: Mapping[str, object],
    shown: Shown,
) -> Iterator[Item]:
    """A pulley stile as seen from the opening, and the box behind it, from ``near`` outward [m]."""
    high = layout.head_at_side
    stile, far = near + STILE, near + STILE + BOX

    def upright(left: float, right: float, low: float, top: float, pen: str) -> Polygon:
        ends = sorted((side * left, side * right))
        return rectangle(ends[0], low, ends[1], top, pen)

    yield shown(f"frame.pulley_stile.{name}", [upright(near, stile, 0.0, high, "edge frame")])
    yield shown(f"frame.pocket.{name}", [upright(stile, far, 0.0, high, "edge void")])
    drop = layout.family.hanging.pulley_drop
    wheel = high - drop
    cover = min(max(layout.family.pocket.cover_height, LEAST_COVER), high / 2)
    middle = (near + stile) / 2
    yield shown(
        f"frame.pocket_cover.{name}",
        [upright(near + 0.2 * STILE, stile - 0.2 * STILE, 3 * INCH, 3 * INCH + cover, "edge wood")],
    )
    radius = 1.1 * INCH
    yield shown(
        f"frame.pulley.{name}",
        [
            upright(middle - radius, middle + radius, wheel - radius, wheel + radius, "edge paper"),
            Arc((side * middle, wheel), 0.85 * radius, "edge metal"),
            Arc((side * middle, wheel), 0.2 * radius, "edge"),
        ],
    )
    # With both sash shut the weights of the upper one are down, those of the lower one up.
    for which, place, top in (("upper", 0.3, 0.42), ("lower", 0.72, 0.8)):
        cord, weight = f"{which}.cord.{name}", f"{which}.weight.{name}"
        if cord not in pieces:
            continue
        x = stile + place * BOX
        head = top * high
        yield shown(cord, [upright(x - 0.35 * INCH, x + 0.35 * INCH, head, wheel, "edge paper")])
        low = max(head - 0.34 * high, 2 * INCH)
        yield shown(
            weight, [upright(x - 0.9 * INCH, x + 0.9 * INCH, low, head, "edge metal-far metal")]
        )


# --- storm sash and screen ------------------------------------------------------------


def _beside(
    placed: Placed, box: Bounds, pieces: Mapping[str, object], shown: Shown
) -> Iterator[Item]:
    """Storm sash and screen to the right, at half size, one below the other."""
    left, top = box.right + GAP, placed.layout.head_at_side
    whole: tuple[Literal["storm", "screen"], ...] = ("storm", "screen")
    for piece in whole:
        if f"{piece}.sash" not in pieces:
            continue
        try:
            drawn = storm_elevation(placed, piece=piece, dimensions=False)
        except (LayoutError, KnowledgeError):
            continue
        inner = drawn.bounds
        gathered: dict[str, list[Item]] = {}
        for item in drawn.items:
            name = dict(item.data).get("part", "") if isinstance(item, Group) else ""
            if name in pieces and isinstance(item, Group):
                gathered.setdefault(name, []).extend(
                    each for each in item.items if isinstance(each, Polygon)
                )
        move = (left - inner.left / 2, top - inner.top / 2)
        yield from (_halved(each, move) for each in _outlines(_others(drawn.items, pieces)))
        for name, items in gathered.items():
            yield shown(name, [_halved(each, move) for each in items if isinstance(each, Polygon)])
        yield Text((left + inner.width / 4, top), piece, "note", shift=(0.0, 1.0))
        top -= inner.height / 2 + 2.5 * GAP


def _others(items: Iterable[Item], pieces: Mapping[str, object]) -> Iterator[Item]:
    """Parts that the survey does not speak of."""
    for item in items:
        if isinstance(item, Group) and dict(item.data).get("part", "") not in pieces:
            yield item


def _halved(item: Polygon, move: tuple[float, float]) -> Polygon:
    points = tuple(Vertex(x / 2 + move[0], y / 2 + move[1], bulge) for x, y, bulge in item.points)
    # The cloth's own hatch would read as a fault.
    pen = "edge void" if item.hatch else item.pen
    return Polygon(points, pen)


# --- plates ---------------------------------------------------------------------------


def _plates(names: Sequence[str], box: Bounds, shown: Shown) -> Iterator[Item]:
    """A plate for each of these, in rows below the drawing."""
    wide, high = PLATE
    room = max(int((box.width + 0.4 * GAP) // (wide + 0.4 * GAP)), 1)
    wide = (box.width + 0.4 * GAP) / room - 0.4 * GAP
    for at, name in enumerate(names):
        row, column = divmod(at, room)
        left = box.left + column * (wide + 0.4 * GAP)
        top = box.bottom - GAP - row * (high + 0.4 * GAP)
        plate = rectangle(left, top - high, left + wide, top, "edge paper")
        words = Text(
            (left + wide / 2, top - high / 2), _short(name), "note halo", 2.2, shift=(0.0, -0.8)
        )
        yield shown(name, [plate, words])


def _short(name: str) -> str:
    """As on a plate: ``inside casing, left``."""
    words = part_words(name)
    for long, short in (("Inside casing", "In. casing"), ("weatherstrip", "strip")):
        words = words.replace(long, short)
    return words


# --- the key --------------------------------------------------------------------------

KEY: Mapping[Mark | None, str] = {
    None: "nothing found",
    "sound": "looked at, sound",
    "slight": "slight",
    "moderate": "moderate",
    "severe": "severe",
}
"""What the tints and hatches mean."""
_KEY_TICK = ((-0.0014, 0.0001), (-0.0004, -0.0009), (0.0015, 0.0013))


def swatch(mark: Mark | None) -> Drawing:
    """A patch of wood in the tint and hatch of a mark, for a key."""
    items = [_tinted(rectangle(0.0, 0.0, 0.008, 0.005, "edge wood"), mark)]
    if mark == "sound":
        points = tuple(Vertex(0.004 + dx, 0.0025 + dy) for dx, dy in _KEY_TICK)
        items.append(Polyline(points, "curve"))
    return drawing(KEY[mark].capitalize(), "Patch of a key.", items, 1.0)
