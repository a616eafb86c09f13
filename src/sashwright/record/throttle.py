"""Those who guess are made to wait: by the name they try and by the address they come from.

The tries are kept in the database, so that several processes count together.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db.models import QuerySet
from django.utils import timezone

from sashwright.record.models import SignInTry

FREE = 5
"""Wrong tries with one name, or from one address, before anybody waits."""
FIRST_WAIT = timedelta(seconds=15)
LONGEST_WAIT = timedelta(minutes=15)
"""From one wrong try to the next, doubling."""
FORGOTTEN = timedelta(hours=12)


def wait_left(name: str, address: str) -> timedelta:
    """How long nobody may try this name, or from this address; nothing where they may."""
    now = timezone.now()
    waits = (_wait(SignInTry.objects.filter(**{field: value}), now) for field, value in (
        ("name", _plain(name)), ("address", address),
    ))  # fmt: skip
    return max(waits)


def note_wrong(name: str, address: str) -> None:
    """Keep that somebody tried in vain."""
    now = timezone.now()
    SignInTry.objects.filter(at__lt=now - FORGOTTEN).delete()
    SignInTry.objects.create(name=_plain(name), address=address[:64], at=now)


def note_right(name: str, address: str) -> None:
    """Whoever knew the word is forgiven; what others tried from elsewhere still counts for them."""
    SignInTry.objects.filter(name=_plain(name), address=address).delete()


def _plain(name: str) -> str:
    return name.strip().lower()[:150]


def _wait(tries: QuerySet[SignInTry], now: datetime) -> timedelta:
    recent = tries.filter(at__gt=now - FORGOTTEN).order_by("-at")
    count = recent.count()
    if count < FREE:
        return timedelta(0)
    wait = min(FIRST_WAIT * 2 ** min(count - FREE, 12), LONGEST_WAIT)
    last: datetime = recent.values_list("at", flat=True)[0]
    # A clock set back must lock nobody out for longer than the longest wait.
    left: timedelta = last + wait - now
    return min(max(left, timedelta(0)), LONGEST_WAIT)
