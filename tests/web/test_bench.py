"""The scale: readings kept, answered at once, taken back."""

from __future__ import annotations

import re

import pytest
from django.test import Client
from django.urls import reverse

from sashwright.record import store

WEIGHED = {"number": "101", "which": "lower", "mass": "18 lb 6", "state": "finished"}


def weigh(client: Client, slug: str, **changed: str) -> tuple[int, str]:
    answer = client.post(reverse("bench", args=[slug]), {**WEIGHED, **changed})
    return answer.status_code, answer.content.decode()


def test_a_reading_is_answered_at_once(part: Client, elm: str) -> None:
    status, page = weigh(part, elm)
    assert status == 200
    assert "two weights of" in page
    assert "8 lb 15 oz" in page
    assert "18 lb 6 oz" in page
    assert "weighed" in page
    assert [reading.state for reading in store.readings(elm, "101")] == ["finished"]


def test_a_reading_is_taken_back(part: Client, elm: str) -> None:
    _, page = weigh(part, elm)
    change = re.search(r"/undo/(\d+)", page)
    assert change is not None
    part.post(f"/undo/{change[1]}")
    assert store.readings(elm, "101") == []
    assert "computed" in part.get(reverse("bench-window", args=[elm]), WEIGHED).content.decode()


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"mass": ""}, "Key in what the scale says."),
        ({"mass": "heavy"}, "expected a mass"),
        ({"mass": "900 lb"}, "expected"),
        ({"mass": "-3"}, "less than zero"),
        ({"number": ""}, "Choose the window first."),
        ({"number": "999"}, "There is no window 999"),
    ],
)
def test_a_reading_that_cannot_be(
    part: Client, elm: str, changed: dict[str, str], says: str
) -> None:
    status, page = weigh(part, elm, **changed)
    assert status == 422
    assert says in page
    assert store.readings(elm) == []


def test_strange_words_fall_back_on_the_usual(part: Client, elm: str) -> None:
    status, _ = weigh(part, elm, which="middle", state="wet")
    assert status == 200
    reading = store.readings(elm, "101")[0]
    assert (reading.which, reading.state) == ("lower", "finished")


def test_kilograms_where_they_are_chosen(part: Client, elm: str) -> None:
    part.post(reverse("units", args=[elm]), {"units": "metric"})
    weigh(part, elm, mass="8.35")
    assert store.readings(elm, "101")[0].value_kg == pytest.approx(8.35)


def test_a_number_is_looked_up_while_it_is_typed(part: Client, elm: str) -> None:
    address = reverse("bench-window", args=[elm])
    assert "no window 10 " in part.get(address, {"number": "10"}).content.decode()
    assert "two weights of" in part.get(address, {"number": "101"}).content.decode()


def test_a_fixed_sash_has_no_weights(part: Client, elm: str) -> None:
    part.post(
        reverse("window-field", args=[elm, "101"]), {"field": "hung", "hung": "single", "base": 1}
    )
    page = part.get(reverse("bench-window", args=[elm]), {"number": "101", "which": "upper"})
    assert "This sash is fixed" in page.content.decode()
