"""The survey that works without a connection: its page, its worker, houses to take along, what comes back."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import render
from django.template.loader import render_to_string
from django.templatetags.static import static
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from sashwright.record import inbox, store
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.record.images import LARGEST
from sashwright.record.inbox import Taken
from sashwright.web import edit, saving, shell, takealong
from sashwright.web.context import THEME_COOKIE
from sashwright.web.views.common import user_of
from sashwright.window.problem import Problem

MOST = 200
"""Entries sent together."""


@require_GET
def page(request: HttpRequest) -> HttpResponse:
    """The page itself: the same for everybody, so that it may be kept; what it shows is on the device."""
    return HttpResponse(_page())


def _page() -> str:
    return render_to_string("web/offline.html")


@require_GET
def worker(request: HttpRequest) -> HttpResponse:
    """Keeps the page and its files, by their digest, and answers with them; knows nothing else."""
    context = {
        "digest": shell.digest(_page().encode()),
        "files": json.dumps(shell.addresses()),
        "page": reverse("offline"),
    }
    response = render(request, "web/offline/worker.js", context, content_type="text/javascript")
    response.headers["Cache-Control"] = "no-cache"
    return response


@require_GET
def manifest(request: HttpRequest) -> HttpResponse:
    """What a device needs to put the survey among its programs."""
    icons = [
        {"src": static(f"web/icons/survey-{name}.png"), "sizes": f"{size}x{size}",
         "type": "image/png", "purpose": purpose}
        for name, size, purpose in (
            ("192", 192, "any"), ("512", 512, "any"), ("maskable-512", 512, "maskable"),
        )
    ]  # fmt: skip
    said = {
        "id": reverse("offline"),
        "name": "Sashwright survey",
        "short_name": "Sashwright",
        "description": "The survey of windows, with or without a connection.",
        "start_url": reverse("offline"),
        "scope": reverse("houses"),
        "display": "standalone",
        "background_color": "#f4eddd",
        "theme_color": "#fbf7ec",
        "lang": "en",
        "icons": icons,
    }
    response = JsonResponse(said, content_type="application/manifest+json")
    response.headers["Cache-Control"] = "no-cache"
    return response


# --- taken along --------------------------------------------------------------------


@require_GET
def here(request: HttpRequest) -> JsonResponse:
    """That there is a connection, who is known by it, and which houses there are."""
    user = user_of(request)
    houses = [
        {"slug": row.slug, "name": row.name, "place": row.place, "windows": row.windows,
         "changed": row.changed_at.isoformat()}
        for row in store.list_houses()
    ]  # fmt: skip
    return JsonResponse(
        {
            "token": get_token(request),
            "who": {"id": user.pk, "name": store.name_of(user)},
            "theme": request.COOKIES.get(THEME_COOKIE, "system"),
            "houses": houses,
        }
    )


@require_GET
def house(request: HttpRequest, slug: str) -> JsonResponse:
    return JsonResponse(takealong.bundle(slug, knowledge()))


# --- what comes back ----------------------------------------------------------------


@require_POST
def send(request: HttpRequest) -> JsonResponse:
    """Take in entries in their order, and answer each."""
    try:
        entries = json.loads(request.body)["entries"]
    except (ValueError, KeyError, TypeError):
        entries = None
    if not isinstance(entries, list) or not all(isinstance(each, dict) for each in entries):
        return _wrong("Found no list of entries, expected one.")
    if len(entries) > MOST:
        return _wrong(f"Found {len(entries)} entries, expected at most {MOST} together.")
    answers = inbox.take_all(entries, user_of(request))
    return JsonResponse({"answers": [_told(each) for each in answers]})


@require_POST
def photo(request: HttpRequest) -> JsonResponse:
    """Take in one photograph with its entry."""
    try:
        entry = json.loads(request.POST.get("entry", ""))
    except ValueError:
        entry = None
    file = request.FILES.get("photo")
    if not isinstance(entry, dict) or file is None:
        return _wrong("Found no photograph with its entry, expected both.")
    # A file that is far too large is not even read.
    taken = inbox.take(entry, user_of(request), file.read(LARGEST + 1))
    return JsonResponse({"answers": [_told(taken)]})


def _wrong(says: str) -> JsonResponse:
    return JsonResponse({"says": says}, status=400)


def _told(taken: Taken) -> dict[str, Any]:
    """An answer as a device reads it."""
    told: dict[str, Any] = {"status": taken.status, "again": taken.again, **_trouble(taken)}
    if taken.window is not None:
        told["window"] = {
            "id": taken.id,
            "number": taken.window.key,
            "version": taken.window.version,
            "document": takealong.lean(taken.window.document),
        }
    return told


def _trouble(taken: Taken) -> Mapping[str, Any]:
    error = taken.trouble
    if isinstance(error, Conflict):
        return {
            "says": str(error),
            "who": error.who,
            "when": error.when.isoformat(),
            "fields": [
                {
                    "path": one.path,
                    "label": saving.label_of(Problem(one.path, "", "")),
                    "mine": saving.told(one.mine),
                    "theirs": saving.told(one.theirs),
                }
                for one in error.fields
            ],
        }
    if isinstance(error, Refused):
        problem = error.problems[0]
        return {"says": _sentence(error), "field": problem.field}
    return {"says": str(error)} if isinstance(error, NotThere) else {}


def _sentence(error: Refused) -> str:
    problem = error.problems[0]
    if "." not in problem.field and problem.field in ("window", "who", "key", "house", "of"):
        return edit.sentence_of(problem)
    return saving.sentence_of(error)
