"""How a house ventilates, and how it should be opened."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET

from sashwright.record import store
from sashwright.web import pictures, present, yearly
from sashwright.web.answers.breathe import Choice, breathing_shown, hour_sentence, room_rows
from sashwright.web.views.common import HouseHead, head_of, is_part
from sashwright.web.views.papers import PAPERS
from sashwright.web.yearly import Whole

HOUR = "airhour"
"""What of the page is asked for again when another hour is chosen."""


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """The page, at once; it asks for the answer as a part, which takes a while when it is new."""
    head = head_of(request, slug)
    context: dict[str, Any] = {"house": head, "count": len(store.window_numbers(slug))}
    whole = yearly.whole_of(slug, head.system)
    context |= {"no_weather": whole.weather.says, "rooms": len(whole.house.rooms)}
    if not is_part(request) and "now" not in request.GET:
        return render(request, "web/breathe.html", context)
    if is_part(request) and request.headers.get("HX-Target") == HOUR:
        return render(request, "web/breathe/hour.html", _hour(request, head, whole))
    context |= _whole(request, head, whole)
    template = "web/breathe/answer.html" if is_part(request) else "web/breathe.html"
    return render(request, template, context)


def _whole(request: HttpRequest, head: HouseHead, whole: Whole) -> dict[str, Any]:
    """All of the answer for the template; nothing without weather."""
    answer = whole.breathe
    if answer is None:
        return {}
    seasons = [each["name"] for each in answer.values.get("seasons", ())]
    days = request.GET.get("days", "")
    days = days if days in seasons else ""
    shown = breathing_shown(answer, days, head.system)
    findings = present.sorted_findings(answer.findings)
    context: dict[str, Any] = {
        "answered": True,
        "breathing": shown,
        "days": days,
        "seasons": answer.values.get("seasons", ()),
        "findings": findings,
        "grave": [each for each in findings if each.level in ("caution", "fail")],
        "others": [each for each in findings if each.level not in ("caution", "fail")],
        "working": present.steps(answer.working, head.system),
        "papers": PAPERS,
    }
    if shown is not None:
        context["pictures"] = pictures.breathe_pictures(answer, days)
        context |= _hour(request, head, whole)
    return context


def _hour(request: HttpRequest, head: HouseHead, whole: Whole) -> dict[str, Any]:
    """The hour that is asked for, with all that can be."""
    answer = whole.breathe
    if answer is None or "plans" not in answer.values:
        return {"house": head}
    choice = Choice.of(request.GET, answer.values)
    values = whole.breathe_hour(choice.season, choice.hour, choice.plan)
    if values is None:
        return {"house": head}
    return {
        "house": head,
        "address": reverse("breathe", args=[head.slug]),
        "choice": choice,
        "season_choices": choice.seasons(answer.values),
        "plan_choices": choice.plans(answer.values),
        "hour_choices": choice.hours(head.system),
        "air": pictures.air_pictures(whole.house, values, head.system),
        "hour_says": hour_sentence(values, head.system),
        "room_rows": room_rows(values["rooms"], head.system),
        "shut": not values["opened"],
    }
