"""Prices add up to the cent; rates, shares, access, options, what-if and learned hours do what they say."""

from __future__ import annotations

import json
from collections.abc import Iterator
from decimal import Decimal
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.chapters.answer import Answer
from sashwright.chapters.price import finished, price
from sashwright.chapters.price.hours import PRIOR
from sashwright.chapters.price.money import cents
from sashwright.knowledge.load import load
from sashwright.knowledge.tables import KnowledgeError
from sashwright.record.housefile import read_house
from sashwright.window.check import house_from
from sashwright.window.pricing import Pricing
from sashwright.window.spec import House
from tests.factories import family_document, house_document, window_document

KNOWLEDGE = load()
ENDS = ("low", "likely", "high")
DEMO = Path(str(resources.files("sashwright.record.demo") / "house.toml"))


@pytest.fixture(scope="module")
def demo() -> House:
    return read_house(DEMO, KNOWLEDGE)


def house(*windows: dict[str, Any], **pricing: Any) -> House:
    document = house_document(
        built=1990, families={"A": family_document(sash={"lites": "2x1"})}, windows=list(windows)
    )
    return house_from({**document, "pricing": pricing}, KNOWLEDGE)


def window(number: str = "101", *faults: tuple[str, str], **fields: Any) -> dict[str, Any]:
    found = [{"on": on, "fault": fault} for on, fault in faults]
    return window_document(number, condition={"found": found}, **fields)


CORD = ("lower.cord", "cord-broken")
CHECKS = ("sill", "weather-checks")


def lines(of: Answer, number: str = "101") -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = next(w for w in of.windows if w.number == number).values["lines"]
    return found


def kinds(of: Answer, number: str = "101") -> dict[str, Decimal]:
    found: dict[str, Decimal] = {}
    for line in lines(of, number):
        found[line["kind"]] = found.get(line["kind"], Decimal(0)) + Decimal(line["likely"])
    return found


def likely(of: Answer) -> Decimal:
    return Decimal(of.values["price"]["likely"])


def added(rows: list[dict[str, Any]], end: str) -> Decimal:
    return sum((Decimal(row[end]) for row in rows), Decimal(0))


def every_line(of: Answer) -> Iterator[dict[str, Any]]:
    for each in of.windows:
        yield from each.values["lines"]
    yield from of.values["house_lines"]


# --- exact ------------------------------------------------------------------------


@pytest.mark.parametrize("tax_on", ["all", "materials"])
@pytest.mark.parametrize("ticked", [(), ("attic-storms",), ("own-painting", "attic-storms")])
def test_the_price_is_exactly_the_sum_of_its_lines(
    demo: House, tax_on: Any, ticked: tuple[str, ...]
) -> None:
    pricing = demo.pricing.model_copy(update={"tax": 7.25, "tax_on": tax_on, "overhead": 17.3})
    of = price(demo, KNOWLEDGE, pricing=pricing, ticked=ticked)
    for end in ENDS:
        for each in of.windows:
            assert added(each.values["lines"], end) == Decimal(each.values["price"][end])
        windows = added([each.values["price"] for each in of.windows], end)
        whole = windows + added(of.values["house_lines"], end)
        assert whole == Decimal(of.values["price"][end])
        assert added(list(of.values["kinds"].values()), end) == whole
    for line in every_line(of):
        assert all(Decimal(line[end]) == cents(Decimal(line[end])) for end in ENDS)
        assert Decimal(line["low"]) <= Decimal(line["likely"]) <= Decimal(line["high"])
    json.dumps(of.to_dict(), allow_nan=False)


@given(
    st.decimals(0, 500, places=2),
    st.integers(0, 90),
    st.integers(0, 60),
    st.integers(0, 30),
    st.sampled_from(["all", "materials"]),
)
def test_it_adds_up_at_any_rate(
    rate: Decimal, overhead: int, margin: int, tax: int, tax_on: Any
) -> None:
    of = price(
        house(
            window("101", CORD, CHECKS),
            rates={"installer": str(rate)}, overhead=overhead, margin=margin, tax=tax, tax_on=tax_on,
        ),
        KNOWLEDGE,
    )  # fmt: skip
    for end in ENDS:
        assert added(list(every_line(of)), end) == Decimal(of.values["price"][end])


def test_half_a_cent_goes_up() -> None:
    assert cents(Decimal("0.005")) == Decimal("0.01")
    assert cents(Decimal("2.675")) == Decimal("2.68")
    assert cents(Decimal("-2.675")) == Decimal("-2.68")
    assert str(cents(Decimal("-0.001"))) == "0.00"


# --- rates, shares, access --------------------------------------------------------


