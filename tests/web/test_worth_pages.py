"""Keep or replace: the answer as a part, its words, the fields it is worked out from, and what is kept."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.chapters.answer import Answer
from sashwright.chapters.worth import chapter
from sashwright.papers import worthwords
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.record.models import Window
from sashwright.web import fields, yearly
from sashwright.web.views.papers import PARTS
from tests.factories import house_document
from tests.web.test_chapters import text_of
from tests.worthhouse import bare_document, weighed

FEW = 40


@pytest.fixture(autouse=True)
def _few_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(chapter, "DRAWS", FEW)


@pytest.fixture
def bare(owner: User) -> str:
    return store.create_house(bare_document(), owner)


@pytest.fixture
def known(monkeypatch: pytest.MonkeyPatch) -> None:
    """The answer is there already, so that a test of the page need not wait for it."""

    def answer(*_: Any, repair_due: bool = False, **__: Any) -> Answer:
        return weighed(FEW, due=repair_due)

    monkeypatch.setattr(chapter, "worth", answer)


def page(client: Client, slug: str, **query: Any) -> Any:
    return client.get(reverse("worth", args=[slug]), query)


# --- the answer -----------------------------------------------------------------------


def test_the_page_comes_at_once_and_asks_for_the_answer(
    here: Client, bare: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: Any, **__: Any) -> Any:
        raise AssertionError("worked out before the page was sent")

    monkeypatch.setattr(chapter, "worth", never)
    found = page(here, bare).content.decode()
    address = reverse("worth", args=[bare])
    assert f'hx-get="{address}" hx-trigger="load"' in found
    assert "five to thirty seconds" in found
    assert f'hx-get="{address}?due=1"' in page(here, bare, due=1).content.decode()


def test_the_part_says_what_the_chapter_says(part: Client, bare: str) -> None:
    """The one test that lets the chapter work by way of the page: it is the chapter's own answer."""
    found, answer = page(part, bare), weighed(FEW)
    text = text_of(found)
    for finding in answer.findings:
        assert finding.says in text
    for row in worthwords.ways(answer.values, "us"):
        assert f"{row.first} {row.energy} {row.bought} {row.through}" in text
        assert row.payback_range in text
    for study in worthwords.studies(answer.values):
        assert f"{study.found} {study.ours} {study.lies}" in text
    for change in worthwords.changes(answer.values, "us"):
        assert change.says in text
    assert worthwords.SCREENING in text
    assert "<html" not in found.content.decode()
    assert yearly.whole_of(bare, "us").worth() == answer


@pytest.mark.usefixtures("known")
def test_all_pictures_are_there_each_once(part: Client, bare: str) -> None:
    found = page(part, bare).content.decode()
    titles = re.findall(r'<title id="worth-\w+-title">([^<]+)</title>', found)
    assert len(titles) == len(set(titles)) == 5
    ids = re.findall(r' id="([^"]+)"', found)
    assert len(ids) == len(set(ids))


@pytest.mark.usefixtures("known")
def test_the_whole_page_can_be_waited_for_without_a_script(here: Client, bare: str) -> None:
    found = page(here, bare, now=1)
    assert weighed(FEW).findings[0].says in text_of(found)
    assert "<html" in found.content.decode()
    assert 'hx-trigger="load"' not in found.content.decode()


@pytest.mark.usefixtures("known")
def test_repair_that_is_due_is_another_question(part: Client, bare: str) -> None:
    found = page(part, bare, due=1)
    text = text_of(found)
    assert weighed(FEW, due=True).findings[0].says in text
    assert "Left as found" not in text
    assert "Compare with leaving them as they are" in text


