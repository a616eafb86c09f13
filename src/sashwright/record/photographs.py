"""Photographs of a house and its windows: brought in, listed, described, drawn on, taken away."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from django.contrib.auth.models import User
from django.utils import timezone

from sashwright.record.attached.photo import Mark, Measure, PhotoNote
from sashwright.record.documents import canonical
from sashwright.record.edit import Edit, editing
from sashwright.record.errors import NotThere, Stored, refused
from sashwright.record.images import Image, read_image
from sashwright.record.models import Change, Photograph, Window
from sashwright.record.picturefiles import Size, file_of, keep_file
from sashwright.record.rows import find_house, find_row
from sashwright.record.saving import save_fields
from sashwright.record.says import count
from sashwright.record.state import Document, State
from sashwright.window.components import kind_named

_KEY = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,63}")
_SHORT = 12
"""Figures of a digest that make a key; two pictures of one house share them once in 10^14."""


@dataclass(frozen=True, slots=True)
class PhotographRow:
    """A photograph in a list; ``width`` and ``height`` as it stands upright [pixels]."""

    key: str
    window: str | None
    """The number of the window it shows, or had when it was removed; None for the house."""
    window_gone: bool
    component: str
    note: str
    marks: tuple[Mark, ...]
    measures: tuple[Measure, ...]
    digest: str
    size: int
    """Of the file [bytes]."""
    width: int
    height: int
    taken_at: datetime | None
    at: datetime
    """When it was brought in."""
    version: int
    gone: bool
    """Whether it has been taken away again; only ``add_photograph`` answers such."""


# --- brought in ---------------------------------------------------------------------


def add_photograph(
    slug: str,
    data: bytes,
    who: User,
    *,
    window: str | None = None,
    component: str | None = None,
    note: str = "",
    keep_place: bool = False,
    key: str | None = None,
) -> PhotographRow:
    """Bring in a photograph of a window, of a part of it, or of the house; answer it.

    The file is on the disk before the row is written. With a ``key`` made by the device the same photograph
    sent again does nothing, also where it was taken away since; without one the same picture of the same
    window counts once, and comes back where it was taken away. Raises ``NotThere``, and ``Refused`` for what
    is no picture, no part of a window, or another picture under the same key.
    """
    if key is not None and not _KEY.fullmatch(key):
        raise refused("key", repr(key), "letters, figures, hyphens; 64 at most")
    image = read_image(data, keep_place=keep_place)
    # Asked before the file is written, so that a wrong address leaves nothing behind.
    house = find_house(slug)
    if window is not None:
        find_row(house, "window", window)
    keep_file(image)
    with editing(slug, who) as edit:
        shows = None if window is None else edit.window(window)
        named = key or _key_of(image, shows)
        known = Photograph.objects.filter(house=edit.house, key=named).first()
        document = _document(shows, component, note)
        if known is None:
            _attach(edit, image, named, document)
        elif known.digest != image.digest:
            raise refused("key", "another picture under this key", "a key of its own")
        elif known.gone and key is None:
            edit.plan(known, State(canonical("photo", document, edit.system), named))
        edit.finish(f"photograph {_of(window)} added", check=False)
        return _found(edit.house.pk, named)


def _key_of(image: Image, shows: Window | None) -> str:
    """The same for the same picture of the same window."""
    return image.digest[:_SHORT] + (f"-{shows.pk}" if shows else "")


def _document(shows: Window | None, component: str | None, note: str) -> Document:
    return {
        "window": shows.pk if shows else None,
        "component": _part(component),
        "note": note.strip(),
    }


def _part(component: str | None) -> str | None:
    """The name of a part, or nothing. Raises ``Refused`` for what no window has."""
    if not component:
        return None
    if kind_named(component) is None:
        raise refused("component", repr(component), "a part of a window, such as lower.bottom_rail")
    return component


def _attach(edit: Edit, image: Image, key: str, document: Document) -> None:
    row = Photograph(
        key=key,
        digest=image.digest,
        size=len(image.data),
        width=image.width,
        height=image.height,
        taken_at=_aware(image.taken_at),
        at=timezone.now(),
    )
    edit.attach(row, document)


def _aware(when: datetime | None) -> datetime | None:
    """A camera that names no zone keeps the time of the shop."""
    return timezone.make_aware(when) if when and timezone.is_naive(when) else when


# --- looked at ----------------------------------------------------------------------


def photographs(slug: str, number: str | None = None) -> list[PhotographRow]:
    """Photographs of one window, or all of the house's; the oldest first. Raises ``NotThere``."""
    house = find_house(slug)
    rows = Photograph.objects.filter(house=house, gone=False).select_related("window")
    if number is not None:
        rows = rows.filter(window=find_row(house, "window", number).pk)
    return [_row(row) for row in rows]


