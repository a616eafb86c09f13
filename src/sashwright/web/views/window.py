"""A window's page: its drawing in the middle, its fields beside, what it hangs on below."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from sashwright.record import store
from sashwright.record.errors import NotThere, Refused, Stored
from sashwright.record.facts import knowledge
from sashwright.web import edit, fields, pictures, present, saving, stepping
from sashwright.web.asking import Asked, ask
from sashwright.web.fields import Field, FieldError
from sashwright.web.forms import Form
from sashwright.web.saving import Desk
from sashwright.web.views import chapters
from sashwright.web.views.common import (
    HouseHead,
    family_choices,
    head_of,
    is_phone,
    tell,
    user_of,
)
from sashwright.window.spec import House, Window

VIEW_COOKIE = "sashwright_view"


@dataclass(frozen=True)
class Sheet:
    """All that the page of one window shows."""

    head: HouseHead
    house: House
    stored: Stored
    asked: Asked

    @property
    def window(self) -> Window:
        return self.asked.window


def _sheet(head: HouseHead, number: str) -> Sheet:
    house = store.load_for_window(head.slug, number)
    stored = store.stored(head.slug, "window", number)
    return Sheet(head, house, stored, ask(house, number, knowledge(), head.system))


@require_GET
def page(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    sheet = _sheet(head_of(request, slug), number)
    numbers = store.window_numbers(slug)
    at = numbers.index(number)
    context = {
        **_shown(request, sheet),
        **_form(sheet),
        "previous": numbers[at - 1] if at else None,
        "next": numbers[at + 1] if at + 1 < len(numbers) else None,
        "steps": stepping.steps_of(slug, "window", number, user_of(request)),
        "chapters": chapters.TITLES,
    }
    return render(request, "web/window.html", context)


@require_POST
def field(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """Save one field; answer with the drawing and the figures as they are now."""
    head = head_of(request, slug)
    item = _field_at(request.POST.get("field", ""))
    desk = Desk(slug, "window", number, head.system, user_of(request))
    outcome = saving.change_posted(desk, item, request.POST)
    sheet = _sheet(head, number)
    context = {
        **_shown(request, sheet),
        "outcome": outcome,
        "disputes": saving.disputes(outcome),
        "held": _held(sheet) if outcome.merged else "",
        "steps": stepping.steps_of(slug, "window", number, user_of(request)),
        "save": reverse("window-field", args=[slug, number]),
    }
    response = render(request, "web/window/saved.html", context)
    return saving.tell(response, outcome, sheet.window, desk)


@require_POST
def preview(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """The drawing and the figures as they would be with what is typed; nothing is saved."""
    head = head_of(request, slug)
    sheet = _sheet(head, number)
    path = request.POST.get("field", "")
    if path:
        tried = _tried(request, sheet, _field_at(path))
        if tried is None:
            # Half a number is no reason to wipe the drawing.
            return HttpResponse(status=204)
        sheet = tried
    response = render(request, "web/window/preview.html", _shown(request, sheet))
    view = request.POST.get("view", "")
    if view in pictures.VIEWS:
        response.set_cookie(VIEW_COOKIE, view, samesite="Lax", httponly=True)
    return response


def _tried(request: HttpRequest, sheet: Sheet, item: Field) -> Sheet | None:
    system = sheet.head.system
    try:
        typed = request.POST.getlist(item.path)
        changes = edit.changes_of(sheet.stored.document, item, typed, system, request.POST.dict())
        window = edit.check(Window, edit.apply(sheet.stored.document, changes), system)
    except FieldError:
        return None
    others = tuple(w for w in sheet.house.windows if w.number != sheet.window.number)
    if window.family not in sheet.house.families:
        return None
    house = sheet.house.model_copy(update={"windows": (window, *others)})
    asked = ask(house, window.number, sheet.asked.knowledge, system)
    return Sheet(sheet.head, house, sheet.stored, asked)


@require_GET
def more(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """A further field in which this window differs from its family, ready to be typed in."""
    head = head_of(request, slug)
    sheet = _sheet(head, number)
    path = request.GET.get("path", "")
    item = fields.all_fields(fields.family_groups()).get(path)
    if item is None:
        raise NotThere(f"There is no field {path!r} in a family.")
    form = _form_of(sheet)
    context = {
        "shown": _difference(form, sheet, item),
        "save": reverse("window-field", args=[slug, number]),
        "preview": reverse("window-preview", args=[slug, number]),
        "fresh": True,
    }
    return render(request, "web/parts/field.html", context)


@require_POST
def step(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """Undo or redo the last step on this window."""
    way = request.POST.get("way", "undo")
    tell(request, stepping.step(slug, "window", number, user_of(request), way))
    return redirect("window", slug, number)


@require_POST
def renumber(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    wanted = request.POST.get("number", "").strip()
    try:
        store.renumber_window(slug, number, wanted, user_of(request))
    except Refused as error:
        tell(request, f"Still window {number}: {saving.sentence_of(error)}")
        return redirect("window", slug, number)
    tell(request, f"Window {number} is now {wanted}.")
    return redirect("window", slug, wanted)


@require_POST
def duplicate(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """Another window like this one, under the next number, without what was measured and found on it."""
    document = dict(store.stored(slug, "window", number).document)
    document["number"] = store.next_number(slug, number)
    for own in ("measured", "beside", "along", "condition", "decision", "spent"):
        document.pop(own, None)
    new = store.add_window(slug, document, user_of(request))
    tell(request, f"Window {new.key} is a copy of {number}.")
    return redirect("window", slug, new.key)


@require_POST
def remove(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    try:
        change = store.remove_window(slug, number, user_of(request))
    except Refused as error:
        tell(request, saving.sentence_of(error))
        return redirect("window", slug, number)
    tell(request, f"Window {number} removed.", change.pk)
    return redirect("house", slug)


# --- what the templates show ------------------------------------------------------


def _field_at(path: str) -> Field:
    """A field of the window, or of its differences from the family. Raises ``NotThere``."""
    own = fields.all_fields(fields.window_groups())
    if path in own:
        return own[path]
    prefix, _, inner = path.partition(".")
    shared = fields.all_fields(fields.family_groups())
    if prefix != "changes" or inner not in shared:
        raise NotThere(f"There is no field {path!r} in a window.")
    return shared[inner].under("changes")


def _shown(request: HttpRequest, sheet: Sheet) -> dict[str, Any]:
    """Drawing, figures, findings, working, parts."""
    asked, words = sheet.asked, sheet.head.words
    wanted = request.POST.get("view") or request.GET.get("view")
    wanted = wanted or request.COOKIES.get(VIEW_COOKIE, "")
    view = wanted if wanted in pictures.VIEWS else "outside"
    findings = present.sorted_findings([*asked.hang.findings, *_only_new(asked)])
    return {
        "house": sheet.head,
        "number": sheet.window.number,
        "window": sheet.window,
        "stored": sheet.stored,
        "view": view,
        "views": pictures.VIEWS,
        "pictures": pictures.window_pictures(asked, view, findings, phone=is_phone(request)),
        "curve": pictures.effort_pictures(asked),
        "slides": pictures.slides(asked),
        "figures": present.figures(asked.hang, asked.knowledge, words),
        "findings": findings,
        "worst": asked.hang.worst,
        "working": present.steps(asked.hang.working, sheet.head.system),
        "making": present.steps(asked.parts.working, sheet.head.system),
        "parts": present.part_rows(asked.parts, asked.knowledge, words),
        "glass": present.glass_rows(asked.parts, asked.knowledge, words),
        "length_unit": words.length_unit,
    }


def _only_new(asked: Asked) -> list[Any]:
    """Findings on the parts; a contradiction is told once, with the hanging."""
    return list(asked.parts.findings) if asked.placed is not None else []


def _form_of(sheet: Sheet) -> Form:
    slug = sheet.head.slug
    walls = tuple((wall, wall) for wall in sheet.head.walls)
    offers = {"family": family_choices(slug), "wall": walls}
    return Form(sheet.head.system, sheet.asked.knowledge, offers)


def _form(sheet: Sheet) -> dict[str, Any]:
    form, window, head = _form_of(sheet), sheet.window, sheet.head
    shared = fields.all_fields(fields.family_groups())
    differs = [
        _difference(form, sheet, item)
        for item in shared.values()
        if fields.value_at(window, f"changes.{item.path}") is not None
    ]
    return {
        "groups": form.groups(fields.window_groups(), window),
        "differs": differs,
        "family_groups": fields.family_groups(),
        "save": reverse("window-field", args=[head.slug, window.number]),
        "preview": reverse("window-preview", args=[head.slug, window.number]),
    }


def _held(sheet: Sheet) -> str:
    return saving.all_texts(fields.window_groups(), sheet.window, sheet.head.system)


def _difference(form: Form, sheet: Sheet, item: Field) -> Any:
    family = sheet.house.families[sheet.window.family]
    inherited = fields.texts(item, fields.value_at(family, item.path), form.system)
    return form.show(item.under("changes"), sheet.window, inherited=inherited or ("none",))
