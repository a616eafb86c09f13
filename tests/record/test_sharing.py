"""Windows that name another: what follows when that one is renumbered or taken away."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import User

from sashwright.knowledge.load import load
from sashwright.record import store
from sashwright.window.resolve import place
from sashwright.window.surveyed import surveyed
from tests.factories import house_document, window_document

DECAY = {"on": "lower.bottom_rail", "fault": "decay", "length": "8 in"}


def condition(**fields: Any) -> dict[str, Any]:
    return {"condition": fields}


def make(windows: list[dict[str, Any]], who: User, **house: Any) -> str:
    return store.create_house(house_document(windows=windows, **house), who)


def held(slug: str, number: str) -> list[tuple[str, str, tuple[str, ...], Any, Any]]:
    """What holds for a window, wherever it is told: fault, severity, parts, length, count."""
    house = store.load_house(slug)
    placed = place(house, number, load())
    return sorted(
        (
            each.fault.key,
            each.severity,
            tuple(piece.name for piece in each.pieces),
            each.found.length and round(each.found.length, 9),
            each.found.count,
        )
        for each in surveyed(placed.layout, house, placed.knowledge)
    )


def test_shared_findings_follow_a_new_number(elm: str, ann: User) -> None:
    store.save_fields(elm, "window", "103L", {"condition.found": [DECAY]}, 1, ann)
    for number in ("101", "102"):
        store.save_fields(elm, "window", number, {"condition.like": "103L"}, 1, ann)
    before = store.export_document(elm)
    store.renumber_window(elm, "103L", "104", ann)
    likes = {w.number: (w.beside, w.condition.like) for w in store.load_house(elm).windows}
    assert likes == {
        "101": (None, "104"), "102": (None, "104"), "104": (None, None), "103R": ("104", None),
        "301": (None, None),
    }  # fmt: skip
    store.undo(store.changes(elm)[0].id, ann)
    assert store.export_document(elm) == before


def test_a_saved_number_is_followed_as_well(elm: str, ann: User) -> None:
    store.save_fields(elm, "window", "103R", {"condition.like": "103L"}, 1, ann)
    store.save_fields(elm, "window", "103L", {"number": "9"}, 1, ann)
    right = store.stored(elm, "window", "103R").document
    assert (right["beside"], right["condition"]["like"]) == ("9", "9")


def test_prices_follow_a_new_number(ann: User) -> None:
    pricing = {
        "allowances": [{"name": "scaffold", "amount": "100", "window": "101"}],
        "options": [
            {"key": "front", "name": "front", "alternative": "shop", "windows": ["101", "102"]}
        ],
    }
    slug = make([window_document("101"), window_document("102")], ann, pricing=pricing)
    store.renumber_window(slug, "101", "7", ann)
    kept = store.load_house(slug).pricing
    assert [allowance.window for allowance in kept.allowances] == ["7"]
    assert [option.windows for option in kept.options] == [("7", "102")]
    with pytest.raises(store.Refused, match=r"pricing\.allowances\.0\.window"):
        store.remove_window(slug, "7", ann)


@pytest.mark.parametrize(
    "own",
    [
        {},
        {"found": [{"on": "lower.bottom_rail", "fault": "decay", "length": "2 in"}]},
        {"sound": ["lower.cord.left"]},
        {"sound": ["lower.cord"], "found": [{"on": "sill", "fault": "decay"}]},
        {"as_typical": False},
    ],
)
def test_shared_findings_stay_when_their_window_goes(ann: User, own: dict[str, Any]) -> None:
    told = [
        {**DECAY, "note": "left end", "moisture": 24, "photos": ["a"]},
        {"on": "lower.cord", "fault": "cord-broken", "count": 2},
        {"on": "sill", "fault": "decay", "length": "20 in", "severity": "severe"},
        # This one has upright bars, the other has none.
        {"on": "lower.upright_bar", "fault": "decay"},
    ]
    slug = make(
        [
            window_document("101", lower="2x2", **condition(found=told)),
            window_document("102", lower="1x1", **condition(like="101", **own)),
            window_document("103", lower="1x1", width="20", **condition(like="101")),
        ],
        ann,
    )
    before, documents = (held(slug, "102"), held(slug, "103")), store.export_document(slug)
    change = store.remove_window(slug, "101", ann)
    assert (held(slug, "102"), held(slug, "103")) == before
    kept = store.load_house(slug).windows
    assert [window.condition.like for window in kept] == [None, None]
    found = kept[1].condition.found
    # Readings, notes and photographs were those of the other.
    assert [(each.note, each.moisture, each.photos) for each in found] == [("", None, ())] * len(
        found
    )
    store.undo(change.pk, ann)
    assert store.export_document(slug) == documents


def test_no_more_is_taken_over_than_there_is(ann: User) -> None:
    long = {"on": "sill", "fault": "decay", "length": "58 in"}
    slug = make(
        [
            window_document("101", width="60", **condition(found=[long])),
            window_document("102", width="20", **condition(like="101")),
        ],
        ann,
    )
    store.remove_window(slug, "101", ann)
    (found,) = store.load_house(slug).windows[0].condition.found
    assert found.length is not None
    assert 20 * 0.0254 <= found.length < 58 * 0.0254


def test_what_is_left_of_a_finding_on_several_parts_keeps_its_extent(ann: User) -> None:
    bars = {"on": "upper.upright_bar", "fault": "decay", "length": "12 in"}
    slug = make(
        [
            window_document("101", upper="4x1", **condition(found=[bars])),
            window_document(
                "102", upper="4x1", **condition(like="101", sound=["upper.upright_bar.1"])
            ),
        ],
        ann,
    )
    ((_, _, parts, length, _),) = held(slug, "102")
    assert len(parts) > 1
    store.remove_window(slug, "101", ann)
    after = held(slug, "102")
    assert sorted(part for each in after for part in each[2]) == sorted(parts)
    assert sum(each[3] for each in after) == pytest.approx(length)
