"""What opens the door beside a password: tokens of programs, links of clients, codes for devices.

Each is told once, when it is made; only its SHA-256 is kept. A token or a link has 256 random bits, which
nobody guesses; a pairing code is short, and so is good for minutes, once, and for few tries.
"""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TypeVar

from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone

from sashwright.record.errors import NotThere, refused
from sashwright.record.models import ClientLink, Pairing, Token
from sashwright.record.models.people import Key
from sashwright.record.people import name_of
from sashwright.record.rows import find_house

Opens = TypeVar("Opens", bound=Key)

PAIRING = timedelta(minutes=10)
LONGEST_DAYS = 3650
_SEEN_EVERY = timedelta(minutes=1)
"""The time of the last use is written no oftener."""


@dataclass(frozen=True, slots=True)
class KeyRow:
    """A token or link in a list."""

    id: int
    name: str
    who: str
    made_at: datetime
    expires_at: datetime | None
    used_at: datetime | None
    works: bool


def make_token(user: User, name: str, days: int | None = None) -> str:
    """A token by which a program acts for a person; told this once. Raises ``Refused``."""
    secret = secrets.token_urlsafe(32)
    Token.objects.create(user=user, **_fields(secret, name, days))
    return secret


def make_client_link(slug: str, name: str, days: int, who: User) -> str:
    """The secret of a link that shows one house; told this once. Raises ``NotThere``, ``Refused``."""
    secret = secrets.token_urlsafe(32)
    house = find_house(slug)
    ClientLink.objects.create(house=house, made_by=who, **_fields(secret, name, days))
    return secret


def make_pairing(user: User) -> str:
    """Eight digits by which one device is let in as this person, once, within ten minutes."""
    Pairing.objects.filter(user=user, gone=False).update(gone=True)
    code = f"{secrets.randbelow(10**8):08d}"
    now = timezone.now()
    Pairing.objects.update_or_create(
        digest=_digest(code),
        defaults={
            "user": user, "name": "a device", "made_at": now, "expires_at": now + PAIRING, "gone": False,
        },
    )  # fmt: skip
    return code


def user_of_token(secret: str) -> User | None:
    """Whom a token acts for; nobody where it is wrong, withdrawn or out of date."""
    token = _find(Token, secret)
    if token is None:
        return None
    user = User.objects.get(pk=token.user_id)
    return user if user.is_active else None


def link_of(secret: str) -> ClientLink | None:
    """The link that a secret opens, if it still does."""
    return _find(ClientLink, secret)


def link_still(identity: int) -> ClientLink | None:
    """A link that was opened before, if it is still good."""
    link = ClientLink.objects.select_related("house").filter(pk=identity).first()
    return link if link is not None and _works(link) and not link.house.gone else None


def take_pairing(code: str) -> User | None:
    """Whom a code lets in; it is spent by that."""
    plain = "".join(sign for sign in code if sign.isdigit())
    with transaction.atomic():
        found = (
            Pairing.objects.select_for_update().filter(digest=_digest(plain), gone=False).first()
        )
        if found is None or not _works(found):
            return None
        found.gone, found.used_at = True, timezone.now()
        found.save()
        user = User.objects.get(pk=found.user_id)
        return user if user.is_active else None


def tokens(user: User | None = None) -> list[KeyRow]:
    """Tokens of a person, or of all, the newest first."""
    found = Token.objects.select_related("user").order_by("-pk")
    if user is not None:
        found = found.filter(user=user)
    return [_row(token, name_of(token.user)) for token in found]


def client_links(slug: str) -> list[KeyRow]:
    """Links to a house, the newest first. Raises ``NotThere``."""
    found = ClientLink.objects.filter(house=find_house(slug)).select_related("made_by")
    return [_row(link, name_of(link.made_by)) for link in found.order_by("-pk")]


def withdraw_token(identity: int, user: User | None = None) -> None:
    """Raises ``NotThere`` for a token that is not there or is not this person's."""
    found = Token.objects.filter(pk=identity)
    _withdraw(found if user is None else found.filter(user=user))


def withdraw_link(slug: str, identity: int) -> None:
    """Raises ``NotThere``."""
    _withdraw(ClientLink.objects.filter(pk=identity, house=find_house(slug)))


def _withdraw(found: Iterable[Key]) -> None:
    keys = list(found)
    if not keys:
        raise NotThere("There is no such key.")
    for key in keys:
        key.gone = True
        key.save(update_fields=["gone"])


def _fields(secret: str, name: str, days: int | None) -> dict[str, object]:
    name = name.strip()
    if not name or len(name) > 80:
        raise refused("name", repr(name[:40]), "a name of 1 to 80 signs")
    if days is not None and not 1 <= days <= LONGEST_DAYS:
        raise refused("days", str(days), f"1 to {LONGEST_DAYS}")
    now = timezone.now()
    expires = None if days is None else now + timedelta(days=days)
    return {"digest": _digest(secret), "name": name, "made_at": now, "expires_at": expires}


def _digest(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


def _find(table: type[Opens], secret: str) -> Opens | None:
    found: Opens | None = table._default_manager.filter(digest=_digest(secret)).first()
    if found is None or not _works(found):
        return None
    now = timezone.now()
    if found.used_at is None or now - found.used_at > _SEEN_EVERY:
        found.used_at = now
        found.save(update_fields=["used_at"])
    return found


def _works(key: Key) -> bool:
    return not key.gone and (key.expires_at is None or timezone.now() < key.expires_at)


def _row(key: Key, who: str) -> KeyRow:
    return KeyRow(
        key.pk, key.name, who, key.made_at, key.expires_at, key.used_at, _works(key)
    )  # fmt: skip
