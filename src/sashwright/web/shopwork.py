"""What goes through the shop, ready for the board, the telephone at a tag, and the pages of orders."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe

from sashwright.chapters.answer import Answer
from sashwright.chapters.days import said
from sashwright.chapters.make.capacity import capacity
from sashwright.chapters.make.stages import WAITING, stages
from sashwright.chapters.make.standing import Standing, stand
from sashwright.chapters.make.tracks import PIECES, PieceName, Track, tracks_of
from sashwright.chapters.make.wanted import Wrong
from sashwright.drawing.piecesmall import piece_small
from sashwright.knowledge.keeping_tables import STAGE_NAMES
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.record.stages import Mark, contents_mark, houses_in_work
from sashwright.web import pictures
from sashwright.window.spec import House

TITLES: Mapping[str, str] = {
    WAITING: "In the house", **{name: name.capitalize() for name in STAGE_NAMES},
}  # fmt: skip
BRIEF = (WAITING, "hung")
"""Columns in which a tag is enough: they fill up with what is not on a bench."""
LARGE, SMALL = 0.055, 0.03
"""Scales of the picture at a tag and on a card of the board."""


@dataclass(frozen=True)
class InShop:
    """A house with the ways of its pieces; kept until anything but a stage changes in it."""

    house: House
    tracks: Mapping[str, Sequence[Track]]
    wrong: Wrong

    def track(self, number: str, piece: str) -> Track | None:
        return next((each for each in self.tracks.get(number, ()) if each.piece == piece), None)


def in_shop(slug: str) -> InShop:
    """Raises ``NotThere``."""
    return _in_shop(slug, contents_mark(slug), id(knowledge()))


@lru_cache(maxsize=32)
def _in_shop(slug: str, contents: Mark, tables: int) -> InShop:
    house = store.load_house(slug)
    return InShop(house, *tracks_of(house, knowledge()))


def today() -> str:
    """The date in the shop."""
    return timezone.localdate().isoformat()


def stages_of(slug: str, numbers: Sequence[str] | None = None) -> Answer:
    """Where everything of a house stands today. Raises ``NotThere``."""
    shop = in_shop(slug)
    return stages(
        shop.house,
        knowledge(),
        numbers,
        moves=store.moves_of(slug),
        today=today(),
        tracks=(shop.tracks, shop.wrong),
    )


# --- the board ------------------------------------------------------------------------


@dataclass(frozen=True)
class Card:
    """One piece on the board."""

    number: str
    piece: str
    name: str
    house: str
    slug: str
    address: str
    svg: SafeString
    late: bool
    ready: bool
    line: str
    """What is next, or what it waits for."""
    since: str


@dataclass(frozen=True)
class Column:
    """All pieces at one stage."""

    stage: str
    title: str
    brief: bool
    cards: tuple[Card, ...]


def board(slugs: Sequence[str]) -> tuple[list[Column], dict[str, int]]:
    """The columns of one house or of several, with how many are late, ready and resting."""
    cards: dict[str, list[Card]] = {name: [] for name in TITLES}
    counts = {"late": 0, "ready": 0, "waiting": 0}
    for slug in slugs:
        answer = stages_of(slug)
        for name in counts:
            counts[name] += len(answer.values[name])
        for stage, card in _cards(slug, answer):
            cards[stage].append(card)
    columns = [
        Column(stage, title, stage in BRIEF, tuple(sorted(cards[stage], key=_urgent)))
        for stage, title in TITLES.items()
    ]
    return columns, counts


def everywhere() -> list[str]:
    """Houses of which something is in work."""
    return houses_in_work()


def _urgent(card: Card) -> tuple[bool, bool]:
    """Late ones first, then what can go on; equals as they come."""
    return not card.late, not card.ready


def _cards(slug: str, answer: Answer) -> Iterator[tuple[str, Card]]:
    shop = in_shop(slug)
    rows = {each.number: each.values.get("pieces", {}) for each in answer.windows}
    for stage, places in answer.values["columns"].items():
        for place in places:
            number, piece = place["number"], place["piece"]
            track, row = shop.track(number, piece), rows[number][piece]
            if track is None:
                continue
            drawn = mark_safe("") if stage in BRIEF else small(track, f"card-{slug}")
            yield stage, Card(
                number, piece, row["name"], shop.house.name, slug, scan_address(slug, number, piece),
                drawn, row["late"], row["ready"], next_line(row), since_line(row),
            )  # fmt: skip


def next_line(row: Mapping[str, Any]) -> str:
    """What a card says of the next stage."""
    if row["next"] is None:
        return "Done"
    if row["ready"]:
        return f"Next: {row['next']}"
    return f"{row['next'].capitalize()} from {short(row['next_from'])}"


def since_line(row: Mapping[str, Any]) -> str:
    """How long it has stood there."""
    if row["since"] is None:
        return ""
    days = row["days"]
    return "since today" if not days else f"for {days} day{'' if days == 1 else 's'}"


def short(date: str) -> str:
    """``15 Aug``."""
    day, month, _ = said(date).split()
    return f"{day} {month[:3]}"


def small(track: Track, prefix: str, scale: float = SMALL) -> SafeString:
    """The picture of a piece in its window."""
    drawn = piece_small(track.placed, track.piece)
    return pictures.svg(drawn, f"{prefix}-{track.number}-{track.piece}", scale=scale)


# --- the weeks ahead ------------------------------------------------------------------


def weeks_ahead(slugs: Sequence[str]) -> Answer | None:
    """The hours that are left against those of the shop; None where the shop names no hours."""
    hours = store.load_shop().hours
    if not any(hours.values()):
        return None
    several = len(slugs) > 1
    standings: dict[str, list[Standing]] = {}
    for slug in slugs:
        shop, moves = in_shop(slug), store.moves_of(slug)
        for number, tracks in shop.tracks.items():
            name = f"{shop.house.name}, {number}" if several else number
            standings[name] = [stand(track, moves) for track in tracks]
    house = "All houses" if several else in_shop(slugs[0]).house.name if slugs else ""
    return capacity(house, standings, hours, today=today())


# --- at a tag -------------------------------------------------------------------------


def scan_name(number: str, piece: str) -> str:
    """How a tag's address calls a piece: ``104-upper``."""
    return f"{number}-{piece}"


def scan_address(slug: str, number: str, piece: str) -> str:
    return reverse("scan", args=[slug, scan_name(number, piece)])


def piece_named(name: str) -> tuple[str, PieceName] | None:
    """Number and piece of such a name; None where it is none."""
    number, _, piece = name.rpartition("-")
    found = next((each for each in PIECES if each == piece), None)
    return (number, found) if number and found else None
