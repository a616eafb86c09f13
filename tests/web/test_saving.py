"""A field saves itself: what becomes of it, of a bad value, and of two people at once."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.record import store


def type_in(client: Client, slug: str, field: str, value: str, base: int, **others: str) -> Any:
    """Type a value into a field of window 101 and leave it."""
    address = reverse("window-field", args=[slug, "101"])
    return client.post(address, {"field": field, field: value, "base": base, **others})


def news(answer: Any) -> dict[str, Any]:
    """What the page is told about its field."""
    told: dict[str, Any] = json.loads(answer.headers["HX-Trigger-After-Settle"])["sashwright:field"]
    return told


def kept(slug: str, field: str = "width") -> Any:
    return store.stored(slug, "window", "101").document.get(field)


def test_a_length_as_it_is_spoken(part: Client, elm: str) -> None:
    answer = type_in(part, elm, "width", "34-3/8", 1)
    assert answer.status_code == 200
    assert news(answer)["status"] == "saved"
    assert news(answer)["texts"] == ["34 3/8"]
    assert kept(elm) == "34 3/8 in"
    page = answer.content.decode()
    assert "Saved" in page
    assert '<input type="hidden" name="base" id="base" value="2" hx-swap-oob="true">' in page
    assert "34 3/8&quot; wide" in page or '34 3/8" wide' in page


def test_a_bare_number_means_the_units_on_the_screen(part: Client, elm: str) -> None:
    part.post(reverse("units", args=[elm]), {"units": "metric"})
    answer = type_in(part, elm, "width", "873", 1)
    assert news(answer)["texts"] == ["873"]
    assert kept(elm) == "873 mm"


@pytest.mark.parametrize(
    ("field", "value", "says"),
    [
        ("width", "wide", "Found 'wide', expected a length such as 34 3/8"),
        ("width", "", "Found nothing, expected a length such as 34 3/8."),
        ("width", "1/2", "expected 6"),
        ("height", "4000", "expected 10"),
        ("storey", "first", "Found 'first', expected a whole number."),
        ("upper", "six", "Found 'six', expected lites wide by high, such as 3x2."),
        ("upper", "13x2", "expected"),
        ("meeting_height", "4", "room for its rails and glass"),
        ("beside", "999", "expected the number of another window of the house"),
        ("beside", "101", "expected the number of another window"),
        ("wall", "roof", "expected one of the house's walls"),
        ("family", "Z", "expected one of the house's families"),
        ("measured.lower.mass", "a lot", "expected a mass"),
        ("note", "x" * 4001, "expected a shorter text"),
        ("changes.sash.wood", "balsa", "of the table wood"),
        ("changes.sash.thickness", "9", "expected 1/2"),
    ],
)
def test_a_bad_value_is_told_in_one_sentence_and_not_saved(
    part: Client, elm: str, field: str, value: str, says: str
) -> None:
    before = store.stored(elm, "window", "101")
    answer = type_in(part, elm, field, value, 1)
    assert answer.status_code == 422
    told = news(answer)
    assert told["status"] == "refused"
    assert says in told["says"]
    assert told["says"].endswith((".", "?"))
    assert store.stored(elm, "window", "101") == before
    assert "Not saved" in answer.content.decode()


def test_nothing_new_is_not_a_change(part: Client, elm: str) -> None:
    answer = type_in(part, elm, "width", '32"', 1)
    assert news(answer)["status"] == "unchanged"
    assert store.stored(elm, "window", "101").version == 1


def test_an_unknown_field(part: Client, elm: str) -> None:
    assert type_in(part, elm, "colour", "red", 1).status_code == 404


def test_a_segmental_head_and_its_rise_go_together(part: Client, elm: str) -> None:
    alone = type_in(part, elm, "head.shape", "segmental", 1, **{"head.rise": ""})
    assert "segmental head" in news(alone)["says"]
    both = type_in(part, elm, "head.rise", "4", 1, **{"head.shape": "segmental"})
    assert news(both)["status"] == "saved"
    assert news(both)["settles"] == ["f-head-shape", "f-head-rise"]
    assert kept(elm, "head") == {"shape": "segmental", "rise": "4 in"}
    square = type_in(part, elm, "head.shape", "square", 2, **{"head.rise": "4"})
    assert news(square)["status"] == "saved"
    assert kept(elm, "head") == {"shape": "square"}


def test_a_window_differs_from_its_family_and_again_does_not(part: Client, elm: str) -> None:
    more = part.get(reverse("window-more", args=[elm, "101"]), {"path": "pocket.across"})
    assert 'placeholder="2 1/4"' in more.content.decode()
    type_in(part, elm, "changes.pocket.across", "1 7/8", 1)
    assert kept(elm, "changes")["pocket"]["across"] == "1 7/8 in"
    page = part.get(reverse("window", args=[elm, "101"])).content.decode()
    assert 'id="f-changes-pocket-across"' in page
    back = type_in(part, elm, "changes.pocket.across", "", 2)
    assert news(back)["texts"] == []
    assert "across" not in json.dumps(kept(elm, "changes"))


def test_panes_bring_the_spaces_between_them(part: Client, elm: str) -> None:
    address = reverse("family-field", args=[elm, "A"])
    field = "sash.glazing.panes"
    thick = {"field": "sash.rabbet_depth", "sash.rabbet_depth": "1", "base": 1}
    assert part.post(address, thick).status_code == 200
    answer = part.post(
        address, {"field": field, field: ["single-strength", "single-strength", ""], "base": 2}
    )
    assert answer.status_code == 200, news(answer)
    glazing = store.stored(elm, "family", "A").document["sash"]["glazing"]
    assert glazing["gaps"] == ["1/2 in"]


def test_two_people_in_different_fields(part: Client, elm: str, bob: User) -> None:
    store.save_fields(elm, "window", "101", {"room": "library"}, 1, bob)
    answer = type_in(part, elm, "width", "33", 1)
    assert news(answer)["status"] == "saved"
    page = answer.content.decode()
    assert "beside somebody else’s change" in page
    assert "library" in page
    assert kept(elm) == "33 in"
    assert kept(elm, "room") == "library"


def test_two_people_in_the_same_field(part: Client, elm: str, bob: User) -> None:
    store.save_fields(elm, "window", "101", {"width": "31 in"}, 1, bob)
    answer = type_in(part, elm, "width", "33", 1)
    assert answer.status_code == 409
    assert news(answer)["status"] == "conflict"
    page = answer.content.decode()
    assert "bob changed the same" in page
    assert "33 in" in page
    assert "31 in" in page
    assert kept(elm) == "31 in"
    # Keep mine: what the button sends.
    again = type_in(part, elm, "width", "33", 2)
    assert again.status_code == 200
    assert kept(elm) == "33 in"


def test_a_preview_saves_nothing(part: Client, elm: str) -> None:
    address = reverse("window-preview", args=[elm, "101"])
    answer = part.post(address, {"field": "width", "width": "40", "view": "inside"})
    assert answer.status_code == 200
    assert '40" wide' in answer.content.decode()
    assert answer.cookies["sashwright_view"].value == "inside"
    assert kept(elm) == "32 in"


@pytest.mark.parametrize("half", ["3", "34 3/", "", "a"])
def test_half_a_number_does_not_wipe_the_drawing(part: Client, elm: str, half: str) -> None:
    address = reverse("window-preview", args=[elm, "101"])
    assert part.post(address, {"field": "width", "width": half}).status_code == 204


def test_steps_back_and_forth(here: Client, elm: str) -> None:
    type_in(here, elm, "width", "33", 1)
    type_in(here, elm, "width", "34", 2)
    step = reverse("window-step", args=[elm, "101"])
    for way, width in (("undo", "33 in"), ("undo", "32 in"), ("redo", "33 in"), ("redo", "34 in")):
        here.post(step, {"way": way})
        assert kept(elm) == width
    here.post(step, {"way": "redo"})
    assert kept(elm) == "34 in"
    here.post(step, {"way": "undo"})
    type_in(here, elm, "width", "36", 8)
    here.post(step, {"way": "redo"})
    assert kept(elm) == "36 in"


def test_one_persons_steps_leave_the_others_alone(here: Client, elm: str, bob: User) -> None:
    type_in(here, elm, "width", "33", 1)
    store.save_fields(elm, "window", "101", {"room": "library"}, 2, bob)
    here.post(reverse("window-step", args=[elm, "101"]), {"way": "undo"})
    assert kept(elm) == "32 in"
    assert kept(elm, "room") == "library"


def test_what_was_changed_since_cannot_be_undone(here: Client, elm: str, bob: User) -> None:
    type_in(here, elm, "width", "33", 1)
    store.save_fields(elm, "window", "101", {"width": "31 in"}, 2, bob)
    page = here.post(reverse("window-step", args=[elm, "101"]), {"way": "undo"}, follow=True)
    assert "Not undone: Window 101 was changed by bob" in page.content.decode()
    assert kept(elm) == "31 in"
