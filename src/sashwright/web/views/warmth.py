"""The warmth of all windows of a house."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from sashwright.record import store
from sashwright.web import pictures, present, yearly
from sashwright.web.answers.heat import warmth_shown
from sashwright.web.views.common import head_of, is_part
from sashwright.web.views.papers import PAPERS


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """The page, at once; it asks for its windows as a part, which takes a while when they are new."""
    head = head_of(request, slug)
    context = {"house": head, "count": len(store.window_numbers(slug))}
    if not is_part(request) and "now" not in request.GET:
        return render(request, "web/warmth.html", context)
    whole = yearly.whole_of(slug, head.system)
    answer = whole.heat
    context |= {
        "warmth": warmth_shown(answer, head.system),
        "wrong": [window.number for window in answer.windows if not window.values],
        "picture": pictures.losses_picture(answer, head.system),
        "no_weather": whole.weather.says,
        "findings": present.sorted_findings(answer.findings),
        "working": present.steps(answer.working, head.system),
        "papers": PAPERS,
    }
    template = "web/warmth/windows.html" if is_part(request) else "web/warmth.html"
    return render(request, template, context)
