"""Rows found and shown. Reading takes no lock, and so waits for no writer, as long as writers pause."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import TypeVar

from django.db import transaction

from sashwright.record.documents import rewritten, system_of
from sashwright.record.errors import NotThere, Stored
from sashwright.record.models import ATTACHED, Family, House, Kept, Revision, Window
from sashwright.record.state import NAMES, Document, Kind
from sashwright.units import System

Answer = TypeVar("Answer")

_TRIES = 5


def find_house(slug: str) -> House:
    """A house that is there. Raises ``NotThere``."""
    house = House.objects.filter(slug=slug, gone=False).first()
    if house is None:
        raise NotThere(f"There is no house {slug}.")
    return house


def find_row(house: House, kind: Kind, key: str) -> Kept:
    """A house or something in it that is there. Raises ``NotThere``."""
    row: Kept | None
    if kind == "house":
        return house
    if kind == "family":
        row = Family.objects.filter(house=house, key=key, gone=False).first()
    elif kind == "window":
        row = Window.objects.filter(house=house, number=key, gone=False).first()
    else:
        row = ATTACHED[kind]._default_manager.filter(house=house, key=key, gone=False).first()
    if row is None:
        raise NotThere(f"There is no {NAMES[kind]} {key} in this house.")
    return row


def read_steadily(slug: str, read: Callable[[House], Answer]) -> Answer:
    """What ``read`` puts together from several queries, none of it older than the rest.

    A transaction would do so as well, but on SQLite would wait for writers; that the house's edition
    is still the same afterwards is as good. Only where writers never pause is it read in one, with
    the house held. Raises ``NotThere``.
    """
    for _ in range(_TRIES):
        house = find_house(slug)
        answer = read(house)
        if House.objects.filter(pk=house.pk, edition=house.edition).exists():
            return answer
    with transaction.atomic():
        return read(House.objects.select_for_update().get(pk=find_house(slug).pk))


def shown(row: Kept, system: System, *, merged: bool = False) -> Stored:
    """A row as it goes out, in the units of its house."""
    document = rewritten(row.kind, row.document, system)
    return Stored(row.kind, row.label, document, row.version, merged)


def stored(slug: str, kind: Kind, key: str = "") -> Stored:
    """A house, family or window as it is kept now. Raises ``NotThere``."""
    house = find_house(slug)
    return shown(find_row(house, kind, key), system_of(house.document))


def stored_windows(slug: str) -> list[Stored]:
    """All windows of a house as they are kept now, in their order. Raises ``NotThere``."""

    def read(house: House) -> list[Stored]:
        system = system_of(house.document)
        return [shown(row, system) for row in Window.objects.filter(house=house, gone=False)]

    return read_steadily(slug, read)


def document_at(row: Kept, version: int) -> Document:
    """What a row said in a version; nothing at all for a version that never was."""
    if version == row.version:
        now: Document = row.document
        return now
    found = Revision.objects.filter(kind=row.kind, row=row.pk, version=version).first()
    state = found and found.state_after
    return state.document if state else {}


def changed_at(slug: str) -> datetime:
    """When anything in a house was changed last. Raises ``NotThere``."""
    found = House.objects.filter(slug=slug, gone=False).values_list("changed_at", flat=True).first()
    if found is None:
        raise NotThere(f"There is no house {slug}.")
    return found
