"""What every page needs to know."""

from __future__ import annotations

import json
from typing import Any

from django.contrib.auth.models import AnonymousUser, User
from django.http import HttpRequest

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


def page(request: HttpRequest) -> dict[str, Any]:
    theme = request.COOKIES.get(THEME_COOKIE, "system")
    # A page about a request that broke early has nobody in it.
    user = getattr(request, "user", AnonymousUser())
    return {
        "page": {
            "theme": theme if theme in dict(THEMES) else "system",
            "themes": THEMES,
            "htmx_config": HTMX_CONFIG,
            "who": user.get_username(),
            # The local owner is let in by their computer and has nowhere to sign out to.
            "signs_in": isinstance(user, User) and user.has_usable_password(),
        }
    }
