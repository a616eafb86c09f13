"""Photographs as pages show them: captions, what is drawn on them, and the parts they can be of."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.urls import reverse
from django.utils import timezone

from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.record import store
from sashwright.record.attached.photo import Mark
from sashwright.record.store import PhotographRow
from sashwright.window.components import part_words, pieces_of
from sashwright.window.resolve import Placed, place_each

LONGEST = 1000
"""Units along the longer side of a picture, in which its marks are drawn."""
SHOWN_FINDING = 60


@dataclass(frozen=True, slots=True)
class Card:
    """A photograph in a list."""

    row: PhotographRow
    page: str
    small: str
    part: str
    when: datetime

    @property
    def about(self) -> str:
        """What a reader hears who does not see it."""
        whose = f"of window {self.row.window}" if self.row.window else "of the house"
        of = ", ".join(filter(None, (f"Photograph {whose}", self.part.lower())))
        return f"{of}: {self.row.note[:80]}" if self.row.note else of


@dataclass(frozen=True, slots=True)
class Album:
    """The photographs of one window, or of the house."""

    title: str
    window: str
    cards: Sequence[Card]


@dataclass(frozen=True, slots=True)
class Drawn:
    """One mark, in the units of the picture: an outline, and its words with their place."""

    kind: str
    path: str
    text: str
    x: float
    y: float
    anchor: str


@dataclass(frozen=True, slots=True)
class Naming:
    """A finding of the window, and whether it names the photograph."""

    index: int
    says: str
    names: bool


def card(slug: str, row: PhotographRow) -> Card:
    page = reverse("photograph", args=[slug, row.key])
    small = reverse("photograph-picture", args=[slug, row.key, "small"])
    part = part_words(row.component) if row.component else ""
    return Card(row, page, small, part, timezone.localtime(row.taken_at or row.at))


def albums(slug: str, rows: Iterable[PhotographRow]) -> list[Album]:
    """By window in the order of the house, the house itself first, removed windows last."""
    numbers = store.window_numbers(slug)
    cards = [card(slug, row) for row in rows]
    found = [Album("The house", "", [each for each in cards if each.row.window is None])]
    here = [each for each in cards if each.row.window is not None and not each.row.window_gone]
    for number in numbers:
        mine = [each for each in here if each.row.window == number]
        found.append(Album(f"Window {number}", number, mine))
    found.append(Album("Windows no longer there", "", [c for c in cards if c.row.window_gone]))
    return [album for album in found if album.cards]


def parts_of(slug: str, number: str, knowledge: Knowledge) -> list[tuple[str, str]]:
    """Names of a window's parts with their words; none where its sizes contradict each other."""
    try:
        _, placed = next(place_each(store.load_for_window(slug, number), knowledge, [number]))
    except KnowledgeError:
        return []
    if not isinstance(placed, Placed):
        return []
    return [(name, part_words(name)) for name in pieces_of(placed.layout)]


def namings(slug: str, row: PhotographRow) -> list[Naming]:
    """The findings of a photograph's window; those on its part first."""
    if row.window is None or row.window_gone:
        return []
    found = [
        Naming(index, _finding(each), row.key in each.get("photos", ()))
        for index, each in enumerate(store.findings_of(slug, row.window))
    ]
    part = part_words(row.component) if row.component else ""
    return sorted(found, key=lambda each: not (part and each.says.startswith(part)))


def _finding(found: store.Document) -> str:
    fault = str(found["fault"]).replace("-", " ")
    return f"{part_words(found['on'])}: {fault}"[:SHOWN_FINDING]


# --- what is drawn on it ----------------------------------------------------------------


def sheet_of(row: PhotographRow) -> tuple[float, float]:
    """Width and height of the sheet that marks are drawn on."""
    longest = max(row.width, row.height)
    return round(LONGEST * row.width / longest, 1), round(LONGEST * row.height / longest, 1)


def drawn(row: PhotographRow) -> list[Drawn]:
    """All marks of a photograph."""
    wide, high = sheet_of(row)
    return [_drawn(mark, wide, high) for mark in row.marks]


def _drawn(mark: Mark, wide: float, high: float) -> Drawn:
    points = [(x * wide, y * high) for x, y in mark.points]
    (x, y), last = points[0], points[-1]
    path = ""
    if mark.kind == "ring":
        radius = max(math.dist(points[0], last), 0.02 * LONGEST)
        path = _ring(points[0], radius)
        # Its words stand on its rim.
        y -= radius
    elif mark.kind != "words":
        path = "M" + "L".join(_at(point) for point in points)
        if mark.kind == "arrow" and len(points) > 1:
            path += _head(points[-2], last)
    # Words near the right rim run to the left of their place.
    anchor = "end" if x > 0.7 * wide else "start"
    return Drawn(mark.kind, path, mark.text, round(x, 1), round(max(y - 12, 30), 1), anchor)


def _ring(middle: tuple[float, float], radius: float) -> str:
    x, y = middle
    r = f"{radius:.1f}"
    return f"M{x - radius:.1f} {y:.1f}a{r} {r} 0 1 0 {2 * radius:.1f} 0a{r} {r} 0 1 0 {-2 * radius:.1f} 0"


def _head(before: tuple[float, float], tip: tuple[float, float]) -> str:
    turn = math.atan2(tip[1] - before[1], tip[0] - before[0])
    ends = [
        (tip[0] - 26 * math.cos(turn + side), tip[1] - 26 * math.sin(turn + side))
        for side in (0.5, -0.5)
    ]
    return f"M{_at(ends[0])}L{_at(tip)}L{_at(ends[1])}"


def _at(point: tuple[float, float]) -> str:
    return f"{point[0]:.1f} {point[1]:.1f}"