def test_the_answer_is_worked_out_once_until_the_house_changes(
    part: Client, bare: str, owner: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []

    def worth(*_: Any, repair_due: bool = False, **__: Any) -> Answer:
        asked.append(repair_due)
        return weighed(FEW, due=repair_due)

    monkeypatch.setattr(chapter, "worth", worth)
    for _ in range(2):
        page(part, bare)
        page(part, bare, due=1)
    assert asked == [False, True]
    store.save_fields(bare, "house", "", {"built": 1890}, 1, owner)
    page(part, bare)
    assert asked == [False, True, False]


# --- what is missing ------------------------------------------------------------------


def test_without_weather_it_asks_for_a_place(here: Client, owner: User) -> None:
    slug = store.create_house(house_document(climate="", place=""), owner)
    text = text_of(page(here, slug, now=1))
    assert "Look for it" in text
    assert here.get(reverse("answer", args=[slug, "worth"])).status_code == 400


def test_a_house_without_windows(here: Client, owner: User) -> None:
    slug = store.create_house(bare_document(name="Empty", windows=[]), owner)
    assert "No window yet" in text_of(page(here, slug, now=1))


def test_windows_that_contradict_themselves_are_named(part: Client, bare: str) -> None:
    kept = Window.objects.get(number="3")
    kept.document = {**kept.document, "meeting_height": "4 in"}
    kept.save()
    text = text_of(page(part, bare))
    assert "Not counted, as their sizes contradict each other: 3" in text
    assert "Left as found" in text


# --- what it is worked out from -------------------------------------------------------


def save(client: Client, slug: str, path: str, text: str) -> Any:
    base = str(store.stored(slug, "house").version)
    return client.post(
        reverse("house-field", args=[slug]), {"field": path, path: text, "base": base}
    )


@pytest.mark.parametrize(
    ("path", "text", "kept"),
    [
        ("running.heating", "heat-pump", "heat-pump"),
        ("running.cooling", "cooling-central", "cooling-central"),
        ("running.heating_price", "1.25", 1.25),
        ("running.discount", "4.5", 4.5),
        ("running.years", "40", 40),
        ("fabric.wall", "wall-brick-9", "wall-brick-9"),
        ("running.costs.replace-pvc", "725", 725),
    ],
)
def test_fields_are_on_the_page_and_save_themselves(
    here: Client, bare: str, path: str, text: str, kept: Any
) -> None:
    assert f'name="{path}"' in page(here, bare).content.decode()
    assert save(here, bare, path, text).status_code == 200
    assert fields.value_at(store.load_house(bare), path) == kept


def test_a_quote_can_be_taken_back(here: Client, bare: str) -> None:
    save(here, bare, "running.costs.repair", "800")
    assert "1 of" in text_of(page(here, bare))
    assert save(here, bare, "running.costs.repair", "").status_code == 200
    assert not store.load_house(bare).running.costs


@pytest.mark.parametrize(
    ("path", "text", "says"),
    [
        ("running.costs.repair", "a lot", "expected a number"),
        ("running.costs.repair", "-5", "Found -5"),
        ("running.years", "500", "Found 500"),
        ("running.discount", "90", "Found 90"),
    ],
)
def test_what_makes_no_sense_is_refused_with_a_sentence(
    here: Client, bare: str, path: str, text: str, says: str
) -> None:
    refused = save(here, bare, path, text)
    assert refused.status_code == 422
    assert says in refused.headers["HX-Trigger-After-Settle"]


def test_only_rows_that_fit_are_offered(here: Client, bare: str) -> None:
    found = page(here, bare).content.decode()
    for path, column, word in (
        ("running.heating", "does", "heating"), ("fabric.floor", "part", "floor"),
    ):  # fmt: skip
        (select,) = re.findall(rf'<select name="{re.escape(path)}".*?</select>', found, re.DOTALL)
        offered = set(re.findall(r'<option value="([^"]+)"', select))
        table = knowledge().plant if path.startswith("running") else knowledge().fabric
        assert offered == {key for key, row in table.items() if getattr(row, column) == word}


def test_house_details_have_them_too_but_for_quotes(here: Client, bare: str) -> None:
    found = here.get(reverse("house-details", args=[bare]))
    assert "Heating, energy and money" in text_of(found)
    assert "running.costs" not in found.content.decode()


@pytest.mark.usefixtures("known")
def test_it_says_when_the_house_has_changed_since(here: Client, part: Client, bare: str) -> None:
    answer = page(part, bare).content.decode()
    (since,) = re.findall(r'name="since" value="([^"]+)"', answer)
    asking = Client(SERVER_NAME="localhost", headers={"HX-Request": "true", "HX-Target": "stale"})
    address, asked = reverse("worth", args=[bare]), {"since": since}
    assert asking.get(address, asked).content.decode().strip() == ""
    save(here, bare, "running.years", "30")
    assert "Work it out again" in asking.get(address, asked).content.decode()
    # While the first answer is still to come, there is none that could be old.
    assert asking.get(address).content.decode().strip() == ""


# --- beside the page ------------------------------------------------------------------


@pytest.mark.usefixtures("known")
def test_the_answer_as_json_with_the_windows_asked_for(here: Client, bare: str) -> None:
    address = reverse("answer", args=[bare, "worth"])
    whole = here.get(address).json()
    assert whole["values"]["base"] == "keep"
    assert [window["number"] for window in whole["windows"]] == ["1", "2", "3", "4"]
    one = here.get(address, {"window": "2", "due": "1"}).json()
    assert one["values"]["base"] == "repair"
    assert [window["number"] for window in one["windows"]] == ["2"]


def test_the_house_leads_to_it_and_the_report_can_be_printed(here: Client, bare: str) -> None:
    address = reverse("worth", args=[bare])
    for name in ("air", "warmth"):
        assert f'href="{address}"' in here.get(reverse(name, args=[bare])).content.decode()
    assert PARTS["worth"][1] == ("worth",)
    found = here.get(reverse("papers", args=[bare]), {"part": "worth"})
    assert found["Content-Type"] == "application/pdf"
    assert found.content.startswith(b"%PDF")
