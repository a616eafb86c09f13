"""Fit, air, storms and screens of a window and of a house, and the climate they rest on."""

from __future__ import annotations

import html
import re
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.record import store
from sashwright.record.models import Window
from tests.factories import family_document, house_document

PARTS = ("fit", "seal", "season", "heat", "grade")


def text_of(page: Any) -> str:
    """What a page says, without its marks."""
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", page.content.decode())))


@pytest.fixture
def maine(owner: User) -> str:
    """The house of the factories in a climate, with storms in winter and screens."""
    families = {
        "A": family_document(storm="winter", screen={"kind": "half"}),
        "B": family_document(storm="winter"),
    }
    return store.create_house(house_document(climate="Portland, Maine", families=families), owner)


def part(client: Client, slug: str, chapter: str, number: str = "101", **query: str) -> Any:
    return client.get(reverse(f"window-{chapter}", args=[slug, number]), query)


# --- a window -------------------------------------------------------------------------


def test_the_window_asks_for_its_parts_only_when_they_are_seen(here: Client, maine: str) -> None:
    page = here.get(reverse("window", args=[maine, "101"])).content.decode()
    for chapter in PARTS:
        address = reverse(f"window-{chapter}", args=[maine, "101"])
        assert f'hx-get="{address}" hx-trigger="revealed"' in page
    assert "Clearances through the year" not in page


@pytest.mark.parametrize("chapter", PARTS)
def test_a_part_comes_alone_or_as_a_page(
    here: Client, part: Client, maine: str, chapter: str
) -> None:
    address = reverse(f"window-{chapter}", args=[maine, "101"])
    alone, whole = part.get(address), here.get(address)
    assert alone.status_code == whole.status_code == 200
    assert alone.content.decode().startswith(
        f'<section class="section chapterpart" id="part-{chapter}"'
    )
    assert "<html" in whole.content.decode()
    for page in (alone, whole):
        assert page.content.count(b'class="finding ') > 0
        assert page.content.count(b'class="working-steps"') == 1


@pytest.mark.parametrize("chapter", PARTS)
def test_parts_of_what_is_not_there(here: Client, maine: str, chapter: str) -> None:
    assert part(here, maine, chapter, "999").status_code == 404
    assert part(here, "no-such-house", chapter).status_code == 404
    assert here.post(reverse(f"window-{chapter}", args=[maine, "101"])).status_code == 405


@pytest.mark.parametrize("chapter", PARTS)
def test_parts_of_sizes_that_contradict_each_other(here: Client, maine: str, chapter: str) -> None:
    # The record lets none in, but a table that changes later can make one.
    kept = Window.objects.get(number="101")
    kept.document = {**kept.document, "meeting_height": "4 in"}
    kept.save()
    page = part(here, maine, chapter)
    assert page.status_code == 200
    assert 'class="finding finding-fail"' in page.content.decode()
    for name in ("air", "seasons"):
        assert here.get(reverse(name, args=[maine])).status_code == 200
    assert "Not counted, as their sizes contradict each other: 101" in text_of(
        here.get(reverse("air", args=[maine]))
    )


def test_fit_says_what_to_leave_on_the_date_of_the_shop(here: Client, maine: str) -> None:
    winter, summer = (
        text_of(part(here, maine, "fit", on=day)) for day in ("2026-03-20", "2026-09-10")
    )
    assert "Leave on 20 Mar" in winter
    assert "Leave on 10 Sep" in summer
    assert "lower sash to each pulley stile" in winter.lower()
    # Dry wood will swell by more than wood that is damp already.
    assert leave(winter, "Lower sash to each pulley stile") > leave(
        summer, "Lower sash to each pulley stile"
    )


def leave(text: str, place: str) -> float:
    """What to leave at a place [in], the last size but one of its row."""
    row = re.search(rf"{place} ((?:\S+ )*?)(?=(?:Play of|Lower sash to|Upper sash|Meeting))", text)
    assert row is not None
    sizes = re.findall(r'(\d+)/(\d+)"', row[1])
    top, bottom = sizes[-1]
    return int(top) / int(bottom)


def test_fit_takes_today_where_the_date_is_none(here: Client, maine: str) -> None:
    page = part(here, maine, "fit", on="yesterday")
    assert page.status_code == 200
    assert "Found 'yesterday', expected a date such as" in text_of(page)
    assert "hx-get" in page.content.decode()


def test_fit_keeps_its_date_when_it_is_asked_again(part: Client, maine: str) -> None:
    address = reverse("window-fit", args=[maine, "101"])
    page = part.get(address, {"on": "2026-03-20"}).content.decode()
    assert f'hx-get="{address}?on=2026-03-20" hx-trigger="sashwright:stale' in page


