"""What a reader chooses for themselves: units, light or dark; and the pens of the drawings."""

from __future__ import annotations

import re

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from sashwright.drawing.pens import stylesheet
from sashwright.web.context import THEME_COOKIE, THEMES
from sashwright.web.views.common import UNITS_IN_SESSION, back_to, head_of

A_YEAR = 365 * 24 * 3600


@require_POST
def theme(request: HttpRequest) -> HttpResponse:
    response = redirect(back_to(request))
    chosen = request.POST.get("theme", "")
    if chosen in dict(THEMES):
        response.set_cookie(THEME_COOKIE, chosen, A_YEAR, samesite="Lax", httponly=True)
    return response


@require_POST
def units(request: HttpRequest, slug: str) -> HttpResponse:
    """Show this house in other units; what is recorded stays as it is."""
    head_of(request, slug)
    chosen = request.POST.get("units", "")
    if chosen in ("us", "metric"):
        known = request.session.get(UNITS_IN_SESSION, {})
        request.session[UNITS_IN_SESSION] = {**known, slug: chosen}
    return redirect(back_to(request))


@require_GET
def drawing_css(request: HttpRequest) -> HttpResponse:
    """The pens of all drawings, kept to drawings by the class of their picture."""
    css = re.sub(r"(^|,)\.", r"\1.drawing .", stylesheet(), flags=re.MULTILINE)
    response = HttpResponse(css, content_type="text/css; charset=utf-8")
    response.headers["Cache-Control"] = "max-age=3600"
    return response
