"""Shop drawings, read back from the PDF: three sheets for each size of window, with their title blocks."""

from __future__ import annotations

import re

import pytest

from sashwright.knowledge.tables import Knowledge
from sashwright.papers.figures import SCALES, Pictures
from sashwright.papers.job import take
from sashwright.papers.shopdrawing import shop_drawings
from sashwright.units import System
from sashwright.window.check import house_from
from sashwright.window.spec import House
from tests.papers.printing import DAY, Print, document


@pytest.mark.parametrize(("paper", "system"), [("letter", "us"), ("a4", "metric")])
def test_three_sheets_for_each_size(
    printed: Print, house: House, paper: str, system: System
) -> None:
    packet = printed(house, include=["shop"], paper=paper, system=system)
    # 101 and 102 are alike; 202 is made like 201 but for its upper sash, which is hung: another drawing.
    assert packet.count == 12
    for number in ("101", "103", "201", "202"):
        own = [page for page in packet.pages if f"Shop drawings, {number}" in page]
        assert [re.findall(r"[123] of 3", page) for page in own] == [
            ["1 of 3"],
            ["2 of 3"],
            ["3 of 3"],
        ]
    assert "Hollis House" in packet.pages[0]
    assert "4 March 2026" in packet.text
    assert "Eastern white pine" in packet.pages[0]
    for ratio in map(int, re.findall(r"1 : (\d+)", packet.text)):
        assert ratio in (1, 2, *SCALES[system])


def test_windows_alike_share_a_drawing(knowledge: Knowledge) -> None:
    data = document()
    data["windows"] = [data["windows"][4] | {"number": number} for number in ("202", "203", "204")]
    data["windows"][1]["measured"] = {"lower": {"mass": "15 lb"}}
    data["windows"][2]["measured"] = {"lower": {"width": "27 3/4"}}
    house = house_from(data, knowledge)
    job = take(house, knowledge, "us", None)
    words = shop_drawings(job, Pictures(job, "letter"), "letter", DAY, "abc")
    assert [sheet["title"] for sheet in words["sheets"]] == ["Windows 202, 203", "Window 204"]
    block = dict(words["sheets"][0]["drawn"]["block"])
    assert block["Windows"] == "202, 203 (2 windows)"
    assert block["Sash opening"] == "28 × 58 inches"
    joints = words["sheets"][0]["drawn"]["joints"]
    assert [joint["caption"].split(",")[0] for joint in joints] == [
        "Bottom rail and stile", "Meeting rail and stile", "Muntin",
    ]  # fmt: skip


def test_a_moulding_of_the_house_is_drawn_full_size(knowledge: Knowledge) -> None:
    data = document(mouldings={"own": {"name": "Own", "outline": ["0, 0", "1/4, 1/4 round 1/4"]}})
    data["families"]["A"]["sash"]["moulding"] = {"shape": "own"}
    house = house_from(data, knowledge)
    job = take(house, knowledge, "us", ["101"])
    pictures = Pictures(job, "letter")
    words = shop_drawings(job, pictures, "letter", DAY, "abc")
    (moulding,) = words["sheets"][0]["drawn"]["mouldings"]
    assert moulding["caption"] == "Own, 1 : 1"
    assert moulding["file"] in pictures.files


def test_contradictions_and_empty_houses(
    printed: Print, house: House, knowledge: Knowledge
) -> None:
    broken = house.windows[3].model_copy(update={"width": 0.16})
    wrong = house.model_copy(update={"windows": (broken,)})
    assert "contradict each other" in printed(wrong, include=["shop"]).text
    empty = house.model_copy(update={"windows": ()})
    assert "No windows are recorded" in printed(empty, include=["shop"]).text
    assert knowledge.moulding
