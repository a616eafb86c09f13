"""Families as a whole: made, copied, removed."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from sashwright.record import store
from sashwright.record.errors import Refused
from sashwright.web import saving
from sashwright.web.views.common import family_choices, head_of, latest_change, tell, user_of


@require_http_methods(["GET", "POST"])
def new(request: HttpRequest, slug: str) -> HttpResponse:
    """A family under a key, like another one or with the sizes that are usual."""
    head = head_of(request, slug)
    known = family_choices(slug)
    typed = {name: request.POST.get(name, "").strip() for name in ("key", "name", "like")}
    says = ""
    if request.method == "POST":
        try:
            made = store.add_family(slug, typed["key"], _document(slug, typed), user_of(request))
        except Refused as error:
            says = (
                saving.sentence_of(error) if typed["key"] else "A family needs a letter or a name."
            )
        else:
            return redirect("family", slug, made.key)
    context = {
        "house": head,
        "families": known,
        "typed": typed,
        "says": says,
        "suggested": _free_key({key for key, _ in known}),
    }
    return render(request, "web/new_family.html", context, status=422 if says else 200)


def _document(slug: str, typed: dict[str, str]) -> dict[str, Any]:
    like: dict[str, Any] = {}
    if typed["like"]:
        like = dict(store.stored(slug, "family", typed["like"]).document)
    return {**like, "name": typed["name"]}


def _free_key(taken: set[str]) -> str:
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    return next((letter for letter in letters if letter not in taken), "")


@require_POST
def copy(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    head_of(request, slug)
    wanted = request.POST.get("key", "").strip()
    document = store.stored(slug, "family", key).document
    try:
        made = store.add_family(slug, wanted, document, user_of(request))
    except Refused as error:
        tell(request, f"Not copied: {saving.sentence_of(error)}")
        return redirect("family", slug, key)
    tell(request, f"Family {made.key} is a copy of {key}.", latest_change(slug))
    return redirect("family", slug, made.key)


@require_POST
def remove(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    head_of(request, slug)
    try:
        change = store.remove_family(slug, key, user_of(request))
    except Refused as error:
        tell(request, f"Family {key} stays: {saving.sentence_of(error)}")
        return redirect("family", slug, key)
    tell(request, f"Family {key} removed.", change.pk)
    return redirect("house", slug)
