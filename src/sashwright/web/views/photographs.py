"""Photographs of a house: taken or chosen, looked at, described, drawn on, taken away."""

from __future__ import annotations

import json
from typing import Any, get_args

from django.core.files.uploadedfile import UploadedFile
from django.http import FileResponse, HttpRequest, HttpResponse, JsonResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from sashwright.record import measures, store
from sashwright.record.attached.photo import Mark
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.record.images import LARGEST
from sashwright.record.picturefiles import Size
from sashwright.record.store import PhotographRow
from sashwright.web import edit, fields, photoshown, saving, stepping
from sashwright.web.views.common import (
    HouseHead,
    head_of,
    is_part,
    latest_change,
    tell,
    user_of,
)
from sashwright.window.components import part_words

ACCEPTS = "image/jpeg,image/png,image/webp"
A_DAY = 24 * 3600
USED = {**measures.LENGTHS, **measures.ANGLES}
NO_FILE = "Choose a photograph first."


# --- all of a house, or of a window -------------------------------------------------


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """All photographs, by window; posted to, bring in more."""
    head = head_of(request, slug)
    if request.method == "POST":
        return _add(request, head)
    rows = store.photographs(slug)
    context = {
        "house": head,
        "albums": photoshown.albums(slug, rows),
        "count": len(rows),
        "address": reverse("photographs", args=[slug]),
        "numbers": store.window_numbers(slug),
        "accepts": ACCEPTS,
    }
    return render(request, "web/photographs.html", context)


