"""The air that gets by the windows of a house."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from sashwright.web import pictures, present, yearly
from sashwright.web.answers.seal import air_shown
from sashwright.web.views.common import head_of


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    head = head_of(request, slug)
    whole = yearly.whole_of(slug, head.system)
    answer = whole.seal
    wrong = [window.number for window in answer.windows if not window.values]
    context = {
        "house": head,
        "air": air_shown(answer, head.system),
        "wrong": wrong,
        "picture": pictures.totals_picture(answer, head.system),
        "no_weather": whole.weather.says,
        "findings": present.sorted_findings(answer.findings),
        "working": present.steps(answer.working, head.system),
    }
    return render(request, "web/air.html", context)
