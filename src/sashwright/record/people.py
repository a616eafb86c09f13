"""Who works with the record."""

from __future__ import annotations

import getpass

from django.contrib.auth.hashers import make_password
from django.contrib.auth.models import User

_LONGEST = 150


def local_owner() -> User:
    """The person at this computer, by the name of their login; made when first asked for.

    It has no password: it counts only for programs that run on this computer.
    """
    name = _login_name()
    known = User.objects.filter(username=name).first()
    if known is not None:
        return known
    fresh = {"password": make_password(None), "is_superuser": True}
    return User.objects.get_or_create(username=name, defaults=fresh)[0]


def name_of(user: User) -> str:
    """How a person is called in the history."""
    return user.get_full_name() or user.get_username()


def _login_name() -> str:
    try:
        name = getpass.getuser().strip()
    except (OSError, KeyError, ImportError):
        # A container or a service may run under a number that has no name.
        name = ""
    return name[:_LONGEST] or "owner"
