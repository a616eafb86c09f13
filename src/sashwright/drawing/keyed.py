"""A window's condition map for paper: only what findings are on, each with its number beside it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from sashwright.drawing.conditionmap import PLATES
from sashwright.drawing.model import (
    Bounds,
    Callouts,
    Drawing,
    Group,
    Item,
    Point,
    bounds_of,
    drawing,
)

OFFSET = 4.0
"""Of the numbers from the drawing [paper mm]."""
SIZE = 3.6
"""Of the numbers [paper mm]: looked for from the table below."""
BOXED = frozenset({"pulley_stile", "pocket", "pocket_cover", "pulley", "cord", "weight"})
Wanted = Mapping[str, Sequence[str]]
"""Names of parts by the number that stands for them."""


def keyed(shown: Drawing, wanted: Wanted) -> Drawing:
    """A condition map with numbers in columns beside it, each with a leader to its parts.

    Plates, boxes, storm sash and screen are left out where nothing is found on them.
    """
    names = {name for parts in wanted.values() for name in parts}
    kept = [item for item in shown.items if _stays(item, names)]
    bounds = bounds_of(kept)
    notes: dict[Point, list[str]] = {}
    places = dict(_places(kept))
    for number, parts in wanted.items():
        for name in _few([name for name in parts if name in places]):
            notes.setdefault(places[name], []).append(number)
    return drawing(shown.title, shown.description, [*kept, *_columns(notes, bounds)], shown.scale)


def _stays(item: Item, names: set[str]) -> bool:
    if not isinstance(item, Group):
        # The words over storm sash and screen.
        return any(name.partition(".")[0] in ("storm", "screen") for name in names)
    name = dict(item.data).get("part", "")
    owner = name.partition(".")[0]
    if owner in ("storm", "screen"):
        return any(each.partition(".")[0] == owner for each in names)
    if name in PLATES:
        return name in names
    if _boxed(name):
        return any(_boxed(each) for each in names)
    return True


def _boxed(name: str) -> bool:
    """Whether a part stands in the boxes beside the elevation."""
    words = name.split(".")
    return bool(BOXED & set(words))


def _few(names: Sequence[str]) -> Sequence[str]:
    """One leader for a single part, two for many."""
    return names if len(names) < 3 else (names[0], names[-1])


def _places(items: Iterable[Item], dx: float = 0.0, dy: float = 0.0) -> Iterator[tuple[str, Point]]:
    """The middle of each part by name."""
    for item in items:
        if not isinstance(item, Group):
            continue
        x, y = dx + item.shift[0], dy + item.shift[1]
        name = dict(item.data).get("part")
        if name:
            box = bounds_of(item.items)
            yield name, _middle(name, box, x, y)
        yield from _places(item.items, x, y)


def _middle(name: str, box: Bounds, dx: float, dy: float) -> Point:
    """A point on the part; of those that run round an opening, one of its left leg."""
    x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    if name in ("frame.parting_bead", "frame.blind_stop", "frame.inside_stop"):
        x = box.left
    elif name.endswith("cross_bars"):
        x = box.left + box.width / 4
    return x + dx, y + dy


def _columns(notes: Mapping[Point, Sequence[str]], bounds: Bounds) -> Iterator[Callouts]:
    """Numbers left and right, the nearer side first, as many on the one as on the other."""
    middle = (bounds.left + bounds.right) / 2
    told = sorted(
        ((at, ", ".join(numbers)) for at, numbers in notes.items()), key=lambda each: each[0]
    )
    left = [each for each in told if each[0][0] < middle - 0.05 * bounds.width]
    right = [each for each in told if each[0][0] > middle + 0.05 * bounds.width]
    for each in told:
        if each not in left and each not in right:
            (left if len(left) < len(right) else right).append(each)
    if left:
        yield Callouts("left", bounds.left, OFFSET, tuple(left), SIZE)
    if right:
        yield Callouts("right", bounds.right, OFFSET, tuple(right), SIZE)