def test_the_house_writes_over_the_tables() -> None:
    of = price(house(window("101", CORD), rates={"installer": "100.00"}), KNOWLEDGE)
    (cord,) = (line for line in lines(of) if line["key"] == "cord" and line["kind"] == "labour")
    # Two cords at 0.30 h.
    assert (cord["hours"], cord["each"], cord["likely"]) == (0.6, "100.00", "60.00")
    assert "pricing of the house" in cord["source"]


def test_margin_is_a_share_of_the_price_before_tax() -> None:
    of = price(house(window("101", CORD), overhead=20, margin=25, tax=8, tax_on="all"), KNOWLEDGE)
    got = kinds(of)
    before = sum(got.values()) - got["tax"]
    assert got["margin"] / before == pytest.approx(Decimal("0.25"), abs=Decimal("0.0001"))
    assert got["tax"] == cents(before * Decimal("0.08"))


def test_tax_on_materials_only() -> None:
    got = kinds(price(house(window("101", CORD), tax=10), KNOWLEDGE))
    assert got["tax"] == cents(got["material"] * Decimal("0.1"))


def test_the_outside_of_an_upper_storey_takes_longer() -> None:
    def out(storey: int, **pricing: Any) -> tuple[float, Decimal]:
        of = price(house(window("101", CHECKS, storey=storey), **pricing), KNOWLEDGE)
        line = next(each for each in lines(of) if each["key"] == "check-fill")
        return line["hours_high"], kinds(of).get("access", Decimal(0))

    ground, ladder, scaffold = out(1), out(2), out(3)
    assert ladder[0] == pytest.approx(ground[0] * 1.5 / 1.1, abs=0.01)
    assert [each[1] for each in (ground, ladder, scaffold)] == [
        Decimal(0),
        Decimal(15),
        Decimal(140),
    ]
    assert out(3, access="ladder") == ladder
    assert out(3, access="inside")[1] == 0


def test_no_scaffold_for_work_inside() -> None:
    of = price(house(window("101", CORD, storey=3)), KNOWLEDGE)
    assert "access" not in kinds(of)


def test_materials_have_their_waste() -> None:
    of = price(house(window("101", CORD)), KNOWLEDGE)
    (cord,) = (line for line in lines(of) if line["key"] == "cord" and line["kind"] == "material")
    # Two cords of 5 ft and a tenth more.
    assert cord["quantity"] == pytest.approx(11)
    assert cord["likely"] == "6.05"


def test_allowances_go_where_they_belong() -> None:
    own = [{"name": "a", "amount": "50.00", "window": "101"}, {"name": "b", "amount": "70.00"}]
    of = price(house(window("101", CORD), allowances=own), KNOWLEDGE)
    assert kinds(of)["allowance"] == 50
    mine = [line for line in of.values["house_lines"] if line["kind"] == "allowance"]
    assert [line["likely"] for line in mine] == ["70.00"]


def test_a_window_without_work_costs_nothing() -> None:
    of = price(house(window("101", CORD), window("102")), KNOWLEDGE)
    assert of.windows[1].values["price"]["likely"] == "0.00"
    assert of.values["priced"] == 1
    assert "Not priced" in of.windows[1].findings[0].says
    idle = next(w for w in of.windows[1].values["alternatives"] if w["key"] == "in-place")
    assert idle["high"] == "0.00"
    nobody = price(house(window("101")), KNOWLEDGE)
    assert nobody.values["price"]["high"] == "0.00"


# --- options and what-if ----------------------------------------------------------


def test_options_change_the_price_by_what_they_say(demo: House) -> None:
    plain = price(demo, KNOWLEDGE)
    changes = {each["key"]: Decimal(each["likely"]) for each in plain.values["options"]}
    for key, change in changes.items():
        taken = price(demo, KNOWLEDGE, ticked=[key])
        assert likely(taken) - likely(plain) == change
    assert changes["own-painting"] == -240
    both = price(demo, KNOWLEDGE, ticked=list(changes))
    assert likely(both) - likely(plain) == added(both.values["options"], "likely")
    assert {each["key"] for each in both.values["options"] if each["ticked"]} == set(changes)


def test_options_on_the_same_window_are_taken_in_turn() -> None:
    options = [
        {"key": "one", "name": "1", "alternative": "shop", "windows": ["101"]},
        {"key": "two", "name": "2", "alternative": "new-sash", "windows": ["101"], "ticked": True},
    ]
    of = price(house(window("101", CORD), options=options), KNOWLEDGE)
    assert of.windows[0].values["alternative"] == "new-sash"
    other = price(house(window("101", CORD), options=options), KNOWLEDGE, ticked=["one", "two"])
    assert likely(other) == likely(of)
    with pytest.raises(KeyError):
        price(house(window("101", CORD), options=options), KNOWLEDGE, ticked=["three"])


