"""What comes next at a house, and when: its calendar, its visits, and what is due in all houses."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from functools import lru_cache
from itertools import groupby
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.chapters.days import day_number, said
from sashwright.chapters.keep import Recorded, keep
from sashwright.chapters.keep.clocks import LOOKS
from sashwright.drawing.keepplot import keep_plot
from sashwright.papers.calendarfile import keep_calendar
from sashwright.papers.orderwords import windows as named
from sashwright.record import store
from sashwright.record import visits as kept
from sashwright.record.errors import NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.record.stages import Mark, contents_mark
from sashwright.record.visits import VisitRow
from sashwright.web import pictures, present, saving, shopwork, yearly
from sashwright.web.overview import natural
from sashwright.web.views.common import HouseHead, head_of, tell, user_of

NEAR = 5
"""Years of the calendar that are unfolded."""
ALL = "all"
"""Stands for every window in the form of a visit."""


def keep_of(slug: str, system: units.System) -> Answer:
    """The keep chapter's answer for a house, kept until something of it changes, or the day does.

    Raises ``NotThere``.
    """
    stages = store.stages(slug)
    mark = tuple((row.id, row.when) for row in stages)
    return _keep(slug, system, contents_mark(slug), mark, shopwork.today())


@lru_cache(maxsize=64)
def _keep(
    slug: str,
    system: units.System,
    contents: Mark,
    stages: tuple[tuple[int, datetime], ...],
    today: str,
) -> Answer:
    shop = shopwork.in_shop(slug)
    outdoors = yearly.weather_of(shop.house).outdoors
    record = Recorded(kept.visited(slug), store.moves_of(slug), (shop.tracks, shop.wrong))
    return keep(
        shop.house,
        knowledge(),
        system=system,
        today=today,
        record=record,
        place=None if outdoors is None else outdoors.place,
        year=None if outdoors is None else outdoors.year,
    )


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """The calendar of a house by year, and what is due now."""
    head = head_of(request, slug)
    answer = keep_of(slug, head.system)
    values = answer.values
    context: dict[str, Any] = {
        "house": head,
        "due": list(together(values["due"])),
        "soon": list(together(values["soon"])),
        "years": [_year(year, values["changes"]) for year in values["years"]],
        "near": NEAR,
        "changes": [_change(row) for row in values["changes"][:2]],
        "picture": pictures.svg(keep_plot(answer), "keep"),
        "visits": [_visit(row) for row in kept.visits(slug)],
        "findings": present.sorted_findings(answer.findings),
        "windows": [_window(each.number, each.values) for each in answer.windows if each.values],
        "no_weather": not values["changes"],
    }
    return render(request, "web/keep.html", context)


def together(rows: Sequence[Mapping[str, Any]]) -> Iterator[dict[str, Any]]:
    """What is due, thing by thing, with its windows."""
    for key, group in groupby(
        sorted(rows, key=lambda row: str(row["key"])), lambda row: row["key"]
    ):
        found = list(group)
        numbers = sorted((row["number"] for row in found), key=natural)
        faulty = sorted((row["number"] for row in found if row["faults"]), key=natural)
        yield {
            "key": key,
            "name": found[0]["name"],
            "does": found[0]["does"],
            "numbers": numbers,
            "faulty": faulty,
            "all_faulty": faulty == numbers,
            "oldest": min((row["due"] for row in found if row["due"]), default=""),
            "look": found[0]["what"] in LOOKS,
        }


def _year(year: Mapping[str, Any], changes: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    rows = [
        {"from": row["from"], "when": _month(row["from"]), "name": row["name"],
         "windows": named(row["windows"], 8)}
        for row in year["rows"]
    ]  # fmt: skip
    rows += [
        {"from": row["from"], "when": _month(row["from"]), "name": row["name"].capitalize(),
         "windows": f"by {shopwork.short(row['by'])}"}
        for row in changes
        if row["from"][:4] == str(year["year"])
    ]  # fmt: skip
    return {"year": year["year"], "rows": sorted(rows, key=lambda row: str(row["from"]))}


def _month(date: str) -> str:
    return said(date).split()[1][:3]


def _change(row: Mapping[str, Any]) -> dict[str, str]:
    return {
        "name": row["name"].capitalize(),
        "from": shopwork.short(row["from"]),
        "by": shopwork.short(row["by"]),
    }


def _visit(row: VisitRow) -> dict[str, Any]:
    rows = knowledge().upkeep
    done: dict[str, list[str]] = {}
    for each in row.done:
        name = rows[each.what].name if each.what in rows else each.what
        done.setdefault(name, []).append(each.window or "all windows")
    return {
        "key": row.key,
        "on": said(row.form.on) if row.form.on else "",
        "by": row.form.by,
        "note": row.form.note,
        "done": [(name, named(numbers, 8)) for name, numbers in done.items()],
        "notes": [(each.window, each.note) for each in row.done if each.note],
    }


def _window(number: str, values: Mapping[str, Any]) -> dict[str, Any]:
    items = [row for row in values["items"] if row["planned"]]
    following = min(items, key=lambda row: str(row["planned"]), default=None)
    return {
        "number": number,
        "room": values["room"],
        "due": sum(row["status"] == "due" for row in values["items"]),
        "next": following and following["name"],
        "when": following and shopwork.short(following["planned"]),
        "year": following and following["planned"][:4],
    }


@require_GET
def calendar(request: HttpRequest, slug: str) -> HttpResponse:
    """The same as a calendar file."""
    head = head_of(request, slug)
    data = keep_calendar(keep_of(slug, head.system))
    response = HttpResponse(data, content_type="text/calendar; charset=utf-8")
    response.headers["Content-Disposition"] = f'attachment; filename="{slug}.ics"'
    return response


# --- a visit --------------------------------------------------------------------------


@require_http_methods(["GET", "POST"])
def visit(request: HttpRequest, slug: str) -> HttpResponse:
    """Note a visit: who came, what was done where. For a telephone, window by window or all at once."""
    head = head_of(request, slug)
    says = ""
    if request.method == "POST":
        try:
            row = _keep_visit(request, slug)
        except (Refused, NotThere, ValueError) as error:
            told = saving.says_of(error)
            says = told[:1].upper() + told[1:]
        else:
            change = store.changes(slug, "visit", row.key, limit=1)[0].id
            tell(request, f"The visit of {said(row.form.on or '')} is kept.", change)
            return redirect("keep", slug)
    context = _form(request, slug, head) | {"says": says}
    return render(request, "web/visit.html", context, status=422 if says else 200)


def _keep_visit(request: HttpRequest, slug: str) -> VisitRow:
    posted = request.POST
    done: list[dict[str, Any]] = []
    for each in posted.getlist("done"):
        key, _, number = each.partition("@")
        done.append({"what": key, "window": None if number == ALL else number})
    own, where = posted.get("own", "").strip(), posted.get("own_window", ALL)
    if own:
        done.append({"what": own, "window": None if where == ALL else where})
    on = posted.get("on", "").strip() or shopwork.today()
    if day_number(on) > day_number(shopwork.today()):
        raise ValueError("That day has not come yet.")
    return kept.add_visit(
        slug, on, done, user_of(request), by=posted.get("by", ""), note=posted.get("note", "")
    )


def _form(request: HttpRequest, slug: str, head: HouseHead) -> dict[str, Any]:
    answer = keep_of(slug, head.system)
    only = request.GET.get("window", "")
    ticked = set(request.POST.getlist("done"))
    groups = []
    for window in answer.windows:
        if only and window.number != only:
            continue
        boxes = [_box(row, window.number, ticked) for row in window.values.get("items", ())]
        urgent = [box for box in boxes if box["due"]]
        groups.append(
            {
                "number": window.number,
                "room": window.values.get("room", ""),
                "due": urgent,
                "others": [box for box in boxes if not box["due"]],
                "ticked": any(box["ticked"] for box in boxes),
            }
        )
    everywhere: dict[str, dict[str, Any]] = {}
    for window in answer.windows:
        for row in window.values.get("items", ()):
            everywhere.setdefault(row["key"], _box(row, ALL, ticked))
    return {
        "house": head,
        "groups": groups,
        "everywhere": [] if only else list(everywhere.values()),
        "only": only,
        "today": shopwork.today(),
        "posted": request.POST,
        "numbers": store.window_numbers(slug),
    }


def _box(row: Mapping[str, Any], number: str, ticked: set[str]) -> dict[str, Any]:
    value = f"{row['key']}@{number}"
    due = row["status"] in ("due", "soon")
    return {
        "value": value,
        "name": row["name"],
        "due": due,
        "faulty": bool(row["faults"]),
        "ticked": value in ticked,
    }


# --- all houses -----------------------------------------------------------------------


@require_GET
def due(request: HttpRequest) -> HttpResponse:
    """What is due and what comes soon in every house, the house with most to do first."""
    found: list[dict[str, Any]] = []
    for house in store.list_houses():
        answer = keep_of(house.slug, "us")
        values = answer.values
        if values["due"] or values["soon"]:
            found.append(
                {
                    "slug": house.slug,
                    "name": house.name,
                    "place": house.place,
                    "due": list(together(values["due"])),
                    "soon": list(together(values["soon"])),
                    "faulty": len({row["number"] for row in values["due"] if row["faults"]}),
                    "count": len(values["due"]),
                    "changes": [_change(row) for row in values["changes"][:1]],
                }
            )
    found.sort(key=lambda each: (-each["faulty"], -each["count"]))
    return render(request, "web/due.html", {"found": found, "today": said(shopwork.today())})
