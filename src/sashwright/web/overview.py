"""A house at a glance: a row for each window, looked for, sorted and stood along its walls."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache

from django.urls import reverse
from django.utils.safestring import SafeString

from sashwright import units
from sashwright.chapters.answer import LEVELS, Level
from sashwright.drawing.thumbnail import Stamp, wall_strip
from sashwright.papers.words import Words
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.web import pictures, present
from sashwright.web.asking import Asked, ask_each
from sashwright.web.present import SashFigures
from sashwright.window.resolve import Placed
from sashwright.window.spec import House, Window

SORTS = {
    "": "As surveyed",
    "number": "Number",
    "room": "Room",
    "wall": "Wall",
    "storey": "Storey",
    "family": "Family",
    "size": "Size",
    "weight": "Weight",
    "finding": "Findings",
}


@dataclass(frozen=True)
class Row:
    """A window in the schedule; it keeps no more of the answers than it shows."""

    window: Window
    placed: Placed | None
    level: Level
    says: str
    """The gravest finding, in its own words."""
    figures: tuple[SashFigures, ...]
    weight: float
    """Of the lower sash, for sorting [kg]."""
    size: str
    lites: str

    @property
    def number(self) -> str:
        return self.window.number

    @property
    def small(self) -> SafeString:
        return pictures.small(self.placed, self.number)

    @property
    def text(self) -> str:
        window = self.window
        words = (window.number, window.room, window.wall, window.family, window.note)
        return " ".join(words).casefold()


@dataclass(frozen=True)
class Wanted:
    """What the reader of the schedule looks for, and in which order."""

    text: str = ""
    family: str = ""
    wall: str = ""
    storey: str = ""
    level: str = ""
    sort: str = ""
    down: bool = False

    @classmethod
    def of(cls, query: Mapping[str, str]) -> Wanted:
        names = ("text", "family", "wall", "storey", "level")
        given = {name: query.get(name, "").strip()[:100] for name in names}
        sort = query.get("sort", "")
        down = sort.startswith("-")
        sort = sort.removeprefix("-")
        return cls(**given, sort=sort if sort in SORTS else "", down=down)

    @property
    def narrows(self) -> bool:
        return any((self.text, self.family, self.wall, self.storey, self.level))

    def takes(self, row: Row) -> bool:
        window = row.window
        return (
            all(word in row.text for word in self.text.casefold().split())
            and self.family in ("", window.family)
            and self.wall in ("", window.wall)
            and self.storey in ("", str(window.storey))
            and (not self.level or _reaches(row.level, self.level))
        )

    def sorted(self, rows: list[Row]) -> list[Row]:
        if not self.sort:
            return rows
        return sorted(rows, key=lambda row: _key(row, self.sort), reverse=self.down)


def _reaches(worst: str, level: str) -> bool:
    order: tuple[str, ...] = LEVELS
    if level == "ok":
        return worst == "ok"
    return level in order and order.index(worst) >= order.index(level)


def _key(row: Row, sort: str) -> tuple[object, ...]:
    window = row.window
    order: tuple[str, ...] = LEVELS
    return {
        "number": (natural(window.number),),
        "room": (window.room.casefold(), natural(window.number)),
        "wall": (window.wall, window.storey, natural(window.number)),
        "storey": (window.storey, window.wall, natural(window.number)),
        "family": (window.family, natural(window.number)),
        "size": (window.width * window.height,),
        "weight": (row.weight,),
        "finding": (-order.index(row.level), natural(window.number)),
    }[sort]


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """A key that puts 9 before 10, and both before a door."""
    pieces: list[tuple[int, int, str]] = []
    run = ""
    for letter in text + "\0":
        if run and (run[-1].isdigit() != letter.isdigit() or letter == "\0"):
            pieces.append((0, int(run), "") if run.isdigit() else (1, 0, run.casefold()))
            run = ""
        run += letter
    return tuple(pieces)


# --- put together -----------------------------------------------------------------

_MOST_KEPT = 10_000
_kept: dict[tuple[object, ...], Row] = {}
"""Rows by all that they depend on, so that a change costs the rows it touches and no others."""


def rows_of(slug: str, system: units.System) -> tuple[Row, ...]:
    """A row for each window of a house; read again only when something in the house changes."""
    return _rows(slug, store.changed_at(slug), system, id(knowledge()))


@lru_cache(maxsize=4)
def _rows(slug: str, changed: datetime, system: units.System, tables: int) -> tuple[Row, ...]:
    house = store.load_house(slug)
    keys = _keys(house, system, tables)
    wanted = [number for number, key in keys.items() if key not in _kept]
    if len(_kept) + len(wanted) > _MOST_KEPT:
        _kept.clear()
        wanted = list(keys)
    asked = ask_each(house, wanted, knowledge(), system)
    fresh = {each.window.number: _row(each) for each in asked}
    rows = tuple(fresh.get(number) or _kept[key] for number, key in keys.items())
    _kept.update((keys[number], row) for number, row in fresh.items())
    return rows


def _keys(house: House, system: units.System, tables: int) -> dict[str, tuple[object, ...]]:
    """For each window all that its row depends on: itself, its family, those it stands beside."""
    families = {key: family.model_dump_json() for key, family in house.families.items()}
    by_number = {window.number: window for window in house.windows}
    right_of = {window.beside: window for window in house.windows if window.beside}
    keys: dict[str, tuple[object, ...]] = {}
    for number, window in by_number.items():
        near = (window, by_number.get(window.beside or ""), right_of.get(number))
        known = tuple(each and (each, families.get(each.family)) for each in near)
        keys[number] = (known, system, tables)
    return keys


def _row(asked: Asked) -> Row:
    window, words, answer = asked.window, Words(asked.system), asked.hang
    found = present.sorted_findings(answer.findings)
    lites = ""
    if asked.placed is not None:
        layout = asked.placed.layout
        grids = (layout.upper.spec.lites, layout.lower.spec.lites)
        lites = " over ".join(f"{grid.columns}×{grid.rows}" for grid in grids)
    return Row(
        window,
        # A fresh copy: the parts and masses worked out for the answer are not kept.
        asked.placed and replace(asked.placed),
        answer.worst,
        found[0].says if found and found[0].level != "ok" else "",
        tuple(present.figures(answer, asked.knowledge, words)),
        (answer.values.get("lower") or {}).get("weight_each_kg", 0.0),
        f"{words.opening(window.width * 1000)} × {words.opening(window.height * 1000)}",
        lites,
    )


@dataclass(frozen=True)
class WallStrip:
    """The windows of one wall, as seen from outside."""

    name: str
    faces: str
    count: int
    svg: SafeString
    left_out: tuple[str, ...]
    """Numbers of windows that cannot be drawn, as their sizes contradict each other."""


def walls(slug: str, rows: Iterable[Row], faces: Mapping[str, str]) -> list[WallStrip]:
    """A strip for each wall that has windows, in the order of the house's walls."""
    by_wall: dict[str, list[Row]] = {wall: [] for wall in faces}
    for row in rows:
        by_wall.setdefault(row.window.wall, []).append(row)
    return [_strip(slug, wall, found, faces) for wall, found in by_wall.items() if found]


