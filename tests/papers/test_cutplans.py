"""The cutting plans on paper: every board and sheet by its label, what to buy, and what is missing."""

from __future__ import annotations

import time
from importlib import resources

import pytest

from sashwright.chapters.answer import Answer
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cutlist import cut_list
from sashwright.chapters.make.plans import cutting_plans
from sashwright.knowledge.tables import Knowledge
from sashwright.record.shopfile import parse_shop
from sashwright.window.spec import House
from tests.papers.printing import Print, squeezed


@pytest.fixture(scope="module")
def plans(house: House, knowledge: Knowledge) -> Answer:
    data = (resources.files("sashwright.record.demo") / "shop.toml").read_bytes()
    shop = parse_shop(data, "shop.toml", knowledge)
    listed = cut_list(house, knowledge, scope=("sash",))
    return cutting_plans(listed, shop, knowledge, Budget(0.0, time.monotonic), house=house.name)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_board_and_sheet_is_on_the_paper(
    printed: Print, house: House, plans: Answer, paper: str
) -> None:
    pdf = printed(house, include=("plans",), paper=paper, plans=plans)
    text = squeezed(pdf.text)
    rows = [*plans.values["boards"], *plans.values["sheets"]]
    assert len(rows) > 8
    for row in rows:
        assert squeezed(f"{row['order']}. {row['piece']}") in text
    for cut in (c for row in plans.values["boards"] for s in row["strips"] for c in s["cuts"]):
        # Where a part is long enough its mark is written on it.
        if cut["to_m"] - cut["from_m"] > 0.7:
            assert squeezed(cut["label"].partition(" stile")[0][:9]) in text
    for line in plans.values["buy_boards"]:
        assert f"{line['cost']:,.2f}" in text


def test_without_a_plan_the_paper_says_what_it_needs(printed: Print, house: House) -> None:
    assert "the shop's stock" in printed(house, include=("plans",)).text.replace("’", "'")
