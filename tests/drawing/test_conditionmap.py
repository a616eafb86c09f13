"""The condition map: every part once, told by tint and by hatch, with links that have names."""

from __future__ import annotations

import re
from collections import Counter

import pytest

from sashwright.drawing.conditionmap import KEY, Told, condition_map, swatch, told_of
from sashwright.drawing.model import Drawing, Group, Polygon, Polyline, walk
from sashwright.drawing.svg import to_svg
from sashwright.knowledge.tables import Knowledge
from sashwright.window.components import named, pieces_of
from sashwright.window.condition import Found
from sashwright.window.surveyed import Surveyed
from tests.drawing.scenes import HOUSE, KNOWLEDGE, NUMBERS, PLACED

PENS = {"slight": "warm-2", "moderate": "warm-3", "severe": "warm-4"}


def part_of(drawn: Drawing, name: str) -> Group:
    (found,) = [
        item
        for item in walk(drawn.items)
        if isinstance(item, Group) and dict(item.data).get("part") == name
    ]
    return found


def polygons(group: Group) -> list[Polygon]:
    return [item for item in walk(group.items) if isinstance(item, Polygon)]


def found(on: str, fault: str, severity: str | None = None) -> Surveyed:
    knowledge: Knowledge = KNOWLEDGE
    pieces = named(on, pieces_of(PLACED["102"].layout))
    model = Found.model_validate({"on": on, "fault": fault, "severity": severity})
    return Surveyed(model, knowledge.find("fault", fault), pieces, "own")


@pytest.mark.parametrize("number", NUMBERS)
def test_every_part_of_the_survey_is_there_once_and_no_other(number: str) -> None:
    drawn = condition_map(PLACED[number], {}, link=lambda name: f"?on={name}")
    names = Counter(
        dict(item.data)["part"]
        for item in walk(drawn.items)
        if isinstance(item, Group) and "part" in dict(item.data)
    )
    assert set(names) == set(pieces_of(PLACED[number].layout))
    assert set(names.values()) == {1}


def test_links_have_names_and_lie_in_no_other_link() -> None:
    drawn = condition_map(
        PLACED["102"],
        {"lower.bottom_rail": Told("severe", "decay, severe")},
        link=lambda name: f"?on={name}",
    )
    text = to_svg(drawn)
    links = re.findall(r'<a href="\?on=([^"]+)" aria-label="([^"]+)">', text)
    assert len(links) == len(pieces_of(PLACED["102"].layout))
    assert ("lower.bottom_rail", "Lower bottom rail: decay, severe") in links
    depth = 0
    for tag in re.findall(r"<a |</a>", text):
        depth += 1 if tag == "<a " else -1
        assert depth in (0, 1)
    # Without links it is one picture.
    assert "<a " not in to_svg(condition_map(PLACED["102"], {}))


@pytest.mark.parametrize("severity", sorted(PENS))
def test_severity_is_told_by_tint_and_by_hatch(severity: str) -> None:
    told = told_of(PLACED["102"], [found("lower.bottom_rail", "decay", severity)])
    (rail,) = polygons(part_of(condition_map(PLACED["102"], told), "lower.bottom_rail"))
    assert rail.hatch == severity
    assert PENS[severity] in rail.pen.split()
    plain = part_of(condition_map(PLACED["102"], {}), "lower.bottom_rail")
    assert polygons(plain)[0].hatch is None


def test_hatches_differ_in_number_of_lines() -> None:
    def strokes(severity: str) -> int:
        told = told_of(PLACED["102"], [found("lower.bottom_rail", "decay", severity)])
        return to_svg(condition_map(PLACED["102"], told)).count("L")

    assert strokes("slight") < strokes("moderate") < strokes("severe")


def test_the_worst_of_several_findings_is_shown_and_all_are_named() -> None:
    both = [found("sill", "decay", "severe"), found("sill", "weather-checks", "slight")]
    told = told_of(PLACED["102"], both)["frame.sill"]
    assert told.mark == "severe"
    assert told.says == "decay, severe; weather checks, slight"
    assert told_of(PLACED["102"], both[::-1])["frame.sill"] == told


def test_a_name_for_several_parts_marks_them_all() -> None:
    told = told_of(PLACED["102"], [found("lower.cord", "cord-broken")])
    assert {name for name in told if told[name].mark == "severe"} == {
        "lower.cord.left",
        "lower.cord.right",
    }


def test_sound_parts_have_a_tick_until_something_is_found_on_them() -> None:
    told = told_of(PLACED["102"], [], ["lower.top_rail", "sill"])
    drawn = condition_map(PLACED["102"], told)
    assert [i for i in part_of(drawn, "frame.sill").items if isinstance(i, Polyline)]
    told = told_of(PLACED["102"], [found("sill", "decay")], ["sill"])
    assert told["frame.sill"] == Told("moderate", "decay, moderate")


def test_putty_is_hatched_where_it_lies() -> None:
    told = told_of(PLACED["102"], [found("upper.putty", "putty-cracked", "severe")])
    drawn = condition_map(PLACED["102"], told)
    faces = [
        item
        for item in walk(drawn.items)
        if isinstance(item, Group) and dict(item.data).get("face") == "upper.putty"
    ]
    quads = polygons(faces[0])
    # Four strips round each of the six lites.
    assert len(quads) == 24
    assert {quad.hatch for quad in quads} == {"severe"}


def test_the_chosen_part_is_outlined_last() -> None:
    drawn = condition_map(PLACED["102"], {}, chosen="lower.cord")
    outlines = drawn.items[-1]
    assert isinstance(outlines, Group)
    assert [one.pen for one in polygons(outlines)] == ["pencil-bold"] * 2


def test_the_description_says_what_is_found() -> None:
    told = told_of(PLACED["101"], [found("sill", "decay")], ["lower.paint"])
    assert condition_map(PLACED["101"], told).description == "Sill: decay, moderate."
    assert condition_map(PLACED["101"], {}).description == "Nothing is found."


def test_the_key_has_a_patch_for_every_mark() -> None:
    hatches = {mark: polygons(Group(swatch(mark).items))[0].hatch for mark in KEY}
    assert hatches == {
        None: None, "sound": None, "slight": "slight", "moderate": "moderate", "severe": "severe",
    }  # fmt: skip
    assert HOUSE.typical.found == ()
