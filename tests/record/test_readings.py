"""What the scale said."""

from __future__ import annotations

from datetime import datetime

import pytest
from django.contrib.auth.models import User

from sashwright import units
from sashwright.record import store

EIGHTEEN_POUNDS_SIX = units.parse_mass("18 lb 6 oz")


def test_a_reading_is_kept_and_stands_in_the_window(elm: str, ann: User) -> None:
    stored = store.add_reading(
        elm, "101", "lower", EIGHTEEN_POUNDS_SIX, "before painting", ann, "wet day"
    )
    measured = stored.document["measured"]["lower"]
    assert (measured["mass"], measured["state"]) == ("18 lb 6 oz", "before painting")
    assert measured["who"] == "Ann Alder"
    (reading,) = store.readings(elm)
    assert (reading.number, reading.which, reading.kind) == ("101", "lower", "mass")
    assert reading.value_kg == EIGHTEEN_POUNDS_SIX
    assert (reading.state, reading.who, reading.note) == ("before painting", "Ann Alder", "wet day")
    when = datetime.fromisoformat(measured["when"])
    assert abs((reading.when - when).total_seconds()) < 1
    window = store.load_house(elm).windows[0]
    assert window.measured.lower.mass == EIGHTEEN_POUNDS_SIX
    assert store.changes(elm)[0].says == (
        "window 101: lower sash weighed 18 lb 6 oz, before painting"
    )


def test_a_metric_house_is_told_kilograms(elm: str, ann: User) -> None:
    store.save_fields(elm, "house", "", {"units": "metric"}, 1, ann)
    stored = store.add_reading(elm, "101", "upper", 8.35, "finished", ann)
    assert stored.document["measured"]["upper"]["mass"] == "8.35 kg"


def test_earlier_readings_remain(elm: str, ann: User, bob: User) -> None:
    store.add_reading(elm, "101", "lower", 8.0, "before painting", ann)
    store.add_reading(elm, "102", "upper", 7.0, "finished", ann)
    store.add_reading(elm, "101", "lower", 8.2, "finished", bob)
    assert [reading.value_kg for reading in store.readings(elm)] == [8.0, 7.0, 8.2]
    assert [reading.who for reading in store.readings(elm, "101")] == ["Ann Alder", "bob"]
    assert store.stored(elm, "window", "101").document["measured"]["lower"]["mass"] == "8.2 kg"


def test_an_undone_reading_does_not_count_until_done_again(elm: str, ann: User) -> None:
    store.add_reading(elm, "101", "lower", 8.0, "finished", ann)
    undoing = store.undo(store.changes(elm)[0].id, ann)
    assert store.readings(elm) == []
    assert "mass" not in store.stored(elm, "window", "101").document["measured"]["lower"]
    store.undo(undoing.pk, ann)
    assert [reading.value_kg for reading in store.readings(elm)] == [8.0]


@pytest.mark.parametrize(
    ("mass", "state", "at"),
    [
        (0.01, "finished", "measured.lower.mass"),
        (1000.0, "finished", "measured.lower.mass"),
        (8.0, "wet", "measured.lower.state"),
    ],
)
def test_what_no_scale_says_is_refused(
    elm: str, ann: User, mass: float, state: str, at: str
) -> None:
    with pytest.raises(store.Refused) as refused:
        store.add_reading(elm, "101", "lower", mass, state, ann)
    assert refused.value.problems[0].field == at
    assert store.readings(elm) == []


def test_a_window_that_is_not_there(elm: str, ann: User) -> None:
    with pytest.raises(store.NotThere):
        store.add_reading(elm, "999", "lower", 8.0, "finished", ann)
    with pytest.raises(store.NotThere):
        store.readings(elm, "999")
