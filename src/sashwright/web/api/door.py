"""Who is asking, by the token they bring, and what they may ask."""

from __future__ import annotations

from typing import cast

from django.contrib.auth.models import User
from django.http import HttpRequest
from ninja.errors import HttpError
from ninja.security import HttpBearer
from ninja.throttling import AnonRateThrottle, AuthRateThrottle, BaseThrottle

from sashwright.record import keys
from sashwright.record.people import role_of
from sashwright.record.roles import Role, is_at_least

PER_MINUTE = 300
"""Requests with one token; a spreadsheet fetches a few, a scale one for each sash."""
UNKNOWN_PER_MINUTE = 30


class TokenDoor(HttpBearer):
    """Lets in whoever brings ``Authorization: Bearer TOKEN``, as the person the token acts for."""

    def authenticate(self, request: HttpRequest, token: str) -> User | None:
        user = keys.user_of_token(token)
        if user is not None:
            request.user = user
        return user


def throttles() -> list[BaseThrottle]:
    """So many requests a minute; more are told to come back later."""
    return [AuthRateThrottle(f"{PER_MINUTE}/m"), AnonRateThrottle(f"{UNKNOWN_PER_MINUTE}/m")]


def asker(request: HttpRequest, least: Role = "viewer") -> User:
    """The person behind the token, who must have at least this role."""
    user = cast(User, request.auth)  # type: ignore[attr-defined]
    role = role_of(user)
    if not is_at_least(role, least):
        raise HttpError(403, f"This takes the role {least}, and yours is {role}.")
    return user
