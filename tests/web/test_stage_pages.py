"""The board, the page at a tag, orders: looked at, acted on, taken back."""

from __future__ import annotations

import json
import re
from datetime import timedelta

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.utils import timezone

from sashwright.record import store
from sashwright.record.orders import orders
from tests.factories import window_document


@pytest.fixture
def busy(elm: str, owner: User) -> str:
    """A house in which 101 is restored in the shop: its upper sash was glazed two days ago."""
    version = store.stored(elm, "window", "101").version
    decided = {"decision": {"alternative": "shop"}}
    store.save_fields(elm, "window", "101", decided, version, owner)
    for stage, days in (("removed", 12), ("stripped", 9), ("primed", 4), ("glazed", 2)):
        at = timezone.now() - timedelta(days=days)
        store.set_stage(elm, "101", "upper", stage, owner, at=at)
    return elm


def text(client: Client, address: str, status: int = 200) -> str:
    answer = client.get(address)
    assert answer.status_code == status, address
    return answer.content.decode()


# --- the board --------------------------------------------------------------------


def test_the_board_shows_what_stands_where(here: Client, busy: str) -> None:
    page = text(here, f"/{busy}/board")
    assert f'href="/{busy}/scan/101-upper"' in page
    assert re.search(r"Cured from \d+ [A-Z][a-z]{2}", page)
    # The lower sash is still in the house.
    assert f'href="/{busy}/scan/101-lower"' in page
    assert 'hx-trigger="every 60s"' in page
    assert "102" not in re.sub(r"<svg.*?</svg>", "", page)


def test_the_board_renews_itself_alone(part: Client, busy: str) -> None:
    page = text(part, f"/{busy}/board")
    assert page.lstrip().startswith("<section")
    assert "<html" not in page


def test_a_late_piece_says_so_in_words(here: Client, elm: str, owner: User) -> None:
    at = timezone.now() - timedelta(days=40)
    store.set_stage(elm, "102", "lower", "removed", owner, at=at)
    page = text(here, f"/{elm}/board")
    assert re.search(r"latemark.*?Late</b>", page)
    assert '<strong class="figure">1</strong> late' in page


def test_the_board_of_all_houses(here: Client, busy: str, owner: User) -> None:
    other = store.create_house({"name": "Idle House"}, owner)
    page = text(here, "/board")
    assert f"/{busy}/scan/101-upper" in page
    assert "12 Elm Street" in page
    assert other not in page
    store.remove_house(busy, owner)
    assert "Nothing is in the shop" in text(here, "/board")


def test_weeks_ahead_when_the_shop_names_its_hours(here: Client, busy: str, owner: User) -> None:
    assert "when the shop says how many hours" in text(here, f"/{busy}/board")
    hours = dict.fromkeys(
        ("bench-hand", "glazier", "joiner", "painter", "installer", "labourer"), 40
    )
    store.save_shop_fields({"hours": hours}, store.shop_edition(), owner)
    assert "The weeks ahead" in text(here, f"/{busy}/board")


# --- at a tag ---------------------------------------------------------------------


def test_one_button_notes_the_next_stage(here: Client, busy: str) -> None:
    address = f"/{busy}/scan/101-lower"
    page = text(here, address)
    assert re.search(
        r'<button class="button nextstage primary" name="stage" value="removed">', page
    )
    assert here.post(address, {"stage": "removed"}).status_code == 302
    assert store.stages(busy, "101")[-1].stage == "removed"
    assert "101 lower sash: removed." in text(here, address)


