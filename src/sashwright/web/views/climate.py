"""The climate of a house: what its name was taken for, and another looked for."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from sashwright.knowledge.tables import KnowledgeError
from sashwright.record import store
from sashwright.record.errors import NotThere
from sashwright.web import fields, present, saving, yearly
from sashwright.web.answers import climate
from sashwright.web.saving import Desk
from sashwright.web.views.common import HouseHead, back_to, head_of, is_part, tell, user_of


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """The climate as it is, with places to choose; a chosen one is written into the house."""
    head = head_of(request, slug)
    if request.method == "POST":
        return _choose(request, head)
    house = store.load_house(slug)
    weather = yearly.weather_of(house)
    text = request.GET.get("text", "")
    context = {
        "house": head,
        "named": house.climate,
        "no_weather": weather.says,
        "text": text,
        "offers": climate.offers(text, head.system),
        "next": request.GET.get("next", "") or reverse("climate", args=[slug]),
    }
    if is_part(request) and "text" in request.GET:
        return render(request, "web/climate/offers.html", context)
    if weather.outdoors is not None:
        shown = climate.climate_shown(house, weather.outdoors, head.system)
        context |= {
            "climate": shown,
            "findings": present.sorted_findings(shown.answer.findings),
            "working": present.steps(shown.answer.working, head.system),
        }
    else:
        context["offers"] = context["offers"] or climate.offers(house.climate, head.system)
    template = "web/climate/block.html" if is_part(request) else "web/climate.html"
    return render(request, template, context)


def _choose(request: HttpRequest, head: HouseHead) -> HttpResponse:
    try:
        words = climate.named(request.POST.get("place", ""))
    except KnowledgeError as error:
        raise NotThere(str(error)) from None
    desk = Desk(head.slug, "house", "", head.system, user_of(request))
    item = fields.all_fields(fields.house_groups())["climate"]
    outcome = saving.change_field(desk, item, [words], head.stored.version, {})
    if outcome.status == "saved":
        tell(request, f"The climate is that of {words}.", store.changes(head.slug, limit=1)[0].id)
    return redirect(back_to(request, reverse("climate", args=[head.slug])))
