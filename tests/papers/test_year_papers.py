"""Fit cards, leakage sheet, changeover list and tags, read back from the PDF."""

from __future__ import annotations

import re
from itertools import groupby
from typing import Any
from xml.etree import ElementTree as ET

import pytest
import segno

from sashwright import units
from sashwright.chapters.fit import fit
from sashwright.chapters.seal import seal
from sashwright.chapters.season import season
from sashwright.chapters.season.marks import marks_of
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.papers.codes import QUIET, code_svg
from sashwright.papers.figures import Pictures
from sashwright.papers.job import take
from sashwright.papers.packet import EVERY, SECTIONS, packet
from sashwright.papers.tags import Paths, tags
from sashwright.record.outdoors import Outdoors, named
from sashwright.window.check import house_from
from sashwright.window.spec import House, Window
from tests.papers.printing import DAY, Print, document, squeezed

SYSTEMS: tuple[units.System, ...] = ("us", "metric")
DAY_OF_YEAR = 63
"""4 March."""
PATHS = {number: f"hollis/windows/{number}/" for number in ("101", "102", "103", "201", "202")}


@pytest.fixture(scope="module")
def outdoors() -> Outdoors:
    return named("Portland, Maine")


@pytest.fixture(scope="module")
def stormy(knowledge: Knowledge) -> House:
    """The same house with storms in winter and screens in summer."""
    data = document()
    for family in data["families"].values():
        family |= {"storm": "winter", "screen": {"kind": "full"}}
    return house_from(data, knowledge)


def test_the_new_parts_are_printed_only_where_asked_for(printed: Print, house: House) -> None:
    assert SECTIONS == ("cover", "weights", "sheets")
    text = printed(house).text
    for words in (
        "Fit of window",
        "Air that gets by",
        "Storms and screens",
        "Number tags",
        "Warmth",
        "Only a test laboratory",
    ):
        assert words not in text


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_all_parts_stand_in_their_order(
    printed: Print, stormy: House, outdoors: Outdoors, paper: str
) -> None:
    pages = printed(
        stormy, include=list(reversed(EVERY)), paper=paper, outdoors=outdoors, paths=PATHS
    ).pages
    starts = [
        next(i for i, page in enumerate(pages) if words in page)
        for words in (
            "Room, wall, storey", "Condition report and survey", "Nothing is to be priced",
            "Treatment report", "Weights and cords 1 of", "Two weights of", "Nothing is to be cut",
            "Nothing to order", "No sash of these windows has work", "Fit of window 101",
            "Air that gets by 5 windows", "Storms and screens", "Warmth, family A",
            "Only a test laboratory", "Which windows to open", "Number tags",
        )
    ]  # fmt: skip
    assert starts == sorted(set(starts))


def test_the_same_day_gives_the_same_bytes(
    knowledge: Knowledge, stormy: House, outdoors: Outdoors
) -> None:
    def once() -> bytes:
        return packet(stormy, knowledge, today=DAY, include=EVERY, outdoors=outdoors, paths=PATHS)

    assert once() == once()


# --- fit cards -----------------------------------------------------------------------------------


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_fit_card_says_what_the_chapter_says(
    printed: Print, house: House, knowledge: Knowledge, outdoors: Outdoors, system: units.System
) -> None:
    pages = printed(house, include=["fit"], outdoors=outdoors, system=system).pages
    answer = fit(house, knowledge, outdoors.daily(house), None, system, DAY_OF_YEAR)
    assert len(pages) == len(house.windows)
    for page, found in zip(pages, answer.windows, strict=True):
        text = squeezed(page)
        assert f"Fit of window {found.number}" in page
        for which in ("upper", "lower"):
            place = found.values["clearances"].get(f"{which}.sides")
            if place is not None:
                leave = _at_least(place["leave_today_mm"], system)
                assert squeezed(f"Leave each side at least {leave}") in text
                moisture = found.values["moisture"][which]["today_pct"]
                assert squeezed(f"with the wood at {moisture:.1f} %, estimated") in text
        for place in found.values["clearances"].values():
            row = " ".join(
                (place["name"], _gap(place["as_measured_mm"], system),
                 _gap(place["least_mm"], system))
            )  # fmt: skip
            assert squeezed(row) in text
        for finding in found.findings:
            if finding.level in ("caution", "fail"):
                assert squeezed(finding.says) in text


