"""The list of houses: opened, made, brought in from a file, removed."""

from __future__ import annotations

from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from sashwright.record import store
from sashwright.record.errors import Refused
from sashwright.record.facts import knowledge
from sashwright.record.housefile import (
    LARGEST,
    FileProblem,
    HouseFileError,
    parse_document,
    parse_house,
)
from sashwright.web import saving, stepping
from sashwright.web.views.common import head_of, latest_change, tell, user_of


@require_GET
def index(request: HttpRequest) -> HttpResponse:
    return render(request, "web/houses.html", _lists())


def _lists() -> dict[str, Any]:
    return {"houses": store.list_houses(), "removed": store.list_removed()}


@require_http_methods(["GET", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """A house with a name; everything else is told on its own page."""
    typed = {name: request.POST.get(name, "").strip() for name in ("name", "place", "units")}
    says = ""
    if request.method == "POST":
        try:
            slug = store.create_house({k: v for k, v in typed.items() if v}, user_of(request))
        except Refused as error:
            says = saving.sentence_of(error) if typed["name"] else "A house needs a name."
        else:
            return redirect("house", slug)
    status = 422 if says else 200
    return render(request, "web/new_house.html", {"typed": typed, "says": says}, status=status)


@require_http_methods(["GET", "POST"])
def bring_in(request: HttpRequest) -> HttpResponse:
    """A house from a file, as a new one; a bad file changes nothing and says what is wrong."""
    problems: list[FileProblem] = []
    if request.method == "POST":
        document, problems = _read(request.FILES.get("file"))
        if document is not None:
            slug = store.import_house(document, user_of(request))
            tell(request, "The file has been read; nothing of it was left out.")
            return redirect("house", slug)
    context = {"problems": problems, "action": reverse("import-house")}
    return render(request, "web/import.html", context, status=422 if problems else 200)


@require_http_methods(["GET", "POST"])
def replace(request: HttpRequest, slug: str) -> HttpResponse:
    """A file in place of what a house holds, as one change that can be undone."""
    head = head_of(request, slug)
    problems: list[FileProblem] = []
    if request.method == "POST":
        document, problems = _read(request.FILES.get("file"))
        if document is not None:
            store.import_house(document, user_of(request), slug)
            tell(request, f"{head.name} now holds what the file says.", latest_change(slug))
            return redirect("house", slug)
    context = {
        "problems": problems,
        "house": head,
        "action": reverse("replace-house", args=[slug]),
    }
    return render(request, "web/import.html", context, status=422 if problems else 200)


def _read(upload: UploadedFile[Any] | None) -> tuple[dict[str, Any] | None, list[FileProblem]]:
    """The document of an uploaded house file, or all that is wrong with it."""
    if upload is None:
        return None, [FileProblem("", None, "file", "no file", "a house file (.toml)")]
    name = str(upload.name)[:100]
    # One more than allowed tells a file that is too large, however large it is.
    data = upload.read(LARGEST + 1)
    try:
        parse_house(data, name, knowledge())
        return parse_document(data, name), []
    except HouseFileError as error:
        return None, error.problems


@require_POST
def remove(request: HttpRequest, slug: str) -> HttpResponse:
    head = head_of(request, slug)
    change = store.remove_house(slug, user_of(request))
    tell(request, f"{head.name} removed.", change.pk)
    return redirect("houses")


@require_POST
def restore(request: HttpRequest, slug: str) -> HttpResponse:
    """Put back a house that was removed."""
    tell(request, stepping.take_back(store.removal_of(slug), user_of(request)))
    return redirect("houses")
