"""The price on pages: totals, options to tick, rates, hours learned, and what was accepted."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.chapters.price import price
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.web import fields
from sashwright.web.answers.price import money
from tests.factories import family_document, house_document, window_document
from tests.web.test_chapters import text_of

BAD = {"found": [{"on": "sill", "fault": "decay", "severity": "moderate", "length": "9 in"}]}
PRICING = {
    "overhead": 20,
    "allowances": [{"name": "Hidden decay", "amount": "600.00"}],
    "options": [
        {"key": "shop", "name": "Front in the shop", "alternative": "shop", "windows": ["101"]},
        {"key": "sills", "name": "Sills by the owner", "amount": "-240.00"},
    ],
}


@pytest.fixture
def oak(owner: User) -> str:
    windows = [
        window_document("101", condition=BAD, decision={"alternative": "in-place", "by": "Ann"}),
        window_document("102", condition=BAD),
        window_document("103"),
    ]
    document = house_document(
        name="Oak", owner="Ann", windows=windows, pricing=PRICING,
        families={"A": family_document(), "B": family_document()},
    )  # fmt: skip
    return store.create_house(document, owner)


def page(client: Client, slug: str, **query: Any) -> Any:
    return client.get(reverse("price", args=[slug]), query)


def answer(slug: str, **what: Any) -> Any:
    return price(store.load_house(slug), knowledge(), **what)


def total(text: str) -> str:
    (found,) = re.findall(r"(?:as decided|What if) ([\d,.]+) USD", text)
    return str(found)


def pricing(slug: str) -> Any:
    return store.stored(slug, "house").document["pricing"]


def post(client: Client, slug: str, view: str, /, **given: Any) -> Any:
    if view == "price-keep":
        given.setdefault("base", str(store.stored(slug, "house").version))
    return client.post(reverse(view, args=[slug]), given)


# --- what it comes to -----------------------------------------------------------------


def test_the_page_says_what_the_chapter_says(here: Client, oak: str) -> None:
    found, text = answer(oak), text_of(page(here, oak))
    values = found.values
    assert total(text) == money(values["price"]["likely"])
    assert f"{money(values['price']['low'])} to {money(values['price']['high'])}" in text
    assert f"{money(values['by_chance']['low'])} to {money(values['by_chance']['high'])}" in text
    for finding in found.findings:
        assert finding.says in text
    for window in found.windows[:2]:
        assert money(window.values["price"]["likely"]) in text
    assert "103 nothing to price" in text


def test_lines_of_a_window_add_up_to_the_cent(here: Client, oak: str) -> None:
    found = here.get(reverse("window-price", args=[oak, "101"])).content.decode()
    body, foot = re.findall(r"<tbody>(.*?)</tbody>.*?<tfoot>(.*?)</tfoot>", found, re.DOTALL)[0]
    rows = re.findall(r'<tr><th scope="row">.*?</tr>', body, re.DOTALL)
    costs = [re.findall(r'<td class="n figure">([^<]*)</td>', row)[2] for row in rows]
    (whole,) = re.findall(r'<td class="n figure">([^<]*)</td>', foot)
    assert sum(Decimal(cost.replace(",", "")) for cost in costs) == Decimal(whole.replace(",", ""))
    assert whole == money(answer(oak).windows[0].values["price"]["likely"])
    assert "starting allowance" in found


def test_lines_are_asked_for_when_a_window_is_unfolded(
    here: Client, part: Client, oak: str
) -> None:
    address = reverse("window-price", args=[oak, "101"])
    found = page(here, oak).content.decode()
    assert f'hx-get="{address}" hx-trigger="click once"' in found
    assert f'href="{address}"' in found
    assert "<html" not in part.get(address).content.decode()
    assert here.get(reverse("window-price", args=[oak, "999"])).status_code == 404


def test_a_house_without_windows(here: Client, owner: User) -> None:
    slug = store.create_house(house_document(name="Empty", windows=[]), owner)
    assert "No window yet" in text_of(page(here, slug))


# --- options and what if --------------------------------------------------------------


def test_ticked_options_change_the_total_and_nothing_else(part: Client, oak: str) -> None:
    for ticked in ([], ["sills"], ["shop", "sills"]):
        found = page(part, oak, what="1", tick=ticked)
        assert total(text_of(found)) == money(answer(oak, ticked=ticked).values["price"]["likely"])
        assert "<html" not in found.content.decode()
        checked = re.findall(r'value="(\w+)" checked', found.content.decode())
        assert sorted(checked) == sorted(ticked)
    assert not any(option["ticked"] for option in pricing(oak)["options"])


def test_what_if_all_windows_went_one_way(here: Client, oak: str) -> None:
    found = text_of(page(here, oak, what="1", alternative="new-sash"))
    assert total(found) == money(
        answer(oak, alternative="new-sash", ticked=[]).values["price"]["likely"]
    )
    assert "not to be accepted" in found
    assert "Accept this price" not in found


def test_strange_options_and_ways_are_passed_over(here: Client, oak: str) -> None:
    found = text_of(page(here, oak, what="1", tick="moon", alternative="burn"))
    assert total(found) == money(answer(oak, ticked=[]).values["price"]["likely"])


def test_choices_are_kept(here: Client, oak: str) -> None:
    post(here, oak, "price-accept", act="ticks", what="1", tick="sills")
    assert {o["key"]: o["ticked"] for o in pricing(oak)["options"]} == {
        "shop": False,
        "sills": True,
    }
    assert pricing(oak).get("accepted") is None
    assert total(text_of(page(here, oak))) == money(answer(oak).values["price"]["likely"])


# --- accepted -------------------------------------------------------------------------


def accept(client: Client, slug: str, *ticks: str, **more: Any) -> Any:
    edition = more.pop("edition", answer(slug, ticked=ticks).values["edition"])
    return post(
        client, slug, "price-accept", act="accept", what="1", tick=list(ticks), edition=edition,
        by="Ann", on="2026-05-01", **more,
    )  # fmt: skip


def test_what_is_accepted_is_kept_with_who_and_when(here: Client, oak: str) -> None:
    expected = answer(oak, ticked=["sills"]).values
    assert accept(here, oak, "sills", note="By letter.").status_code == 302
    kept = pricing(oak)["accepted"]
    assert kept == {
        "total": expected["price"]["likely"], "currency": "USD", "ticked": ["sills"],
        "on": "2026-05-01", "by": "Ann", "note": "By letter.", "edition": expected["edition"],
    }  # fmt: skip
    text = text_of(page(here, oak))
    assert f"Accepted USD {money(expected['price']['likely'])}" in text
    assert "Nothing in the price has changed since." in text
    assert "with: Sills by the owner. By letter." in text


def test_a_price_that_has_changed_since_is_told(here: Client, oak: str) -> None:
    accept(here, oak)
    here.post(
        reverse("house-field", args=[oak]),
        {"field": "pricing.margin", "pricing.margin": "25",
         "base": store.stored(oak, "house").version},
    )  # fmt: skip
    text = text_of(page(here, oak))
    assert "Nothing in the price has changed since." not in text
    assert "agree on the change in writing" in text


def test_a_price_nobody_looked_at_is_not_accepted(here: Client, oak: str) -> None:
    late = accept(here, oak, edition="0" * 12)
    assert late.status_code == 409
    assert "The price has changed while you looked" in text_of(late)
    assert pricing(oak).get("accepted") is None


def test_acceptance_can_be_withdrawn(here: Client, oak: str) -> None:
    accept(here, oak)
    post(here, oak, "price-accept", act="withdraw")
    assert pricing(oak).get("accepted") is None
    assert "Not accepted yet" in text_of(page(here, oak))


def test_acceptance_travels_in_the_house_file(here: Client, oak: str) -> None:
    accept(here, oak, "sills")
    text = here.get(reverse("export-house", args=[oak])).content.decode()
    assert 'pricing.accepted.ticked = ["sills"]' in text


# --- what it is worked out from -------------------------------------------------------


def save(client: Client, slug: str, path: str, text: str) -> Any:
    base = str(store.stored(slug, "house").version)
    return client.post(
        reverse("house-field", args=[slug]), {"field": path, path: text, "base": base}
    )


@pytest.mark.parametrize(
    ("path", "text", "kept"),
    [
        ("pricing.overhead", "15", 15.0),
        ("pricing.access", "scaffold", "scaffold"),
        ("pricing.tax_on", "all", "all"),
        ("pricing.currency", "EUR", "EUR"),
        ("pricing.rates.joiner", "71.35", Decimal("71.35")),
        ("pricing.materials.putty", "9.1234", Decimal("9.1234")),
    ],
)
def test_fields_save_themselves_and_money_is_exact(
    here: Client, oak: str, path: str, text: str, kept: Any
) -> None:
    before = total(text_of(page(here, oak))) if path != "pricing.currency" else ""
    assert f'name="{path}"' in page(here, oak).content.decode()
    assert save(here, oak, path, text).status_code == 200
    assert fields.value_at(store.load_house(oak), path) == kept
    if path in ("pricing.overhead", "pricing.access"):
        assert total(text_of(page(here, oak))) != before


def test_a_rate_goes_back_to_the_table(here: Client, oak: str) -> None:
    save(here, oak, "pricing.rates.joiner", "71.35")
    assert "1 of" in text_of(page(here, oak)).partition("Rates of this house")[2]
    assert save(here, oak, "pricing.rates.joiner", "").status_code == 200
    assert not store.load_house(oak).pricing.rates


@pytest.mark.parametrize(
    ("path", "text", "says"),
    [
        ("pricing.rates.joiner", "a lot", "expected money such as 412.50"),
        ("pricing.rates.joiner", "-5", "greater than or equal to 0"),
        ("pricing.rates.joiner", "12.345", "decimal places"),
        ("pricing.rates.joiner", "NaN", "expected money"),
        ("pricing.overhead", "95", "Found 95"),
    ],
)
def test_what_makes_no_sense_is_refused_with_a_sentence(
    here: Client, oak: str, path: str, text: str, says: str
) -> None:
    refused = save(here, oak, path, text)
    assert refused.status_code == 422
    assert says in refused.headers["HX-Trigger-After-Settle"]


def test_allowances_and_options_are_added_changed_and_taken_away(here: Client, oak: str) -> None:
    post(
        here, oak, "price-keep", which="allowance", name="Lead-safe", amount="1,250.5", window="101"
    )
    assert pricing(oak)["allowances"][1] == {
        "name": "Lead-safe", "amount": "1250.5", "window": "101",
    }  # fmt: skip
    post(here, oak, "price-keep", which="allowance", at="0", name="Hidden decay", amount="700")
    post(here, oak, "price-keep", which="allowance", at="1", act="remove")
    assert [(a["name"], a["amount"]) for a in pricing(oak)["allowances"]] == [
        ("Hidden decay", "700")
    ]
    post(here, oak, "price-keep", which="option", name="Storms at the back", alternative="storm",
         windows="102, 103")  # fmt: skip
    made = pricing(oak)["options"][2]
    assert (made["key"], made["alternative"], made["windows"]) == (
        "storms-at-the-back", "storm", ["102", "103"],
    )  # fmt: skip
    # Its key stays when it is called something else.
    post(here, oak, "price-keep", which="option", at="2", name="Storms", alternative="storm")
    assert pricing(oak)["options"][2]["key"] == "storms-at-the-back"
    assert "Storms" in text_of(page(here, oak))


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"which": "allowance", "name": "", "amount": "5"}, "Found no name"),
        ({"which": "allowance", "name": "More", "amount": "some"}, "expected money"),
        ({"which": "allowance", "name": "More", "amount": ""}, "Found no sum"),
        ({"which": "option", "name": "More"}, "neither a sum nor another way"),
        ({"which": "option", "name": "More", "amount": "5", "windows": "999"}, "999"),
    ],
)
def test_bad_entries_are_refused_and_stand_as_typed(
    here: Client, oak: str, given: dict[str, str], says: str
) -> None:
    before = pricing(oak)
    refused = post(here, oak, "price-keep", **given)
    assert refused.status_code == 422
    assert says in text_of(refused)
    assert f'value="{given["name"]}"' in refused.content.decode()
    assert pricing(oak) == before


def test_two_people_change_the_allowances(here: Client, oak: str) -> None:
    base = str(store.stored(oak, "house").version)
    post(here, oak, "price-keep", which="allowance", name="One", amount="1", base=base)
    late = post(here, oak, "price-keep", which="allowance", name="Two", amount="2", base=base)
    assert late.status_code == 409
    assert [a["name"] for a in pricing(oak)["allowances"]] == ["Hidden decay", "One"]


# --- hours learned --------------------------------------------------------------------


def spend(client: Client, slug: str, number: str, **given: Any) -> Any:
    return client.post(reverse("window-spent", args=[slug, number]), given)


def test_hours_are_written_down_and_learned_from(here: Client, oak: str, owner: User) -> None:
    assert "None yet" in text_of(page(here, oak))
    task = next(
        line["key"] for line in answer(oak).windows[0].values["lines"] if line["kind"] == "labour"
    )
    spend(here, oak, "101", act="add", task=task, hours="3.5")
    (kept,) = store.stored(oak, "window", "101").document["spent"]
    assert (kept["task"], kept["hours"], kept["by"]) == (task, 3.5, store.name_of(owner))
    text = text_of(page(here, oak))
    learned = answer(oak).values["learned"][0]
    assert (
        f"{learned['factor']:.2f} {learned['factor_low']:.2f} to {learned['factor_high']:.2f}"
        in text
    )
    assert "Finished tasks 1" in text
    assert knowledge().task[task].name in text
    assert 'id="price-hours-title"' in page(here, oak).content.decode()


def test_hours_are_taken_away(here: Client, oak: str) -> None:
    spend(here, oak, "101", act="add", task="reglaze", hours="2", quantity="12")
    found = here.get(reverse("window-price", args=[oak, "101"])).content.decode()
    (token,) = re.findall(r'name="spent" value="(\w+)"', found)
    spend(here, oak, "101", act="remove", spent=token)
    assert store.stored(oak, "window", "101").document["spent"] == []
    assert spend(here, oak, "101", act="remove", spent=token).status_code == 404


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"task": "", "hours": "2"}, "Found no task"),
        ({"task": "reglaze", "hours": "long"}, "expected a number"),
        ({"task": "reglaze", "hours": "-1"}, "Hours"),
        ({"task": "reglaze", "hours": ""}, "Found nothing"),
    ],
)
def test_hours_that_make_no_sense_are_refused(
    here: Client, oak: str, given: dict[str, str], says: str
) -> None:
    refused = spend(here, oak, "101", act="add", **given)
    assert refused.status_code == 422
    assert says in text_of(refused)
    assert not store.stored(oak, "window", "101").document.get("spent")


def test_other_houses_of_the_shop_teach_too(here: Client, oak: str, owner: User) -> None:
    alone = answer(oak).values["price"]["likely"]
    task = answer(oak).windows[0].values["lines"][0]["key"]
    spent = [{"task": task, "hours": 40, "quantity": 1}]
    windows = [window_document("1", spent=spent)]
    store.create_house(house_document(name="Elm", windows=windows), owner)
    text = text_of(page(here, oak))
    assert "and 1 finished tasks at other houses" in text
    assert total(text) != money(alone)


# --- beside the page ------------------------------------------------------------------


def test_the_answer_as_json(here: Client, oak: str) -> None:
    address = reverse("answer", args=[oak, "price"])
    assert here.get(address).json() == answer(oak).to_dict()
    what = here.get(address, {"alternative": "shop", "tick": "sills"}).json()
    assert (
        what["values"]["price"] == answer(oak, alternative="shop", ticked=["sills"]).values["price"]
    )
    one = here.get(address, {"window": "101"}).json()
    assert [window["number"] for window in one["windows"]] == ["101"]
    assert here.get(address, {"tick": "moon"}).status_code == 400
    assert here.get(address, {"alternative": "burn"}).status_code == 400


def test_what_is_to_do_leads_to_its_price(here: Client, oak: str) -> None:
    found = here.get(reverse("treat", args=[oak])).content.decode()
    assert f'href="{reverse("price", args=[oak])}"' in found
