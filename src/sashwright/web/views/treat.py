"""What each window needs: the house wall by wall, one window with its alternatives, and the decision."""

from __future__ import annotations

import json
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from sashwright.chapters.answer import LEVELS
from sashwright.knowledge.work_tables import CLASSES
from sashwright.record import store
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.web import overview, pictures, present, saving, stepping, yearly
from sashwright.web.answers.treat import STAMPS, needs_shown, rows_shown
from sashwright.web.views.chapters import TITLES
from sashwright.web.views.common import HouseHead, head_of, is_part, latest_change, tell, user_of
from sashwright.web.views.house import faces_of

PART = "treat"
CHANGED = "Somebody else decided meanwhile: this is what it says now."


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """All windows of a house: a strip for each wall, and a table."""
    head = head_of(request, slug)
    whole = yearly.whole_of(slug, head.system)
    answer = whole.treat
    stamps = {each.number: STAMPS[each.values["class"]] for each in answer.windows if each.values}
    context: dict[str, Any] = {
        "house": head,
        "rows": rows_shown(answer),
        "totals": answer.values,
        "classes": [(STAMPS[name], answer.values["classes"][name]) for name in CLASSES],
        "swatches": pictures.class_swatches(STAMPS),
        "strips": overview.stamped_walls(slug, whole.placed, stamps, faces_of(head)),
        "findings": present.sorted_findings(answer.findings),
        "wrong": [each.number for each in answer.windows if not each.values],
        "undecided": sum(
            1 for each in answer.windows if each.values and not each.values["decision"]
        ),
    }
    return render(request, "web/treat.html", context)


@require_GET
def window(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    return _window(request, head_of(request, slug), number)


def _window(
    request: HttpRequest,
    head: HouseHead,
    number: str,
    says: str = "",
    status: int = 200,
    *,
    saved: bool = False,
) -> HttpResponse:
    whole = yearly.whole_of(head.slug, head.system)
    stored = store.stored(head.slug, "window", number)
    answer = whole.treat_window(number)
    names = {key: row.name for key, row in knowledge().task.items()}
    grave = [each for each in answer.findings if LEVELS.index(each.level) >= 2]
    here = request.htmx.current_url_abs_path if is_part(request) else ""  # type: ignore[attr-defined]
    context: dict[str, Any] = {
        "house": head,
        "number": number,
        "stored": stored,
        "chapter": PART,
        "title": TITLES[PART],
        "address": reverse("window-treat", args=[head.slug, number]),
        "template": "web/window/treat.html",
        "needs": needs_shown(answer, names, head.system),
        "findings": present.sorted_findings(answer.findings),
        "grave": present.sorted_findings(grave),
        "working": present.steps(answer.working, head.system),
        "who": store.name_of(user_of(request)),
        "today": timezone.localdate().isoformat(),
        "save": reverse("window-decide", args=[head.slug, number]),
        "says": says,
        "back": here,
        "oob": saved and is_part(request),
        "at_home": (here or "").partition("?")[0] == reverse("window", args=[head.slug, number]),
        "steps": stepping.steps_of(head.slug, "window", number, user_of(request)),
    }
    whole_page = "web/treat/part.html" if is_part(request) else "web/window/part_page.html"
    response = render(request, whole_page, context, status=status)
    if saved and is_part(request):
        response.headers["HX-Trigger-After-Settle"] = json.dumps(
            {"sashwright:changed": {"part": f"part-{PART}"}}
        )
    return response


@require_POST
def decide(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """Write down which alternative it is, or that nobody has decided."""
    head, posted = head_of(request, slug), request.POST
    store.stored(slug, "window", number)
    taken_back = posted.get("act") == "undecide"
    key = posted.get("alternative", "")
    if not taken_back and key not in knowledge().scope:
        if not key:
            return _window(
                request, head, number, "Found no alternative, expected one of them.", 422
            )
        raise NotThere(f"There is no alternative {key[:40]!r}.")
    decision = None if taken_back else {
        "alternative": key,
        "by": posted.get("by", "").strip() or store.name_of(user_of(request)),
        "on": posted.get("on", "").strip() or timezone.localdate().isoformat(),
        "note": posted.get("note", "").strip(),
    }  # fmt: skip
    name = "" if taken_back else knowledge().scope[key].name.lower()
    said = f"Window {number}: {'not decided any more' if taken_back else name}."
    base = saving.base_of(posted)
    try:
        kept = store.save_fields(
            slug, "window", number, {"decision": decision}, base, user_of(request)
        )
    except (Refused, Conflict) as error:
        return _window(request, head, number, *saving.trouble(error, CHANGED))
    if kept.version != base:
        tell(request, said, latest_change(slug, "window", number))
    if not is_part(request):
        return redirect("window-treat", slug, number)
    return _window(request, head_of(request, slug), number, saved=True)
