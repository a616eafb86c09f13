"""Both ends of the travel: the weight clears the pulley above and the pocket floor below.

Everything is worked out again here, in inches, from the window's own sizes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import pytest

from tests.chapters.houses import INCH, PLAIN, hung, only

HUNDREDTH_MM = 0.01
"""Answers are rounded to a thousandth of a millimetre."""

# The specification's own sizes [in].
HEAD, TOP_RAIL, MEETING_RAIL, BOTTOM_RAIL, THICKNESS = 1 / 16, 2, 1.125, 3, 1.375
BEAD, PLAY, GAP, SLOPE, BEVEL = 0.5, 1 / 16, 1 / 32, 14, 12
DROP, KNOT, TOP_CLEAR, BOTTOM_CLEAR, EYE = 4.5, 10, 2, 3, 0.75


@dataclass(frozen=True)
class Ends:
    """One case by hand [in]: heights above the sill, both sash closed, square head."""

    height: float
    horn: float = 0
    floor: float = 0

    @property
    def meets(self) -> float:
        """Equal daylight: (height - head - top rail) and (bottom rail + meeting rail), averaged."""
        return (self.height - HEAD - TOP_RAIL + BOTTOM_RAIL + MEETING_RAIL) / 2

    @property
    def lower_travel(self) -> float:
        """From the top of the lower sash, or of its horns, to the head."""
        return self.height - self.meets - self.horn

    @property
    def upper_travel(self) -> float:
        """From its bottom, or that of its horns, to the sill.

        The sill slopes down outward; the closing face, thickest at its lower edge, reaches nearest to
        the parting bead, and there the sill is highest.
        """
        closing = (BEAD + PLAY - GAP) / 2 + math.tan(math.radians(BEVEL)) * MEETING_RAIL / 2
        outside = BEAD + PLAY / 2 - closing
        sill = -outside * math.tan(math.radians(SLOPE))
        return self.meets - MEETING_RAIL - self.horn - sill

    @property
    def pulley(self) -> float:
        return self.height - DROP


CASES: dict[str, tuple[Ends, dict[str, Any]]] = {
    "plain": (Ends(66), {}),
    "tall": (Ends(96), {}),
    "low": (Ends(40), {}),
    "with horns": (Ends(66, horn=2), {"sash": {"horn": 2}}),
    "with a deep pocket": (Ends(66, floor=-2.5), {"pocket": {"floor_below_sill": 2.5}}),
}


def inches(value: float) -> float:
    """Inches of an answer's millimetres."""
    return value / 1000 / INCH


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("which", ["upper", "lower"])
def test_weight_at_both_ends(case: str, which: str) -> None:
    ends, family = CASES[case]
    values = hung(family, {**PLAIN, "height": ends.height}).values[which]
    places = values["positions"]
    travel = ends.upper_travel if which == "upper" else ends.lower_travel
    assert values["travel_mm"] == pytest.approx(travel * INCH * 1000, abs=HUNDREDTH_MM)

    # The weight is highest with the lower sash shut, or with the upper sash opened.
    high = ends.pulley - TOP_CLEAR
    low = high - travel
    shut, opened = (low, high) if which == "upper" else (high, low)
    assert inches(places["weight_top_closed_mm"]) == pytest.approx(shut, abs=4e-4)
    assert inches(places["weight_top_open_mm"]) == pytest.approx(opened, abs=4e-4)

    length = inches(values["weight_length_mm"])
    bottoms = [inches(places[f"weight_bottom_{at}_mm"]) for at in ("closed", "open")]
    assert max(bottoms) == pytest.approx(high - length, abs=4e-4)
    above_floor = min(bottoms) - ends.floor
    assert above_floor >= BOTTOM_CLEAR - 4e-4
    # What is to spare is just what is left above the clearance.
    assert inches(values["spare_mm"]) == pytest.approx(above_floor - BOTTOM_CLEAR, abs=1e-3)
    longest = ends.pulley - ends.floor - travel - TOP_CLEAR - BOTTOM_CLEAR
    assert inches(values["longest_weight_mm"]) == pytest.approx(longest, abs=4e-4)


@pytest.mark.parametrize("case", CASES)
def test_cord_lengths(case: str) -> None:
    """Run to the knot, half a turn of the wheel, drop to the weight, 7 in of ties."""
    ends, family = CASES[case]
    answer = hung(family, {**PLAIN, "height": ends.height})
    half_turn = math.pi * (2 + 0.25) / 2  # 2 in wheel, 1/4 in cord
    lower = (ends.pulley - (ends.meets + ends.horn - KNOT)) + half_turn + TOP_CLEAR + 7
    upper = (ends.pulley - (ends.height - HEAD - KNOT)) + half_turn
    upper += TOP_CLEAR + ends.upper_travel + 7
    assert inches(answer.values["lower"]["cord_each_mm"]) == pytest.approx(lower, abs=4e-4)
    assert inches(answer.values["upper"]["cord_each_mm"]) == pytest.approx(upper, abs=4e-4)


