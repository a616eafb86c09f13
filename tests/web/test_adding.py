"""Windows added one after the other, copied, renumbered, removed."""

from __future__ import annotations

import re

from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.record import store

ROW = {"number": "104", "family": "A", "wall": "east", "storey": "1", "room": "hall"}


def value_of(page: str, field: str) -> str:
    found = re.search(rf'name="{field}" id="f-{field}" value="([^"]*)"', page)
    assert found is not None
    return found[1]


def test_the_row_suggests_what_comes_next(here: Client, elm: str) -> None:
    page = here.get(reverse("add", args=[elm])).content.decode()
    assert value_of(page, "number") == "302"
    assert value_of(page, "room") == "attic"
    assert value_of(page, "storey") == "3"
    assert value_of(page, "width") == ""


def test_one_window_and_on_to_the_next(part: Client, elm: str) -> None:
    answer = part.post(
        reverse("add", args=[elm]), {**ROW, "width": "2'-6 1/2\"", "height": "62.5", "upper": "3x2"}
    )
    assert answer.status_code == 200
    page = answer.content.decode()
    assert "Window 104 added; 6 in all." in page
    assert value_of(page, "number") == "105"
    assert value_of(page, "room") == "hall"
    document = store.stored(elm, "window", "104").document
    assert document["width"] == "30 1/2 in"
    assert document["upper"] == "3x2"
    change = re.search(r"/undo/(\d+)", page)
    assert change is not None
    part.post(f"/undo/{change[1]}")
    assert "104" not in store.window_numbers(elm)


def test_without_scripts_it_works_too(here: Client, elm: str) -> None:
    page = here.post(
        reverse("add", args=[elm]), {**ROW, "width": "30", "height": "60"}, follow=True
    )
    assert "Window 104 added." in page.content.decode()


def test_what_is_wrong_is_said_at_its_field_and_the_rest_is_kept(part: Client, elm: str) -> None:
    row = {**ROW, "number": "101", "width": "thirty", "height": "60"}
    answer = part.post(reverse("add", args=[elm]), row)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Found &#x27;thirty&#x27;, expected a length" in page
    assert value_of(page, "height") == "60"
    taken = part.post(reverse("add", args=[elm]), {**row, "width": "30"})
    assert taken.status_code == 422
    assert "no other window has" in taken.content.decode()
    assert len(store.window_numbers(elm)) == 5


def test_first_a_family(here: Client, owner: User) -> None:
    slug = store.create_house({"name": "Bare"}, owner)
    assert here.get(reverse("add", args=[slug])).headers["Location"].endswith("/families/new")


def test_the_first_window_of_a_house(here: Client, owner: User) -> None:
    slug = store.create_house({"name": "Bare"}, owner)
    store.add_family(slug, "A", {}, owner)
    page = here.get(reverse("add", args=[slug])).content.decode()
    assert value_of(page, "number") == "101"


def test_a_copy_is_not_weighed(here: Client, elm: str, owner: User) -> None:
    store.add_reading(elm, "101", "lower", 8.0, "finished", owner)
    made = here.post(reverse("copy-window", args=[elm, "101"]))
    number = made.headers["Location"].rstrip("/").rpartition("/")[2]
    copy, first = (store.stored(elm, "window", n).document for n in (number, "101"))
    assert copy["width"] == first["width"]
    assert "mass" not in copy["measured"]["lower"]


def test_renumbering(here: Client, elm: str) -> None:
    page = here.post(reverse("renumber-window", args=[elm, "101"]), {"number": "201"})
    assert page.headers["Location"] == f"/{elm}/windows/201/"
    taken = here.post(reverse("renumber-window", args=[elm, "201"]), {"number": "102"}, follow=True)
    assert "Still window 201" in taken.content.decode()


def test_removing_and_putting_back(here: Client, elm: str) -> None:
    page = here.post(reverse("remove-window", args=[elm, "101"]), follow=True).content.decode()
    assert "Window 101 removed." in page
    change = re.search(r"/undo/(\d+)", page)
    assert change is not None
    here.post(f"/undo/{change[1]}")
    assert store.window_numbers(elm)[0] == "101"
