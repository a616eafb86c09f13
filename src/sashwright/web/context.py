"""What every page needs to know."""

from __future__ import annotations

import json
from typing import Any

from django.contrib.auth.models import AnonymousUser, User
from django.http import HttpRequest
from django.utils import timezone

from sashwright.record.people import name_of, role_of
from sashwright.record.roles import is_at_least

THEMES = (("light", "Light"), ("dark", "Dark"), ("system", "As the computer"))
THEME_COOKIE = "sashwright_theme"

# No scripts or styles from strings; what a form refuses is shown, not thrown away.
HTMX_CONFIG = json.dumps(
    {
        "allowEval": False,
        "allowScriptTags": False,
        "includeIndicatorStyles": False,
        "selfRequestsOnly": True,
        "historyCacheSize": 0,
        # Without "style", which it would write into the page and the browser forbid.
        "attributesToSettle": ["class", "width", "height"],
        "responseHandling": [
            {"code": "204", "swap": False},
            {"code": "[23]..", "swap": True},
            {"code": "409", "swap": True},
            {"code": "422", "swap": True},
            {"code": "[45]..", "swap": False, "error": True},
        ],
    }
)


# Pages that edit something, and what kind of thing.
_EDITED = {
    "house-details": "house",
    "rooms": "house",
    "family": "family",
    "window": "window",
    "window-condition": "window",
}


def page(request: HttpRequest) -> dict[str, Any]:
    theme = request.COOKIES.get(THEME_COOKIE, "system")
    # A page about a request that broke early has nobody in it.
    user = getattr(request, "user", AnonymousUser())
    # The door has asked already, but for a page that is not there.
    role = getattr(request, "role", None) or (role_of(user) if isinstance(user, User) else None)
    return {
        "page": {
            "theme": theme if theme in dict(THEMES) else "system",
            "themes": THEMES,
            "htmx_config": HTMX_CONFIG,
            "who": name_of(user) if isinstance(user, User) else "",
            "role": role or "client",
            # Forms are shown to those who may send at least some of them; the server refuses the rest.
            "looks_only": not is_at_least(role, "bench"),
            "owns": is_at_least(role, "owner"),
            "about": _about(request) if role else None,
            "surveys": is_at_least(role, "surveyor"),
            # The local owner is let in by their computer and has nowhere to sign out to.
            "signs_in": isinstance(user, User) and user.has_usable_password(),
        }
    }


def _about(request: HttpRequest) -> dict[str, str] | None:
    """What can be edited on this page, so that it can tell who else is at it."""
    match = request.resolver_match
    kind = _EDITED.get(match.url_name or "") if match else None
    if match is None or kind is None:
        return None
    key = match.kwargs.get("number") or match.kwargs.get("key") or ""
    return {"kind": kind, "key": key, "since": timezone.now().isoformat()}
