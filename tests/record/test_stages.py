"""Stages noted in the record: kept, refused without a reason, undone."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from django.contrib.auth.models import User
from django.utils import timezone

from sashwright.record import store
from sashwright.record.stages import NotAllowed

NOW = timezone.now()


def days_ago(days: float) -> datetime:
    return NOW - timedelta(days=days)


def note(slug: str, stage: str, who: User, days: float, piece: str = "upper") -> None:
    store.set_stage(slug, "101", piece, stage, who, at=days_ago(days))


@pytest.fixture
def puttied(elm: str, ann: User) -> str:
    """A house whose sash 101 upper was glazed two days ago."""
    note(elm, "removed", ann, 9)
    note(elm, "stripped", ann, 8)
    note(elm, "repaired", ann, 7)
    note(elm, "dry", ann, 5)
    note(elm, "primed", ann, 4)
    note(elm, "glazed", ann, 2)
    return elm


def test_a_stage_is_kept_with_who_and_when(elm: str, ann: User) -> None:
    change = store.set_stage(elm, "101", "upper", "removed", ann, at=days_ago(1))
    (row,) = store.stages(elm)
    assert (row.number, row.piece, row.stage, row.who) == ("101", "upper", "removed", "Ann Alder")
    assert row.when == days_ago(1)
    assert row.change == change.pk
    assert store.changes(elm)[0].says == "window 101: upper sash removed"
    assert store.stages(elm, "102") == []


def test_paint_on_fresh_putty_takes_a_reason(puttied: str, ann: User) -> None:
    with pytest.raises(NotAllowed, match="may be 'painted' from") as refused:
        store.set_stage(puttied, "101", "upper", "painted", ann)
    day = timezone.localtime(days_ago(2)).date() + timedelta(days=5)
    assert refused.value.verdict.may == day.isoformat()
    assert store.stages(puttied)[-1].stage == "glazed"
    store.set_stage(puttied, "101", "upper", "painted", ann, "linseed paint after all")
    last = store.stages(puttied)[-1]
    assert (last.stage, last.reason) == ("painted", "linseed paint after all")
    assert store.changes(puttied)[0].says == (
        "window 101: upper sash painted: linseed paint after all"
    )


def test_back_only_with_a_reason(puttied: str, ann: User) -> None:
    with pytest.raises(NotAllowed, match="go back"):
        store.set_stage(puttied, "101", "upper", "repaired", ann)
    store.set_stage(puttied, "101", "upper", "repaired", ann, "a rail split at the clamp")
    assert store.stages(puttied)[-1].stage == "repaired"


def test_a_reason_that_nobody_asked_for_is_not_kept(elm: str, ann: User) -> None:
    store.set_stage(elm, "101", "upper", "removed", ann, "because")
    assert store.stages(elm)[0].reason == ""


def test_an_undone_stage_does_not_count_until_done_again(puttied: str, ann: User) -> None:
    glazed = store.stages(puttied)[-1].change
    undoing = store.undo(glazed, ann)
    assert [row.stage for row in store.stages(puttied)][-1] == "primed"
    # The putty is not there any more, so that it is not waited for.
    with pytest.raises(NotAllowed, match="stands at 'primed' already"):
        store.set_stage(puttied, "101", "upper", "primed", ann)
    store.undo(undoing.pk, ann)
    assert [row.stage for row in store.stages(puttied)][-1] == "glazed"


def test_a_renumbered_window_keeps_its_stages(puttied: str, ann: User) -> None:
    store.renumber_window(puttied, "101", "108", ann)
    assert {row.number for row in store.stages(puttied)} == {"108"}
    assert len(store.stages(puttied, "108")) == 6


@pytest.mark.parametrize(
    ("number", "piece", "stage", "says"),
    [
        ("999", "upper", "removed", "no window 999"),
        ("101", "storm", "removed", "Window 101 has no storm sash"),
        ("101", "shutter", "removed", "Window 101 has no shutter"),
    ],
)
def test_what_is_not_there(
    elm: str, ann: User, number: str, piece: str, stage: str, says: str
) -> None:
    with pytest.raises(store.NotThere, match=says):
        store.set_stage(elm, number, piece, stage, ann)
    assert store.stages(elm) == []


def test_no_stage_of_tomorrow_or_of_another_name(elm: str, ann: User) -> None:
    with pytest.raises(NotAllowed, match="not come yet"):
        store.set_stage(elm, "101", "upper", "removed", ann, at=NOW + timedelta(days=1))
    with pytest.raises(NotAllowed, match="no stage 'polished'"):
        store.set_stage(elm, "101", "upper", "polished", ann, "it shines")
    note(elm, "removed", ann, 1)
    with pytest.raises(NotAllowed, match="after that day"):
        note(elm, "stripped", ann, 3)
    assert len(store.stages(elm)) == 1
