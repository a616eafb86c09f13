"""Who is at the door, and what a page may do in a browser."""

from __future__ import annotations

import ipaddress
import logging
from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode

from django.conf import settings
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.http.request import split_domain_port
from django.shortcuts import redirect
from django.urls import reverse

from sashwright.record import keys
from sashwright.record.errors import NotThere
from sashwright.record.people import local_owner, role_of
from sashwright.web import allowed
from sashwright.web.views import errors

log = logging.getLogger("sashwright.web")

LINK_IN_SESSION = "link"
"""Which client's link somebody came in by."""

# Scripts, styles, pictures and requests of our own only; nothing inline, no frames, no plug-ins.
CONTENT_SECURITY_POLICY = "; ".join(
    (
        "default-src 'self'",
        "img-src 'self' data:",
        "object-src 'none'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)
PERMISSIONS_POLICY = "camera=(), geolocation=(), microphone=(), payment=(), usb=()"

# Signs that somebody else's request is being passed on.
FORWARDED = ("HTTP_X_FORWARDED_FOR", "HTTP_FORWARDED", "HTTP_X_REAL_IP", "HTTP_X_FORWARDED_HOST")


class DoorMiddleware:
    """Lets the owner in on their own computer, people by name, clients by link, and nobody else.

    What each may do is said in ``sashwright.web.allowed``. Every answer carries the headers that keep
    pages to what this server sends.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if not request.user.is_authenticated and is_this_computer(request):
            request.user = local_owner()
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", CONTENT_SECURITY_POLICY)
        response.headers.setdefault("Permissions-Policy", PERMISSIONS_POLICY)
        # A page holds the version it will save against: an old one must not come out of a cache.
        response.headers.setdefault("Cache-Control", "no-store")
        return response

    def process_view(
        self, request: HttpRequest, view: Any, args: Any, kwargs: dict[str, Any]
    ) -> HttpResponse | None:
        """Refuse what this person may not do, before anything of it is done."""
        match = request.resolver_match
        name, method = (match.url_name if match else None) or "", request.method or "GET"
        if name in allowed.OPEN or (match and match.namespaces):
            # The API has a door of its own.
            return None
        if request.user.is_authenticated:
            role = request.role = role_of(request.user)  # type: ignore[attr-defined]
            if allowed.may(role, name, method):
                return None
            return errors.not_allowed(request, allowed.why_not(role, name, method))
        link = keys.link_still(request.session.get(LINK_IN_SESSION, 0))
        if link is None:
            return _ask_to_sign_in(request)
        if not allowed.client_may(name, method, kwargs.get("slug"), link.house.slug):
            return errors.not_allowed(request, "This link shows one house, and changes nothing.")
        return None

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """What is not there, and what cannot be kept just now, has a page that says so."""
        if isinstance(error, NotThere):
            return errors.not_found(request, error)
        if isinstance(error, OperationalError):
            log.exception("The database did not do what it was asked.")
            return errors.busy(request)
        return None


def is_this_computer(request: HttpRequest) -> bool:
    """Whether the request comes from this very computer, called by its own name.

    The name matters too: a page from elsewhere can point a name of its own at this computer.
    """
    if settings.BEHIND_PROXY or any(name in request.META for name in FORWARDED):
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
