"""Who changed what and when, compared field by field, and taken back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from sashwright.record import store
from sashwright.record.history import RevisionRow
from sashwright.record.merge import FieldChange
from sashwright.web import stepping
from sashwright.web.saving import label_of, told
from sashwright.web.views.common import back_to, head_of, tell, user_of
from sashwright.window.problem import Problem

KINDS = ("house", "family", "window")
MOST = 200


@dataclass(frozen=True, slots=True)
class Line:
    """One field before and after, in words."""

    label: str
    before: str
    after: str


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """Changes of the house, or of one family or window of it."""
    head = head_of(request, slug)
    kind, key = request.GET.get("kind", ""), request.GET.get("key", "")
    about: Any = kind if kind in KINDS else None
    found = store.changes(slug, about, key or None, limit=MOST)
    context = {"house": head, "kind": about, "key": key, "changes": found, "most": MOST}
    return render(request, "web/history.html", context)


@require_GET
def compare(request: HttpRequest, slug: str, change: int) -> HttpResponse:
    """What one change did, field by field."""
    head = head_of(request, slug)
    row = store.change(slug, change)
    did = [(revision, _lines(revision)) for revision in row.revisions]
    return render(request, "web/compare.html", {"house": head, "change": row, "did": did})


def _lines(revision: RevisionRow) -> list[Line]:
    return [_line(change) for change in store.compare(revision.id)]


def _line(change: FieldChange) -> Line:
    label = label_of(Problem(change.path, "", ""))
    return Line(label, told(change.before), told(change.after))


@require_POST
def undo(request: HttpRequest, change: int) -> HttpResponse:
    tell(request, stepping.take_back(change, user_of(request)))
    return redirect(back_to(request))
