"""Papers chosen, looked at and printed; the lists as a workbook."""

from __future__ import annotations

import io
import struct
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse
from openpyxl import load_workbook
from pypdf import PdfReader

from sashwright.chapters.price import price
from sashwright.papers.packet import EVERY, TITLES
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.web import papered
from sashwright.web.views.papers import PARTS
from tests.papers.demo import picture
from tests.web.test_chapters import text_of


def choose(client: Client, slug: str, **query: Any) -> Any:
    return client.get(reverse("paper-choice", args=[slug]), query)


def test_the_page_offers_every_part_and_makes_none(
    here: Client, elm: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: Any) -> Any:
        raise AssertionError("made before anybody asked")

    monkeypatch.setattr(papered, "_composed", never)
    found = choose(here, elm)
    text = text_of(found)
    for title, about in TITLES.values():
        assert title in text
        assert about in text
    content = found.content.decode()
    assert content.count('name="parts"') == len(EVERY)
    assert content.count('name="number"') == len(store.window_numbers(elm))
    assert "hx-trigger" not in content.partition('id="pages"')[2]


def test_asked_to_show_it_comes_at_once_and_asks_for_the_pages(here: Client, elm: str) -> None:
    content = choose(here, elm, parts=["proposal", "weights"], paper="a4", show=1).content.decode()
    query = "paper=a4&amp;parts=proposal&amp;parts=weights"
    assert f'hx-get="{reverse("paper-choice", args=[elm])}?{query}" hx-trigger="load"' in content
    assert "now=1" in content


def test_the_pages_are_those_of_the_print(part: Client, here: Client, elm: str) -> None:
    asked = {"parts": ["weights", "orders"], "paper": "a4", "number": store.window_numbers(elm)[:2]}
    content = choose(part, elm, **asked).content.decode()
    pdf = here.get(reverse("papers", args=[elm]), asked)
    pages = PdfReader(io.BytesIO(pdf.content)).pages
    assert content.count("<img ") == len(pages)
    assert content.count('loading="lazy"') == len(pages)
    for number in range(1, len(pages) + 1):
        sheet = here.get(reverse("paper-sheet", args=[elm, number]), asked)
        assert sheet.headers["Content-Type"] == "image/png"
        wide, high = struct.unpack(">II", sheet.content[16:24])
        assert high / wide == pytest.approx(297 / 210, abs=0.01)
    missing = here.get(reverse("paper-sheet", args=[elm, len(pages) + 1]), asked)
    assert missing.status_code == 404


def test_without_a_script_the_pages_stand_in_the_page(here: Client, elm: str) -> None:
    content = choose(here, elm, parts="weights", now=1).content.decode()
    assert '<ol class="pages"><li><img src="' in content
    assert "hx-trigger" not in content.partition('id="pages"')[2]


def test_the_choice_is_kept_in_the_form(here: Client, elm: str) -> None:
    number = store.window_numbers(elm)[1]
    content = choose(here, elm, parts=["fit"], number=[number], paper="a4").content.decode()
    assert 'value="fit" checked' in content
    assert f'value="{number}" checked' in content
    assert 'value="a4" checked' in content
    assert 'value="cover" checked' not in content


@pytest.mark.parametrize(
    "query", [{"paper": "napkin"}, {"parts": ["cover", "poem"]}, {"part": "poem"}, {"number": "9"}]
)
@pytest.mark.parametrize("name", ["paper-choice", "papers"])
def test_what_there_is_not_is_said(
    here: Client, elm: str, query: dict[str, Any], name: str
) -> None:
    assert here.get(reverse(name, args=[elm]), query).status_code == 404


def test_papers_bear_the_edition_of_the_house(here: Client, elm: str, owner: User) -> None:
    def foot() -> str:
        found = here.get(reverse("papers", args=[elm]), {"parts": "weights"})
        return PdfReader(io.BytesIO(found.content)).pages[0].extract_text()

    before = store.change_count(elm)
    assert f"revision {before}" in foot()
    stored = store.stored(elm, "house")
    store.save_fields(elm, "house", elm, {"owner": "The Elms"}, stored.version, owner, "owner")
    assert store.change_count(elm) == before + 1
    assert f"revision {before + 1}" in foot()


def test_photographs_of_the_record_stand_in_the_report(here: Client, elm: str, owner: User) -> None:
    store.add_photograph(elm, picture(), owner, window="101", component="sill", note="Worn sill")
    found = here.get(reverse("papers", args=[elm]), {"parts": "condition", "number": "101"})
    reader = PdfReader(io.BytesIO(found.content))
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    assert "Window 101, photo 1. Sill. Worn sill" in text
    assert any(len(page.images) for page in reader.pages)


def test_the_workbook_has_the_price_of_the_house(here: Client, elm: str) -> None:
    found = here.get(reverse("lists", args=[elm]))
    assert found.headers["Content-Disposition"] == f'attachment; filename="{elm}.xlsx"'
    book = load_workbook(io.BytesIO(found.content))
    told = {row[0]: row for row in book["Summary"].iter_rows(values_only=True)}
    likely = price(store.load_house(elm), knowledge()).values["price"]["likely"]
    assert told["Price, likely, USD"][2] == pytest.approx(float(likely), abs=0.001)
    assert told["Revision"][1] == str(store.change_count(elm))


def test_old_addresses_still_print(here: Client, elm: str) -> None:
    for word in ("", "season", "tags"):
        assert word in PARTS
        found = here.get(reverse("papers", args=[elm]), {"part": word, "paper": "a4"})
        assert found.content[:5] == b"%PDF-"


def test_a_house_without_windows_has_no_papers_yet(here: Client, owner: User) -> None:
    slug = store.create_house({"name": "Bare"}, owner)
    assert "Papers follow from the windows" in text_of(choose(here, slug))
