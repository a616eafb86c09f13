"""Pages for what goes wrong, in plain words and with a way on."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return _say(
        request, 400, "This cannot be read", "What was sent is too large or not what a page sends."
    )


def forbidden(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return _say(request, 403, "Not from here", "Reload the page and do it once more.")


def not_allowed(request: HttpRequest, says: str) -> HttpResponse:
    return _say(request, 403, "Not for you to do", says)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    says = str(exception) if isinstance(exception, LookupError) else ""
    return _say(request, 404, "Not there", says or "There is no page at this address.")


def busy(request: HttpRequest) -> HttpResponse:
    """The database is locked, full or away: nothing was changed."""
    context = {
        "status": 503,
        "title": "Not saved",
        "says": "The record is busy, its disk is full or its server is away. Nothing was changed; "
        "try again in a moment. If it goes on, sashwright doctor says more.",
    }
    # Without the request: what every page asks of the database could not be answered either.
    answer = HttpResponse(render_to_string("web/error.html", context), status=503)
    answer.headers["Retry-After"] = "5"
    return answer


def server_error(request: HttpRequest) -> HttpResponse:
    # Without the request: whatever broke must not break this page as well.
    context = {
        "status": 500,
        "title": "Something broke",
        "says": "Nothing of what was saved before is lost. "
        "The terminal that runs Sashwright says more.",
    }
    return HttpResponse(render_to_string("web/error.html", context), status=500)


def _say(request: HttpRequest, status: int, title: str, says: str) -> HttpResponse:
    context = {"title": title, "says": says, "status": status}
    return render(request, "web/error.html", context, status=status)
