"""The demo house shows what is hard about sash, and hangs together."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.fit import fit
from sashwright.chapters.hang import hang
from sashwright.chapters.parts import parts
from sashwright.chapters.seal import seal
from sashwright.chapters.season import season
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house
from sashwright.record.outdoors import outdoors_of
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


# --- the year ---------------------------------------------------------------------

LATE_SUMMER = range(213, 274)
"""Days of August and September, counted from 1."""


def fitted(house: House, *numbers: str) -> dict[str, WindowAnswer]:
    climate = outdoors_of(house).daily(house)
    return {each.number: each for each in fit(house, load(), climate, numbers or None).windows}


def planed(house: House, number: str, off: float) -> House:
    """The house with the stiles of a window's sash planed by ``off`` [m] on each side."""
    windows = {window.number: window for window in house.windows}
    window = windows[number]
    frame = window.changes.frame
    assert frame is not None
    assert frame.side_clearance is not None
    less = frame.model_copy(update={"side_clearance": frame.side_clearance + off})
    changes = window.changes.model_copy(update={"frame": less})
    windows[number] = window.model_copy(update={"changes": changes})
    return house.model_copy(update={"windows": tuple(windows.values())})


def test_one_window_sticks_in_late_summer_until_it_is_planed(house: House) -> None:
    found = fitted(house)
    fails = [number for number, answer in found.items() if answer.worst == "fail"]
    assert fails == ["209"]
    places = found["209"].values["clearances"]
    sticks = [name for name, place in places.items() if place["binding_days"]]
    assert sticks == ["upper.sides", "lower.sides"]
    binding = [place["binding_days"] for place in places.values()]
    assert 7 < max(binding) < 61
    curves = found["209"].values["curves"]["clearance_mm"]
    for name in sticks:
        closed = [day for day, gap in enumerate(curves[name]["usual"], 1) if gap <= 0.1]
        assert set(closed) <= set(LATE_SUMMER)
    off = max(places[name]["relief_mm"] for name in sticks) / 1000
    after = fitted(planed(house, "209", off), "209")["209"]
    assert all(not place["binding_days_at_worst"] for place in after.values["clearances"].values())
    assert all(not place["rattling_days"] for place in after.values["clearances"].values())
    assert after.worst in ("ok", "note")


def test_the_reading_of_the_meter_is_used_and_agrees(house: House) -> None:
    answer = fitted(house, "201")["201"]
    assert answer.values["moisture"]["lower"]["source"] == "meter"
    assert answer.values["moisture"]["upper"]["source"] == "estimated"
    assert answer.worst in ("ok", "note")


def test_a_draught_at_one_meeting_rail(house: House) -> None:
    answer = seal(house, load())
    leaks = {window.number: window for window in answer.windows}
    meeting = [n for n, each in leaks.items() if each.values["worst_path"] == "meeting rail"]
    assert meeting == ["203"]
    assert "Most air gets by at the meeting rails" in says(leaks["203"], "caution")
    first = leaks["203"].values["steps"][0]
    assert first["path"] == "meeting rail"
    # The fan found more than the windows alone let through, as it must.
    assert 0 < answer.values["windows_share"] < 1


def test_storms_and_screens_change_all_round_the_house(house: House) -> None:
    answer = season(house, load(), place=outdoors_of(house).place)
    numbers = [row["number"] for row in answer.values["swaps"]]
    assert numbers == [window.number for window in house.windows if window.number != "207"]
    assert {row["wall"] for row in answer.values["swaps"]} == set(house.walls)
    assert {row["storey"] for row in answer.values["swaps"]} == {1, 2, 3}
    assert [row["number"] for row in answer.values["swaps"] if not row["screen"]] == [
        "301", "302", "303", "304",
    ]  # fmt: skip
    combination = next(window for window in answer.windows if window.number == "207")
    assert "stays up all year" in says(combination, "note")
    assert answer.worst != "fail"
    weeks = answer.values["changeover"]
    assert weeks["screens_on_from"]["day"] < weeks["storms_on_from"]["day"]
