"""Families described, copied, removed."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.record import store
from tests.factories import house_document, window_document


def kept(slug: str, key: str = "A") -> dict[str, Any]:
    return store.stored(slug, "family", key).document


def test_a_new_family_with_usual_sizes(here: Client, elm: str) -> None:
    page = here.get(reverse("new-family", args=[elm])).content.decode()
    assert 'value="C"' in page
    made = here.post(reverse("new-family", args=[elm]), {"key": "C", "name": "attic"})
    assert made.headers["Location"] == f"/{elm}/families/C/"
    assert kept(elm, "C")["name"] == "attic"
    assert "Drawn on a window of usual size" in here.get(made.headers["Location"]).content.decode()


def test_a_new_family_like_another(here: Client, elm: str) -> None:
    here.post(reverse("new-family", args=[elm]), {"key": "C", "like": "A"})
    assert kept(elm, "C")["sash"] == kept(elm, "A")["sash"]


@pytest.mark.parametrize(
    ("key", "says"), [("", "needs a letter"), ("A", "no other family has"), ("a\tb", "expected")]
)
def test_a_family_that_cannot_be(here: Client, elm: str, key: str, says: str) -> None:
    page = here.post(reverse("new-family", args=[elm]), {"key": key, "name": "kept words"})
    assert page.status_code == 422
    assert says in page.content.decode()
    assert "kept words" in page.content.decode()


def test_a_key_with_a_slash_has_an_address(here: Client, elm: str) -> None:
    made = here.post(reverse("new-family", args=[elm]), {"key": "6/1 tall"})
    assert here.get(made.headers["Location"]).status_code == 200


def test_fields_save_themselves(part: Client, elm: str) -> None:
    address = reverse("family-field", args=[elm, "A"])
    for base, (field, value) in enumerate(
        [
            ("name", "six over one"),
            ("sash.stile", "2 1/4"),
            ("frame.sill_slope", "3 in 12"),
            ("hanging.suspension", "cotton-cord-10"),
            ("upper.top_rail", "2 1/2"),
            ("sash.lites", "2 x 1"),
            ("sash.lites.column_shares", "1:2"),
        ],
        start=1,
    ):
        answer = part.post(address, {"field": field, field: value, "base": base})
        assert answer.status_code in (200, 422), field
        if answer.status_code == 422:
            assert field == "hanging.suspension", answer.headers["HX-Trigger-After-Settle"]
            break
    document = kept(elm)
    assert document["name"] == "six over one"
    assert document["sash"]["stile"] == "2 1/4 in"
    assert document["frame"]["sill_slope"] == pytest.approx(14.036, abs=0.001)


def test_relative_sizes_of_lites(part: Client, elm: str) -> None:
    address = reverse("family-field", args=[elm, "A"])
    part.post(address, {"field": "sash.lites", "sash.lites": "2x1", "base": 1})
    shares = "sash.lites.column_shares"
    assert part.post(address, {"field": shares, shares: "1, 2", "base": 2}).status_code == 200
    assert kept(elm)["sash"]["lites"]["column_shares"] == [1.0, 2.0]
    wrong = part.post(address, {"field": shares, shares: "1, 2, 3", "base": 3})
    assert wrong.status_code == 422
    part.post(address, {"field": "sash.lites", "sash.lites": "3x1", "base": 3})
    assert kept(elm)["sash"]["lites"] == "3x1"


def test_a_size_that_a_window_cannot_bear(part: Client, elm: str) -> None:
    answer = part.post(
        reverse("family-field", args=[elm, "A"]),
        {"field": "sash.rabbet_depth", "sash.rabbet_depth": "1 5/8", "base": 1},
    )
    assert answer.status_code == 422
    assert "Not saved" in answer.content.decode()


def test_a_preview_draws_what_is_typed(part: Client, elm: str) -> None:
    address = reverse("family-preview", args=[elm, "A"])
    answer = part.post(address, {"field": "sash.bottom_rail", "sash.bottom_rail": "5"})
    assert "<svg" in answer.content.decode()
    assert (
        part.post(address, {"field": "sash.bottom_rail", "sash.bottom_rail": "5/"}).status_code
        == 204
    )
    too_deep = part.post(address, {"field": "sash.rabbet_depth", "sash.rabbet_depth": "1 5/8"})
    assert "It cannot be drawn like this" in too_deep.content.decode()


def test_one_sash_differs(part: Client, elm: str) -> None:
    more = part.get(reverse("family-more", args=[elm, "A"]), {"path": "lower.bottom_rail"})
    assert 'name="lower.bottom_rail"' in more.content.decode()
    address = reverse("family-more", args=[elm, "A"])
    assert part.get(address, {"path": "sash.stile"}).status_code == 404
    assert part.get(address, {"path": "lower.wings"}).status_code == 404


def test_hardware_is_a_list(here: Client, elm: str) -> None:
    address = reverse("family-hardware", args=[elm, "A"])
    here.post(address, {"item": ["sash-lift", ""], "count": ["2", "1"], "on": ["lower", "lower"]})
    assert kept(elm)["hardware"] == [{"item": "sash-lift", "count": 2, "on": "lower"}]
    page = here.post(address, {"item": ["gold bar"], "count": ["1"], "on": ["lower"]}, follow=True)
    assert "Not saved" in page.content.decode()


def test_copies_and_removals(here: Client, elm: str) -> None:
    here.post(reverse("copy-family", args=[elm, "A"]), {"key": "C"})
    assert kept(elm, "C") == kept(elm, "A")
    taken = here.post(reverse("copy-family", args=[elm, "A"]), {"key": "B"}, follow=True)
    assert "Not copied" in taken.content.decode()
    used = here.post(reverse("remove-family", args=[elm, "A"]), follow=True)
    assert "Family A stays" in used.content.decode()
    here.post(reverse("remove-family", args=[elm, "C"]))
    assert here.get(reverse("family", args=[elm, "C"])).status_code == 404


def test_a_moulding_of_the_house_is_offered_and_drawn(here: Client, owner: User) -> None:
    own = {
        "parlor": {"name": "Parlor ovolo", "outline": ["0, 0", "0, 1/32", "1/4, 9/32 round 1/4"]}
    }
    families = {"A": {"sash": {"moulding": {"shape": "parlor"}}}}
    document = house_document(
        name="Moulded House", mouldings=own, families=families, windows=[window_document()]
    )
    slug = store.create_house(document, owner)
    page = here.get(f"/{slug}/families/A/").content.decode()
    assert '<option value="parlor" selected>Parlor ovolo</option>' in page
    assert "contradict" not in page
    window = here.get(f"/{slug}/windows/101/").content.decode()
    assert "contradict" not in window