def test_too_early_asks_why_and_says_from_when(here: Client, busy: str) -> None:
    address = f"/{busy}/scan/101-upper"
    assert "not before" in text(here, address)
    answer = here.post(address, {"stage": "painted"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "may be &#x27;painted&#x27; from" in page
    assert 'name="reason"' in page
    assert store.stages(busy, "101")[-1].stage == "glazed"
    here.post(address, {"stage": "painted", "reason": "the client is waiting"})
    assert store.stages(busy, "101")[-1].reason == "the client is waiting"
    assert "for a reason: the client is waiting" in text(here, address)


def test_back_asks_why_and_is_undone(here: Client, busy: str) -> None:
    address = f"/{busy}/scan/101-upper"
    assert here.post(address, {"stage": "stripped"}).status_code == 422
    here.post(address, {"stage": "stripped", "reason": "paint left in the rabbet"})
    page = text(here, address)
    undo = re.search(r'action="(/undo/\d+)"', page)
    assert undo is not None
    here.post(undo[1], {"next": address})
    assert store.stages(busy, "101")[-1].stage == "glazed"


@pytest.mark.parametrize("name", ["101-storm", "999-upper", "101", "101-shutter", "-upper"])
def test_a_tag_of_nothing(here: Client, busy: str, name: str) -> None:
    assert "There is no piece" in text(here, f"/{busy}/scan/{name}", 404)


def test_a_number_with_a_hyphen_is_found(here: Client, elm: str, owner: User) -> None:
    store.add_window(elm, window_document("2-04"), owner)
    assert "2-04" in text(here, f"/{elm}/scan/2-04-upper")


def test_whoever_only_looks_notes_nothing(client: Client, busy: str, bob: User) -> None:
    client.force_login(bob)
    assert client.get(f"/{busy}/scan/101-lower").status_code == 200
    assert client.post(f"/{busy}/scan/101-lower", {"stage": "removed"}).status_code == 403
    assert client.get(f"/{busy}/board").status_code == 200
    assert client.post(f"/{busy}/orders/new", {"kind": "glass"}).status_code == 403


def test_the_stages_as_data(here: Client, busy: str) -> None:
    found = json.loads(text(here, f"/{busy}/answers/stages.json?window=101"))
    assert found["chapter"] == "stages"
    assert found["windows"][0]["values"]["pieces"]["upper"]["stage"] == "glazed"
    assert "names no hours" in text(here, f"/{busy}/answers/capacity.json", 400)


# --- orders -----------------------------------------------------------------------


def order_of(here: Client, slug: str, kind: str = "paint") -> str:
    assert here.post(f"/{slug}/orders/new", {"kind": kind}).status_code == 302
    return orders(slug)[0].key


def test_what_is_needed_becomes_one_order(here: Client, busy: str) -> None:
    page = text(here, f"/{busy}/orders")
    assert "Linseed-oil putty" in page
    key = order_of(here, busy)
    page = text(here, f"/{busy}/orders")
    assert f"No. {key}" in page
    assert "Order 0" not in page
    found = json.loads(text(here, f"/{busy}/answers/orders.json"))
    assert all(row["to_order"] == 0 for row in found["values"]["kinds"]["paint"]["lines"])
    # A second order of the same would be of nothing.
    assert here.post(f"/{busy}/orders/new", {"kind": "paint"}).status_code == 422
    assert len(orders(busy)) == 1


def test_sent_and_received_in_the_reader_s_units(here: Client, busy: str) -> None:
    key = order_of(here, busy, "hardware")
    row = orders(busy)[0]
    base = f"/{busy}/orders/{key}"
    sent = {"base": row.version, "supplier": "The chandler", "on": "2026-05-04"}
    assert here.post(f"{base}/send", sent).status_code == 302
    row = orders(busy)[0]
    assert (row.status, row.form.supplier) == ("sent", "The chandler")
    cord = next(line for line in row.lines if line.item.startswith("cord/"))
    came = {"base": row.version, "item": [cord.item], "came": ["10"]}
    assert here.post(f"{base}/came/part", came).status_code == 302
    row = orders(busy)[0]
    line = next(line for line in row.lines if line.item == cord.item)
    assert line.received == pytest.approx(3.048), "ten feet"
    assert row.status == "part received"
    here.post(f"{base}/came/all", {"base": row.version})
    assert orders(busy)[0].status == "received"
    assert "received" in text(here, f"/{busy}/orders")


@pytest.mark.parametrize(
    ("what", "fields", "says"),
    [
        ("came/part", {"item": "x", "came": "some"}, "expected a number"),
        ("came/part", {"item": "x", "came": "3"}, "the order&#x27;s own lines"),
        ("came/all", {"base": "0"}, "changed meanwhile"),
        ("send", {"on": "the day before"}, "such as 2026-08-15"),
    ],
)
def test_what_is_wrong_with_a_parcel(
    here: Client, busy: str, what: str, fields: dict[str, str], says: str
) -> None:
    key = order_of(here, busy)
    version = orders(busy)[0].version
    answer = here.post(f"/{busy}/orders/{key}/{what}", {"base": version, **fields})
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert orders(busy)[0].version == version


def test_a_cancelled_order_is_needed_again(here: Client, busy: str) -> None:
    key = order_of(here, busy)
    version = orders(busy)[0].version
    here.post(f"/{busy}/orders/{key}/cancel", {"base": version})
    assert orders(busy)[0].status == "cancelled"
    assert re.search(
        r"Order \d+ lines?<span class=\"visually-hidden\"> of Paint", text(here, f"/{busy}/orders")
    )
