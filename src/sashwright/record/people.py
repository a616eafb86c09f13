"""Who works with the record."""

from __future__ import annotations

import getpass
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.contrib.auth.hashers import make_password
from django.contrib.auth.models import User
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from sashwright.record.errors import NotThere, refused
from sashwright.record.models import Person
from sashwright.record.roles import ROLES, Role

_LONGEST = 150


@dataclass(frozen=True, slots=True)
class PersonRow:
    """A person in a list."""

    id: int
    name: str
    role: Role
    active: bool
    signs_in: bool
    """Whether there is a password; who has none gets in at this computer only."""
    last_seen: datetime | None


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


def role_of(user: User) -> Role | None:
    """What a person may do; none whose account is closed.

    The first person of a shop, who owns it, has no row of their own.
    """
    if not user.is_active:
        return None
    if user.is_superuser:
        return "owner"
    role = Person.objects.filter(user=user).values_list("role", flat=True).first()
    return _role(role) if role in ROLES else "viewer"


def people() -> list[PersonRow]:
    """Everybody who has or had an account, by name."""
    roles = dict(Person.objects.values_list("user", "role"))
    return [
        PersonRow(
            user.pk,
            user.get_username(),
            "owner" if user.is_superuser else _role(roles.get(user.pk, "viewer")),
            user.is_active,
            user.has_usable_password(),
            user.last_login,
        )
        for user in User.objects.order_by("username")
    ]


def find_person(name: str) -> User:
    """Raises ``NotThere``."""
    user = User.objects.filter(username=name).first()
    if user is None:
        raise NotThere(f"There is nobody called {name}.")
    return user


def person_at(identity: int) -> User:
    """Raises ``NotThere``."""
    user = User.objects.filter(pk=identity).first()
    if user is None:
        raise NotThere("There is no such person.")
    return user


@transaction.atomic
def add_person(name: str, role: str, password: str | None = None) -> User:
    """Open an account; without a password only a paired device gets in.

    Raises ``Refused`` for a name that is taken or cannot be one, an unknown role, a weak password.
    """
    name = name.strip()
    if not name or len(name) > _LONGEST or any(ord(sign) < 32 for sign in name):
        raise refused("name", repr(name[:40]), f"a name of 1 to {_LONGEST} signs")
    if User.objects.filter(username__iexact=name).exists():
        raise refused("name", name, "one that nobody else has")
    kind = _role(role)
    user = User(username=name)
    _put_password(user, password)
    user.save()
    Person.objects.create(user=user, role=kind)
    return user


@transaction.atomic
def change_person(
    user: User, *, role: str | None = None, password: str | None = None, active: bool | None = None
) -> None:
    """Change what is given of a person. Raises ``Refused``; then changes nothing.

    There is always somebody left who owns the shop. A new password or a closed account ends all
    sessions of that person.
    """
    if user.is_superuser and (active is False or role not in (None, "owner")):
        found, expected = "the shop's first owner", "somebody else, for the shop needs an owner"
        raise refused(user.get_username(), found, expected)
    if role is not None and not user.is_superuser:
        Person.objects.update_or_create(user=user, defaults={"role": _role(role)})
    if password is not None:
        _put_password(user, password)
    if active is not None:
        user.is_active = active
    user.save()


def _put_password(user: User, password: str | None) -> None:
    if password:
        try:
            validate_password(password, user)
        except ValidationError as error:
            raise refused("password", _sentence(error.messages), "a better one") from None
    user.set_password(password or None)


def _sentence(messages: Iterable[str]) -> str:
    return " ".join(messages).rstrip(".")


def _role(role: str) -> Role:
    for known in ROLES:
        if known == role:
            return known
    raise refused("role", repr(role), f"one of {', '.join(ROLES)}")


def _login_name() -> str:
    try:
        name = getpass.getuser().strip()
    except (OSError, KeyError, ImportError):
        # A container or a service may run under a number that has no name.
        name = ""
    return name[:_LONGEST] or "owner"
