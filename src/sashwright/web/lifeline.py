"""Everything that ever happened to one window, in the order of time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Literal

from django.urls import reverse
from django.utils import timezone

from sashwright import units
from sashwright.chapters.make.tracks import NAMES
from sashwright.record import orders as ordered
from sashwright.record import store, visits
from sashwright.record.facts import knowledge
from sashwright.web import shopwork
from sashwright.web.fields import sentence
from sashwright.window.components import part_words
from sashwright.window.spec import Window

Kind = Literal[
    "survey", "decision", "hours", "stage", "reading", "visit", "photograph", "order", "change"
]
MOST = 300
"""Changes of the record that are looked through."""


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened; ``day`` only where the time of day is not known."""

    when: datetime
    day_only: bool
    kind: Kind
    says: str
    who: str = ""
    link: str = ""
    picture: str = ""
    undone: bool = False

    @property
    def year(self) -> int:
        return timezone.localtime(self.when).year


def lifeline(slug: str, number: str, system: units.System) -> list[Event]:
    """The last first. Raises ``NotThere``."""
    house = store.load_for_window(slug, number)
    window = next(each for each in house.windows if each.number == number)
    events = [
        *_survey(window),
        *_stages(slug, number),
        *_readings(slug, number, system),
        *_visits(slug, number),
        *_photographs(slug, number),
        *_orders(slug, number),
        *_changes(slug, number),
    ]
    return sorted(events, key=lambda event: event.when, reverse=True)


def _at(day: str) -> datetime | None:
    """The noon of a day that only its date is known of; nothing for a date that no calendar has."""
    try:
        return timezone.make_aware(datetime.combine(date.fromisoformat(day), time(12)))
    except ValueError:
        return None


def _on(day: str | None, kind: Kind, says: str, who: str = "", link: str = "") -> Iterator[Event]:
    when = _at(day) if day else None
    if when is not None:
        yield Event(when, True, kind, says, who, link)


def _survey(window: Window) -> Iterator[Event]:
    condition, decision = window.condition, window.decision
    found = len(condition.found)
    told = f"Surveyed: {found} finding{'' if found == 1 else 's'} of its own"
    if condition.like:
        told += f", else like {condition.like}"
    yield from _on(condition.on, "survey", f"{told}.", condition.by)
    for name in ("lead", "asbestos"):
        test = getattr(condition, name)
        if test.result != "not tested":
            yield from _on(test.on, "survey", f"Test for {name}: {test.result}.", test.by)
    if decision is not None:
        scopes = knowledge().scope
        key = decision.alternative
        name = scopes[key].name if key in scopes else key
        note = f" {decision.note}" if decision.note else ""
        yield from _on(decision.on, "decision", f"Decided: {name}.{note}", decision.by)
    tasks = knowledge().task
    for each in window.spent:
        name = tasks[each.task].name if each.task in tasks else each.task
        yield from _on(each.on, "hours", f"{name}: {each.hours:g} h.", each.by)


def _stages(slug: str, number: str) -> Iterator[Event]:
    for row in store.stages(slug, number):
        reason = f": {row.reason}" if row.reason else ""
        link = shopwork.scan_address(slug, number, row.piece)
        says = f"{NAMES.get(row.piece, row.piece).capitalize()} {row.stage}{reason}"
        yield Event(row.when, False, "stage", sentence(says), row.who, link)


def _readings(slug: str, number: str, system: units.System) -> Iterator[Event]:
    for row in store.readings(slug, number):
        note = f" {row.note}" if row.note else ""
        says = (
            f"{row.which.capitalize()} sash weighed {units.format_mass(row.value_kg, system)}, "
            f"{row.state}.{note}"
        )
        yield Event(row.when, False, "reading", says, row.who)


def _visits(slug: str, number: str) -> Iterator[Event]:
    rows = knowledge().upkeep
    for row in visits.visits(slug, number):
        mine = [done for done in row.done if done.window in (None, number)]
        names = [rows[done.what].name if done.what in rows else done.what for done in mine]
        note = f" {row.form.note}" if row.form.note else ""
        yield from _on(row.form.on, "visit", f"{'; '.join(names)}.{note}", row.form.by)


def _photographs(slug: str, number: str) -> Iterator[Event]:
    for row in store.photographs(slug, number):
        of = f" of {part_words(row.component).lower()}" if row.component else ""
        note = f": {row.note.rstrip('. ')}" if row.note else ""
        address = reverse("photograph", args=[slug, row.key])
        small = reverse("photograph-picture", args=[slug, row.key, "small"])
        when = row.taken_at or row.at
        yield Event(
            when, False, "photograph", sentence(f"Photograph{of}{note}"), "", address, small
        )


def _orders(slug: str, number: str) -> Iterator[Event]:
    for row in ordered.orders(slug):
        if not any(number in line.windows for line in row.lines):
            continue
        link = f"{reverse('orders', args=[slug])}#order-{row.key}"
        to = f" to {row.form.supplier}" if row.form.supplier else ""
        says = f"Order {row.key} for {row.form.supplies} sent{to}."
        yield from _on(row.form.sent_on, "order", says, "", link)


def _changes(slug: str, number: str) -> Iterator[Event]:
    for row in store.changes(slug, "window", number, limit=MOST):
        link = reverse("compare", args=[slug, row.id])
        yield Event(row.when, False, "change", sentence(row.says), row.who, link, undone=row.undone)