@pytest.mark.parametrize(
    ("climate", "says"),
    [
        ("", "Found no climate for the house"),
        ("Nowhere at all", "Found 'Nowhere at all', expected the name of a place"),
        ("Springfield", "expected one place; did you mean"),
    ],
)
def test_fit_without_a_climate_says_what_to_write(
    here: Client, owner: User, climate: str, says: str
) -> None:
    slug = store.create_house(house_document(climate=climate), owner)
    page = part(here, slug, "fit")
    assert says in text_of(page)
    assert f'action="{reverse("climate", args=[slug])}"' in page.content.decode()
    # Air and storm of a window need no climate.
    assert "Path by path" in text_of(part(here, slug, "seal"))
    assert part(here, slug, "season").status_code == 200


def test_air_of_a_window(here: Client, maine: str) -> None:
    text = text_of(part(here, maine, "seal"))
    assert re.search(r"As found, at 75 Pa \d+ cfm perhaps \d+ cfm to \d+ cfm", text)
    assert "What to do first Fit " in text
    assert "Every step" in text
    shares = [
        int(share) for share in re.findall(r"cfm (\d+) % (?=[A-Z])", text.partition("Share ")[2])
    ]
    assert sum(shares[:7]) <= 104


def test_air_of_a_window_follows_the_fan_tests_of_the_whole_house(
    here: Client, maine: str, owner: User
) -> None:
    before = text_of(part(here, maine, "seal"))
    document = store.stored(maine, "house").document
    air = {"volume": "24000 ft3", "before": {"flow": "1500 cfm"}, "after": {"flow": "1490 cfm"}}
    store.save(maine, "house", "", {**document, "air": air}, 1, owner)
    after = text_of(part(here, maine, "seal"))
    assert "Tables scaled by" not in before
    assert re.search(r"Tables scaled by × 0\.\d\d, house test", after)


def test_storm_and_screen_of_a_window(here: Client, maine: str, owner: User) -> None:
    text = text_of(part(here, maine, "season"))
    assert "101 proposed by the walk round the house" in text
    assert "Storm sash, hangs in winter" in text
    assert "Screen, half screen" in text
    assert "Weep holes 2" in text
    store.keep_marks(maine, {"101": "XVI"}, owner)
    assert "XVI cut into frame and pieces" in text_of(part(here, maine, "season"))


def test_parts_speak_in_the_units_of_the_reader(here: Client, maine: str) -> None:
    here.post(reverse("units", args=[maine]), {"units": "metric"})
    assert re.search(
        r"Lower sash to each pulley stile \d\.\d mm", text_of(part(here, maine, "fit"))
    )
    assert "m³/h" in text_of(part(here, maine, "seal"))
    assert "sizes in mm" in text_of(part(here, maine, "season"))


# --- the house ------------------------------------------------------------------------


def test_the_house_leads_to_its_air_and_seasons(here: Client, maine: str) -> None:
    page = here.get(reverse("house", args=[maine])).content.decode()
    for name in ("air", "seasons", "climate", "treat", "make"):
        assert f'href="{reverse(name, args=[maine])}"' in page
    for paper in ("fit", "seal", "season", "tags"):
        assert f"?paper=letter&amp;part={paper}" in page


def test_air_of_the_house(here: Client, maine: str) -> None:
    text = text_of(here.get(reverse("air", args=[maine])))
    assert "Window by window" in text
    rows = re.findall(r"(\d+(?:\.\d)?) cfm (?:\d+(?:\.\d)?) cfm (?:the |sash )", text)
    flows = [float(flow) for flow in rows]
    assert len(flows) == 5
    assert flows == sorted(flows, reverse=True)
    assert "through its windows alone" in text
    assert "January" in text


def test_air_of_the_house_without_a_climate(here: Client, elm: str) -> None:
    text = text_of(here.get(reverse("air", args=[elm])))
    assert "Window by window" in text
    assert "Found no climate for the house" in text
    assert "January" not in text


@pytest.mark.parametrize("name", ["air", "seasons", "climate"])
def test_pages_of_a_house_without_windows(here: Client, owner: User, name: str) -> None:
    slug = store.create_house({"name": "Mill"}, owner)
    assert here.get(reverse(name, args=[slug])).status_code == 200


