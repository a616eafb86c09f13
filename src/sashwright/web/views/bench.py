"""The bench with its scale: weigh a sash, and read from two yards what to hang it on."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from sashwright import units
from sashwright.record import store
from sashwright.record.errors import NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.record.readings import Which
from sashwright.web import fields, present, saving
from sashwright.web.asking import ask
from sashwright.web.views.common import HouseHead, head_of, is_part, latest_change, user_of
from sashwright.window.spec import SashMeasured

STATES = {
    "finished": "Finished",
    "before painting": "Before painting",
    "before reglazing": "Before reglazing",
}
LATEST = 8


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """Choose a window, key in what the scale says, read the answer."""
    head = head_of(request, slug)
    given = request.POST if request.method == "POST" else request.GET
    number, which = given.get("number", "").strip(), given.get("which", "lower")
    which = which if which in present.SIDES else "lower"
    state = given.get("state", "finished")
    context: dict[str, Any] = {
        "house": head,
        "numbers": store.window_numbers(slug),
        "number": number,
        "which": which,
        "state": state if state in STATES else "finished",
        "states": STATES,
        "sides": present.SIDES,
        "mass": "",
    }
    status = 200
    if request.method == "POST":
        says = _weigh(request, head, number, which, context["state"])
        status = 422 if says else 200
        kept = None if says else latest_change(slug, "window", number)
        context |= {"says": says, "kept": kept, "mass": given.get("mass", "") if says else ""}
    context |= _answer(head, number, which) | {"readings": _latest(head, number)}
    template = "web/bench/answer.html" if is_part(request) else "web/bench.html"
    return render(request, template, context, status=status)


@require_GET
def window(request: HttpRequest, slug: str) -> HttpResponse:
    """What is known of the window whose number is being typed."""
    head = head_of(request, slug)
    number, which = request.GET.get("number", "").strip(), request.GET.get("which", "lower")
    which = which if which in present.SIDES else "lower"
    context: dict[str, Any] = {"house": head, "number": number, "which": which}
    context |= _answer(head, number, which) | {"readings": _latest(head, number)}
    return render(request, "web/bench/answer.html", context)


def _weigh(request: HttpRequest, head: HouseHead, number: str, which: Which, state: str) -> str:
    """Keep the reading; answer what is wrong with it, or nothing."""
    if not number:
        return "Choose the window first."
    text = request.POST.get("mass", "").strip()
    if not text:
        return "Key in what the scale says."
    try:
        mass = units.parse_mass(text, head.system)
        store.add_reading(head.slug, number, which, mass, state, user_of(request))
    except NotThere as error:
        return str(error)
    except Refused as error:
        return saving.sentence_of(error)
    except ValueError as error:
        return fields.sentence(str(error))
    return ""


def _answer(head: HouseHead, number: str, which: str) -> dict[str, Any]:
    """The figures for one window; nothing while its number is not known."""
    if number not in store.window_numbers(head.slug):
        return {"unknown": bool(number)}
    house = store.load_for_window(head.slug, number)
    asked = ask(house, number, knowledge(), head.system)
    figures = present.figures(asked.hang, asked.knowledge, head.words)
    side = next((each for each in figures if each.which == which), None)
    measured: SashMeasured = getattr(asked.window.measured, which)
    findings = present.sorted_findings(asked.hang.findings)
    return {
        "window": asked.window,
        "side": side,
        "measured": measured,
        "findings": [f for f in findings if f.on.partition(".")[0] in (which, *_NEITHER)],
        "contradicted": asked.placed is None,
        "sheet": reverse("window", args=[head.slug, number]),
    }


_NEITHER = ("window", "pocket", "frame", "both")
"""What findings concern that are not on one sash."""


def _latest(head: HouseHead, number: str) -> list[Any]:
    """The last readings, of this window or of the whole house, the newest first."""
    known = number in store.window_numbers(head.slug)
    found = store.readings(head.slug, number if known else None)[-LATEST:]
    words = head.words
    return [(reading, words.mass(reading.value_kg)) for reading in reversed(found)]
