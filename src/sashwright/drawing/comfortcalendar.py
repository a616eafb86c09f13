"""A year's comfort, day by day and hour by hour: comfortable, too warm, too cool, told by hatch as well.

Days run to the right, hours upward. Where most occupied rooms are too warm, level strokes stand; where
most are too cool, upright ones.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.drawing.axes import LETTERING, Field, month_starts
from sashwright.drawing.model import Drawing, Group, Item, Line, Text, drawing, rectangle
from sashwright.drawing.paper import text_width
from sashwright.physics.hourly_year import DAYS, MONTH_NAMES

WIDTH, HEIGHT = 0.084, 0.038
HOURS = (0, 6, 12, 18, 24)
APART = 3
"""Days from one upright stroke to the next."""
LOOKS: Mapping[str, tuple[str, str]] = {
    "comfortable": ("comfortable", "wood"),
    "warm": ("too warm", "warm-3"),
    "cool": ("too cool", "cool"),
}
"""Name and pen of each kind of hour."""

Grid = Sequence[Sequence[float | None]]
Kinds = list[list[str]]


def comfort_calendar(values: Mapping[str, Any], title: str = "") -> Drawing:
    """The year of a plan.

    Parameters
    ----------
    values
        ``plan``, its name; ``share`` of the occupied rooms that are comfortable and ``hot`` of those
        that are too warm, both 365 rows of 24, None where nothing is judged.
    """
    kinds = kinds_of(values["share"], values["hot"])
    plan = values["plan"]
    name = title or f"Comfort through the year, {plan}"
    return drawing(name, describe(kinds), _items(kinds, plan), 1.0)


def kinds_of(share: Grid, hot: Grid) -> Kinds:
    """What most occupied rooms are in each hour, 365 rows of 24; empty where nothing is judged."""
    return [
        [_kind(a, b) for a, b in zip(day, hots, strict=True)]
        for day, hots in zip(share, hot, strict=True)
    ]


def _kind(share: float | None, hot: float | None) -> str:
    if share is None:
        return ""
    warm = hot or 0.0
    if share >= max(warm, 1.0 - share - warm):
        return "comfortable"
    return "warm" if warm >= 1.0 - share - warm else "cool"


def describe(kinds: Kinds) -> str:
    """The hours of each kind, in words."""
    counts = counts_of(kinds)
    total = sum(counts.values())
    if not total:
        return "No hour is judged."
    said = ", ".join(f"{count} {LOOKS[kind][0]}" for kind, count in counts.items())
    return f"Of {total} hours with people in the rooms, by what most rooms are: {said}."


def counts_of(kinds: Kinds) -> dict[str, int]:
    return {kind: sum(day.count(kind) for day in kinds) for kind in LOOKS}


def _items(kinds: Kinds, plan: str) -> Iterator[Item]:
    first, last = _months(kinds)
    ends = [*month_starts(), DAYS]
    field = Field(0.0, 0.0, WIDTH, HEIGHT, (ends[first], ends[last + 1]), (0.0, 24.0))
    for kind in LOOKS:
        yield Group(tuple(_cells(field, kinds, kind)), LOOKS[kind][0], classes=f"zone {kind}")
    yield Group(tuple(_level_strokes(field, kinds)), classes="strokes", hidden=True)
    yield Group(tuple(_upright_strokes(field, kinds)), classes="strokes", hidden=True)
    yield Group(tuple(_axes(field, first, last)), classes="axes", hidden=True)
    yield Text(
        (field.left, field.top),
        plan[:1].upper() + plan[1:],
        "title",
        2.9,
        "start",
        shift=(0.0, 1.6),
    )
    yield Group(tuple(_key(field, counts_of(kinds))), classes="key", hidden=True)


def _cells(field: Field, kinds: Kinds, kind: str) -> Iterator[Item]:
    """Rectangles over days whose stretches of this kind are alike."""
    going: dict[tuple[int, int], int] = {}
    for day in range(DAYS + 1):
        runs = set(_runs(kinds[day], kind)) if day < DAYS else set()
        for run in [run for run in going if run not in runs]:
            first = going.pop(run)
            yield rectangle(
                field.x(first), field.y(run[0]), field.x(day), field.y(run[1]), LOOKS[kind][1]
            )
        for run in sorted(runs - set(going)):
            going[run] = day


def _runs(row: Sequence[str], kind: str) -> Iterator[tuple[int, int]]:
    start = None
    for at, each in enumerate([*row, ""]):
        if each == kind and start is None:
            start = at
        elif each != kind and start is not None:
            yield start, at
            start = None


def _level_strokes(field: Field, kinds: Kinds) -> Iterator[Item]:
    for hour in range(24):
        for first, last in _runs([day[hour] for day in kinds], "warm"):
            y = field.y(hour + 0.5)
            yield Line((field.x(first), y), (field.x(last), y), "fine")


def _upright_strokes(field: Field, kinds: Kinds) -> Iterator[Item]:
    for day in range(0, DAYS, APART):
        for first, last in _runs(kinds[day], "cool"):
            x = field.x(day + 0.5)
            yield Line((x, field.y(first)), (x, field.y(last)), "fine")


def _months(kinds: Kinds) -> tuple[int, int]:
    """The first and the last month that are shown, from 0: all of them where nothing is judged."""
    days = [day for day, row in enumerate(kinds) if any(row)]
    if not days:
        return 0, 11
    starts = month_starts()
    return tuple(max(m for m in range(12) if starts[m] <= day) for day in (days[0], days[-1]))  # type: ignore[return-value]


def _axes(field: Field, first: int, last: int) -> Iterator[Item]:
    ends = [*month_starts(), DAYS]
    short = 9 if last - first < 5 else 3 if last - first < 9 else 1
    for month in range(first, last + 2):
        x = field.x(ends[month])
        yield Line((x, field.bottom), (x, field.bottom - 0.0010), "axis")
        if month <= last:
            middle = (field.x(ends[month + 1]) + x) / 2
            name = MONTH_NAMES[month][:short]
            yield Text((middle, field.bottom), name, "figure", LETTERING, shift=(0.0, -3.9))
    yield rectangle(field.left, field.bottom, field.right, field.top, "axis")
    for hour in HOURS:
        y = field.y(hour)
        yield Line((field.left, y), (field.left - 0.0010, y), "axis")
        if 0 < hour < 24:
            yield Line((field.left, y), (field.right, y), "grid")
        yield Text((field.left, y), f"{hour}:00", "figure", 2.3, "end", shift=(-1.6, -0.8))


def _key(field: Field, counts: Mapping[str, int]) -> Iterator[Item]:
    total = max(sum(counts.values()), 1)
    foot = field.bottom - 0.0096
    x = field.left
    box = (0.0044, 0.0026)
    for kind, (name, pen) in LOOKS.items():
        yield rectangle(x, foot, x + box[0], foot + box[1], f"{pen} edge")
        if kind == "warm":
            for share in (0.3, 0.7):
                yield Line((x, foot + share * box[1]), (x + box[0], foot + share * box[1]), "fine")
        if kind == "cool":
            for share in (0.25, 0.5, 0.75):
                yield Line((x + share * box[0], foot), (x + share * box[0], foot + box[1]), "fine")
        text = f"{name} {100 * counts[kind] / total:.0f} %"
        yield Text((x, foot), text, "note", LETTERING, "start", shift=(5.4, 0.3))
        x += text_width(text, LETTERING) / 1000 + 0.0082
