"""Every page: it works, says so when a thing is not there, and refuses what it does not take."""

from __future__ import annotations

import re

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse

from sashwright.record import store
from sashwright.record.houses import NOT_A_HOUSE
from sashwright.web.urls import urlpatterns

PAGES = [
    ("house", {}),
    ("house-details", {}),
    ("add", {}),
    ("bench", {}),
    ("history", {}),
    ("new-family", {}),
    ("replace-house", {}),
    ("family", {"key": "A"}),
    ("window", {"number": "101"}),
]
POSTS = [
    ("units", {}),
    ("remove-house", {}),
    ("house-field", {}),
    ("house-wall", {}),
    ("family-field", {"key": "A"}),
    ("family-preview", {"key": "A"}),
    ("family-hardware", {"key": "A"}),
    ("family-step", {"key": "A"}),
    ("copy-family", {"key": "A"}),
    ("remove-family", {"key": "A"}),
    ("window-field", {"number": "101"}),
    ("window-preview", {"number": "101"}),
    ("window-step", {"number": "101"}),
    ("renumber-window", {"number": "101"}),
    ("copy-window", {"number": "101"}),
    ("remove-window", {"number": "101"}),
]


@pytest.mark.parametrize("name", ["houses", "new-house", "import-house"])
def test_pages_of_no_house(here: Client, elm: str, name: str) -> None:
    assert here.get(reverse(name)).status_code == 200


@pytest.mark.parametrize(("name", "words"), PAGES)
def test_page_works(here: Client, elm: str, name: str, words: dict[str, str]) -> None:
    page = here.get(reverse(name, kwargs={"slug": elm, **words}))
    assert page.status_code == 200
    assert "12 Elm Street" in page.content.decode()


@pytest.mark.parametrize(("name", "words"), [*PAGES, *POSTS])
def test_a_house_that_is_not_there(
    here: Client, elm: str, name: str, words: dict[str, str]
) -> None:
    address = reverse(name, kwargs={"slug": "no-such-house", **words})
    page = here.post(address) if (name, words) in POSTS else here.get(address)
    assert page.status_code == 404
    assert "There is no house no-such-house." in page.content.decode()


@pytest.mark.parametrize(("name", "words"), POSTS)
def test_looking_changes_nothing(here: Client, elm: str, name: str, words: dict[str, str]) -> None:
    assert here.get(reverse(name, kwargs={"slug": elm, **words})).status_code == 405


@pytest.mark.parametrize(
    ("name", "words", "says"),
    [
        ("window", {"number": "999"}, "There is no window 999 in this house."),
        ("family", {"key": "Z"}, "There is no family Z in this house."),
        ("compare", {"change": 999_999}, "There is no change 999999"),
        ("window-svg", {"number": "101", "view": "aslant"}, "no page at this address"),
        ("window-svg", {"number": "999", "view": "outside"}, "There is no window 999"),
    ],
)
def test_a_thing_that_is_not_there(
    here: Client, elm: str, name: str, words: dict[str, str], says: str
) -> None:
    page = here.get(reverse(name, kwargs={"slug": elm, **words}))
    assert page.status_code == 404
    assert says in page.content.decode()


def test_an_address_of_nothing(here: Client) -> None:
    page = here.get("/no/such/page/at/all")
    assert page.status_code == 404
    assert "There is no page at this address." in page.content.decode()


def test_a_post_from_elsewhere_is_refused(elm: str) -> None:
    strict = Client(SERVER_NAME="localhost", enforce_csrf_checks=True)
    page = strict.post(reverse("remove-house", args=[elm]))
    assert page.status_code == 403
    assert "Not from here" in page.content.decode()
    assert len(store.list_houses()) == 1


def test_what_breaks_is_told_and_costs_nothing(elm: str, monkeypatch: pytest.MonkeyPatch) -> None:
    patient = Client(SERVER_NAME="localhost", raise_request_exception=False)

    def broken(*_: object) -> None:
        raise RuntimeError("the shop's cat")

    monkeypatch.setattr("sashwright.web.views.house.overview.rows_of", broken)
    page = patient.get(reverse("house", args=[elm]))
    assert page.status_code == 500
    words = page.content.decode()
    assert "Something broke" in words
    assert "cat" not in words


def test_too_much_is_refused(here: Client, elm: str, settings: object) -> None:
    page = here.post(
        reverse("window-preview", args=[elm, "101"]),
        {"field": "note", "note": "x" * 11_000_000},
    )
    assert page.status_code == 400
    assert "This cannot be read" in page.content.decode()


@pytest.mark.parametrize(
    ("view", "says"),
    [
        ("outside", "seen from outside"),
        ("inside", "seen from inside"),
        ("opened", "two weights of"),
        ("sections", "meeting rail"),
    ],
)
def test_the_views_of_a_window(here: Client, elm: str, view: str, says: str) -> None:
    page = here.get(reverse("window", args=[elm, "101"]), {"view": view}).content.decode()
    assert says in page
    assert "<svg" in page


def test_neighbours_are_a_step_away(here: Client, elm: str) -> None:
    page = here.get(reverse("window", args=[elm, "102"])).content.decode()
    assert 'aria-label="Previous window, 101"' in page
    assert 'aria-label="Next window, 103L"' in page


def test_the_working_is_there_to_unfold(here: Client, elm: str) -> None:
    page = here.get(reverse("window", args=[elm, "101"])).content.decode()
    assert "sash / 2 + closing bias" in page
    assert "How weights, cords and effort were worked out" in page


def test_a_window_whose_sizes_contradict_each_other_still_has_its_page(
    here: Client, elm: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The record lets none in, but a table that changes later can make one.
    from sashwright.record.models import Window

    kept = Window.objects.get(number="101")
    kept.document = {**kept.document, "meeting_height": "4 in"}
    kept.save()
    page = here.get(reverse("window", args=[elm, "101"])).content.decode()
    assert "It cannot be drawn like this" in page
    assert here.get(reverse("house", args=[elm])).status_code == 200
    assert here.get(reverse("house", args=[elm]), {"by": "wall"}).status_code == 200
    assert here.get(reverse("bench", args=[elm]), {"number": "101"}).status_code == 200


def test_no_house_is_called_like_a_page_of_the_site() -> None:
    """The first words of the site's own addresses are kept from houses; dots are in no slug."""
    firsts = {str(pattern.pattern).partition("/")[0] for pattern in urlpatterns}
    own = {word for word in firsts if re.fullmatch("[a-z-]+", word)}
    assert {"new", "undo", "sign-in"} <= own
    assert own - NOT_A_HOUSE == set()
    assert settings.STATIC_URL.strip("/") in NOT_A_HOUSE
