"""What devices kept while they had no connection, taken in: each entry once, or not at all.

An entry and the answer to it are written together. Sent again, because the answer was lost on its way, it
gets the same answer and does nothing. One that is in dispute or refused leaves no trace, and so may come
again.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal
from uuid import UUID

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction
from django.utils import timezone

from sashwright.record import entries
from sashwright.record.documents import system_of
from sashwright.record.entries import Entry
from sashwright.record.entry_acts import Work, apply, identity_of
from sashwright.record.errors import Conflict, NotThere, Refused, Stored, refused
from sashwright.record.models import Change, House, Sent, Window
from sashwright.record.people import name_of
from sashwright.record.rows import find_house, shown
from sashwright.record.state import Document

Trouble = Conflict | Refused | NotThere


@dataclass(frozen=True, slots=True)
class Taken:
    """What came of an entry."""

    status: Literal["kept", "merged", "conflict", "refused", "waits"]
    """``waits`` for the one in trouble before it that was about the same window."""
    window: Stored | None = None
    """As it is kept now, whatever came of the entry."""
    id: int | None = None
    """Of that window."""
    again: bool = False
    """Whether it had come in before."""
    trouble: Trouble | None = None


def take(given: Mapping[str, Any], who: User, picture: bytes | None = None) -> Taken:
    """Take in one entry; ``picture`` is the file of a photograph.

    Raises nothing that the entry is to blame for: that is its answer.
    """
    try:
        entry = entries.read_entry(given)
    except Refused as error:
        return Taken("refused", trouble=error)
    digest = _digest(given, picture)
    try:
        return _take_once(entry, digest, who, picture)
    except IntegrityError:
        # Its key came in with another house at the same moment, and was first.
        return _take_once(entry, digest, who, picture)


def take_all(given: Sequence[Mapping[str, Any]], who: User) -> list[Taken]:
    """Take in entries one by one, in their order.

    What follows one in trouble at the same window waits, so that nothing is done there out of turn.
    """
    held: set[object] = set()
    answers = []
    for each in given:
        about = _about(each)
        if held & about:
            answers.append(Taken("waits"))
            continue
        answers.append(take(each, who))
        if answers[-1].trouble is not None:
            held |= about | {str(each.get("key"))}
    return answers


def _about(given: Mapping[str, Any]) -> set[object]:
    """What tells the window of an entry from others, by all its names."""
    window = given.get("window")
    if given.get("kind") == "add-window":
        return {str(given.get("key"))}
    if given.get("kind") == "undo":
        return {str(given.get("of"))}
    if not isinstance(window, Mapping):
        return set()
    made = str(window.get("made") or "")
    known = Sent.objects.filter(key=made).first() if _is_key(made) else None
    identity = known.answer["window"] if known else window.get("id")
    return {each for each in (made, identity) if each}


def _is_key(text: str) -> bool:
    try:
        UUID(text)
    except ValueError:
        return False
    return True


@transaction.atomic
def _take_once(entry: Entry, digest: str, who: User, picture: bytes | None) -> Taken:
    # Held from before the question whether it has come in, so that the same entry on another line waits.
    house = House.objects.select_for_update().filter(slug=entry.house, gone=False).first()
    try:
        known = _known(entry, digest, who)
        if known is not None:
            return _answered(known.answer, again=True)
        if house is None:
            raise NotThere(f"There is no house {entry.house}.")
        answer = _applied(entry, Work(house, who, picture))
    except (Conflict, Refused, NotThere) as error:
        return _troubled(entry, error)
    Sent.objects.create(key=entry.key, user=who, digest=digest, answer=answer, at=timezone.now())
    return _answered(answer)


def _digest(given: Mapping[str, Any], picture: bytes | None) -> str:
    text = json.dumps(given, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode() + b"\0" + (picture or b"")).hexdigest()


def _known(entry: Entry, digest: str, who: User) -> Sent | None:
    """What was answered to this entry before. Raises ``Refused`` for another one under its key."""
    if entry.who != who.pk:
        raise refused("who", "an entry of somebody else", f"one written down by {name_of(who)}")
    known = Sent.objects.filter(key=entry.key).first()
    if known is not None and (known.digest != digest or known.user_id != who.pk):
        raise refused("key", "another entry under this key", "a key of its own")
    return known


@transaction.atomic
def _applied(entry: Entry, work: Work) -> Document:
    """Do what the entry says; answer what is to be answered to it from now on."""
    changes = Change.objects.filter(house=work.house).order_by("-pk").values_list("pk", flat=True)
    before = changes.first()
    row, merged = apply(entry, work)
    change = changes.first()
    return {
        "status": "merged" if merged else "kept",
        "window": row.pk if row else None,
        "version": row.version if row else None,
        "change": None if change == before else change,
    }


def _answered(answer: Document, *, again: bool = False) -> Taken:
    window, identity = _window_now(answer["window"])
    return Taken(answer["status"], window, identity, again)


def _troubled(entry: Entry, error: Trouble) -> Taken:
    status: Literal["conflict", "refused"] = (
        "conflict" if isinstance(error, Conflict) else "refused"
    )
    which = getattr(entry, "window", None)
    window, identity = _window_now(identity_of(which) if which else None)
    return Taken(status, window, identity, trouble=error)


def _window_now(identity: int | None) -> tuple[Stored | None, int | None]:
    rows = Window.objects.filter(gone=False).select_related("house")
    row = None if identity is None else rows.filter(pk=identity).first()
    return (None, None) if row is None else (shown(row, system_of(row.house.document)), row.pk)


def window_ids(slug: str) -> dict[str, int]:
    """What tells each window of a house from all others whatever its number becomes, by number now."""
    rows = Window.objects.filter(house=find_house(slug), gone=False)
    return dict(rows.values_list("number", "pk"))
