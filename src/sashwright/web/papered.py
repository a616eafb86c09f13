"""Papers of a house in the record: what they are made from, and the last ones made, for preview and print."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache, partial
from pathlib import Path

from django.urls import reverse

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.papers.job import take
from sashwright.papers.lists import lists
from sashwright.papers.packet import Composed, Section, Wanted, compose
from sashwright.papers.photos import Photo
from sashwright.papers.press import Paper
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.record.jobs import jobs_elsewhere
from sashwright.record.needed import needed
from sashwright.web import shopwork, stocked, yearly
from sashwright.web.views.keeping import keep_of

DOTS = 76.0
"""Of a page's picture, to the inch: read on a screen, not printed."""
SHOWS_PHOTOGRAPHS: frozenset[Section] = frozenset({"condition", "treatment"})
_ONE_AT_A_TIME = threading.Lock()
"""A packet can be seconds of work: whoever asks for the same meanwhile waits, and finds it made."""


@dataclass(frozen=True, slots=True)
class Choice:
    """Which papers of which house, as anybody may ask for them."""

    slug: str
    system: units.System
    paper: Paper
    parts: tuple[Section, ...]
    numbers: tuple[str, ...]
    """Windows; all of the house where none is named."""
    today: date
    base_url: str
    what: str = ""
    """What the cutting plans make at every window; what was decided on where not said."""


def composed(choice: Choice) -> Composed:
    """The papers before they are printed; made again only when something in the house or shop changes.

    Raises ``ValueError`` for a number that no window has.
    """
    with _ONE_AT_A_TIME:
        return _composed(choice, *_state(choice.slug))


def pages(choice: Choice) -> list[bytes]:
    """Their pages as pictures (PNG)."""
    with _ONE_AT_A_TIME:
        return _pages(choice, *_state(choice.slug))


def workbook(slug: str, system: units.System, today: date) -> bytes:
    """The lists of a house (XLSX)."""
    house = store.load_house(slug)
    job = take(house, knowledge(), system, None, jobs_elsewhere(slug))
    return lists(
        job, today, revision(slug), ordered=_ordered(slug, system), kept=keep_of(slug, system)
    )


def _ordered(slug: str, system: units.System) -> Answer:
    """What is to be ordered, stock and orders counted."""
    return needed(slug, system, shopwork.in_shop(slug).house)


def revision(slug: str) -> str:
    """Which edition of the house papers are set from."""
    return str(store.change_count(slug))


def _state(slug: str) -> tuple[datetime, int, int, int]:
    """What papers depend on besides the choice: the house, what moved in the shop, the shop, the tables."""
    moved = max((row.id for row in store.stages(slug)), default=0)
    return store.changed_at(slug), moved, store.stored_shop().version, id(knowledge())


def _whole(choice: Choice, part: Section) -> bool:
    """Whether a part is asked for that the record knows more of, for the house as a whole."""
    return part in choice.parts and not choice.numbers


@lru_cache(maxsize=3)
def _composed(choice: Choice, *_: object) -> Composed:
    house = store.load_house(choice.slug)
    wanted = Wanted(
        paper=choice.paper,
        system=choice.system,
        include=choice.parts,
        numbers=choice.numbers or None,
        today=choice.today,
        outdoors=yearly.weather_of(house).outdoors,
        photographs=list(photographs(choice.slug)) if SHOWS_PHOTOGRAPHS & set(choice.parts) else (),
        finished=jobs_elsewhere(choice.slug),
        plans=stocked.plans_of(choice.slug, choice.system, choice.what)
        if "plans" in choice.parts
        else None,
        ordered=_ordered(choice.slug, choice.system) if _whole(choice, "orders") else None,
        kept=keep_of(choice.slug, choice.system) if _whole(choice, "keep") else None,
        letterhead=store.load_shop().letterhead,
        revision=revision(choice.slug),
        base_url=choice.base_url,
        paths=lambda of: reverse("window", args=[choice.slug, of]),
        scans=lambda number, piece: shopwork.scan_address(choice.slug, number, piece),
    )
    return compose(house, knowledge(), wanted)


@lru_cache(maxsize=3)
def _pages(choice: Choice, *state: object) -> list[bytes]:
    return _composed(choice, *state).pages(DOTS)


def photographs(slug: str) -> Iterator[Photo]:
    """The photographs of a house as papers take them: in the size of a page, read when they are set."""
    for row in store.photographs(slug):
        if not row.window_gone:
            yield Photo(
                partial(_file, slug, row.key),
                row.key,
                row.note,
                row.window,
                row.component,
                row.taken_at.date() if row.taken_at else None,
                row.marks,
            )


def _file(slug: str, key: str) -> bytes:
    try:
        path, _ = store.photograph_file(slug, key, "page")
    except store.NotThere as error:
        raise OSError(str(error)) from error
    return Path(path).read_bytes()


def known_numbers(slug: str, numbers: Sequence[str]) -> list[str]:
    """Those that windows have, in the order of the house."""
    return [number for number in store.window_numbers(slug) if number in set(numbers)]
