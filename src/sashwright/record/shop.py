"""The shop in the record: its document edition by edition, read, saved, merged and put back.

Nothing is ever written over: each change is an edition of its own, and the last one counts.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction
from django.utils import timezone
from pydantic import ValidationError

from sashwright.record.errors import Conflict, FieldConflict, NotThere, Refused, Stored, refused
from sashwright.record.facts import knowledge
from sashwright.record.merge import merge, with_fields
from sashwright.record.models import ShopEdition
from sashwright.record.people import name_of
from sashwright.record.says import what_changed
from sashwright.record.shopfile import parse_shop
from sashwright.record.state import Document
from sashwright.units import System
from sashwright.window.check import problems_of
from sashwright.window.shop import Shop, natural
from sashwright.window.shop_check import shop_problems

_LONGEST = 300
_TRIES = 5
"""Two people may save in the same moment; whoever is second merges and tries again."""
BY_LABEL = ("boards", "strips", "sheets", "weights", "lumber", "glass")


@dataclass(frozen=True, slots=True)
class ShopRow:
    """One line of the shop's history."""

    edition: int
    says: str
    who: str
    when: datetime


def load_shop() -> Shop:
    """The shop as it is now; one without anything where none was ever described.

    Raises ``Refused`` where an older program kept what this one cannot read.
    """
    return _read(stored_shop().document)


def stored_shop() -> Stored:
    """The shop's document and its edition, 0 where there is none."""
    latest = ShopEdition.objects.first()
    if latest is None:
        return Stored("shop", "", document_of(Shop()), 0)
    return Stored("shop", "", _ordered(latest.document), latest.edition)


def shop_edition() -> int:
    """Which edition counts; the same edition, the same stock."""
    return ShopEdition.objects.values_list("edition", flat=True).first() or 0


def shop_at(edition: int) -> Stored:
    """The shop as it was in one edition. Raises ``NotThere``."""
    row = ShopEdition.objects.filter(edition=edition).first()
    if row is None:
        raise NotThere(f"The shop has no edition {edition}.")
    return Stored("shop", "", _ordered(row.document), row.edition)


def shop_history(limit: int = 100, beginning: str = "") -> list[ShopRow]:
    """Changes of the shop, the latest first; those only whose sentence begins so."""
    rows = ShopEdition.objects.select_related("who")
    if beginning:
        rows = rows.filter(says__startswith=beginning)
    return [ShopRow(row.edition, row.says, name_of(row.who), row.at) for row in rows[:limit]]


def save_shop(
    document: Mapping[str, Any], base_edition: int, who: User, says: str | None = None
) -> Stored:
    """Keep a document that was made from ``base_edition``; answer what is kept now.

    Where somebody saved a later edition, the changes of both to different fields are merged; each board,
    sheet and weight has fields of its own. Raises ``Conflict`` where both changed the same field
    differently, ``Refused`` where something is wrong; and then changes nothing.
    """

    def change(base: Document, now: Document) -> tuple[Document, list[FieldConflict]]:
        mine = _canonical(document, now)
        return (mine, []) if base == now else merge(base, mine, now)

    return _change(change, base_edition, who, says)


def save_shop_fields(
    fields: Mapping[str, Any], base_edition: int, who: User, says: str | None = None
) -> Stored:
    """Keep some fields, named by dotted paths; ``None`` takes one away. Otherwise as ``save_shop``."""

    def change(base: Document, now: Document) -> tuple[Document, list[FieldConflict]]:
        try:
            mine = _canonical(with_fields(base, fields), now)
        except KeyError as error:
            raise refused(
                error.args[0], "a field inside of a single value", "the whole value"
            ) from None
        return merge(base, mine, now)

    return _change(change, base_edition, who, says)


def put_back_shop(edition: int, who: User) -> Stored:
    """Have the shop say again what it said in one edition, as a new one. Raises ``NotThere``."""
    wanted = shop_at(edition).document

    def change(base: Document, now: Document) -> tuple[Document, list[FieldConflict]]:
        return wanted, []

    return _change(change, shop_edition(), who, f"put back as in edition {edition}", check=False)


