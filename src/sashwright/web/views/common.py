"""What the pages of one house have in common: which house, in whose units, and what was just done."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, cast

from django.contrib import messages
from django.contrib.auth.models import User
from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme

from sashwright import units
from sashwright.papers.words import Words
from sashwright.record import store
from sashwright.record.errors import Stored
from sashwright.record.state import Kind

UNITS_IN_SESSION = "units"


@dataclass(frozen=True)
class HouseHead:
    """The house a page is about, as the title block shows it."""

    slug: str
    stored: Stored
    system: units.System

    @property
    def name(self) -> str:
        return str(self.stored.document["name"])

    @property
    def place(self) -> str:
        return str(self.stored.document.get("place", ""))

    @property
    def walls(self) -> tuple[str, ...]:
        return tuple(self.stored.document.get("walls", ()))

    @property
    def words(self) -> Words:
        return Words(self.system)


def head_of(request: HttpRequest, slug: str) -> HouseHead:
    """The house of a page. Raises ``NotThere``, which becomes a page that says so."""
    stored = store.stored(slug, "house")
    return HouseHead(slug, stored, _system(request, slug, stored))


def _system(request: HttpRequest, slug: str, house: Stored) -> units.System:
    """The reader's units for this house: the house's own until they choose others."""
    chosen = request.session.get(UNITS_IN_SESSION, {}).get(slug)
    system = chosen or house.document.get("units", "us")
    return "metric" if system == "metric" else "us"


def user_of(request: HttpRequest) -> User:
    """Whoever works here; nobody gets this far without being known."""
    return cast(User, request.user)


def is_part(request: HttpRequest) -> bool:
    """Whether only a part of the page is asked for."""
    htmx: Any = getattr(request, "htmx", None)
    return bool(htmx) and not htmx.history_restore_request


def is_phone(request: HttpRequest) -> bool:
    """Whether a drawing has a phone's width only; a guess, for the size of its lettering."""
    return "Mobi" in request.headers.get("User-Agent", "")


def tell(request: HttpRequest, says: str, change: int | None = None) -> None:
    """Say on the next page what was done, and offer to undo it."""
    messages.success(request, says, extra_tags=str(change or ""))


def family_choices(slug: str) -> tuple[tuple[str, str], ...]:
    """Keys of all families with what they are called, in the order of the house."""
    found = store.family_keys(slug)
    return tuple((key, f"{key}: {name}" if name else key) for key, name in found.items())


def latest_change(slug: str, kind: Kind | None = None, key: str | None = None) -> int | None:
    """The change that was just made, so that it can be undone."""
    found = store.changes(slug, kind, key, limit=1)
    return found[0].id if found else None


def back_to(request: HttpRequest, otherwise: str = "") -> str:
    """Where to go after a small act: the page it was done on, if that is one of ours."""
    wanted = request.POST.get("next", "")
    if url_has_allowed_host_and_scheme(wanted, {request.get_host()}, request.is_secure()):
        return wanted
    return otherwise or reverse("houses")
