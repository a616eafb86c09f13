"""The survey of a window: its parts with what was found on them; likewise what is typical.

A part of the window's page, and a page of its own for a tablet on site. Without a script every step is a
plain form or link.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, get_args
from urllib.parse import quote

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from sashwright.record import store
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.web import fields, saving, stepping, surveying
from sashwright.web.fields import FieldError
from sashwright.web.forms import Form, Shown
from sashwright.web.surveyacts import ACTS, WHOLE, Moved, place_of
from sashwright.web.surveying import Subject
from sashwright.web.views.common import HouseHead, head_of, is_part, latest_change, tell, user_of
from sashwright.web.views.family import shown_on
from sashwright.window.components import part_words
from sashwright.window.condition import Found, HazardTest
from sashwright.window.resolve import Placed, place_each
from sashwright.window.surveyed import MEASURES

PART = "condition"
FORM = "finding-form"
"""What of the part is asked for again when another fault is chosen."""
TITLES = {"window": "Condition", "family": "Typical of the family", "house": "Typical of the house"}

# --- of what --------------------------------------------------------------------------


def _window(head: HouseHead, number: str) -> Subject:
    house = store.load_for_window(head.slug, number)
    _, placed = next(place_each(house, knowledge(), [number]))
    laid = placed if isinstance(placed, Placed) else None
    return Subject("window", head.slug, number, head.system, house, knowledge(), laid)


def _family(head: HouseHead, key: str) -> Subject:
    placed = shown_on(head, key)
    return Subject("family", head.slug, key, head.system, None, knowledge(), placed)


def _house(head: HouseHead, _: str) -> Subject:
    return Subject("house", head.slug, "", head.system, None, knowledge())


Find = Callable[[HouseHead, str], Subject]


@require_GET
def window(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    return _show(request, slug, _window, number)


@require_GET
def family(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    return _show(request, slug, _family, key)


@require_GET
def house(request: HttpRequest, slug: str) -> HttpResponse:
    return _show(request, slug, _house, "")


@require_POST
def keep_window(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    return _keep(request, slug, _window, number)


@require_POST
def keep_family(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    return _keep(request, slug, _family, key)


@require_POST
def keep_house(request: HttpRequest, slug: str) -> HttpResponse:
    return _keep(request, slug, _house, "")


# --- shown ----------------------------------------------------------------------------


def _show(request: HttpRequest, slug: str, find: Find, key: str) -> HttpResponse:
    head = head_of(request, slug)
    return _page(request, head, find(head, key), request.GET)


def _page(
    request: HttpRequest,
    head: HouseHead,
    subject: Subject,
    asked: Mapping[str, str],
    says: str = "",
    status: int = 200,
    *,
    saved: bool = False,
) -> HttpResponse:
    on, chosen = _chosen(subject, asked)
    context: dict[str, Any] = {
        "house": head,
        "subject": subject,
        "number": subject.key if subject.kind == "window" else "",
        "stored": subject.stored,
        "chapter": PART,
        "title": TITLES[subject.kind],
        "address": subject.address,
        "again": f"?on={quote(on)}" if on else "",
        "template": "web/condition/survey.html",
        "form": _form(subject, on, chosen, asked) if on else None,
        "says": says,
    }
    if is_part(request) and request.headers.get("HX-Target") == FORM and not saved:
        return render(request, "web/condition/form.html", context, status=status)
    here = request.htmx.current_url_abs_path if is_part(request) else ""  # type: ignore[attr-defined]
    path = (here or "").partition("?")[0]
    context |= {
        "picture": subject.picture(on),
        "swatches": surveying.key_pictures(),
        "parts": subject.listed,
        "rows": surveying.rows_of(subject),
        "sound": [(name, part_words(name)) for name in subject.condition.sound]
        if subject.condition is not None
        else [],
        "tests": surveying.tests_of(subject),
        "condition": subject.condition,
        "others": _others(subject) if subject.condition is not None else [],
        "results": get_args(HazardTest.model_fields["result"].annotation),
        "oob": saved and is_part(request),
        "at_home": path == subject.home,
        "back": here,
        "steps": _steps(request, subject),
    }
    whole = "web/condition/part.html" if is_part(request) else "web/condition/page.html"
    response = render(request, whole, context, status=status)
    if saved and is_part(request):
        response.headers["HX-Trigger-After-Settle"] = json.dumps(
            {"sashwright:changed": {"part": f"part-{PART}"}}
        )
    return response


def _steps(request: HttpRequest, subject: Subject) -> Any:
    if subject.kind == "house":
        return None
    return stepping.steps_of(subject.slug, subject.kind, subject.key, user_of(request))


def _chosen(subject: Subject, asked: Mapping[str, str]) -> tuple[str, Found | None]:
    """The part that is looked at, and the finding on it that is to be changed."""
    at = place_of(subject, asked.get("finding", ""))
    if at is not None:
        found = subject.typical.found[at]
        return subject.plain(found.on), found
    on = subject.plain(asked.get("on", ""))
    if on:
        subject.kinds(on)
    return on, None


def _form(
    subject: Subject, on: str, found: Found | None, asked: Mapping[str, str]
) -> dict[str, Any]:
    """The form of a finding on a part."""
    faults = subject.faults(on)
    key = asked.get("fault") or (found.fault if found else "")
    fault = next((row for row in faults if row.key == key), None)
    severity = asked.get("severity") or (found.severity if found else None) or ""
    usual = fault.usual if fault else ""
    severities = surveying.severities_of(fault) if fault else []
    own = [row for row in surveying.rows_of(subject) if subject.plain(row.on) == on and row.token]
    sound = subject.condition.sound if subject.condition is not None else ()
    return {
        "on": on,
        "part": part_words(on),
        "token": asked.get("finding", "") if found else "",
        "found": found,
        "faults": faults,
        "fault": fault,
        "severities": severities,
        "severity": severity if severity in severities else usual,
        "fields": _fields(subject, on, fault.measured, found, asked) if fault else [],
        "own": own if not found else [],
        "is_sound": on in map(subject.plain, sound),
        "can_be_sound": subject.kind == "window" and not found,
    }


def _fields(
    subject: Subject, on: str, measured: str, found: Found | None, asked: Mapping[str, str]
) -> list[Shown]:
    form = Form(subject.system, subject.knowledge, {})
    wood = any(row.key == "decay" for row in subject.faults(on))
    shown = []
    for item in fields.found_fields():
        if item.path in MEASURES and item.path != measured:
            continue
        # What is no wood takes neither meter nor awl.
        if item.path in ("moisture", "probe") and not wood:
            continue
        each = form.show(item, found)
        typed = asked.get(item.path)
        texts = each.texts if typed is None else (typed,)
        hint = each.placeholder
        if item.path in MEASURES:
            hint = "all of it"
        elif item.path == "probe":
            hint = ("1/2", "12")[subject.system == "metric"]
        unit = ("ft²", "m²")[subject.system == "metric"] if item.path == "area" else each.unit
        shown.append(
            replace(each, id=f"found-{item.path}", texts=texts, placeholder=hint, unit=unit)
        )
    return shown


def _others(subject: Subject) -> list[str]:
    """Windows whose findings can hold for this one: surveyed, and not like another themselves."""
    numbers = []
    for number in store.window_numbers(subject.slug):
        if number == subject.key:
            continue
        condition = store.stored(subject.slug, "window", number).document.get("condition", {})
        if condition.get("found") and not condition.get("like"):
            numbers.append(number)
    return numbers


# --- kept -----------------------------------------------------------------------------


def _keep(request: HttpRequest, slug: str, find: Find, key: str) -> HttpResponse:
    head = head_of(request, slug)
    subject, posted = find(head, key), request.POST
    act = ACTS.get(posted.get("act", ""))
    if act is None:
        raise NotThere("There is no such act in a survey.")
    try:
        changes, said = act(user_of(request), subject, posted)
        before = subject.stored.version
        base = saving.base_of(posted) if posted.get("act") in WHOLE else before
        under = {f"{subject.path}.{name}": value for name, value in changes.items()}
        kept = store.save_fields(slug, subject.kind, key, under, base, user_of(request))
    except (FieldError, Refused) as error:
        says = saving.sentence_of(error) if isinstance(error, Refused) else str(error)
        return _page(request, head, find(head, key), posted.dict(), says, 422)
    except (Conflict, Moved):
        return _page(request, head, find(head, key), {}, saving.CHANGED, 409)
    changed = kept.version != before
    tell(request, said, latest_change(slug, subject.kind, key or None) if changed else None)
    if not is_part(request):
        return redirect(subject.address)
    return _page(request, head_of(request, slug), find(head, key), {}, saved=True)
