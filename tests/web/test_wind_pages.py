"""Wind, rain and safety of a window and of a house, and the site that asks it."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.chapters.grade import grade
from sashwright.chapters.words import Words
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.record.models import Window
from tests.factories import family_document, house_document, window_document
from tests.web.test_chapters import text_of

SITE = {"wind_speed": "150 mph", "exposure": "D", "confirmed_by": "the town"}
WALLS = {
    name: {"faces": name[0].upper(), "length": "30'"} for name in ("south", "east", "north", "west")
}


def shore_document() -> dict[str, Any]:
    """The house of the factories at the shore, storms before its windows, one low over a drop."""
    families = {
        "A": family_document(storm="winter", upper={"lites": "3x2"}),
        "B": family_document(storm="winter"),
    }
    windows = [
        window_document("101", along="5'", upper="3x2"),
        window_document("102", width="46", height="90", along="12'"),
        window_document(
            "301", family="B", room="attic", storey=3, width="26 1/4", height="44",
            sill_above_floor="14", sill_above_ground="24'", use={"bedroom": True},
        ),
    ]  # fmt: skip
    return house_document(name="Shore", site=SITE, walls=WALLS, families=families, windows=windows)


@pytest.fixture
def shore(owner: User) -> str:
    return store.create_house(shore_document(), owner)


def part(client: Client, slug: str, number: str = "101") -> Any:
    return client.get(reverse("window-grade", args=[slug, number]))


def answer_of(slug: str, system: Any = "us") -> Any:
    return grade(store.load_house(slug), knowledge(), None, system)


def window_of(slug: str, number: str) -> Any:
    return next(each for each in answer_of(slug).windows if each.number == number)


# --- a window -------------------------------------------------------------------------


@pytest.mark.parametrize("number", ["101", "102", "301"])
def test_the_part_says_what_the_chapter_says(here: Client, shore: str, number: str) -> None:
    page, found, words = part(here, shore, number), window_of(shore, number), Words("us")
    text, values = text_of(page), found.values
    wind, water = values["wind"], values["water"]
    assert f"bears {words.pressure(wind['capacity_pa'])}" in text
    assert words.pressure(values["pressure"]["greatest_pa"]) in text
    assert f"holds {words.pressure(water['held_pa'])} {words.pressure(water['asked_pa'])}" in text
    assert f"First to give way: {wind['governs_name']}" in text
    assert f"{100 * wind['utilisation']:.0f} % used." in text
    for each in values["raises"]:
        does = each["does"].removeprefix("first ")
        assert does[1:] in text
    for finding in found.findings:
        if finding.level in ("caution", "fail"):
            assert finding.says in text
            assert finding.source[1:] in text
    assert "Only a test laboratory can certify" in text


def test_what_only_repeats_a_remedy_is_told_once(here: Client, shore: str) -> None:
    text = text_of(part(here, shore))
    for each in window_of(shore, "101").values["raises"]:
        assert text.count(each["does"].removeprefix("first ")[1:]) == 1


def test_safety_stands_apart_with_section_and_treatment(here: Client, shore: str) -> None:
    before, _, after = text_of(part(here, shore, "301")).partition("Safety, by IRC")
    assert "A child can fall out" in after
    assert "A child can fall out" not in before
    assert "IRC R312.2" in after
    assert "bedroom's way out" in after
    assert "Built 1894: its paint may hold lead" in after
    assert "paint may hold lead" not in before
    assert "The design wind" in before


def test_every_part_of_the_window_is_in_the_table(here: Client, shore: str) -> None:
    found = window_of(shore, "102")
    rows = re.findall(
        r"<tr class=\"over\"><th scope=\"row\">([^<]+)", part(here, shore, "102").content.decode()
    )
    over = {
        each["name"].partition(" ")[2].capitalize()
        for each in found.values["utilisation"]
        if each["utilisation"] > 1
    }
    assert over
    assert set(rows) == over
    text = text_of(part(here, shore, "102"))
    for fixing in found.values["fixings"]:
        if fixing["each_n"] is not None:
            assert fixing["holds"][1:] in text


def test_both_pictures_are_on_the_page(here: Client, shore: str) -> None:
    page = part(here, shore).content.decode()
    assert page.count('class="drawing"') == 2
    assert "what the design wind uses" in page
    assert "the wind that the site asks it to stand" in page


def test_without_a_wind_speed_the_page_asks_for_it(here: Client, elm: str) -> None:
    page = part(here, elm)
    assert f'href="{reverse("wind", args=[elm])}"' in page.content.decode()
    text = text_of(page)
    assert "No design wind speed is given" in text
    assert "Give the wind at the site" in text
    assert "What each part bears, beside the weakest" in text
    assert "Pushes in" not in text


def test_the_storeys_of_the_whole_house_count(here: Client, owner: User) -> None:
    document = shore_document()
    slug = store.create_house(document, owner)
    low = store.create_house({**document, "name": "Low", "windows": document["windows"][:2]}, owner)
    asked = [window_of(each, "101").values["pressure"]["greatest_pa"] for each in (slug, low)]
    assert asked[0] > asked[1]
    for each, pascals in zip((slug, low), asked, strict=True):
        assert Words("us").pressure(pascals) in text_of(part(here, each))


def test_the_part_speaks_in_the_units_of_the_reader(here: Client, shore: str) -> None:
    here.post(reverse("units", args=[shore]), {"units": "metric"})
    text = text_of(part(here, shore))
    assert " Pa" in text
    assert "psf" not in text


# --- the house ------------------------------------------------------------------------


def test_the_house_shows_its_windows_the_most_used_first(here: Client, shore: str) -> None:
    page = here.get(reverse("wind", args=[shore])).content.decode()
    order = re.findall(r'#part-grade" class="figure">(\w+)<', page)
    used = {each.number: each.values["wind"]["utilisation"] for each in answer_of(shore).windows}
    assert order == sorted(used, key=lambda number: -used[number])
    text = text_of(here.get(reverse("wind", args=[shore])))
    over = sum(1 for share in used.values() if share > 1)
    assert f"Too weak for the design wind {over} of 3 windows" in text
    assert "a stop or guard against falls" in text
    assert "Confirmed by the town" in text
    assert "exposure D" in text


def test_the_house_leads_to_its_wind_and_to_the_sheets(here: Client, shore: str) -> None:
    proved = here.get(reverse("air", args=[shore])).content.decode()
    assert f'href="{reverse("wind", args=[shore])}"' in proved
    page = here.get(reverse("house", args=[shore])).content.decode()
    assert "?paper=letter&amp;part=grade" in page


def test_a_wind_speed_is_saved_and_asked_of_every_window(
    here: Client, part: Client, elm: str
) -> None:
    address = reverse("wind", args=[elm])
    assert "no wind speed is given" in text_of(here.get(address))
    saved = here.post(
        reverse("house-field", args=[elm]),
        {"field": "site.wind_speed", "site.wind_speed": "120", "base": "1"},
    )
    assert saved.status_code == 200
    assert store.load_house(elm).site.wind_speed == pytest.approx(120 * 0.44704)
    table = part.get(address)
    assert "<html" not in table.content.decode()
    assert "The wind speed of 120 mph is a placeholder" in text_of(table)
    for value in answer_of(elm).windows:
        assert Words("us").pressure(value.values["pressure"]["greatest_pa"]) in text_of(table)


def test_a_bad_wind_speed_is_refused_with_its_limits(here: Client, elm: str) -> None:
    for typed in ("1200", "brisk"):
        page = here.post(
            reverse("house-field", args=[elm]),
            {"field": "site.wind_speed", "site.wind_speed": typed, "base": "1"},
        )
        assert page.status_code == 422
        assert "expected" in page.headers["HX-Trigger-After-Settle"]
    assert store.load_house(elm).site.wind_speed is None


@pytest.mark.parametrize(
    ("field", "typed", "kept"),
    [
        ("site.standard", "ASCE 7-16", lambda house: house.site.standard == "ASCE 7-16"),
        ("site.exposure", "B", lambda house: house.site.exposure == "B"),
        ("site.confirmed_by", "town hall", lambda house: house.site.confirmed_by == "town hall"),
        ("site.roof_height", "24'", lambda house: house.site.roof_height == pytest.approx(7.3152)),
        ("site.roof_slope", "12 in 12", lambda house: house.site.roof_slope == pytest.approx(45.0)),
        ("site.topography", "1.4", lambda house: house.site.topography == 1.4),
        ("site.enclosure", "partially enclosed",
         lambda house: house.site.enclosure == "partially enclosed"),
        ("site.elevation", "5000'", lambda house: house.site.elevation == pytest.approx(1524)),
        ("walls.east.length", "31'-6\"",
         lambda house: house.walls["east"].length == pytest.approx(9.6012)),
    ],
)  # fmt: skip
def test_each_field_of_the_site_is_on_its_page_and_saved(
    here: Client, elm: str, field: str, typed: str, kept: Any
) -> None:
    for name in ("wind", "house-details"):
        page = here.get(reverse(name, args=[elm])).content.decode()
        assert f'name="{field}"' in page
    page = here.post(
        reverse("house-field", args=[elm]), {"field": field, field: typed, "base": "1"}
    )
    assert page.status_code == 200
    assert kept(store.load_house(elm))


def test_what_stands_beside_a_window_is_on_its_page_and_saved(here: Client, elm: str) -> None:
    page = here.get(reverse("window", args=[elm, "101"])).content.decode()
    for field, typed in (("use.bedroom", "yes"), ("use.water", "2'"), ("use.over_way", "no")):
        assert f'name="{field}"' in page
        saved = here.post(
            reverse("window-field", args=[elm, "101"]), {"field": field, field: typed, "base": "1"}
        )
        assert saved.status_code == 200
    use = next(w for w in store.load_house(elm).windows if w.number == "101").use
    assert (use.bedroom, use.over_way) == (True, False)
    assert use.water == pytest.approx(0.6096)


def test_a_window_that_contradicts_itself_is_left_out(here: Client, shore: str) -> None:
    kept = Window.objects.get(number="101")
    kept.document = {**kept.document, "meeting_height": "4 in"}
    kept.save()
    text = text_of(here.get(reverse("wind", args=[shore])))
    assert "Not graded, as their sizes contradict each other: 101" in text
    assert 'class="finding finding-fail"' in part(here, shore).content.decode()


def test_a_house_without_windows(here: Client, owner: User) -> None:
    slug = store.create_house({"name": "Mill"}, owner)
    page = here.get(reverse("wind", args=[slug]))
    assert page.status_code == 200
    assert "No window yet" in text_of(page)


# --- data and papers ------------------------------------------------------------------


def test_the_answer_as_json(here: Client, shore: str) -> None:
    address = reverse("answer", args=[shore, "grade"])
    found = here.get(address, {"window": "301"}).json()
    assert found["chapter"] == "grade"
    (window,) = found["windows"]
    assert window["number"] == "301"
    expected = window_of(shore, "301").values["wind"]["utilisation"]
    assert window["values"]["wind"]["utilisation"] == pytest.approx(expected)
    assert found["values"]["site"]["confirmed_by"] == "the town"


def test_performance_sheets_of_a_house_and_of_one_window(here: Client, shore: str) -> None:
    address = reverse("papers", args=[shore])
    all_, one = (here.get(address, {"part": "grade", **more}) for more in ({}, {"number": "301"}))
    assert all_.content.startswith(b"%PDF")
    assert one.content.startswith(b"%PDF")
    assert len(one.content) < len(all_.content)