def undo_shop(edition: int, who: User) -> Stored:
    """Take back what one edition changed; what was changed since in other fields stays.

    Raises ``Conflict`` where the same field was changed since, ``NotThere``.
    """
    after = shop_at(edition).document
    before = shop_at(edition - 1).document if edition > 1 else document_of(Shop())
    first = ShopEdition.objects.get(edition=edition).says

    def change(base: Document, now: Document) -> tuple[Document, list[FieldConflict]]:
        return merge(after, before, now)

    return _change(change, shop_edition(), who, f"undid: {first}", check=False)


Merged = Callable[[Document, Document], "tuple[Document, list[FieldConflict]]"]
"""From the base and what is kept now: the new document, and the fields in dispute."""


def _change(
    change: Merged, base_edition: int, who: User, says: str | None, *, check: bool = True
) -> Stored:
    for last in (*[False] * (_TRIES - 1), True):
        try:
            with transaction.atomic():
                return _write(change, base_edition, who, says, check=check)
        except IntegrityError:
            if last:
                raise
    raise AssertionError("the last try returns or raises")


def _write(
    change: Merged, base_edition: int, who: User, says: str | None, *, check: bool
) -> Stored:
    latest = ShopEdition.objects.select_for_update().first()
    edition = latest.edition if latest else 0
    now = _ordered(latest.document) if latest else document_of(Shop())
    base = now if base_edition >= edition else _base(base_edition)
    together, disputed = change(base, now)
    kept = Stored("shop", "", now, edition)
    if disputed:
        raise _conflict(kept, latest, disputed)
    together = _ordered(together)
    if check:
        _refuse_new_problems(together, now)
    if together == now:
        return kept
    ShopEdition.objects.create(
        edition=edition + 1,
        document=together,
        says=(says or what_changed("shop", now, together))[:_LONGEST],
        who=who,
        at=timezone.now(),
    )
    return Stored("shop", "", together, edition + 1, merged=base_edition < edition)


def _base(edition: int) -> Document:
    try:
        return shop_at(edition).document
    except NotThere:
        return document_of(Shop())


def _conflict(kept: Stored, latest: ShopEdition | None, fields: list[FieldConflict]) -> Conflict:
    who = name_of(latest.who) if latest else ""
    when = latest.at if latest else timezone.now()
    return Conflict(kept, who, when, fields)


def _refuse_new_problems(document: Document, before: Document) -> None:
    """Only what the change brings in counts: a shop that the program now finds faulty can be worked on."""
    found = list(shop_problems(_read(document), knowledge()))
    if not found:
        return
    try:
        known = set(shop_problems(_read(before), knowledge()))
    except Refused:
        known = set()
    if fresh := [problem for problem in found if problem not in known]:
        raise Refused(fresh)


# --- documents ------------------------------------------------------------------------


def _system(document: Mapping[str, Any]) -> System:
    return "metric" if document.get("units") == "metric" else "us"


def _read(document: Mapping[str, Any]) -> Shop:
    try:
        return Shop.model_validate(dict(document), context={"system": _system(document)})
    except ValidationError as error:
        raise Refused(problems_of(error)) from None


def document_of(shop: Shop) -> Document:
    """A shop as it is kept: everything said, with units."""
    document: Document = shop.model_dump(
        mode="json", context={"system": shop.units}, exclude_none=True
    )
    return _ordered(document)


def _canonical(document: Mapping[str, Any], now: Document) -> Document:
    """A document read and written again. Raises ``Refused``."""
    given = {**document, "units": document.get("units", now.get("units", "us"))}
    written = document_of(_read(given))
    if "\\u0000" in json.dumps(written):
        raise refused("shop", "a character of no meaning (NUL)", "text that can be read")
    return written


def _ordered(document: Mapping[str, Any]) -> Document:
    """What goes by labels in the order people number: not every database keeps the order of names."""
    return {
        **document,
        **{
            name: dict(sorted(document.get(name, {}).items(), key=lambda item: natural(item[0])))
            for name in BY_LABEL
        },
    }


def import_shop(
    data: bytes, file: str, who: User, says: str = "contents replaced by a file"
) -> Stored:
    """A shop file in place of what the shop says, as one change that can be undone.

    Raises ``HouseFileError`` with all problems, and then changes nothing.
    """
    shop = parse_shop(data, file, knowledge())
    return save_shop(document_of(shop), shop_edition(), who, says)
