"""Who else is looking at the same thing just now, and what they changed meanwhile."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.contrib.auth.models import User
from django.utils import timezone

from sashwright.record.history import changes
from sashwright.record.models import Presence
from sashwright.record.people import name_of
from sashwright.record.rows import find_house
from sashwright.record.state import Kind

PRESENT = timedelta(seconds=75)
"""Pages say every half minute that they are open; one may be missed."""


@dataclass(frozen=True, slots=True)
class Company:
    """Others at the same thing; and who changed it since, with what they did."""

    others: tuple[str, ...]
    changed_by: str = ""
    change: str = ""


def company(slug: str, user: User, kind: Kind, key: str, since: datetime) -> Company:
    """Note that this person has it open, and answer who else has, and the last change by another since.

    Raises ``NotThere``.
    """
    now, about = timezone.now(), f"{kind} {key}".strip()
    house = find_house(slug)
    Presence.objects.update_or_create(house=house, user=user, about=about, defaults={"at": now})
    Presence.objects.filter(at__lt=now - timedelta(days=1)).delete()
    others = Presence.objects.filter(house=house, about=about, at__gt=now - PRESENT)
    names = (name_of(each.user) for each in others.exclude(user=user).select_related("user"))
    mine = name_of(user)
    later = (change for change in changes(slug, kind, key or None, limit=20) if change.when > since)
    theirs = next((change for change in later if change.who != mine), None)
    found = tuple(sorted(names))
    return Company(found) if theirs is None else Company(found, theirs.who, theirs.says)