def photograph(slug: str, key: str) -> PhotographRow:
    """One photograph. Raises ``NotThere``."""
    house = find_house(slug)
    find_row(house, "photo", key)
    return _found(house.pk, key)


def photograph_file(slug: str, key: str, size: Size = "original") -> tuple[Path, str]:
    """The file of a photograph in some size, with its content type. Raises ``NotThere``."""
    return file_of(photograph(slug, key).digest, size)


def _found(house: int, key: str) -> PhotographRow:
    rows = Photograph.objects.select_related("window")
    return _row(rows.get(house=house, key=key))


def _number(row: Photograph) -> str | None:
    return None if row.window is None else row.window.number


def _row(row: Photograph) -> PhotographRow:
    # Fractions and whole numbers mean the same in all units.
    note = PhotoNote.model_validate(row.document)
    return PhotographRow(
        row.key,
        _number(row),
        row.window is not None and row.window.gone,
        note.component or "",
        note.note,
        note.marks,
        note.measures,
        row.digest,
        row.size,
        row.width,
        row.height,
        row.taken_at,
        row.at,
        row.version,
        row.gone,
    )


# --- changed ------------------------------------------------------------------------


def describe_photograph(
    slug: str,
    key: str,
    base_version: int,
    who: User,
    *,
    window: str | None,
    component: str | None,
    note: str,
) -> Stored:
    """Say of which window and part a photograph is, and what is to be seen on it.

    Raises as ``save`` does.
    """
    shows = None if window is None else find_row(find_house(slug), "window", window)
    assert shows is None or isinstance(shows, Window), "rows are found by their kind"
    fields = _document(shows, component, note)
    says = f"photograph {_of(window)} described"
    return save_fields(slug, "photo", key, fields, base_version, who, says)


def mark_photograph(
    slug: str, key: str, marks: Sequence[Mapping[str, Any]], base_version: int, who: User
) -> Stored:
    """Replace what is drawn on a photograph. Raises as ``save`` does."""
    of = _of(photograph(slug, key).window)
    says = f"photograph {of}: {count(len(marks), 'mark') if marks else 'no marks'}"
    return save_fields(slug, "photo", key, {"marks": list(marks)}, base_version, who, says)


def remove_photograph(slug: str, key: str, who: User) -> Change:
    """Take a photograph away; its file stays, and ``undo`` puts it back. Raises ``NotThere``."""
    with editing(slug, who) as edit:
        row = edit.attached("photo", key)
        assert isinstance(row, Photograph), "rows are found by their kind"
        edit.plan(row, None)
        return edit.finish_something(f"photograph {_of(_number(row))} removed")


def _of(window: str | None) -> str:
    return "of the house" if window is None else f"of window {window}"


# --- named by what the survey found ---------------------------------------------------


def findings_of(slug: str, number: str) -> list[Document]:
    """What the survey itself found on a window, as its document says it. Raises ``NotThere``."""
    row = find_row(find_house(slug), "window", number)
    found: list[Document] = row.document.get("condition", {}).get("found", [])
    return found


def name_in_finding(slug: str, key: str, index: int, who: User) -> Stored:
    """Have a finding of its window name a photograph, by its place in the list.

    Raises ``NotThere`` where the photograph shows no window or the window has no such finding.
    """
    number = photograph(slug, key).window
    if number is None:
        raise NotThere("The photograph is of no window.")
    row = find_row(find_house(slug), "window", number)
    condition: Document = row.document.get("condition", {})
    found = [dict(each) for each in condition.get("found", [])]
    if not 0 <= index < len(found):
        raise NotThere(f"Window {number} has no such finding.")
    names = list(found[index].get("photos", []))
    if key not in names:
        found[index]["photos"] = [*names, key]
    says = f"window {number}: photograph named at {found[index]['on']}"
    fields = {"condition.found": found}
    return save_fields(slug, "window", number, fields, row.version, who, says)