def test_seasons_of_the_house(here: Client, maine: str) -> None:
    text = text_of(here.get(reverse("seasons", args=[maine])))
    assert re.search(r"Storms go on \d+ September to \d+ October weeks \d+ to \d+", text)
    assert re.search(r"5 windows; with a crew of 2 about (\d+ h )?\d+ min one way", text)
    assert "storm on" in text
    assert "screen for storm" in text
    assert "Storm sash 101, 102" in text


def test_seasons_without_storms_or_climate(here: Client, elm: str) -> None:
    text = text_of(here.get(reverse("seasons", args=[elm])))
    assert "Nothing is changed with the seasons here" in text
    assert "Found no climate for the house" in text


def mark(client: Client, slug: str, number: str, text: str) -> Any:
    return client.post(reverse("season-mark", args=[slug]), {"number": number, "mark": text})


def marks(slug: str) -> dict[str, str | None]:
    return {window.number: window.mark for window in store.load_house(slug).windows}


def test_a_mark_is_written_down_and_left_again(here: Client, part: Client, maine: str) -> None:
    page = mark(part, maine, "101", " XII ")
    assert page.status_code == 200
    assert '<div id="marklist">' in page.content.decode()
    assert marks(maine)["101"] == "XII"
    assert mark(here, maine, "101", "").status_code == 302
    assert marks(maine)["101"] is None


def test_a_mark_that_cannot_be_cut_stays_with_its_reason(part: Client, maine: str) -> None:
    page = mark(part, maine, "101", "north side, 2nd")
    assert page.status_code == 422
    assert "expected" in text_of(page)
    assert 'value="north side, 2nd"' in page.content.decode()
    assert marks(maine)["101"] is None
    assert mark(part, maine, "999", "XII").status_code == 404


def test_all_marks_are_kept_at_once_and_undone_at_once(here: Client, maine: str) -> None:
    page = here.post(reverse("season-keep", args=[maine]), follow=True)
    assert "All marks are kept in the record." in text_of(page)
    assert all(marks(maine).values())
    undo = re.search(r"/undo/(\d+)", page.content.decode())
    assert undo is not None
    here.post(f"/undo/{undo[1]}")
    assert not any(marks(maine).values())


# --- climate --------------------------------------------------------------------------


def test_the_climate_of_a_house(here: Client, part: Client, maine: str) -> None:
    for client in (here, part):
        text = text_of(client.get(reverse("climate", args=[maine])))
        assert "Portland International Jetport, ME found for “Portland, Maine”" in text
        assert re.search(r"Elevation \d+ ft", text)
        assert "From the house" not in text
        assert "December" in text
    details = here.get(reverse("house-details", args=[maine])).content.decode()
    assert f'hx-get="{reverse("climate", args=[maine])}"' in details


def test_a_climate_by_coordinates_tells_how_far_it_is(here: Client, owner: User) -> None:
    slug = store.create_house(house_document(climate="44.0 N 70.3 W"), owner)
    text = text_of(here.get(reverse("climate", args=[slug])))
    assert re.search(r"From the house \d+ miles", text)
    assert "from the house." in text


def test_a_place_is_looked_for_and_taken(here: Client, part: Client, elm: str) -> None:
    address = reverse("climate", args=[elm])
    found = part.get(address, {"text": "portland"})
    assert "Portland International Jetport, ME US" in text_of(found)
    assert "<html" not in found.content.decode()
    assert "No place is called like that" in text_of(part.get(address, {"text": "xqzw"}))
    assert "away" in text_of(part.get(address, {"text": "43.6, -70.3"}))
    assert part.get(address, {"text": "123, 456"}).status_code == 200
    back = reverse("window", args=[elm, "101"])
    page = here.post(address, {"place": "726060", "next": back})
    assert page.headers["Location"] == back
    assert store.load_house(elm).climate == "Portland International Jetport, ME"
    assert here.post(address, {"place": "no such"}).status_code == 404


# --- papers ---------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["fit", "seal", "season", "tags"])
def test_papers_of_the_year(here: Client, maine: str, paper: str) -> None:
    page = here.get(reverse("papers", args=[maine]), {"paper": "a4", "part": paper})
    assert page.content.startswith(b"%PDF")
    assert page.headers["Content-Disposition"] == f'attachment; filename="{maine}-{paper}-a4.pdf"'


def test_a_fit_card_of_one_window(here: Client, maine: str) -> None:
    address = reverse("papers", args=[maine])
    one = here.get(address, {"part": "fit", "number": "101"})
    assert one.content.startswith(b"%PDF")
    assert len(one.content) < len(here.get(address, {"part": "fit"}).content)
    assert here.get(address, {"part": "fit", "number": "999"}).status_code == 404
    assert here.get(address, {"part": "nothing"}).status_code == 404