@require_GET
def window(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """The photographs of one window: a part of its page, or a page of their own."""
    head = head_of(request, slug)
    rows = store.photographs(slug, number)
    context = {
        "house": head,
        "number": number,
        "title": "Photographs",
        "address": reverse("window-photographs", args=[slug, number]),
        "cards": [photoshown.card(slug, row) for row in rows],
        "parts": photoshown.parts_of(slug, number, knowledge()),
        "from_photographs": _taken_over(slug, number),
        "accepts": ACCEPTS,
    }
    template = "part.html" if is_part(request) else "of_window.html"
    return render(request, f"web/photographs/{template}", context)


def _taken_over(slug: str, number: str) -> list[tuple[str, str, str]]:
    """Sizes of a window that were read off photographs: field, what was measured, where."""
    known = fields.all_fields((*fields.window_groups(), *fields.family_groups()))
    found = []
    for path, source in store.from_photographs(slug, number).items():
        item = known.get(path) or known.get(path.removeprefix("changes."))
        label = item.label if item else path
        found.append((label, source.says, reverse("photograph", args=[slug, source.key])))
    return found


# --- brought in ---------------------------------------------------------------------


def _add(request: HttpRequest, head: HouseHead) -> HttpResponse:
    """Bring in what was sent; one at a time for a page that shows how far it is."""
    posted, files = request.POST, request.FILES.getlist("photo")
    number = posted.get("window", "").strip()
    kept: list[PhotographRow] = []
    wrong: list[str] = []
    for file in files:
        try:
            kept.append(_bring_in(request, head, file, number, alone=len(files) == 1))
        except Refused as error:
            wrong.append(f"{file.name}: {_plain(error)}")
    if not files:
        wrong.append(NO_FILE)
    if "application/json" in request.headers.get("Accept", ""):
        keys = [row.key for row in kept]
        status = 422 if wrong else 200
        return JsonResponse({"keys": keys, "says": " ".join(wrong)}, status=status)
    if kept:
        many = f"{len(kept)} photographs are" if len(kept) > 1 else "The photograph is"
        tell(request, f"{many} kept.", latest_change(head.slug) if len(kept) == 1 else None)
    for says in wrong:
        tell(request, says)
    if number:
        return redirect("window-photographs", head.slug, number)
    return redirect("photographs", head.slug)


def _bring_in(
    request: HttpRequest, head: HouseHead, file: UploadedFile[bytes], number: str, *, alone: bool
) -> PhotographRow:
    # A file that is far too large is not even read.
    data = file.read(LARGEST + 1)
    posted = request.POST
    return store.add_photograph(
        head.slug,
        data,
        user_of(request),
        window=number or None,
        component=posted.get("component", "").strip() or None,
        note=posted.get("note", ""),
        keep_place=posted.get("keep_place") == "yes",
        key=(posted.get("key") or None) if alone else None,
    )


def _plain(error: Refused) -> str:
    """What is wrong, in words that follow a file's name."""
    said = edit.sentence_of(error.problems[0])
    return said[:1].lower() + said[1:]


# --- one of them --------------------------------------------------------------------


@require_GET
def photograph(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    return _one(request, head_of(request, slug), key)


def _one(
    request: HttpRequest, head: HouseHead, key: str, says: str = "", status: int = 200
) -> HttpResponse:
    row = store.photograph(head.slug, key)
    wide, high = photoshown.sheet_of(row)
    here = row.window if row.window and not row.window_gone else ""
    parts = photoshown.parts_of(head.slug, here, knowledge()) if here else []
    if row.component and row.component not in dict(parts):
        parts = [(row.component, part_words(row.component)), *parts]
    around = [each.key for each in store.photographs(head.slug, here or None)]
    at = around.index(key) if key in around else 0
    context: dict[str, Any] = {
        "house": head,
        "card": photoshown.card(head.slug, row),
        "photo": row,
        "here": here,
        "wide": wide,
        "high": high,
        "drawn": photoshown.drawn(row),
        "tools": get_args(Mark.model_fields["kind"].annotation),
        "measured": [(each, USED.get(each.used_as, "")) for each in row.measures],
        "numbers": store.window_numbers(head.slug),
        "parts": parts,
        "namings": photoshown.namings(head.slug, row),
        "steps": stepping.steps_of(head.slug, "photo", key, user_of(request)),
        "megapixels": row.width * row.height / 1e6,
        "megabytes": row.size / 1e6,
        "previous": around[at - 1] if at else None,
        "next": around[at + 1] if at + 1 < len(around) else None,
        "says": says,
    }
    template = "web/photographs/sheet.html" if is_part(request) else "web/photograph.html"
    return render(request, template, context, status=status)


@require_GET
def picture(request: HttpRequest, slug: str, key: str, size: str) -> HttpResponseBase:
    """The picture itself; nobody gets it who may not see the house."""
    if size not in get_args(Size):
        raise NotThere("There is no such size of a photograph.")
    wanted: Size = size  # type: ignore[assignment]
    path, content_type = store.photograph_file(head_of(request, slug).slug, key, wanted)
    response = FileResponse(path.open("rb"), content_type=content_type)
    response.headers["Cache-Control"] = f"private, max-age={A_DAY}"
    response.headers["Content-Disposition"] = f'inline; filename="{key}{path.suffix}"'
    response.headers["X-Content-Type-Options"] = "nosniff"
    return response


# --- changed ------------------------------------------------------------------------


@require_POST
def about(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """Say what it shows."""
    head, posted = head_of(request, slug), request.POST
    number = posted.get("window", "").strip()
    before = store.photograph(slug, key)
    # Another window has other parts: the old one's may not be among them.
    part = posted.get("component", "").strip()
    try:
        store.describe_photograph(
            slug,
            key,
            saving.base_of(posted),
            user_of(request),
            window=number or None,
            component=part if number == (before.window or "") or part == "" else None,
            note=posted.get("note", ""),
        )
    except (Refused, Conflict) as error:
        return _one(request, head, key, *saving.trouble(error))
    tell(request, "The photograph is described.", latest_change(slug, "photo", key))
    return redirect("photograph", slug, key)


@require_POST
def mark(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """Draw one more thing on it, or take one away."""
    head, posted = head_of(request, slug), request.POST
    row = store.photograph(slug, key)
    marks = [each.model_dump(mode="json") for each in row.marks]
    base = row.version
    try:
        if posted.get("act") == "remove":
            base = saving.base_of(posted)
            marks = [each for at, each in enumerate(marks) if str(at) != posted.get("mark", "")]
        else:
            marks.append(_read_mark(posted.get("mark", "")))
        store.mark_photograph(slug, key, marks, base, user_of(request))
    except (Refused, ValueError, Conflict) as error:
        return _one(request, head, key, *saving.trouble(error))
    return _one(request, head, key) if is_part(request) else redirect("photograph", slug, key)


def _read_mark(text: str) -> dict[str, Any]:
    try:
        found = json.loads(text)
    except ValueError:
        found = None
    if not isinstance(found, dict):
        raise ValueError("Found no mark, expected one drawn on the photograph.")
    return found


@require_POST
def name(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """Have a finding of its window name it."""
    index = request.POST.get("finding", "")
    if not index.isdigit():
        raise NotThere("There is no such finding.")
    stored = store.name_in_finding(slug, key, int(index), user_of(request))
    tell(request, "The finding names this photograph.", latest_change(slug, "window", stored.key))
    return redirect("photograph", slug, key)


@require_POST
def step(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """Undo or redo the last step on this photograph."""
    way = request.POST.get("way", "undo")
    tell(request, stepping.step(slug, "photo", key, user_of(request), way))
    return redirect("photograph", slug, key)


@require_POST
def remove(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    row = store.photograph(slug, key)
    change = store.remove_photograph(slug, key, user_of(request))
    tell(request, "The photograph is taken away.", change.pk)
    if row.window and not row.window_gone:
        return redirect("window-photographs", slug, row.window)
    return redirect("photographs", slug)