def test_what_if() -> None:
    of = house(window("101", CORD), window("102"))
    plain = price(of, KNOWLEDGE)
    assert likely(price(of, KNOWLEDGE, times=2)) > likely(plain)
    free = Pricing(overhead=0, margin=0)
    assert likely(price(of, KNOWLEDGE, pricing=free)) < likely(plain)
    shop = price(of, KNOWLEDGE, alternative="shop")
    assert [w.values["alternative"] for w in shop.windows] == ["shop", "shop"]
    beside = next(w for w in plain.windows[0].values["alternatives"] if w["key"] == "shop")
    assert beside["likely"] == shop.windows[0].values["price"]["likely"]
    with pytest.raises(KnowledgeError, match="scope"):
        price(of, KNOWLEDGE, alternative="burn")


def test_a_window_by_itself_has_none_of_the_house_lines(demo: House) -> None:
    of = price(demo, KNOWLEDGE, ["104"])
    assert of.values["house_lines"] == []
    whole = next(w for w in price(demo, KNOWLEDGE).windows if w.number == "104")
    assert of.windows[0].values["price"] == whole.values["price"]


def test_by_chance_lies_within_the_ends(demo: House) -> None:
    values = price(demo, KNOWLEDGE).values
    low, likely_, high = (Decimal(values["price"][end]) for end in ENDS)
    chance = values["by_chance"]
    assert low < Decimal(chance["low"]) < likely_ < Decimal(chance["high"]) < high


def test_a_shop_row_that_leads_nowhere_is_told_at_its_window(tmp_path: Path) -> None:
    file = tmp_path / "shop.toml"
    file.write_text('[task.cord]\nskill = "wizard"\nsource = "our way, since spring"\n')
    of = price(house(window("101", CORD)), load(file))
    assert "'wizard'" in of.windows[0].findings[0].says
    assert of.windows[0].findings[0].level == "fail"


# --- learning ---------------------------------------------------------------------


def spent(*hours: float, task: str = "cord", quantity: float = 2) -> list[dict[str, Any]]:
    return [{"task": task, "hours": each, "quantity": quantity} for each in hours]


def test_hours_spent_change_the_next_estimate() -> None:
    of = price(
        house(window("101", CORD), window("102", spent=spent(1.2, 1.2, 1.2, 1.2))), KNOWLEDGE
    )
    (learned,) = of.values["learned"]
    # Twice the table four times, a prior worth two: ln 2 x 4/6.
    assert learned["factor"] == pytest.approx(2 ** (4 / 6))
    (line,) = (each for each in lines(of) if each["key"] == "cord" and each["kind"] == "labour")
    assert line["hours"] == pytest.approx(0.6 * 2 ** (4 / 6), abs=0.005)
    assert line["hours_low"] < line["hours"] < line["hours_high"]
    assert "learned from 4 finished" in line["source"]


def test_more_jobs_narrow_the_range() -> None:
    def width(count: int) -> float:
        of = house(window("101", CORD), window("102", spent=spent(*[0.9] * count)))
        row = price(of, KNOWLEDGE).values["learned"][0]
        return float(row["factor_high"] / row["factor_low"])

    assert width(1) > width(3) > width(12) > 1


def test_the_record_says_how_far_estimates_were_off() -> None:
    of = price(house(window("101", CORD), window("102", spent=spent(1.2, 1.2, 1.2))), KNOWLEDGE)
    found = of.values["record"]
    assert found["jobs"] == 3
    assert found["spent_h"] == pytest.approx(3.6)
    assert found["estimated_h"] == pytest.approx(1.8)
    assert found["bias_share"] == pytest.approx(1.0)
    assert found["error_share"] == pytest.approx(1.0)
    # Each by the two others: ln 2 less half of it.
    assert found["error_learned_share"] == pytest.approx(2**0.5 - 1)
    assert found["within_range_share"] == 1.0
    assert any("too low" in f.says and f.level == "caution" for f in of.findings)


def test_hours_of_a_task_that_nobody_counted_teach_nothing() -> None:
    entry = [{"task": "sill-new", "hours": 9}]
    of = price(house(window("101", CORD), window("102", spent=entry)), KNOWLEDGE)
    assert of.values["learned"] == []
    assert any("give its quantity" in f.says for f in of.findings)


def test_the_amount_may_come_from_the_treatment() -> None:
    jobs, sentences = finished(
        house(window("101", CORD, spent=[{"task": "cord", "hours": 1.2}])), KNOWLEDGE
    )
    assert sentences == []
    assert [(job.task, job.spent, job.estimated) for job in jobs] == [("cord", 1.2, 0.6)]


def test_other_houses_teach_as_well() -> None:
    other, _ = finished(house(window("7", spent=spent(1.2))), KNOWLEDGE)
    of = price(house(window("101", CORD)), KNOWLEDGE, jobs=other)
    assert of.values["learned"][0]["factor"] == pytest.approx(2 ** (1 / (PRIOR.kappa + 1)))
