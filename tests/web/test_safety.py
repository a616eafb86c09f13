"""Who gets in, and what a page may do."""

from __future__ import annotations

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse


def test_the_person_at_this_computer_is_let_in(here: Client, elm: str) -> None:
    assert here.get("/").status_code == 200


@pytest.mark.parametrize(
    "elsewhere",
    [
        {"REMOTE_ADDR": "192.0.2.7"},
        {"HTTP_X_FORWARDED_FOR": "192.0.2.7"},
        {"SERVER_NAME": "testserver"},
    ],
)
def test_anybody_else_is_asked_to_sign_in(elm: str, elsewhere: dict[str, str]) -> None:
    other = Client(**{"SERVER_NAME": "localhost", **elsewhere})
    page = other.get(reverse("house", args=[elm]))
    assert page.status_code == 302
    assert page.headers["Location"] == f"/sign-in?next=%2F{elm}%2F"


def test_a_part_of_a_page_sends_the_whole_page_to_sign_in(elm: str) -> None:
    other = Client(SERVER_NAME="localhost", REMOTE_ADDR="192.0.2.7")
    answer = other.get(reverse("house", args=[elm]), headers={"HX-Request": "true"})
    assert answer.status_code == 401
    assert answer.headers["HX-Redirect"].startswith("/sign-in")


def test_signing_in_and_out(elm: str, bob: User) -> None:
    other = Client(SERVER_NAME="localhost", REMOTE_ADDR="192.0.2.7")
    wrong = other.post("/sign-in", {"username": "bob", "password": "no"})
    assert "do not go together" in wrong.content.decode()
    other.post("/sign-in", {"username": "bob", "password": "a long enough word"})
    page = other.get(reverse("house", args=[elm]))
    assert page.status_code == 200
    assert "Sign out" in page.content.decode()
    other.post("/sign-out")
    assert other.get("/").status_code == 302


@pytest.mark.parametrize("address", ["/", "/sign-in", "/no-such-page/", "/drawing.css"])
def test_pages_keep_to_what_this_server_sends(here: Client, address: str) -> None:
    headers = here.get(address).headers
    policy = headers["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["X-Frame-Options"] == "DENY"


def test_pages_hold_nothing_inline(here: Client, elm: str) -> None:
    for name, rest in (("window", ["101"]), ("family", ["A"]), ("house", []), ("bench", [])):
        page = here.get(reverse(name, args=[elm, *rest])).content.decode()
        assert " style=" not in page
        assert "<style" not in page
        assert "onclick" not in page
        # Only scripts that are fetched, none written in the page.
        assert page.count("<script") == page.count('<script src="') + page.count(
            '<script type="module" src="'
        )


def test_what_people_type_is_never_markup(here: Client, elm: str) -> None:
    nasty = "<script>alert(1)</script>"
    here.post(
        reverse("window-field", args=[elm, "101"]), {"field": "room", "room": nasty, "base": 1}
    )
    here.post(
        reverse("window-field", args=[elm, "101"]), {"field": "note", "note": nasty, "base": 2}
    )
    for address in (
        reverse("window", args=[elm, "101"]),
        reverse("house", args=[elm]) + "?by=wall",
        reverse("house", args=[elm]),
        reverse("history", args=[elm]),
    ):
        assert nasty not in here.get(address).content.decode()


@pytest.mark.parametrize("wanted", ["https://elsewhere.example/", "//elsewhere.example", ""])
def test_going_back_stays_here(here: Client, wanted: str) -> None:
    answer = here.post("/theme", {"theme": "dark", "next": wanted})
    assert answer.headers["Location"] == "/"
    assert answer.cookies["sashwright_theme"].value == "dark"