@pytest.mark.parametrize("which", ["upper", "lower"])
def test_a_stop_shortens_the_travel_and_lengthens_the_weight(which: str) -> None:
    free = hung({}).values[which]
    stopped = hung({"hanging": {f"{which}_travel": 20}}).values[which]
    assert inches(stopped["travel_mm"]) == pytest.approx(20)
    gained = stopped["longest_weight_mm"] - free["longest_weight_mm"]
    assert gained == pytest.approx(free["travel_mm"] - stopped["travel_mm"], abs=HUNDREDTH_MM)


def test_a_stop_beyond_the_end_changes_nothing() -> None:
    assert hung({"hanging": {"lower_travel": 60}}).values == hung({}).values


def test_horns_that_reach_the_head_leave_no_travel() -> None:
    """Meeting rails at 9 of 14 in, horns of 5 in."""
    answer = hung({"sash": {"horn": 5}}, {"width": 24, "height": 14, "meeting_height": 9})
    assert answer.values["lower"]["travel_mm"] == pytest.approx(0, abs=HUNDREDTH_MM)
    only(answer, "caution", "lower.sash", "has no travel")


ARCHES: dict[str, tuple[dict[str, Any], float]] = {
    # The head 70 in at its crown; by how much the springing lies below it [in].
    "full arch": ({"shape": "full arch"}, 16.0),
    "segmental": ({"shape": "segmental", "rise": 4}, 4.0),
}


@pytest.mark.parametrize("shape", ARCHES)
def test_under_an_arch_the_lower_sash_stops_at_the_springing(shape: str) -> None:
    head, rise = ARCHES[shape]
    answer = hung({}, {"width": 32, "height": 70, "head": head})
    springing = 70 - rise
    meets = (70 - HEAD - TOP_RAIL + BOTTOM_RAIL + MEETING_RAIL) / 2
    lower = answer.values["lower"]
    assert inches(lower["travel_mm"]) == pytest.approx(springing - meets, abs=4e-4)
    # The pulley sits below the springing, where the pulley stile ends.
    assert inches(lower["positions"]["pulley_height_mm"]) == pytest.approx(springing - DROP)
    longest = springing - DROP - (springing - meets) - TOP_CLEAR - BOTTOM_CLEAR
    assert inches(lower["longest_weight_mm"]) == pytest.approx(longest, abs=4e-4)


def test_the_knot_of_an_arched_sash_is_measured_from_the_end_of_its_stile() -> None:
    """Segmental head, 32 in wide, rise 4: radius 34, the sash's own radius 34 - 1/16 in.

    Its stile ends where that arc meets its edge, 15 15/16 in from the middle.
    """
    answer = hung({}, {"width": 32, "height": 70, "head": {"shape": "segmental", "rise": 4}})
    radius, centre = 34 - 1 / 16, 70 - 34
    stile_top = centre + math.sqrt(radius**2 - 15.9375**2)
    knot = inches(answer.values["upper"]["positions"]["knot_height_closed_mm"])
    assert knot == pytest.approx(stile_top - KNOT, abs=4e-4)


def test_sash_of_unequal_height() -> None:
    """Meeting rails at 40 of 66 in: the tall lower sash travels 26 in, the upper one nearly 39."""
    answer = hung({}, {**PLAIN, "meeting_height": 40})
    lower, upper = answer.values["lower"], answer.values["upper"]
    assert inches(lower["travel_mm"]) == pytest.approx(26)
    assert inches(upper["travel_mm"]) == pytest.approx(40 - 1.125 + 0.0364, abs=1e-4)
    assert lower["sash_mass_kg"] > upper["sash_mass_kg"] * 1.3
    longest = [inches(values["longest_weight_mm"]) for values in (lower, upper)]
    assert longest == pytest.approx([66 - 4.5 - 5 - 26, 66 - 4.5 - 5 - 38.9114], abs=1e-3)


def test_single_hung() -> None:
    answer = hung({}, {**PLAIN, "hung": "single"})
    assert answer.values["upper"] is None
    # An upper weight of 1 1/2 in beside it would not change its own.
    assert answer.values["lower"] == hung({}).values["lower"]
    only(answer, "note", "upper.sash", "The upper sash is fixed")
    assert not [f for f in answer.findings if f.on in ("upper.weight", "upper.cord")]
