"""Performance sheets, read back from the PDF: one page for each family, with the chapter's own figures."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.chapters.grade import grade
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.papers import gradewords
from sashwright.papers.figures import Pictures
from sashwright.papers.job import take
from sashwright.papers.performance import performance_sheets
from sashwright.papers.press import print_pdf
from sashwright.window.check import house_from
from sashwright.window.spec import House
from tests.papers.printing import DAY, Print, Printed, document, squeezed

SYSTEMS: tuple[units.System, ...] = ("us", "metric")


@pytest.fixture(scope="module")
def windy(knowledge: Knowledge) -> House:
    """The house at the shore: some of its windows are too weak, one is low over a drop."""
    return house_from(windy_document(), knowledge)


def windy_document() -> dict[str, Any]:
    data = document()
    data["site"] = {"wind_speed": "150 mph", "exposure": "D", "confirmed_by": "the town, in May"}
    data["walls"] = {
        name: {"faces": name[0].upper(), "length": "30'"}
        for name in ("south", "north", "east", "west")
    }
    for window in data["windows"]:
        window["along"] = "10'"
    data["windows"][3] |= {
        "sill_above_floor": "14", "sill_above_ground": "12'", "use": {"bedroom": True},
    }  # fmt: skip
    return data


def asked(house: House, knowledge: Knowledge, system: units.System) -> Answer:
    return grade(house, knowledge, None, system)


def drawn(answer: Answer, house: House, family: str) -> Any:
    """The window of a family that the wind uses most."""
    own = {window.number for window in house.windows if window.family == family}
    return max(
        (each for each in answer.windows if each.number in own),
        key=lambda each: each.values["wind"]["utilisation"],
    )


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("system", SYSTEMS)
def test_a_page_for_each_family_with_the_chapters_figures(
    printed: Print, windy: House, knowledge: Knowledge, paper: str, system: units.System
) -> None:
    pages = printed(windy, include=["grade"], paper=paper, system=system).pages
    answer, words = asked(windy, knowledge, system), Words(system)
    assert len(pages) == len(windy.families)
    for page, family in zip(pages, windy.families, strict=True):
        text, found = squeezed(page), drawn(answer, windy, family)
        assert f"Family {family}: {windy.families[family].name}" in page
        assert squeezed(f"Drawn: window {found.number},") in text
        assert squeezed(found.values["wind"]["governs_name"]) in text
        for line in gradewords.lines_of(found, system):
            assert squeezed(f"{line.name}{line.found}{line.asked}{line.grade}{line.europe}") in text
        for row in gradewords.part_rows(found.values, system)[:9]:
            assert squeezed(f"{row.name}{row.breaks}{row.sags}{row.asked}{row.share}") in text
        pressure = found.values["pressure"]
        for each in (pressure["inward_pa"], -pressure["outward_pa"]):
            assert squeezed(words.pressure(each)) in text
        assert squeezed("Only a test laboratory can certify") in text
        assert "A screen does not hold a child" in page
        for window in windy.windows:
            if window.family == family:
                bears = answer.windows[windy.windows.index(window)].values["wind"]["capacity_pa"]
                assert window.number in page
                assert squeezed(words.pressure(bears)) in text
        assert squeezed("confirmed by the town, in May") in text


def test_safety_flags_stand_with_their_section_and_treatment(
    printed: Print, windy: House, knowledge: Knowledge
) -> None:
    page = next(
        page for page in printed(windy, include=["grade"]).pages if "Family B" in page[:200]
    )
    flags = {
        finding.on: finding
        for each in asked(windy, knowledge, "us").windows
        if each.number == "201"
        for finding in each.findings
    }
    fall, out = flags["lower.fall"], flags["lower.escape"]
    assert fall.level == "caution"
    assert out.level in ("caution", "fail")
    for flag in (fall, out):
        assert squeezed(f"201: {flag.says}") in squeezed(page)
        assert squeezed(flag.source) in squeezed(page)
    assert "Not known yet:" in page


def test_heat_has_its_place_on_the_sheet(windy: House, knowledge: Knowledge) -> None:
    job = take(windy, knowledge, "us", ["101"])
    pictures = Pictures(job, "letter")
    rows = [["Whole window", "0.87", "0.42"], ["With storm", "0.44", "0.39"]]
    heat = {"title": "Heat", "columns": ["State", "U", "g"], "rows": rows, "note": "By hand."}
    told: list[str] = []

    def of(window: Any) -> Any:
        told.append(window.number)
        return heat

    sheets = performance_sheets(job, pictures, of)
    assert told == ["101"]
    frame = {
        "title": "Heat", "author": "", "description": "", "lang": "en", "region": "US", "running": "",
        "foot": "", "units": "", "empty": "",
    }  # fmt: skip
    pdf = print_pdf({**frame, "grade": sheets}, pictures.files, "letter", DAY)
    pages = Printed(pdf).pages
    assert len(pages) == 1
    assert squeezed(
        "Heat State U g Whole window 0.87 0.42 With storm 0.44 0.39 By hand."
    ) in squeezed(pages[0])
    without = performance_sheets(job, Pictures(job, "letter"))
    assert without["sheets"][0]["heat"] is None


def test_without_a_wind_speed_the_weakest_window_is_drawn(
    printed: Print, house: House, knowledge: Knowledge
) -> None:
    pages = printed(house, include=["grade"]).pages
    answer = asked(house, knowledge, "us")
    own = [each for each in answer.windows if each.number.startswith("1")]
    weakest = min(own, key=lambda each: each.values["wind"]["capacity_pa"])
    assert f"Drawn: window {weakest.number}," in pages[0]
    assert "the weakest of the family" in squeezed_words(pages[0])
    assert "design wind speed not given" in squeezed_words(pages[0])


def squeezed_words(text: str) -> str:
    return " ".join(text.split())


def test_a_window_that_contradicts_itself_is_told_with_its_family(
    printed: Print, knowledge: Knowledge, windy: House
) -> None:
    broken = windy.windows[0].model_copy(update={"meeting_height": 0.1})
    house = windy.model_copy(update={"windows": (broken, *windy.windows[1:])})
    pages = printed(house, include=["grade"]).pages
    assert len(pages) == 2
    assert squeezed("sizes contradict each other") in squeezed(pages[0])
    alone = house.model_copy(update={"windows": (broken,)})
    text = printed(alone, include=["grade"]).text
    assert "fail" in text
    assert "Only a test laboratory can certify" in squeezed_words(text)


def test_a_house_without_windows_says_so(printed: Print, house: House) -> None:
    empty = house.model_copy(update={"windows": ()})
    assert "No windows are recorded" in printed(empty, include=["grade"]).text


def test_a_large_family_stays_on_one_page(printed: Print, knowledge: Knowledge) -> None:
    data = windy_document()
    first = data["windows"][0]
    data["windows"] += [
        {**first, "number": str(number), "measured": {}} for number in range(110, 140)
    ]
    pages = printed(house_from(data, knowledge), include=["grade"]).pages
    assert len(pages) == 2
    assert "And 23 windows more, used less." in pages[0]
