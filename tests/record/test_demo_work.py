"""The demo house's job in progress: as it is told, dated back from today, and never twice."""

from __future__ import annotations

from datetime import date, timedelta
from importlib import resources

import pytest
from django.contrib.auth.models import User
from django.utils import timezone

from sashwright.chapters.answer import Answer
from sashwright.chapters.days import day_number
from sashwright.chapters.make.stages import stages
from sashwright.chapters.price import price
from sashwright.record import store
from sashwright.record.demo import stock, work
from sashwright.record.housefile import house_document, parse_house
from sashwright.record.orders import orders
from sashwright.record.visits import visits


@pytest.fixture
def quill(ann: User) -> str:
    """The demo shop and house, without photographs, and the job brought in."""
    stock.bring_in(ann)
    data = (resources.files("sashwright.record.demo") / "house.toml").read_bytes()
    house = parse_house(data, "the demo house", store.knowledge())
    slug = store.import_house(house_document(house), ann)
    work.bring_in(slug, ann, store.knowledge())
    return slug


def today() -> date:
    return timezone.localdate()


def standing(slug: str) -> Answer:
    return stages(
        store.load_house(slug),
        store.knowledge(),
        moves=store.moves_of(slug),
        today=today().isoformat(),
    )


def each_piece_stands_where_its_last_move_left_it(quill: str) -> None:
    """Each piece where its last move left it; two hung, one late, some at rest, none out of turn."""
    values = standing(quill).values
    columns = {
        (place["number"], place["piece"]): stage
        for stage, places in values["columns"].items()
        for place in places
    }
    assert {key: columns[key] for key in work.MOVES} == {
        key: moves[-1][1] for key, moves in work.MOVES.items()
    }
    assert values["counts"]["hung"] == 2
    assert [row["tag"] for row in values["late"]] == ["105 lower sash"]
    assert {row["tag"] for row in values["waiting"]} == {
        "101 storm sash", "102 upper sash", "208 upper sash",
    }  # fmt: skip
    # Whatever came too early would have had to give a reason.
    given = [(row.number, row.piece, row.stage, row.reason) for row in store.stages(quill)]
    assert [each for each in given if each[3]] == [(*key, why) for key, why in work.WHY.items()]


def dates_are_counted_back_from_today(quill: str) -> None:
    when = {
        (row.number, row.piece, row.stage): timezone.localtime(row.when).date()
        for row in store.stages(quill)
    }
    assert when["101", "upper", "hung"] == today() - timedelta(days=27)
    assert max(when.values()) < today()
    (visit,) = visits(quill)
    assert visit.form.on == work.days_ago(today(), work.VISITED)
    spent = {row.task: row.on for row in store.load_house(quill).windows[0].spent}
    assert spent["reglaze"] == when["101", "lower", "glazed"].isoformat()


def one_order_is_there_one_in_part_one_sent(quill: str) -> None:
    found = {row.key: (row.form.supplies, row.status) for row in orders(quill)}
    assert found == {
        "1": ("hardware", "received"), "2": ("paint", "part received"), "3": ("weights", "sent"),
    }  # fmt: skip
    for row in orders(quill):
        assert row.form.sent_on is not None
        came = [line.received_on for line in row.lines if line.received_on]
        assert all(day_number(row.form.sent_on) < day_number(day) for day in came)


def the_price_that_was_agreed_to_still_stands(quill: str) -> None:
    house = store.load_house(quill)
    decided = {window.number for window in house.windows if window.decision}
    assert decided == {"101", *work.WAYS}
    accepted = price(house, store.knowledge()).values["accepted"]
    assert (accepted["same"], accepted["change"], accepted["by"]) == (True, "0.00", house.owner)
    assert accepted["on"] == work.days_ago(today(), work.ACCEPTED)


def it_is_brought_in_once_and_can_be_undone(quill: str, ann: User) -> None:
    before = store.change_count(quill)
    work.bring_in(quill, ann, store.knowledge())
    assert store.change_count(quill) == before
    last = store.stages(quill)[-1]
    store.undo(last.change, ann)
    assert store.stages(quill)[-1] != last
    work.bring_in(quill, ann, store.knowledge())
    assert len(store.stages(quill)) == sum(map(len, work.MOVES.values())) - 1


def test_the_job(quill: str, ann: User) -> None:
    """One after the other, for bringing it in takes a second."""
    each_piece_stands_where_its_last_move_left_it(quill)
    dates_are_counted_back_from_today(quill)
    one_order_is_there_one_in_part_one_sent(quill)
    the_price_that_was_agreed_to_still_stands(quill)
    it_is_brought_in_once_and_can_be_undone(quill, ann)


def test_all_of_it_or_nothing(elm: str, ann: User) -> None:
    """A house that lacks some of its windows takes nothing in."""
    before = store.change_count(elm)
    with pytest.raises(store.NotThere, match="no window 104"):
        work.bring_in(elm, ann, store.knowledge())
    assert store.change_count(elm) == before
    assert store.stored(elm, "window", "102").document.get("decision") is None
