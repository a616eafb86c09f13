"""The demo house shows what is hard about hanging sash, and hangs together."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.hang import hang
from sashwright.chapters.parts import parts
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house
from sashwright.window.spec import House


@pytest.fixture
def house(demo: Path) -> House:
    return read_house(demo, load())


@pytest.fixture
def hung(house: House) -> dict[str, WindowAnswer]:
    return {window.number: window for window in hang(house, load()).windows}


def says(answer: WindowAnswer, level: str) -> str:
    return " ".join(finding.says for finding in answer.findings if finding.level == level)


def test_it_is_a_whole_house(house: House) -> None:
    assert len(house.windows) == 24
    assert {window.family for window in house.windows} == set(house.families)
    assert len(house.families) == 4
    assert {window.wall for window in house.windows} == set(house.walls)
    assert {window.storey for window in house.windows} == {1, 2, 3}
    for window in house.windows:
        assert window.room
        assert window.note
        assert len(window.note) < 200
        assert window.along is not None
        assert window.sill_above_ground is not None
    assert house.climate == "Portland, Maine"


def test_windows_on_a_wall_do_not_run_into_each_other(house: House) -> None:
    places: dict[tuple[str, int], list[tuple[float, float]]] = {}
    for window in house.windows:
        assert window.along is not None
        place = (window.along - window.width / 2, window.along + window.width / 2)
        places.setdefault((window.wall, window.storey), []).append(place)
    for row in places.values():
        row.sort()
        assert all(left[1] < right[0] for left, right in pairwise(row))


def test_the_twin_stands_as_far_apart_as_its_mullion(house: House) -> None:
    left, right = (w for w in house.windows if w.number in ("104", "105"))
    assert right.beside == left.number
    assert left.along is not None
    assert right.along is not None
    apart = right.along - left.along - (left.width + right.width) / 2
    family = house.families["parlor"]
    assert apart == pytest.approx(family.pocket.mullion + 2 * family.frame.pulley_stile)


@pytest.mark.parametrize("which", ["upper", "lower"])
def test_the_kitchen_needs_lead(which: str, hung: dict[str, WindowAnswer]) -> None:
    assert hung["106"].values[which]["weight_material"] == "lead"


def test_heavy_sash_on_chain(hung: dict[str, WindowAnswer]) -> None:
    lower: dict[str, Any] = hung["103"].values["lower"]
    assert lower["suspension"].startswith("chain")
    assert lower["sash_mass_kg"] > 20
    assert "climbs by itself" in says(hung["103"], "caution")


def test_what_the_scale_has_to_say(hung: dict[str, WindowAnswer]) -> None:
    assert hung["101"].values["upper"]["sash_mass_source"] == "weighed"
    assert "disagree" not in says(hung["101"], "caution")
    assert "disagree on the lower sash" in says(hung["102"], "caution")
    assert "weighed before painting" in says(hung["204"], "caution")


def test_heads_horns_strips_and_single_hung(house: House, hung: dict[str, WindowAnswer]) -> None:
    shapes = {window.number: window.head.shape for window in house.windows}
    assert shapes["109"] == "full arch"
    assert shapes["110"] == "segmental"
    assert house.families["chamber"].upper_sash.horn > 0
    assert house.families["chamber"].strips.sides == "interlocking-rib"
    assert hung["301"].values["upper"] is None
    assert "mullion pocket" in says(hung["105"], "note")


def test_most_windows_are_in_order_and_one_is_not(
    house: House, hung: dict[str, WindowAnswer]
) -> None:
    assert [number for number, answer in hung.items() if answer.worst == "fail"] == ["303"]
    assert "a larger wheel" in says(hung["303"], "fail")
    cautions = [number for number, answer in hung.items() if answer.worst == "caution"]
    assert len(cautions) < 8
    assert parts(house, load()).worst in ("ok", "note")
