"""A house: its windows as a schedule and along its walls, and its own details."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from sashwright.chapters.answer import LEVELS
from sashwright.record import store
from sashwright.record.errors import NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.web import fields, overview, saving
from sashwright.web.forms import Form
from sashwright.web.overview import Wanted
from sashwright.web.saving import Desk
from sashwright.web.templatetags.shop import LEVEL_WORDS
from sashwright.web.views.common import (
    HouseHead,
    family_choices,
    head_of,
    is_part,
    tell,
    user_of,
)
from sashwright.web.views.papers import PAPERS, PARTS
from sashwright.window.quantities import COMPASS
from sashwright.window.spec import House

A_PAGE = 120
"""Windows shown at once; the rest comes on demand."""


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    head = head_of(request, slug)
    rows = overview.rows_of(slug, head.system)
    wanted = Wanted.of(request.GET)
    found = wanted.sorted([row for row in rows if wanted.takes(row)])
    by_wall = request.GET.get("by") == "wall"
    shown = found if request.GET.get("all") else found[:A_PAGE]
    context = {
        "house": head,
        "rows": shown,
        "found": len(found),
        "total": len(rows),
        "wanted": wanted,
        "sorts": overview.SORTS,
        "by_wall": by_wall,
        "strips": overview.walls(slug, found, faces_of(head)) if by_wall else [],
        "levels": _levels(rows),
        "families": family_choices(slug),
        "storeys": sorted({row.window.storey for row in rows}),
        "papers": PAPERS,
        "paper_parts": {part: title for part, (title, _) in PARTS.items()},
        "query": _without(request, "sort"),
        "everything": _without(request, "all"),
    }
    template = "web/house/windows.html" if is_part(request) else "web/house.html"
    return render(request, template, context)


def _without(request: HttpRequest, name: str) -> str:
    query = request.GET.copy()
    query.pop(name, None)
    return query.urlencode()


def _levels(rows: Any) -> list[tuple[str, str, int]]:
    """How many windows are at each level, the gravest first."""
    counts = dict.fromkeys(reversed(LEVELS), 0)
    for row in rows:
        counts[row.level] += 1
    return [(level, LEVEL_WORDS[level], count) for level, count in counts.items()]


def faces_of(head: HouseHead) -> dict[str, str]:
    """Which way each wall looks, as a compass point."""
    walls = head.stored.document.get("walls", {})
    return {name: compass(wall["faces"]) for name, wall in walls.items()}


def compass(degrees: float) -> str:
    return COMPASS[round(degrees / 22.5) % 16]


# --- details ----------------------------------------------------------------------


@require_GET
def details(request: HttpRequest, slug: str) -> HttpResponse:
    head = head_of(request, slug)
    form = Form(head.system, knowledge(), {})
    model = model_of(head)
    context = {
        "house": head,
        "stored": head.stored,
        "groups": form.groups(fields.house_groups(), model),
        "walls": [
            [form.show(item, model) for item in fields.wall_fields([name])] for name in head.walls
        ],
        "save": reverse("house-field", args=[slug]),
        "number": "",
    }
    return render(request, "web/details.html", context)


@require_POST
def field(request: HttpRequest, slug: str) -> HttpResponse:
    head = head_of(request, slug)
    tables = knowledge()
    more = (
        *fields.wall_fields(head.walls),
        *fields.cost_fields(tables.measure.values()),
        *fields.pricing_fields(),
        *fields.rate_fields(tables.rate.values(), tables.material.values()),
    )
    known = fields.all_fields(fields.house_groups()) | {each.path: each for each in more}
    item = known.get(request.POST.get("field", ""))
    if item is None:
        raise NotThere("There is no such field in a house.")
    desk = Desk(slug, "house", "", head.system, user_of(request))
    outcome = saving.change_posted(desk, item, request.POST)
    now = head_of(request, slug)
    context = {
        "house": now,
        "stored": now.stored,
        "outcome": outcome,
        "disputes": saving.disputes(outcome),
        "save": reverse("house-field", args=[slug]),
    }
    response = render(request, "web/details/saved.html", context)
    return saving.tell(response, outcome, model_of(now), desk)


@require_POST
def wall(request: HttpRequest, slug: str) -> HttpResponse:
    """Add a wall, or take away one that no window stands in."""
    head = head_of(request, slug)
    walls = dict(head.stored.document.get("walls", {}))
    name = request.POST.get("wall", "").strip()
    if request.POST.get("act") == "remove":
        walls.pop(name, None)
    else:
        walls.setdefault(name, {"faces": 0.0})
    document = {**head.stored.document, "walls": walls}
    try:
        store.save(slug, "house", "", document, head.stored.version, user_of(request))
    except Refused as error:
        tell(request, saving.sentence_of(error))
    return redirect("house-details", slug)


def model_of(head: HouseHead) -> House:
    return House.model_validate(head.stored.document, context={"system": head.system})
