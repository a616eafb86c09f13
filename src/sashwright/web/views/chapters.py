"""Parts of a window's page that are only asked for when they are looked at.

Fit, air, storm and screen, warmth, wind and rain.
"""

from __future__ import annotations

import datetime
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.fit.calendar import day_of_date
from sashwright.chapters.grade.safety import house_safety, safety
from sashwright.chapters.words import Words
from sashwright.papers import gradewords, heatwords
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.web import pictures, present, warm, yearly
from sashwright.web.answers.fit import fit_shown
from sashwright.web.answers.grade import grade_shown
from sashwright.web.answers.heat import heat_shown
from sashwright.web.answers.seal import seal_shown
from sashwright.web.answers.season import season_shown
from sashwright.web.asking import ask
from sashwright.web.views.common import HouseHead, head_of, is_part, is_phone


@require_GET
def fit(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """Will it rattle and will it stick? On the date of the shop, or any other that is asked for."""
    head = head_of(request, slug)
    house = store.load_for_window(slug, number)
    asked = ask(house, number, knowledge(), head.system)
    weather = yearly.weather_of(house)
    on, says = shop_date(request)
    context: dict[str, Any] = {
        "on": on,
        "on_says": says,
        "again": f"?on={on}" if request.GET.get("on") and not says else "",
        "no_weather": weather.says,
    }
    if weather.outdoors is not None:
        wall = house.walls.get(asked.window.wall)
        today = day_of_date(on.isoformat()) + 1
        answer = asked.fit(weather.outdoors.daily(house), wall, today)
        context |= {
            "fit": fit_shown(answer, head.system),
            "pictures": pictures.clearance_pictures(answer, head.system),
            "weather": weather.outdoors,
            **_told(answer, head),
        }
    return _part(request, head, number, "fit", context)


def shop_date(request: HttpRequest) -> tuple[datetime.date, str]:
    """The date that is asked for, or today with what was wrong with it."""
    given, today = request.GET.get("on", "").strip(), timezone.localdate()
    if not given:
        return today, ""
    try:
        return datetime.date.fromisoformat(given), ""
    except ValueError:
        return today, f"Found {given[:20]!r}, expected a date such as {today.isoformat()}."


@require_GET
def seal(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """How much air gets by?"""
    head = head_of(request, slug)
    house = store.load_for_window(slug, number)
    answer = yearly.seal_of(slug, house, ask(house, number, knowledge(), head.system))
    shown = seal_shown(answer, head.system)
    context = {
        "seal": shown,
        "pictures": pictures.leak_pictures(answer, head.system) if shown else [],
        **_told(answer, head),
    }
    return _part(request, head, number, "seal", context)


@require_GET
def season(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """Storm sash and screen."""
    head = head_of(request, slug)
    house = store.load_for_window(slug, number)
    asked = ask(house, number, knowledge(), head.system)
    answer = yearly.season_of(slug, house, asked)
    context = {
        "season": season_shown(answer, knowledge(), head.system),
        "pictures": pictures.storm_pictures(asked, answer),
        "length_unit": head.words.length_unit,
        **_told(answer, head),
    }
    return _part(request, head, number, "season", context)


@require_GET
def heat(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """How well does it insulate? With one of its sections, in air as humid as is asked for."""
    head = head_of(request, slug)
    house = store.load_for_window(slug, number)
    asked = ask(house, number, knowledge(), head.system)
    answer = yearly.heat_of(slug, asked)
    context: dict[str, Any] = {"heat": heat_shown(answer, head.system)} | _told(answer, head)
    if asked.placed is not None and answer.values:
        context |= warm.section_shown(request.GET, asked.placed, answer, head.system)
        if is_part(request) and request.headers.get("HX-Target") == warm.PART:
            context["address"] = reverse("window-heat", args=[slug, number])
            return render(request, "web/window/isotherms.html", context)
        context |= {
            "pictures": pictures.heat_pictures(answer, head.system),
            "cautions": (heatwords.SCREENING, heatwords.GLASS),
        }
    return _part(request, head, number, "heat", context)


@require_GET
def grade(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """What wind and rain will it stand?"""
    head = head_of(request, slug)
    house = store.load_for_window(slug, number)
    asked = ask(house, number, knowledge(), head.system)
    answer = yearly.grade_of(slug, asked)
    found, wall = answer.windows[0], house.walls.get(asked.window.wall)
    flags = list(house_safety(house).findings)
    if asked.placed is not None and found.values:
        flags += safety(asked.placed, house, Words(head.system), asked.hang).findings
    told = [*gradewords.judgements(found, flags), *answer.findings]
    context = _told(found, head) | {
        "grade": grade_shown(found, head.system),
        "pictures": pictures.grade_pictures(asked, answer, wall, phone=is_phone(request)),
        "findings": present.sorted_findings([each for each in told if each not in flags]),
        "flags": present.sorted_findings(flags),
        "certify": gradewords.CERTIFY,
    }
    return _part(request, head, number, "grade", context)


def _told(answer: WindowAnswer, head: HouseHead) -> dict[str, Any]:
    return {
        "findings": present.sorted_findings(answer.findings),
        "working": present.steps(answer.working, head.system),
    }


TITLES = {
    "condition": "Condition",
    "treat": "What it needs",
    "photographs": "Photographs",
    "fit": "Fit through the year",
    "seal": "Air that gets by",
    "season": "Storm and screen",
    "heat": "Warmth",
    "grade": "Wind and rain",
}


def _part(
    request: HttpRequest, head: HouseHead, number: str, chapter: str, context: dict[str, Any]
) -> HttpResponse:
    """The part alone for the window's page, or as a page of its own."""
    context |= {
        "house": head,
        "number": number,
        "chapter": chapter,
        "title": TITLES[chapter],
        "address": reverse(f"window-{chapter}", args=[head.slug, number]),
        "template": f"web/window/{chapter}.html",
    }
    whole = "web/window/part.html" if is_part(request) else "web/window/part_page.html"
    return render(request, whole, context)
