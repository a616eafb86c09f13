"""The people of the shop, the devices and programs that act for them, and the links for clients."""

from __future__ import annotations

from typing import Any

from django.contrib.auth import update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from sashwright.record import keys, people
from sashwright.record.errors import Refused
from sashwright.record.roles import MAY
from sashwright.web.views.common import head_of, tell, user_of

_BOTH = ["GET", "HEAD", "POST"]
_REFUSED = 422


@require_http_methods(_BOTH)
def page(request: HttpRequest) -> HttpResponse:
    """Everybody, and a form for one more."""
    says = ""
    if request.method == "POST":
        name = request.POST.get("name", "")
        try:
            people.add_person(
                name, request.POST.get("role", ""), request.POST.get("password") or None
            )
        except Refused as error:
            says = str(error)
        else:
            tell(request, f"{name.strip()} can work here now.")
            return redirect("people")
    return _page(request, says=says, typed=request.POST)


def _page(request: HttpRequest, **more: Any) -> HttpResponse:
    context = {"people": people.people(), "roles": MAY, "tokens": keys.tokens(), **more}
    return render(request, "web/people.html", context, status=_REFUSED if more["says"] else 200)


@require_POST
def person(request: HttpRequest, person: int) -> HttpResponse:
    """Change a role, set a new password, close an account or open it again."""
    given, user = request.POST, people.person_at(person)
    active = {"close": False, "open": True}.get(given.get("account", ""))
    try:
        people.change_person(
            user, role=given.get("role"), password=given.get("password"), active=active
        )
    except Refused as error:
        return _page(request, says=str(error), typed={})
    tell(request, f"{people.name_of(user)}: changed.")
    return redirect("people")


@require_POST
def pair_device(request: HttpRequest, person: int) -> HttpResponse:
    """A code by which one device gets in as this person."""
    user = people.person_at(person)
    code, name = keys.make_pairing(user), people.name_of(user)
    shown = f"{code[:4]} {code[4:]}"
    address = request.build_absolute_uri(reverse("pair"))
    return _page(request, says="", typed={}, code=shown, code_for=name, code_at=address)


@require_http_methods(_BOTH)
def tokens(request: HttpRequest) -> HttpResponse:
    """One's own tokens, for programs that act in one's name."""
    says = secret = ""
    user = user_of(request)
    if request.method == "POST":
        try:
            secret = keys.make_token(user, request.POST.get("name", ""), _days(request))
        except Refused as error:
            says = str(error)
    context = {"tokens": keys.tokens(user), "secret": secret, "says": says, "typed": request.POST}
    return render(request, "web/tokens.html", context, status=_REFUSED if says else 200)


@require_POST
def withdraw_token(request: HttpRequest, token: int) -> HttpResponse:
    user = user_of(request)
    owns = people.role_of(user) == "owner"
    keys.withdraw_token(token, None if owns else user)
    tell(request, "The token opens nothing any more.")
    return redirect("people" if request.POST.get("from") == "people" else "tokens")


@require_POST
def password(request: HttpRequest) -> HttpResponse:
    """One's own new password."""
    user = user_of(request)
    wanted = request.POST.get("password", "")
    says = "password: found nothing, expected a word." if not wanted else ""
    if user.has_usable_password() and not user.check_password(request.POST.get("old", "")):
        says = "The old password is another one."
    if not says:
        try:
            people.change_person(user, password=wanted)
        except Refused as error:
            says = str(error)
    if says:
        context = {"tokens": keys.tokens(user), "says": says, "typed": {}}
        return render(request, "web/tokens.html", context, status=_REFUSED)
    # This session stays; all others of this person end.
    update_session_auth_hash(request, user)
    tell(request, "The new password counts from now on.")
    return redirect("tokens")


@require_http_methods(_BOTH)
def links(request: HttpRequest, slug: str) -> HttpResponse:
    """Links by which a client looks at this house."""
    head = head_of(request, slug)
    says = address = ""
    if request.method == "POST":
        try:
            secret = keys.make_client_link(
                slug, request.POST.get("name", ""), _days(request) or 0, user_of(request)
            )
            address = request.build_absolute_uri(reverse("look", args=[secret]))
        except Refused as error:
            says = str(error)
    context = {
        "house": head,
        "links": keys.client_links(slug),
        "address": address,
        "says": says,
        "typed": request.POST,
    }
    return render(request, "web/links.html", context, status=_REFUSED if says else 200)


@require_POST
def withdraw_link(request: HttpRequest, slug: str, link: int) -> HttpResponse:
    head_of(request, slug)
    keys.withdraw_link(slug, link)
    tell(request, "The link opens nothing any more.")
    return redirect("links", slug)


def _days(request: HttpRequest) -> int | None:
    text = request.POST.get("days", "").strip()
    if not text:
        return None
    # What is no number is out of every range, and is refused with the range.
    return int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