def _gap(mm: float, system: units.System) -> str:
    return units.format_length(mm / 1000, system, 64 if system == "us" else 0.1)


def _at_least(mm: float, system: units.System) -> str:
    """The next step up, found by trying."""
    step = 25.4 / 64 if system == "us" else 0.1
    count = next(n for n in range(1000) if n * step >= mm - 1e-6)
    return _gap(count * step, system)


def test_both_settings_of_the_stop_are_on_the_card(
    printed: Print, house: House, knowledge: Knowledge, outdoors: Outdoors
) -> None:
    pages = printed(house, include=["fit"], outdoors=outdoors, system="metric").pages
    answer = fit(house, knowledge, outdoors.daily(house), None, "metric", DAY_OF_YEAR)
    for page, found in zip(pages, answer.windows, strict=True):
        stop = found.values["stop"]
        for key in ("wet", "dry"):
            shift = stop[f"{key}_shift_mm"]
            way = "away from" if shift > 0 else "toward"
            assert squeezed(f"{abs(shift):.1f} mm {way} the sash") in squeezed(page)
        assert "meter" in page
        assert "Caution." in page


def test_a_tight_window_says_what_to_plane_off(
    printed: Print, knowledge: Knowledge, outdoors: Outdoors
) -> None:
    data = document(families={"A": {"frame": {"side_clearance": "1/64"}}, "B": {}})
    tight = house_from(data, knowledge)
    text = printed(tight, include=["fit"], numbers=["101"], outdoors=outdoors).pages[0]
    answer = fit(tight, knowledge, outdoors.daily(tight), ["101"], "us", DAY_OF_YEAR)
    relief = answer.windows[0].values["clearances"]["lower.sides"]["relief_mm"]
    assert relief > 0
    assert squeezed(f"Plane off each stile {_at_least(relief, 'us')}") in squeezed(text)


def test_a_meter_s_reading_is_named(
    printed: Print, knowledge: Knowledge, outdoors: Outdoors
) -> None:
    data = document()
    data["windows"][0]["measured"] = {"lower": {"moisture": 14, "moisture_on": "2026-03-04"}}
    text = printed(
        house_from(data, knowledge), include=["fit"], numbers=["101"], outdoors=outdoors
    ).text
    assert squeezed("with the wood at 14.0 %, by the meter") in squeezed(text)


def test_a_single_hung_window_has_one_box(printed: Print, house: House, outdoors: Outdoors) -> None:
    text = printed(house, include=["fit"], numbers=["201"], outdoors=outdoors).text
    assert text.count("Leave each side at least") == 1


# --- the leakage sheet ---------------------------------------------------------------------------


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_leakage_sheet_gives_the_totals_of_the_chapter(
    printed: Print, house: House, knowledge: Knowledge, outdoors: Outdoors, system: units.System
) -> None:
    paper = printed(house, include=["seal"], outdoors=outdoors, system=system)
    words = Words(system)
    answer = seal(house, knowledge, None, system, outdoors.year, outdoors.place)
    storms = {row["name"]: row for row in answer.values["totals"] if row["storm"]}
    exchange = answer.values["air_exchange"]["scenarios"]
    text = squeezed(paper.text)
    for row in answer.values["totals"]:
        if row["storm"]:
            continue
        air = next(r for r in exchange if r["name"] == row["name"] and not r["storm"])
        line = " ".join(
            (row["name"][:1].upper() + row["name"][1:], words.flow(row["flow_75_m3_s"]),
             words.flow(storms[row["name"]]["flow_75_m3_s"]), words.flow(air["mean_m3_s"]),
             words.flow(air["heating_mean_m3_s"]))
        )  # fmt: skip
        assert squeezed(line) in text
    for finding in answer.findings:
        assert squeezed(finding.says) in text
    for found in answer.windows:
        flow = found.values["as_found"]["flow_75_m3_s"]
        assert squeezed(f"As found {words.flow(flow)} (") in text


def test_what_to_fix_first_adds_the_windows_up(
    printed: Print, house: House, knowledge: Knowledge
) -> None:
    text = squeezed(printed(house, include=["seal"], system="metric").text)
    saves: dict[str, list[float]] = {}
    for found in seal(house, knowledge, system="metric").windows:
        for step in found.values["steps"]:
            saves.setdefault(step["does"], []).append(step["saves_75_m3_s"])
    first = max(saves, key=lambda does: sum(saves[does]))
    flow = Words("metric").flow(sum(saves[first]))
    said = f"1{first[:1].upper()}{first[1:]}{len(saves[first])}{flow}"
    assert squeezed(said) in text


