"""What every page of the table sends along, takes only with its token, and does not tell of other houses."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import URLPattern, get_resolver, resolve, reverse

from sashwright.record import keys, store
from sashwright.web import allowed
from tests.web.everypage import ELSEWHERE, SLOW, arguments, record
from tests.worthhouse import bare_document

HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
POLICY = ("default-src 'self'", "object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'")
LINK = re.compile(r'(?:href|src|hx-get)="(/[^"?#]*)')


def addresses(places: Any, *, files: bool = False) -> Iterator[tuple[str, str]]:
    """The name and an address of each line of the table, with something there for each place in it."""
    for pattern in get_resolver().url_patterns:
        if isinstance(pattern, URLPattern) and (files or pattern.name not in SLOW):
            name = str(pattern.name)
            yield name, reverse(name, kwargs=arguments(pattern, places))


def test_every_answer_keeps_to_what_this_server_sends(here: Client, db: None) -> None:
    wrong: dict[str, list[str]] = {}
    answered = 0
    for name, address in addresses(record()):
        found = here.get(address)
        answered += found.status_code == 200
        headers = found.headers
        lacking = [key for key, value in HEADERS.items() if headers.get(key) != value]
        policy = headers.get("Content-Security-Policy", "")
        lacking += [part for part in POLICY if part not in policy]
        if "unsafe" in policy or "*" in policy:
            lacking.append(policy)
        if not headers.get("Permissions-Policy") or not headers.get("Cache-Control"):
            lacking.append("what the browser may do and keep")
        if lacking:
            wrong[name] = lacking
    assert wrong == {}
    assert answered > 60, "most addresses must lead to something"


def test_nothing_is_taken_without_its_token(db: None) -> None:
    """Every address, sent to as a page from elsewhere could make the browser send: refused, undone."""
    strict = Client(SERVER_NAME="localhost", enforce_csrf_checks=True)
    places = record()
    before = [store.change_count(places[house]) for house in ("slug", "maine")]
    taken = []
    for name, address in addresses(places, files=True):
        for method in (strict.post, strict.put, strict.delete):
            status = method(address, {}).status_code
            # Refused for its token, or as an address that takes nothing of the sort.
            if status not in (403, 405):
                taken.append((name, method.__name__, status))
    assert taken == []
    assert [store.change_count(places[house]) for house in ("slug", "maine")] == before


def test_with_its_token_the_same_is_taken(db: None) -> None:
    """So that the refusals above are those of the token."""
    strict = Client(SERVER_NAME="localhost", enforce_csrf_checks=True)
    page = strict.get("/new").content.decode()
    token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page)
    assert token is not None
    made = {"name": "Tern House", "units": "us"}
    assert strict.post("/new", made).status_code == 403
    assert store.list_houses() == []
    assert strict.post("/new", made | {"csrfmiddlewaretoken": token[1]}).status_code == 302
    assert [each.name for each in store.list_houses()] == ["Tern House"]


@pytest.mark.parametrize("who", ["shop", "client"])
def test_pages_of_a_house_lead_to_no_other_house(who: str, owner: User) -> None:
    """And whoever came by a client's link finds no link that would be refused."""
    places = record()
    others = {places["slug"], store.create_house(bare_document(name="Hidden House"), owner)}
    client = Client(SERVER_NAME="localhost")
    if who == "client":
        client = Client(SERVER_NAME="localhost", headers=ELSEWHERE)
        client.get(reverse("look", args=[keys.make_client_link(places["maine"], "Ann", 9, owner)]))
    led: dict[str, list[str]] = {}
    looked = 0
    for name, address in addresses(places):
        if not address.startswith(f"/{places['maine']}/"):
            continue
        found = client.get(address)
        kind = found.headers.get("Content-Type", "")
        if found.status_code != 200 or not kind.startswith("text/html"):
            continue
        looked += 1
        text = found.content.decode()
        links = {link.split("/")[1] for link in LINK.findall(text)}
        wrong = sorted(others & links)
        if who == "client":
            wrong += [name for name in ("Hidden House", "12 Elm Street") if name in text]
            wrong += [link for link in LINK.findall(text) if _refused(link, places["maine"])]
        if wrong:
            led[name] = sorted(set(wrong))
    assert led == {}
    assert looked > (12 if who == "client" else 40)


def _refused(link: str, own: str) -> bool:
    """Whether a client who may look at ``own`` would be sent away from an address."""
    if link.startswith("/static/"):
        return False
    match = resolve(link)
    name = str(match.url_name)
    return name not in allowed.OPEN and not allowed.client_may(
        name, "GET", match.kwargs.get("slug"), own
    )
