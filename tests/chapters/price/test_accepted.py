"""What was agreed to: the mark of a price, and what is told once it has changed."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from sashwright.chapters.answer import Answer
from sashwright.chapters.price import price
from sashwright.knowledge.load import load
from sashwright.window.check import HouseError, house_from
from tests.factories import house_document, window_document

KNOWLEDGE = load()
OPTIONS = [
    {"key": "sills", "name": "Sills by the owner", "amount": "-100.00"},
    {"key": "all-shop", "name": "All in the shop", "alternative": "shop"},
]
BAD = {"found": [{"on": "sill", "fault": "decay", "severity": "moderate"}]}


def ask(accepted: Any = None, numbers: Any = None, what: Any = None, **pricing: Any) -> Answer:
    priced: dict[str, Any] = {"options": OPTIONS, **pricing}
    if accepted is not None:
        priced["accepted"] = accepted
    document = house_document(
        windows=[window_document("101", condition=BAD), window_document("102")], pricing=priced
    )
    return price(house_from(document, KNOWLEDGE), KNOWLEDGE, numbers, **(what or {}))


def agreed(answer: Answer, **more: Any) -> dict[str, Any]:
    values = answer.values
    return {
        "total": values["price"]["likely"], "on": "2026-05-01", "by": "the owner",
        "edition": values["edition"], **more,
    }  # fmt: skip


def said(answer: Answer) -> tuple[str, str]:
    found = [each for each in answer.findings if each.says.startswith("Accepted")]
    assert len(found) == 1
    return found[0].level, found[0].says


def test_nothing_accepted_is_nothing_told() -> None:
    answer = ask()
    assert answer.values["accepted"] is None
    assert not [each for each in answer.findings if "Accepted" in each.says]


def test_the_same_price_stands() -> None:
    first = ask()
    again = ask(agreed(first))
    assert again.values["accepted"]["same"]
    assert again.values["accepted"]["change"] == "0.00"
    level, says = said(again)
    assert level == "ok"
    assert "by the owner on 2026-05-01" in says
    assert "Nothing in the price has changed since." in says


def test_options_taken_count_as_agreed_whatever_is_ticked_now() -> None:
    first = ask(what={"ticked": ["sills"]})
    again = ask(agreed(first, ticked=["sills"]))
    assert again.values["accepted"]["same"]
    assert again.values["accepted"]["now"] == first.values["price"]["likely"]
    # The page's own total is without the option, for none is ticked in the house.
    assert again.values["price"]["likely"] != first.values["price"]["likely"]


def test_a_changed_rate_is_told_with_the_sum() -> None:
    first = ask()
    again = ask(agreed(first), overhead=30)
    level, says = said(again)
    change = Decimal(again.values["accepted"]["change"])
    assert change == Decimal(again.values["price"]["likely"]) - Decimal(
        first.values["price"]["likely"]
    )
    assert change > 0
    assert level == "caution"
    assert f"{change:,.2f} more" in says
    assert "in writing" in says


def test_an_option_that_is_gone_is_named() -> None:
    again = ask(agreed(ask(), ticked=["paint-inside"]))
    level, says = said(again)
    assert level == "caution"
    assert "Options no longer offered: paint-inside." in says


@pytest.mark.parametrize(
    ("numbers", "what"),
    [(["101"], {}), (None, {"alternative": "shop"}), (None, {"times": 1.2})],
)
def test_what_if_is_not_what_was_agreed(numbers: Any, what: Any) -> None:
    accepted = agreed(ask())
    assert ask(accepted, numbers, what).values["accepted"] is None


def test_every_line_is_in_the_mark() -> None:
    marks = {
        ask().values["edition"],
        ask(overhead=30).values["edition"],
        ask(materials={"epoxy-filler": "90.00"}).values["edition"],
        ask(allowances=[{"name": "Hidden", "amount": "0.00"}]).values["edition"],
        ask(what={"ticked": ["sills"]}).values["edition"],
    }
    assert len(marks) == 5
    assert ask().values["edition"] in marks


def test_what_is_no_mark_is_refused() -> None:
    with pytest.raises(HouseError, match="edition"):
        ask({"total": "1.00", "on": "2026-05-01", "edition": "latest"})
