"""The whole history of one window on one page."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from sashwright.web import lifeline
from sashwright.web.views.common import head_of
from sashwright.web.views.keeping import keep_of


@require_GET
def page(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    head = head_of(request, slug)
    events = lifeline.lifeline(slug, number, head.system)
    quiet = request.GET.get("without") == "changes"
    shown = [event for event in events if not (quiet and event.kind == "change")]
    answer = next(
        (each for each in keep_of(slug, head.system).windows if each.number == number), None
    )
    items = answer.values.get("items", []) if answer else []
    context = {
        "house": head,
        "number": number,
        "events": shown,
        "quiet": quiet,
        "changes": sum(event.kind == "change" for event in events),
        "items": sorted(items, key=lambda row: str(row["planned"] or "9999")),
    }
    return render(request, "web/lifeline.html", context)
