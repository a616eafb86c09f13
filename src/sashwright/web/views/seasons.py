"""The change of a house: when storms and screens change places, in which order, and by which marks."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from sashwright.chapters.fit.calendar import day_of_date
from sashwright.chapters.season import marks_of
from sashwright.record import store
from sashwright.record.errors import Refused
from sashwright.web import fields, pictures, present, saving, yearly
from sashwright.web.answers.season import Seasons, seasons_shown
from sashwright.web.saving import Desk
from sashwright.web.views.common import HouseHead, head_of, is_part, tell, user_of


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    return _page(request, head_of(request, slug))


def _page(
    request: HttpRequest, head: HouseHead, refused: dict[str, tuple[str, str]] | None = None
) -> HttpResponse:
    """The whole page, or its marks alone; ``refused`` has what was typed for a window, and why not."""
    whole = yearly.whole_of(head.slug, head.system)
    answer = whole.season
    today = day_of_date(timezone.localdate().isoformat()) + 1
    shown = _with_refused(seasons_shown(answer, whole.house, head.system), refused or {})
    context: dict[str, Any] = {
        "house": head,
        "seasons": shown,
        "no_weather": whole.weather.says,
        "weather": whole.weather.outdoors,
        "picture": pictures.season_picture(answer, head.system, today) if shown.changes else None,
        "findings": present.sorted_findings(answer.findings),
        "working": present.steps(answer.working, head.system),
    }
    template = "web/seasons/marks.html" if is_part(request) else "web/seasons.html"
    return render(request, template, context, status=422 if refused else 200)


def _with_refused(shown: Seasons, refused: dict[str, tuple[str, str]]) -> Seasons:
    marks = tuple(
        replace(row, mark=refused[row.number][0], says=refused[row.number][1], given=True)
        if row.number in refused
        else row
        for row in shown.marks
    )
    return replace(shown, marks=marks)


@require_POST
def mark(request: HttpRequest, slug: str) -> HttpResponse:
    """Write down the mark that is cut into one window, or leave it to the numbering again."""
    head = head_of(request, slug)
    number, typed = request.POST.get("number", ""), request.POST.get("mark", "").strip()
    stored = store.stored(slug, "window", number)
    desk = Desk(slug, "window", number, head.system, user_of(request))
    item = fields.all_fields(fields.window_groups())["mark"]
    outcome = saving.change_field(desk, item, [typed], stored.version, {})
    refused = {number: (typed, outcome.says)} if outcome.status == "refused" else None
    if not is_part(request) and refused is None:
        return redirect("seasons", slug)
    return _page(request, head_of(request, slug), refused)


@require_POST
def keep(request: HttpRequest, slug: str) -> HttpResponse:
    """Write down all marks as they are proposed, so that none of them ever moves."""
    head_of(request, slug)
    try:
        change = store.keep_marks(slug, marks_of(store.load_house(slug)), user_of(request))
    except Refused as error:
        tell(request, saving.sentence_of(error))
    else:
        if change is not None:
            tell(request, "All marks are kept in the record.", change.pk)
    return redirect("seasons", slug)