# --- the changeover list -------------------------------------------------------------------------


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_list_walks_the_house_with_masses(
    printed: Print, stormy: House, knowledge: Knowledge, outdoors: Outdoors, system: units.System
) -> None:
    text = squeezed(printed(stormy, include=["season"], outdoors=outdoors, system=system).text)
    answer = season(stormy, knowledge, None, system, outdoors.place, outdoors.year)
    values = {found.number: found.values for found in answer.windows}
    at = -1
    for swap in answer.values["swaps"]:
        storm, screen = (
            units.format_mass(values[swap["number"]][piece]["mass_kg"], system)
            for piece in ("storm", "screen")
        )
        reach = {"ground": "from the ground", "steps": "stepladder", "ladder": "ladder"}
        row = squeezed(
            f"{swap['room']} · {swap['wall']} {storm} {screen} {reach[swap['reach']]} "
            f"{swap['people']} {swap['minutes']:g}"
        )
        found = text.find(row, at + 1)
        assert found > at, row
        at = found
    known = answer.values["changeover"]
    for key in ("storms_on_from", "storms_on_by", "screens_on_from", "screens_on_by"):
        assert squeezed(f"{known[key]['date']} (week {known[key]['week']})") in text
    assert "5openings" in text


def test_only_windows_asked_for_are_on_the_list(
    printed: Print, stormy: House, outdoors: Outdoors
) -> None:
    text = printed(stormy, include=["season"], numbers=["202"], outdoors=outdoors).text
    assert "Bath" in text
    assert "Parlor" not in text
    assert "1 opening" in text


def test_a_house_without_storms_or_screens_is_told_so(
    printed: Print, knowledge: Knowledge, outdoors: Outdoors
) -> None:
    data = document()
    for family in data["families"].values():
        family |= {"storm": "none", "screen": {"kind": "none"}}
    text = printed(house_from(data, knowledge), include=["season"], outdoors=outdoors).text
    assert "Nothing changes with the seasons here" in text


# --- tags ----------------------------------------------------------------------------------------


def modules(svg: str) -> list[list[int]]:
    """A code's dark squares, read back from its picture."""
    size = int(float(ET.fromstring(svg).attrib["viewBox"].split()[2]))
    grid = [[0] * size for _ in range(size)]
    path = ET.fromstring(svg)[1].attrib["d"]
    for x, y, length in re.findall(r"M(\d+) (\d+)h(\d+)v", path):
        for column in range(int(x), int(x) + int(length)):
            grid[int(y)][column] = 1
    inner = grid[QUIET : size - QUIET]
    assert not any(map(any, (*grid[:QUIET], *grid[size - QUIET :])))
    return [row[QUIET : size - QUIET] for row in inner]


def expected(text: str) -> list[list[int]]:
    matrix = segno.make(text, error="q", micro=False, boost_error=False).matrix
    return [[int(bool(cell)) for cell in row] for row in matrix]


def tags_of(
    house: House, knowledge: Knowledge, **options: Any
) -> tuple[list[dict[str, Any]], Pictures]:
    job = take(house, knowledge, "us", None)
    pictures = Pictures(job, "letter")
    base_url = options.get("base_url", "http://127.0.0.1:8765/")
    return tags(job, pictures, base_url, options.get("paths"))["tags"], pictures


def test_each_code_opens_its_window(house: House, knowledge: Knowledge) -> None:
    ours, pictures = tags_of(house, knowledge, base_url="http://10.0.0.7:8765", paths=PATHS)
    assert len(ours) == 5
    for tag, window in zip(ours, house.windows, strict=True):
        address = f"http://10.0.0.7:8765/hollis/windows/{window.number}/"
        svg = pictures.files[tag["file"]]
        assert modules(svg) == expected(address)
        assert modules(svg) != expected(address + "x")
        assert address in tag["alt"]


def test_without_an_address_a_code_names_house_and_window(
    house: House, knowledge: Knowledge
) -> None:
    every: tuple[Paths | None, ...] = (None, {}, lambda number: None)
    for paths in every:
        ours, pictures = tags_of(house, knowledge, paths=paths)
        assert modules(pictures.files[ours[0]["file"]]) == expected("Hollis House / 101")
        assert ours[0]["holds"] == "no page known"


