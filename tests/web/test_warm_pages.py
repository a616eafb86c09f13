"""Warmth of a window and of a house: U both ways, sections to choose, leakage beside it, kept answers."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.chapters.heat import heat
from sashwright.chapters.heat.say import loss_words, u_number
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.record.models import Window
from sashwright.record.outdoors import named
from sashwright.web import yearly
from tests.factories import family_document, house_document
from tests.web.test_chapters import text_of


@pytest.fixture
def maine(owner: User) -> str:
    families = {"A": family_document(storm="winter"), "B": family_document()}
    return store.create_house(house_document(climate="Portland, Maine", families=families), owner)


def part(client: Client, slug: str, number: str = "101", **query: str) -> Any:
    return client.get(reverse("window-heat", args=[slug, number]), query)


def answer_of(slug: str, number: str) -> Any:
    outdoors = named("Portland, Maine")
    found = heat(
        store.load_house(slug),
        knowledge(),
        [number],
        "us",
        year=outdoors.year,
        place=outdoors.place,
    )
    return found.windows[0]


def test_the_part_says_what_the_chapter_does(here: Client, maine: str) -> None:
    values = answer_of(maine, "101").values
    text = text_of(part(here, maine)).replace("\xa0", " ")
    assert "U-factor, NFRC 100" in text
    assert "U, ISO 10077-1" in text
    for row in values["alternatives"]:
        assert row["name"] in text
        assert u_number(row["u_na_w_m2k"], "us") in text
        assert u_number(row["u_en_w_m2k"], "metric") in text
        # What leaks stands beside every state, never within its U.
        assert loss_words(row["leak_w_k"], "us") in text
    year = values["condensation"]["year"]
    assert f"leaves {min(o['wet_hours'] for o in year['options']):.0f} h" in text
    for row in values["coverings"]:
        assert row["name"] in text


def test_pictures_of_the_part(here: Client, maine: str) -> None:
    page = part(here, maine).content.decode()
    titles = re.findall(r"<title[^>]*>([^<]+)</title>", page)
    for words in ("heat lost", "Lines of equal warmth", "the air space", "hours wet or frosted"):
        assert any(words in title for title in titles), words


def test_the_coldest_section_is_shown_and_any_other_on_request(here: Client, maine: str) -> None:
    first = part(here, maine).content.decode()
    chosen = re.search(r'<option value="(\w+)" selected>', first)
    assert chosen
    sections = answer_of(maine, "101").values["sections"]
    coldest = min(sections, key=lambda row: min(row["factor_glass"], row["factor_frame"]))
    assert chosen[1] == coldest["name"]
    other = text_of(part(here, maine, section="head"))
    assert "Head with the top rail of the upper sash behind the storm sash" in other
    assert part(here, maine, section="roof").status_code == 200


def test_choosing_asks_for_the_section_alone(maine: str) -> None:
    client = Client(
        SERVER_NAME="localhost", headers={"HX-Request": "true", "HX-Target": "isotherms"}
    )
    page = part(client, maine, section="head", humidity="60").content.decode()
    assert page.startswith('<div class="isotherms"')
    assert page.count("<svg") == 1
    assert "60 %, as asked for" in page


@pytest.mark.parametrize(
    ("humidity", "says"),
    [("45", ""), ("45 %", ""), ("much", "Found 'much', expected a humidity of 5 to 95 %."),
     ("120", "Found '120', expected a humidity of 5 to 95 %.")],
)  # fmt: skip
def test_humidity_is_read_or_refused(here: Client, maine: str, humidity: str, says: str) -> None:
    page = part(here, maine, humidity=humidity)
    assert page.status_code == 200
    text = text_of(page)
    if says:
        assert says in text
    else:
        assert "air at 45 %, as asked for" in text


def test_damper_air_wets_what_drier_air_does_not(here: Client, maine: str) -> None:
    dry, damp = (text_of(part(here, maine, humidity=each)) for each in ("15", "70"))
    assert "stays dry" in dry
    assert "the edge is wet" in damp


def test_metric_readers_get_europe_first(here: Client, maine: str) -> None:
    here.post(reverse("units", args=[maine]), {"units": "metric"})
    text = text_of(part(here, maine)).replace("\xa0", " ")
    values = answer_of(maine, "101").values
    found = next(r for r in values["alternatives"] if r["key"] == values["as_found"])
    assert f"{found['u_en_w_m2k']:.2f} W/m²·K, ISO 10077-1" in text
    assert f"{found['loss_en_w_k']:.1f} W/K" in text


def test_a_window_that_no_storm_hangs_before(here: Client, maine: str) -> None:
    text = text_of(part(here, maine, "301"))
    assert "As it hangs in winter" in text
    assert "With a storm sash" in text


def test_without_a_climate_there_is_no_year(here: Client, elm: str) -> None:
    page = part(here, elm)
    assert page.status_code == 200
    text = text_of(page)
    assert "air at 40 %, by choice" in text
    assert "What helps most against water" not in text


# --- the house ------------------------------------------------------------------------


def test_the_page_of_the_house_waits_for_nothing(here: Client, part: Client, maine: str) -> None:
    address = reverse("warmth", args=[maine])
    page = here.get(address).content.decode()
    assert f'hx-get="{address}" hx-trigger="load"' in page
    assert "Working out the heat through 5 windows" in page
    assert "heat" not in yearly.whole_of(maine, "us").__dict__
    windows = part.get(address)
    assert windows.content.decode().strip().startswith('<div id="warmth">')
    assert "heat" in yearly.whole_of(maine, "us").__dict__


def test_totals_and_windows_of_the_house(here: Client, maine: str) -> None:
    page = here.get(reverse("warmth", args=[maine]), {"now": "1"})
    whole, text = yearly.whole_of(maine, "us").heat, text_of(page)
    for row in whole.values["totals"]:
        assert loss_words(row["loss_na_w_k"], "us") in text
        assert loss_words(row["leak_w_k"], "us") in text
    assert "As they hang in winter" in text
    assert "New windows" in text
    listed = re.findall(r"windows/(\w+)/#part-heat", page.content.decode())
    assert sorted(listed) == ["101", "102", "103L", "103R", "301"]
    totals = {each.number: _total(each.values) for each in whole.windows}
    assert listed == sorted(totals, key=lambda number: -totals[number])


def _total(values: Any) -> float:
    found = next(row for row in values["alternatives"] if row["key"] == values["as_found"])
    return float(found["total_na_w_k"])


def test_answers_are_kept_until_the_house_changes(here: Client, maine: str, owner: User) -> None:
    def u() -> Any:
        return yearly.whole_of(maine, "us").heat_window("101")

    first = u()
    assert u() is first
    store.save_fields(maine, "window", "101", {"width": "40"}, 1, owner)
    assert u() is not first
    assert u().values["area_m2"] > first.values["area_m2"]


def test_a_window_of_a_house_worked_out_is_taken_from_it(here: Client, maine: str) -> None:
    whole = yearly.whole_of(maine, "us")
    every = whole.heat
    assert whole.heat_window("301") is next(w for w in every.windows if w.number == "301")


def test_a_house_without_windows(here: Client, owner: User) -> None:
    slug = store.create_house(house_document(name="Empty", windows=[]), owner)
    assert "No window yet" in text_of(here.get(reverse("warmth", args=[slug])))


def test_windows_that_contradict_themselves_are_named(here: Client, maine: str) -> None:
    kept = Window.objects.get(number="101")
    kept.document = {**kept.document, "meeting_height": "4 in"}
    kept.save()
    text = text_of(here.get(reverse("warmth", args=[maine]), {"now": "1"}))
    assert "Not counted, as their sizes contradict each other: 101" in text


def test_pages_of_the_same_step_lead_to_its_warmth(here: Client, maine: str) -> None:
    address = reverse("warmth", args=[maine])
    for name in ("air", "wind"):
        assert f'href="{address}"' in here.get(reverse(name, args=[maine])).content.decode()


def test_the_sheet_can_be_printed(here: Client, maine: str) -> None:
    found = here.get(reverse("papers", args=[maine]), {"part": "heat", "number": "101"})
    assert found["Content-Type"] == "application/pdf"
    assert found.content.startswith(b"%PDF")


# --- what is typed --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "label"),
    [
        ("sash.glazing.gas", "Gas between the panes"),
        ("sash.glazing.coatings", "Low-e coatings, face by face, outside first"),
        ("storm_sash.glazing.coatings", "Low-e coatings, face by face, outside first"),
        ("inside_storm.kind", "Inside storm"),
        ("inside_storm.pane", "Pane"),
        ("covering", "Shutters, curtains or shade"),
    ],
)
def test_the_family_has_fields_for_what_insulates(
    here: Client, maine: str, path: str, label: str
) -> None:
    page = here.get(reverse("family", args=[maine, "A"])).content.decode()
    assert f'name="{path}"' in page
    assert label in text_of(here.get(reverse("family", args=[maine, "A"])))


def test_a_low_e_storm_is_saved_and_warms(here: Client, maine: str) -> None:
    def u() -> float:
        values = yearly.whole_of(maine, "us").heat_window("101").values
        found = next(row for row in values["alternatives"] if row["key"] == values["as_found"])
        return float(found["u_na_w_m2k"])

    before = u()
    saved = here.post(
        reverse("family-field", args=[maine, "A"]),
        {
            "field": "storm_sash.glazing.coatings",
            "storm_sash.glazing.coatings": ["none", "hard-coat"],
            "base": str(store.stored(maine, "family", "A").version),
        },
    )
    assert saved.status_code == 200
    assert u() < 0.9 * before
