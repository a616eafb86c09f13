"""Adding many windows fast: a row to type along, one window to each Enter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from sashwright.record import store
from sashwright.record.errors import Refused
from sashwright.record.facts import knowledge
from sashwright.web import fields, pictures, saving
from sashwright.web.asking import ask
from sashwright.web.edit import Document
from sashwright.web.fields import Field, FieldError
from sashwright.web.forms import Form
from sashwright.web.views.common import (
    HouseHead,
    family_choices,
    head_of,
    is_part,
    latest_change,
    tell,
    user_of,
)

COLUMNS = {
    "number": "Number",
    "family": "Family",
    "wall": "Wall",
    "storey": "Storey",
    "room": "Room",
    "width": "Width",
    "height": "Height",
    "upper": "Upper lites",
    "lower": "Lower lites",
}
COPIED = ("family", "wall", "storey", "room", "upper", "lower")
"""Carried on from one window to the next."""
SHOWN = 12
"""Windows shown below the row, the latest first."""


@dataclass(frozen=True)
class Added:
    """A window just added, as the list shows it."""

    number: str
    room: str
    wall: str
    storey: int
    size: str
    svg: Any


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest, slug: str) -> HttpResponse:
    head = head_of(request, slug)
    if not family_choices(slug):
        return redirect("new-family", slug)
    said: dict[str, str] = {}
    if request.method == "POST":
        said = _add(request, head)
    typed = request.POST.dict() if said else _next(head)
    change = latest_change(slug) if request.method == "POST" and not said else None
    context = {
        "house": head,
        "row": _row(head, typed, said),
        "added": _latest(head),
        "total": len(store.window_numbers(slug)),
        "change": change,
        "last": request.POST.get("number", "") if not said else "",
    }
    if request.method == "POST" and not is_part(request) and not said:
        tell(request, f"Window {context['last']} added.", change)
        return redirect("add", slug)
    template = "web/add/rows.html" if is_part(request) else "web/add.html"
    return render(request, template, context, status=422 if said else 200)


def _add(request: HttpRequest, head: HouseHead) -> dict[str, str]:
    """Add the window in the row; answer what is wrong with it, by field."""
    document: Document = {}
    said: dict[str, str] = {}
    for item in _columns():
        try:
            value = fields.read(item, request.POST.getlist(item.path), head.system)
        except FieldError as error:
            said[item.path] = str(error)
        else:
            if value is not None:
                document[item.path] = value
    if said:
        return said
    try:
        store.add_window(head.slug, document, user_of(request))
    except Refused as error:
        for problem in error.problems:
            path = problem.field if problem.field in COLUMNS else "height"
            said.setdefault(path, saving.sentence_of(Refused([problem]), None))
    return said


def _columns() -> list[Field]:
    known = fields.all_fields(fields.window_groups())
    number = Field("number", "Number", "As it is written on the window's tag.", "text")
    return [replace(known.get(name, number), label=label) for name, label in COLUMNS.items()]


def _next(head: HouseHead) -> dict[str, str]:
    """What to suggest: the next number, and the last window's family, wall, storey and room."""
    numbers = store.window_numbers(head.slug)
    typed = {"number": store.next_number(head.slug), "storey": "1"}
    if not numbers:
        return typed | {"family": family_choices(head.slug)[0][0], "wall": head.walls[0]}
    document = store.stored(head.slug, "window", numbers[-1]).document
    return typed | {name: str(document[name]) for name in COPIED if name in document}


def _row(head: HouseHead, typed: Mapping[str, str], said: Mapping[str, str]) -> list[Any]:
    walls = tuple((wall, wall) for wall in head.walls)
    form = Form(head.system, knowledge(), {"family": family_choices(head.slug), "wall": walls})
    return [
        form.show_typed(item, typed.get(item.path, ""), said.get(item.path, ""))
        for item in _columns()
    ]


def _latest(head: HouseHead) -> list[Added]:
    return [_added(head, number) for number in reversed(store.window_numbers(head.slug)[-SHOWN:])]


def _added(head: HouseHead, number: str) -> Added:
    house = store.load_for_window(head.slug, number)
    asked = ask(house, number, knowledge(), head.system)
    window, words = asked.window, head.words
    return Added(
        number,
        window.room,
        window.wall,
        window.storey,
        f"{words.opening(window.width * 1000)} × {words.opening(window.height * 1000)}",
        pictures.small(asked.placed, number),
    )
