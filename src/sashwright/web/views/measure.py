"""Sizes read off a photograph: marked on the page, worked out here, kept with it or in its window."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from sashwright import units
from sashwright.chapters.words import Words
from sashwright.record import measures, store
from sashwright.record.attached.photo import Measure
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.measuring import NotYet
from sashwright.record.store import PhotographRow
from sashwright.units import INCH
from sashwright.web import photoshown, present, saving
from sashwright.web.views.common import HouseHead, head_of, latest_change, tell, user_of

UNSURE = {"us": (0.0, INCH / 32, INCH / 16, INCH / 8), "metric": (0.0, 0.0005, 0.001, 0.003)}
"""Standard errors of the known sizes that can be chosen [m]."""
KINDS = {"length": "A length", "spacing": "Spaces along a line", "angle": "An angle"}
NO_MARKS = "Found no marks, expected those set on the photograph."


@require_GET
def page(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """Mark and measure; ``?again=2`` begins with what was marked for an earlier measurement."""
    head = head_of(request, slug)
    row = store.photograph(slug, key)
    begun = _begun(row, request.GET.get("again", ""))
    system = head.system
    opening = _opening(head, row)
    shown = Words(system)
    unsure = begun.unsure if begun else UNSURE[system][2]
    context = {
        "house": head,
        "card": photoshown.card(slug, row),
        "photo": row,
        "kinds": KINDS,
        "kind": begun.kind if begun else "length",
        "marks": json.dumps(_marks(begun)),
        "width": _text(begun.width if begun else None, system) or (opening[0] if opening else ""),
        "height": _text(begun.height if begun else None, system) or (opening[1] if opening else ""),
        "opening": opening,
        "unsure": [
            (
                units.exact_length(each, system),
                shown.fine(each) if each else "exact",
                each == unsure,
            )
            for each in UNSURE[system]
        ],
        "says": "Mark the four corners of something whose width and height are known.",
    }
    return render(request, "web/measure.html", context)


def _begun(row: PhotographRow, again: str) -> Measure | None:
    if not again.isdigit() or int(again) >= len(row.measures):
        return None
    return row.measures[int(again)]


def _marks(begun: Measure | None) -> dict[str, Any]:
    if begun is None:
        return {"corners": [], "points": [], "straight": []}
    return {"corners": begun.corners, "points": begun.points, "straight": begun.straight}


def _text(metres: float | None, system: units.System) -> str:
    return "" if metres is None else units.exact_length(metres, system)


def _opening(head: HouseHead, row: PhotographRow) -> tuple[str, str] | None:
    """Width and height of the window shown, as they are written down."""
    if row.window is None or row.window_gone:
        return None
    document = store.stored(head.slug, "window", row.window).document
    read = [units.parse_length(document[name], head.system) for name in ("width", "height")]
    return _text(read[0], head.system), _text(read[1], head.system)


@require_POST
def answer(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """What the marks measure, as a part of the page."""
    head = head_of(request, slug)
    row = store.photograph(slug, key)
    context: dict[str, Any] = {"house": head, "photo": row}
    try:
        measure = _read(request.POST, head)
        found = store.measure_photograph(slug, key, measure, Words(head.system))
    except (NotYet, Refused, ValueError) as error:
        context["says"] = saving.says_of(error)
        return render(request, "web/photographs/measured.html", context)
    context |= {
        "found": found,
        "findings": present.sorted_findings(found.findings),
        "working": present.steps(found.working, head.system),
        "fields": _fields_for(found.kind) if row.window and not row.window_gone else {},
        "posted": request.POST.get("measure", ""),
        "sizes": {
            name: request.POST.get(name, "") for name in ("kind", "width", "height", "unsure")
        },
    }
    return render(request, "web/photographs/measured.html", context)


def _fields_for(kind: str) -> Mapping[str, str]:
    if kind == "angle":
        return measures.ANGLES
    return measures.LENGTHS if kind == "length" else {}


def _read(posted: QueryDict, head: HouseHead) -> Measure:
    """What was marked and typed. Raises ``ValueError`` or ``Refused``."""
    try:
        marks = json.loads(posted.get("measure", ""))
    except ValueError:
        raise ValueError(NO_MARKS) from None
    if not isinstance(marks, dict):
        raise ValueError(NO_MARKS)
    straight = marks.get("straight") or []
    sizes = {name: posted[name] for name in ("width", "height", "unsure") if posted.get(name)}
    document = {
        "kind": posted.get("kind", "length"),
        "corners": marks.get("corners") or [],
        "points": marks.get("points") or [],
        # An edge of which only the ends are marked tells nothing yet.
        "straight": [line for line in straight if isinstance(line, list) and len(line) > 2],
        **sizes,
    }
    return store.read_measure(document, head.system)


@require_POST
def keep(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """Keep what was measured, and give it to a field of the window if one is named."""
    head = head_of(request, slug)
    use_as = request.POST.get("use_as", "")
    try:
        measure = _read(request.POST, head)
        _, found = store.keep_measure(slug, key, measure, user_of(request), use_as=use_as)
    except (NotYet, Refused, Conflict, ValueError) as error:
        tell(request, f"Not kept: {saving.says_of(error)}")
        return redirect(reverse("measure", args=[slug, key]))
    name = {**measures.LENGTHS, **measures.ANGLES}.get(use_as)
    window = store.photograph(slug, key).window
    said = f"Window {window} takes it as the {name}" if name else "The measurement is kept"
    tell(request, f"{said}: {found.says}.", latest_change(slug, "photo", key))
    return redirect("photograph", slug, key)


@require_POST
def remove(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    index = request.POST.get("measure", "")
    if not index.isdigit():
        raise NotThere("There is no such measurement.")
    try:
        store.remove_measure(slug, key, int(index), saving.base_of(request.POST), user_of(request))
        tell(request, "The measurement is taken away.", latest_change(slug, "photo", key))
    except (Refused, Conflict) as error:
        tell(request, f"Not taken away: {error}")
    return redirect("photograph", slug, key)
