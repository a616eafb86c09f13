"""Orders in the record: numbered, sent, received in parts, cancelled, undone."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import User

from sashwright.record import store
from sashwright.record.errors import NotThere, Refused
from sashwright.record.orders import (
    OrderRow,
    cancel_order,
    change_line,
    create_order,
    on_order,
    order,
    orders,
    receive,
    send_order,
)

CORD = {"item": "cord/cotton-8", "says": "Cord no. 8", "quantity": 12.5, "unit": "m"}
PULLEY = {"item": "pulley/plain-2", "says": "Pulley", "quantity": 4, "unit": "piece"}


@pytest.fixture
def first(elm: str, ann: User) -> OrderRow:
    lines: list[dict[str, Any]] = [CORD, {**PULLEY, "windows": ["101", "102"]}]
    return create_order(elm, "hardware", lines, ann, note="by the yard")


def now(slug: str, key: str = "1") -> OrderRow:
    return order(slug, key)


def test_an_order_is_kept_with_its_number(elm: str, ann: User, first: OrderRow) -> None:
    assert (first.key, first.status, first.form.supplies) == ("1", "open", "hardware")
    assert first.lines[1].windows == ("101", "102")
    second = create_order(elm, "weights", [PULLEY], ann)
    assert second.key == "2"
    assert [row.key for row in orders(elm)] == ["2", "1"]
    assert store.changes(elm)[0].says == "order 2: 1 line of weights"


def test_a_number_never_comes_again(elm: str, ann: User, first: OrderRow) -> None:
    store.undo(store.changes(elm)[0].id, ann)
    assert orders(elm) == []
    assert create_order(elm, "glass", [CORD], ann).key == "2"


def test_sent_received_in_parts_and_whole(elm: str, ann: User, first: OrderRow) -> None:
    send_order(elm, "1", first.version, ann, on="2026-05-04", supplier="The cord man")
    assert (now(elm).status, now(elm).form.supplier) == ("sent", "The cord man")
    receive(elm, "1", now(elm).version, ann, on="2026-05-11", came={"pulley/plain-2": 3})
    assert now(elm).status == "part received"
    assert now(elm).lines[1].received_on == "2026-05-11"
    assert on_order(orders(elm)) == (
        {"cord/cotton-8": 12.5, "pulley/plain-2": 4.0},
        {"cord/cotton-8": 0.0, "pulley/plain-2": 3.0},
    )
    receive(elm, "1", now(elm).version, ann, on="2026-05-12")
    assert now(elm).status == "received"
    assert on_order(orders(elm))[1] == {"cord/cotton-8": 12.5, "pulley/plain-2": 4.0}
    assert store.changes(elm)[0].says == "order 1: all received"


def test_the_same_parcel_is_not_counted_twice(elm: str, ann: User, first: OrderRow) -> None:
    came = {"pulley/plain-2": 2.0}
    receive(elm, "1", first.version, ann, on="2026-05-11", came=came)
    with pytest.raises(Refused, match="changed meanwhile"):
        receive(elm, "1", first.version, ann, on="2026-05-11", came=came)
    assert now(elm).lines[1].received == 2.0


def test_undoing_takes_a_parcel_back(elm: str, ann: User, first: OrderRow) -> None:
    receive(elm, "1", first.version, ann, on="2026-05-11")
    undoing = store.undo(store.changes(elm)[0].id, ann)
    assert now(elm).status == "open"
    store.undo(undoing.pk, ann)
    assert now(elm).status == "received"


def test_of_a_cancelled_order_only_what_came_counts(elm: str, ann: User, first: OrderRow) -> None:
    receive(elm, "1", first.version, ann, on="2026-05-11", came={"pulley/plain-2": 1})
    cancel_order(elm, "1", now(elm).version, ann, on="2026-05-20")
    assert now(elm).status == "cancelled"
    assert on_order(orders(elm))[0] == {"cord/cotton-8": 0.0, "pulley/plain-2": 1.0}
    with pytest.raises(Refused, match="cancelled on 2026-05-20"):
        receive(elm, "1", now(elm).version, ann, on="2026-05-21")


def test_an_amount_changes_until_it_is_sent(elm: str, ann: User, first: OrderRow) -> None:
    change_line(elm, "1", first.version, ann, item="pulley/plain-2", quantity=6)
    assert now(elm).lines[1].quantity == 6
    change_line(elm, "1", now(elm).version, ann, item="cord/cotton-8", quantity=0)
    assert [line.item for line in now(elm).lines] == ["pulley/plain-2"]
    with pytest.raises(Refused, match="at least one"):
        change_line(elm, "1", now(elm).version, ann, item="pulley/plain-2", quantity=0)
    send_order(elm, "1", now(elm).version, ann, on="2026-05-04")
    with pytest.raises(Refused, match="sent on 2026-05-04 already"):
        change_line(elm, "1", now(elm).version, ann, item="pulley/plain-2", quantity=2)
    with pytest.raises(Refused, match="sent on 2026-05-04 already"):
        send_order(elm, "1", now(elm).version, ann, on="2026-05-05")


@pytest.mark.parametrize(
    ("came", "says"),
    [
        ({"cord/gold": 1.0}, "expected one of the order's own lines"),
        ({"cord/cotton-8": -1.0}, "found -1, expected an amount"),
        ({"cord/cotton-8": float("nan")}, "expected an amount"),
        ({"cord/cotton-8": 0.0}, "nothing that came"),
    ],
)
def test_what_cannot_come(
    elm: str, ann: User, first: OrderRow, came: dict[str, float], says: str
) -> None:
    with pytest.raises(Refused, match=says):
        receive(elm, "1", first.version, ann, on="2026-05-11", came=came)
    assert now(elm).version == first.version


def test_what_is_no_order(elm: str, ann: User) -> None:
    with pytest.raises(Refused, match="nothing to order"):
        create_order(elm, "glass", [], ann)
    with pytest.raises(Refused):
        create_order(elm, "glass", [{**CORD, "quantity": -2}], ann)
    with pytest.raises(NotThere, match="no order 7"):
        cancel_order(elm, "7", 1, ann, on="2026-05-11")
    assert orders(elm) == []