def stamped_walls(
    slug: str, placed: Mapping[str, Placed], stamps: Mapping[str, Stamp], faces: Mapping[str, str]
) -> list[WallStrip]:
    """The same of windows that are written over, each leading to what it needs."""
    by_wall: dict[str, list[Placed]] = {wall: [] for wall in faces}
    for each in placed.values():
        by_wall.setdefault(each.window.wall, []).append(each)
    strips = []
    for wall, found in by_wall.items():
        if not found:
            continue
        links = {each.window.number: _treat_address(slug, each.window.number) for each in found}
        drawing = wall_strip(found, f"{wall} wall".capitalize(), links=links, stamps=stamps)
        picture = pictures.svg(drawing, f"treat-{wall}")
        strips.append(WallStrip(wall, faces.get(wall, ""), len(found), picture, ()))
    return strips


def _treat_address(slug: str, number: str) -> str:
    return f"{reverse('window', args=[slug, number])}#part-treat"


def _strip(slug: str, wall: str, rows: list[Row], faces: Mapping[str, str]) -> WallStrip:
    placed = [row.placed for row in rows if row.placed is not None]
    drawing = wall_strip(
        placed,
        f"{wall} wall".capitalize(),
        classes={row.number: f"finding-{row.level}" for row in rows},
        links={row.number: reverse("window", args=[slug, row.number]) for row in rows},
    )
    return WallStrip(
        wall,
        faces.get(wall, ""),
        len(rows),
        pictures.svg(drawing, f"wall-{wall}"),
        tuple(row.number for row in rows if row.placed is None),
    )
