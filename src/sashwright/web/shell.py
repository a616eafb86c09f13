"""The files that a device keeps to open the survey without a connection, and their digest."""

from __future__ import annotations

import hashlib
from pathlib import Path

from django.contrib.staticfiles import finders
from django.templatetags.static import static
from django.urls import reverse

FOLDER = Path(__file__).parent / "static"
PLAIN = (
    "web/mark.svg",
    "web/icons/survey-192.png",
    "web/css/tokens.css",
    "web/css/dark.css",
    "web/css/page.css",
    "web/css/form.css",
    "web/css/survey.css",
    "web/css/contrast.css",
    "web/js/fractions.js",
    "web/js/keypad.js",
)


def files() -> list[str]:
    """Names of the static files, the modules of the survey and the lettering among them."""
    more = (FOLDER / "web").glob("fonts/*.woff2"), (FOLDER / "web").glob("js/survey/*.js")
    found = sorted(each.relative_to(FOLDER).as_posix() for group in more for each in group)
    return [*PLAIN, *found]


def addresses() -> list[str]:
    """Where the survey's page and its files are."""
    return [reverse("offline"), *(static(name) for name in files())]


def digest(page: bytes) -> str:
    """Of the page and all its files: whatever changes in one of them makes another."""
    total = hashlib.sha256(page)
    for name in files():
        path = finders.find(name)
        total.update(name.encode() + b"\0" + (Path(path).read_bytes() if path else b""))
    return total.hexdigest()[:16]
