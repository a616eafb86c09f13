"""Windows added, removed, renumbered, and read with what they need."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from django.contrib.auth.models import User
from django.db.models import Q

from sashwright.record import numbers
from sashwright.record.documents import canonical, house_of
from sashwright.record.edit import Edit, editing
from sashwright.record.errors import Refused, Stored
from sashwright.record.models import Change, Family, House, Window
from sashwright.record.rows import find_house, find_row, read_steadily, shown
from sashwright.record.says import named
from sashwright.record.sharing import follow, let_go
from sashwright.record.state import Document
from sashwright.window import spec


def load_for_window(slug: str, number: str) -> spec.House:
    """The house with no more than one window needs, so that its page is quick in any house.

    It holds the window, those it shares a mullion pocket with, the one whose findings it shares, and their
    families. Raises ``NotThere``.
    """
    return read_steadily(slug, lambda house: _load_for(house, number))


def _load_for(house: House, number: str) -> spec.House:
    document = find_row(house, "window", number).document
    like = document.get("condition", {}).get("like", number)
    near = Q(number__in=[number, document.get("beside", number), like])
    near |= Q(document__beside=number)
    rows = Window.objects.filter(near, house=house, gone=False)
    windows = list(rows.values_list("document", flat=True))
    keys = {window["family"] for window in windows}
    families = Family.objects.filter(house=house, key__in=keys, gone=False)
    return house_of(house.document, dict(families.values_list("key", "document")), windows)


def window_numbers(slug: str, family: str | None = None) -> list[str]:
    """Numbers of all windows, or of those of a family, in the order of the house. Raises ``NotThere``."""
    rows = Window.objects.filter(house=find_house(slug), gone=False)
    if family is not None:
        rows = rows.filter(document__family=family)
    return list(rows.values_list("number", flat=True))


def next_number(slug: str, after: str | None = None) -> str:
    """The number to suggest for the next window: after one, or after the last. Raises ``NotThere``."""
    taken = window_numbers(slug)
    last = taken[-1] if taken else None
    return numbers.next_number(after or last, set(taken))


# --- added ------------------------------------------------------------------------


def add_window(slug: str, document: Mapping[str, Any], who: User) -> Stored:
    """Add a window. Raises ``NotThere``, and ``Refused`` with the window's own field names."""
    try:
        return add_windows(slug, [document], who)[0]
    except Refused as error:
        raise error.renamed({"windows.0.": ""}) from None


def add_windows(
    slug: str, documents: Sequence[Mapping[str, Any]], who: User, says: str | None = None
) -> list[Stored]:
    """Add windows as one change, all of them or none.

    Raises ``NotThere``, and ``Refused`` with fields named as in the list: ``windows.0.width``.
    """
    with editing(slug, who) as edit:
        read = _read(documents, edit)
        rows = [edit.add_window(document) for document in read]
        places = {document["number"]: str(index) for index, document in enumerate(read)}
        with _fields_of(places):
            edit.finish(says or f"{named('window', list(places))} added")
        return [shown(row, edit.system) for row in rows]


def _read(documents: Sequence[Mapping[str, Any]], edit: Edit) -> list[Document]:
    """The documents read, or everything that is wrong with them."""
    read, problems = [], []
    for index, document in enumerate(documents):
        try:
            read.append(canonical("window", document, edit.system))
        except Refused as error:
            problems += error.renamed({"": f"windows.{index}."}).problems
    if problems:
        raise Refused(problems)
    return read


@contextmanager
def _fields_of(places: Mapping[str, str]) -> Iterator[None]:
    """Refusals within name the windows of these numbers by their places instead."""
    try:
        yield
    except Refused as error:
        old_and_new = {f"windows.{n}.": f"windows.{place}." for n, place in places.items()}
        raise error.renamed(old_and_new) from None


# --- changed in what concerns other windows too -------------------------------------


def put_window(edit: Edit, row: Window, document: Document) -> None:
    """Have a window say this; where its number changes, what names it follows."""
    edit.rewrite(row, document)
    if row.number != document["number"]:
        follow(edit, row.number, document["number"])


def renumber_window(slug: str, old: str, new: str, who: User) -> Stored:
    """Give a window another number; what names the old one follows.

    Raises ``NotThere``, and ``Refused`` where the number is taken or cannot be one.
    """
    with editing(slug, who) as edit:
        row = edit.window(old)
        document = canonical("window", {**row.document, "number": new}, edit.system)
        put_window(edit, row, document)
        try:
            edit.finish(f"window {old} renumbered {new}")
        except Refused as error:
            raise error.renamed({f"windows.{new}.": ""}) from None
        return shown(row, edit.system)


def keep_marks(slug: str, marks: Mapping[str, str], who: User) -> Change | None:
    """Write marks down for windows by number, as one change; None where they all say so already.

    Raises ``NotThere``, and ``Refused`` with fields named by number: ``windows.101.mark``.
    """
    with editing(slug, who) as edit:
        for number, mark in marks.items():
            row = edit.window(number)
            edit.rewrite(row, canonical("window", {**row.document, "mark": mark}, edit.system))
        return edit.finish(f"{named('mark', list(marks.values()))} kept")


def remove_window(slug: str, number: str, who: User) -> Change:
    """Take a window out of its house; ``undo`` of the change puts it back.

    Windows that share its findings have them as their own from then on. Raises ``NotThere``, and
    ``Refused`` where the house names it elsewhere, as its prices may.
    """
    with editing(slug, who) as edit:
        row = edit.window(number)
        let_go(edit, number)
        edit.plan(row, None)
        return edit.finish_something(f"window {number} removed")
