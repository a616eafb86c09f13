"""Drawings on paper: their scale, their words, their colours."""

from __future__ import annotations

import re
from importlib import resources
from xml.etree import ElementTree as ET

import pytest

from sashwright.drawing.elevation import elevation
from sashwright.drawing.pens import COLOURS
from sashwright.knowledge.tables import Knowledge
from sashwright.papers.figures import SCALES, Pictures, for_print, scale_for, unlettered
from sashwright.papers.job import take
from sashwright.papers.sheet import sheet, text_height
from sashwright.units import System
from sashwright.window.resolve import place
from sashwright.window.spec import House

SYSTEMS: tuple[System, ...] = ("us", "metric")


def _size(svg: str) -> tuple[float, float]:
    """Width and height of a picture [mm]."""
    found = re.search(r'width="([\d.]+)mm" height="([\d.]+)mm"', svg)
    assert found
    return float(found[1]), float(found[2])


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("box", [(88.0, 104.0), (70.0, 62.0), (178.0, 230.0)])
def test_a_drawing_fills_its_room_at_a_scale_of_the_rule(
    house: House, knowledge: Knowledge, system: System, box: tuple[float, float]
) -> None:
    drawing = unlettered(elevation(place(house, "101", knowledge), "outside", system))
    ratio = scale_for([drawing], box, SCALES[system])
    width, height = _size(for_print(drawing, ratio))
    assert width <= box[0]
    assert height <= box[1]
    larger = SCALES[system][SCALES[system].index(ratio) - 1]
    width, height = _size(for_print(drawing, larger))
    assert width > box[0] or height > box[1]


def test_paper_stays_white_and_letters_are_those_of_the_papers(
    house: House, knowledge: Knowledge
) -> None:
    svg = for_print(elevation(place(house, "101", knowledge), "outside", "us"), 16)
    assert COLOURS["paper"] not in svg
    assert "Libertinus Serif" in svg
    assert "\N{FRACTION SLASH}" not in svg
    ET.fromstring(svg)


def test_papers_and_drawings_share_the_red_pencil() -> None:
    look = resources.files("sashwright.papers") / "templates" / "look.typ"
    assert f'#let pencil = rgb("{COLOURS["pencil"]}")' in look.read_text(encoding="utf-8")


def test_every_picture_has_words_and_its_file(house: House, knowledge: Knowledge) -> None:
    job = take(house, knowledge, "us", None)
    pictures = Pictures(job, "letter")
    shown = [*pictures.strips()]
    for window in job.windows:
        leaf = pictures.leaf(window, 40.0, 60.0)
        assert leaf["drawings"]
        assert leaf["sections"]
        shown += [*leaf["drawings"], *leaf["sections"]]
    assert {picture["file"] for picture in shown} == pictures.files.keys()
    assert all(len(picture["alt"]) > 20 for picture in shown)
    assert all(re.search(r"1 : \d+$", picture["caption"]) for picture in shown)


def test_walls_share_one_scale_and_name_their_windows(house: House, knowledge: Knowledge) -> None:
    strips = Pictures(take(house, knowledge, "us", None), "letter").strips()
    assert [strip["caption"].partition(",")[0] for strip in strips] == [
        "North wall",
        "East wall",
        "South wall",
        "West wall",
    ]
    assert len({strip["caption"].partition(",")[2] for strip in strips}) == 1
    assert "101" in strips[2]["alt"]
    assert "102" in strips[2]["alt"]


def test_long_texts_leave_drawings_less_room(house: House, knowledge: Knowledge) -> None:
    job = take(house, knowledge, "us", ["101"])
    window = job.windows[0]
    long = window.model_copy(update={"note": "word " * 100})
    heights = [text_height(sheet(job, each)) for each in (window, long)]
    assert heights[1] - heights[0] == pytest.approx(7 * 4.4)
    pictures = Pictures(job, "letter")
    small, large = (pictures.leaf(window, height, 60.0)["drawings"][0] for height in (90.0, 0.0))
    assert small["caption"] != large["caption"]
