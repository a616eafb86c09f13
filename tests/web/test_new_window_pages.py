"""A new window from its opening: traditions to look at, sizes to change, one change to undo."""

from __future__ import annotations

import re
from typing import Any

from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.web.allowed import may

ASKED = {"kind": "rough", "width": "38", "height": "66", "tradition": "greek-revival"}
PLACED = {"number": "401", "family": "C", "wall": "south", "storey": "4", "room": "loft"}


def page(client: Client, slug: str, **asked: str) -> str:
    answer = client.get(reverse("new-window", args=[slug]), asked)
    assert answer.status_code == 200
    return str(answer.content.decode())


def send(client: Client, slug: str, **asked: str) -> Any:
    return client.post(reverse("new-window", args=[slug]), {**ASKED, **PLACED, **asked})


def test_it_begins_with_the_opening(here: Client, elm: str) -> None:
    first = page(here, elm)
    assert "Type the width and the height" in first
    assert "<svg" not in first.partition("<main")[2].partition("traditions")[2]
    assert "Add this family and window" not in first
    # It is to be found where windows are added.
    assert (
        reverse("new-window", args=[elm]) in here.get(reverse("add", args=[elm])).content.decode()
    )


def test_every_tradition_is_drawn_and_one_is_chosen(here: Client, elm: str) -> None:
    shown = page(here, elm, **ASKED)
    for key in knowledge().tradition:
        assert f'id="t-{key}"' in shown
    assert re.findall(r'value="([^"]+)" id="t-[^"]+" checked', shown) == ["greek-revival"]
    assert "6 over 6, with lites" in shown
    assert "Two weights of" in shown
    assert "Add this family and window" in shown
    # Of the chosen sizes and of those it is found between.
    assert 'placeholder="9/16"' in shown
    assert "found from 1/2 to 5/8" in shown


def test_a_part_brings_the_button_along(part: Client, elm: str) -> None:
    shown = page(part, elm, **ASKED, muntin="3/4")
    assert "<html" not in shown
    assert 'id="adding" hx-swap-oob="true"' in shown
    assert '<input type="hidden" name="muntin" value="3/4">' in shown
    assert "was asked for, which the tradition does not have" in shown


def test_what_is_typed_wrong_is_said(here: Client, elm: str) -> None:
    assert "expected a length" in page(here, elm, **{**ASKED, "width": "wide"})
    assert "half the width" in page(here, elm, **ASKED, rise="30")
    assert "expected a length" in page(here, elm, **ASKED, stile="x")
    assert "3x2 3x2" in page(here, elm, **ASKED, pattern="six")
    narrow = page(here, elm, **{**ASKED, "width": "14"})
    assert "expected a larger one" in narrow
    assert "Add this family and window" not in narrow


def test_added_as_one_change_and_undone(here: Client, elm: str) -> None:
    before = len(store.changes(elm))
    answer = send(here, elm, muntin="3/4", pattern="2x2 2x2")
    assert answer.status_code == 302
    family = store.stored(elm, "family", "C").document
    assert family["sash"]["muntin"] == "3/4 in"
    assert family["sash"]["lites"] == "2x2"
    window = store.stored(elm, "window", "401").document
    assert (window["family"], window["wall"], window["storey"]) == ("C", "south", 4)
    assert window["width"] == "31 1/4 in"
    changes = store.changes(elm)
    assert len(changes) == before + 1
    here.post(reverse("undo", args=[changes[0].id]))
    assert "401" not in store.window_numbers(elm)
    assert "C" not in store.family_keys(elm)


def test_what_is_taken_is_refused_and_nothing_is_added(here: Client, elm: str) -> None:
    for taken in ({"number": "101"}, {"family": "A"}, {"family": "what?"}, {"wall": "attic"}):
        answer = send(here, elm, **taken)
        assert answer.status_code == 422, taken
        assert 'role="alert">' in answer.content.decode()
    assert "401" not in store.window_numbers(elm)
    assert list(store.family_keys(elm)) == ["A", "B"]
    assert send(here, elm, storey="attic").status_code == 422
    wrong = page(here, elm, **ASKED, number="")
    assert "Number: Found" in wrong
    assert "6 over 6, with lites" in wrong
    assert send(here, elm, width="").status_code == 422


def test_in_millimetres(here: Client, owner: User) -> None:
    slug = store.create_house({"name": "Mews", "units": "metric"}, owner)
    shown = page(here, slug, kind="masonry", width="1070", height="1900", rise="100")
    assert re.findall(r'value="([^"]+)" id="t-[^"]+" checked', shown) == ["gb-victorian"]
    assert "behind the outer reveal" in shown
    sent = send(
        here, slug, kind="masonry", width="1070", height="1900", rise="100",
        tradition="gb-victorian",
    )  # fmt: skip
    assert sent.status_code == 302
    assert store.stored(slug, "window", "401").document["head"]["shape"] == "segmental"


def test_who_may() -> None:
    assert may("surveyor", "new-window", "POST")
    assert not may("bench", "new-window", "GET")
