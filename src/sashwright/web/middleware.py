"""Who is at the door, and what a page may do in a browser."""

from __future__ import annotations

import ipaddress
from collections.abc import Callable
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.http.request import split_domain_port
from django.shortcuts import redirect
from django.urls import reverse

from sashwright.record.errors import NotThere
from sashwright.record.people import local_owner
from sashwright.web.views import errors

OPEN_PAGES = ("sign-in", "drawing-css")
"""Pages that need no one to be signed in."""

# Scripts, styles, pictures and requests of our own only; nothing inline, no frames, no plug-ins.
CONTENT_SECURITY_POLICY = "; ".join(
    (
        "default-src 'self'",
        "img-src 'self' data:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)
PERMISSIONS_POLICY = "camera=(), geolocation=(), microphone=(), payment=(), usb=()"

# Signs that somebody else's request is being passed on.
FORWARDED = ("HTTP_X_FORWARDED_FOR", "HTTP_FORWARDED", "HTTP_X_REAL_IP", "HTTP_X_FORWARDED_HOST")


class LocalOwnerMiddleware:
    """Signs in the one local owner on their own computer; asks anybody else to sign in.

    Every answer carries the headers that keep pages to what this server sends.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response
        self.open = {reverse(name) for name in OPEN_PAGES}

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if not request.user.is_authenticated and is_this_computer(request):
            request.user = local_owner()
        if request.user.is_authenticated or request.path in self.open:
            response = self.get_response(request)
        else:
            response = _ask_to_sign_in(request)
        response.headers.setdefault("Content-Security-Policy", CONTENT_SECURITY_POLICY)
        response.headers.setdefault("Permissions-Policy", PERMISSIONS_POLICY)
        # A page holds the version it will save against: an old one must not come out of a cache.
        response.headers.setdefault("Cache-Control", "no-store")
        return response

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """What the record does not hold is a page that is not there."""
        return errors.not_found(request, error) if isinstance(error, NotThere) else None


def is_this_computer(request: HttpRequest) -> bool:
    """Whether the request comes from this very computer, called by its own name.

    The name matters too: a page from elsewhere can point a name of its own at this computer.
    """
    if any(name in request.META for name in FORWARDED):
        return False
    host = split_domain_port(request.get_host())[0]
    return _is_loopback(request.META.get("REMOTE_ADDR", "")) and (
        host == "localhost" or _is_loopback(host.strip("[]"))
    )


def _is_loopback(address: str) -> bool:
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return False


def _ask_to_sign_in(request: HttpRequest) -> HttpResponse:
    page = f"{reverse('sign-in')}?{urlencode({'next': request.get_full_path()})}"
    if request.headers.get("HX-Request") == "true":
        # A part of a page must not be filled with the whole sign-in page.
        return HttpResponse(status=401, headers={"HX-Redirect": page})
    return redirect(page)