def test_paths_may_be_a_function(house: House, knowledge: Knowledge) -> None:
    ours, pictures = tags_of(house, knowledge, paths=lambda number: f"/h/{number}")
    svg = pictures.files[ours[3]["file"]]
    assert modules(svg) == expected("http://127.0.0.1:8765/h/201")


def test_a_code_keeps_a_quiet_edge_and_its_three_eyes() -> None:
    grid = modules(code_svg("anything"))
    eye = [(1, 7)]
    for row in (grid[0][:7], grid[0][-7:], grid[-1][:7]):
        assert [(k, len(list(g))) for k, g in groupby(row)] == eye


@pytest.mark.parametrize(("paper", "count"), [("letter", 3), ("a4", 2)])
def test_tags_fill_their_pages_and_show_their_marks(
    printed: Print, knowledge: Knowledge, paper: str, count: int
) -> None:
    data = document()
    data["windows"] = [
        {**data["windows"][4], "number": str(number), "mark": f"M{number}"}
        for number in range(101, 126)
    ]
    house = house_from(data, knowledge)
    pages = printed(house, include=["tags"], paper=paper).pages
    assert len(pages) == count
    # Under the heading there is room for four rows of three; sheets without one may take a fifth.
    assert re.findall(r"\bM\d{3}\b", pages[0]) == [f"M{number}" for number in range(101, 113)]
    assert re.findall(r"\bM\d{3}\b", " ".join(pages)) == [f"M{n}" for n in range(101, 126)]
    assert "proposed" not in pages[0]


def test_proposed_marks_are_said_to_be(printed: Print, house: House) -> None:
    text = printed(house, include=["tags"]).text
    assert "5 marks are only proposed" in text
    for number, mark in marks_of(house).items():
        assert f"{mark} Window {number}, mark proposed" in text


# --- what they withstand -------------------------------------------------------------------------


def test_without_weather_each_part_says_so_in_one_sentence(printed: Print, stormy: House) -> None:
    text = printed(stormy, include=["fit", "seal", "season"]).text
    assert text.count("No weather is known for this house") == 3
    # What needs none is there all the same.
    assert "What to fix first" in text
    assert "Storm out" in text
    assert len(printed(stormy, include=["fit"]).pages) == 1


def test_an_empty_house_says_so(printed: Print, knowledge: Knowledge, outdoors: Outdoors) -> None:
    empty = house_from({"name": "Nothing yet"}, knowledge)
    for section in ("fit", "seal", "season", "tags"):
        paper = printed(empty, include=[section], outdoors=outdoors)
        assert len(paper.pages) == 1
        assert "No windows are recorded for this house yet" in paper.text


@pytest.mark.parametrize("section", ["fit", "seal", "season", "tags"])
def test_a_window_that_contradicts_itself_stops_nothing(
    printed: Print, stormy: House, outdoors: Outdoors, section: str
) -> None:
    wrong = Window(number="301", family="B", room="Attic", width=6 * 0.0254, height=40 * 0.0254)
    stray = Window(number="302", family="Z", room="Attic", width=0.8, height=1.2)
    house = stormy.model_copy(update={"windows": (*stormy.windows, wrong, stray)})
    text = printed(house, include=[section], outdoors=outdoors).text
    if section in ("fit", "seal"):
        assert "found 'Z'" in text
    assert "101" in text


@pytest.mark.parametrize("section", ["fit", "seal", "season", "tags"])
def test_markup_and_long_texts_do_no_harm(
    printed: Print, knowledge: Knowledge, outdoors: Outdoors, section: str
) -> None:
    data = document(name='#panic() *b* "q" ' + "long " * 30)
    for family in data["families"].values():
        family |= {"storm": "winter", "screen": {"kind": "full"}}
    for window in data["windows"]:
        window["room"] = "$x$ @ref <a> " + "room " * 30
    house = house_from(data, knowledge)
    text = printed(house, include=[section], outdoors=outdoors, paths=PATHS).text
    assert "$x$ @ref <a> room" in text


def test_unknown_parts_are_still_refused(knowledge: Knowledge, house: House) -> None:
    with pytest.raises(
        ValueError,
        match=r"expected parts among .* fit, seal, season, heat, grade, card, worth, keep, tags",
    ):
        packet(house, knowledge, today=DAY, include=["fitting"])  # type: ignore[list-item]
