"""Who else is at the same page: asked by the page every half minute."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.dateparse import parse_datetime
from django.views.decorators.http import require_POST

from sashwright.record.presence import company
from sashwright.record.state import Kind
from sashwright.web.views.common import user_of

KINDS: Mapping[str, Kind] = {"house": "house", "family": "family", "window": "window"}


@require_POST
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """The line of the page that names who else is here."""
    given = request.POST.get("kind", "")
    kind: Kind = KINDS.get(given, "house")
    key = request.POST.get("key", "") if given in KINDS else ""
    found = company(slug, user_of(request), kind, key, _since(request))
    return render(request, "web/parts/company.html", {"company": found})


def _since(request: HttpRequest) -> datetime:
    """When the page was fetched; now, where it does not say."""
    try:
        told = parse_datetime(request.POST.get("since", ""))
    except ValueError:
        told = None
    return told if told is not None and timezone.is_aware(told) else timezone.now()
