"""The cutting list as a page: what it lists, what its filters leave, and the same as data."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.record import store
from tests.factories import house_document, window_document
from tests.web.test_chapters import text_of


def page(client: Client, slug: str, **query: str) -> Any:
    return client.get(reverse("make", args=[slug]), query)


@pytest.fixture
def decided(owner: User) -> str:
    """One window with new sash to come, one with an arch, one with a rotten sill."""
    windows = [
        window_document("1", decision={"alternative": "new-sash"}),
        window_document("2", head={"shape": "segmental", "rise": "4"}),
        window_document(
            "3",
            condition={
                "found": [
                    {"on": "frame.sill", "fault": "decay", "severity": "severe", "length": "5"}
                ]
            },
        ),
    ]
    return store.create_house(house_document(windows=windows), owner)


def test_it_lists_what_was_decided(here: Client, decided: str) -> None:
    found = page(here, decided)
    assert found.status_code == 200
    said = text_of(found)
    for words in ("2 sash, 1 piece let in", "2 windows", "1 U-ST", "Splice, sill", "White oak"):
        assert words in said, words
    assert "2 U-ST" not in said
    assert 'aria-current="page">List</a>' in found.content.decode()


def test_filters_leave_one_window_and_one_unit(part: Client, decided: str) -> None:
    found = page(part, decided, what="sash", window="2", unit="upper sash")
    said = text_of(found)
    assert "<html" not in found.content.decode()
    assert "2 U-ST" in said
    assert "1 sash" in said
    assert "2 L-ST" not in said
    assert "1 U-ST" not in said
    # An arched pane has its outline.
    assert '<polygon points="' in found.content.decode()
    assert "radius" in said


def test_another_wood_and_filters_that_mean_nothing(part: Client, decided: str) -> None:
    assert "Sapele" in text_of(page(part, decided, wood="sapele"))
    odd = page(part, decided, wood="jelly", what="doors", window="99", unit="lid")
    assert odd.status_code == 200
    assert odd.content == page(part, decided).content


def test_where_nothing_is_to_be_made(here: Client, owner: User) -> None:
    quiet = store.create_house(house_document(), owner)
    assert "Nothing to cut" in page(here, quiet).content.decode()
    bare = store.create_house(house_document(name="Bare", windows=[]), owner)
    assert "No window yet" in page(here, bare).content.decode()


def test_in_metres_for_who_asks(here: Client, decided: str) -> None:
    here.post(reverse("units", args=[decided]), {"units": "metric", "next": "/"})
    said = text_of(page(here, decided))
    assert "Sizes in mm" in said
    assert "m³" in said


def test_the_list_as_data(here: Client, decided: str) -> None:
    address = reverse("answer", args=[decided, "make"])
    answer = here.get(address).json()
    assert answer["chapter"] == "make"
    assert answer["values"]["units"] == {"upper sash": 1, "lower sash": 1, "splice": 1}
    asked = {"all": "storm", "unit": "storm", "window": "2"}
    storm = here.get(address, asked).json()
    (window,) = storm["windows"]
    assert {row["unit"] for row in window["values"]["parts"]} == {"storm"}
    for wrong in ({"all": "doors"}, {"unit": "lid"}, {"wood": "jelly"}):
        refused = here.get(address, wrong)
        assert refused.status_code == 400
        assert next(iter(wrong.values())) in refused.json()["error"]
