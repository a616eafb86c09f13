"""Which weight is taken: the closing bias, the order of preference, and what the pocket allows."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.units import parse_length
from tests.chapters.houses import INCH, KNOWLEDGE, PLAIN, POUND, findings, hung, only

WEIGHED = {"upper": {"mass": "15 lb"}, "lower": {"mass": "16 lb"}}
LOW_AND_WIDE = {"width": 50, "height": 36}
"""Half of its height is travel: little is left for the weights."""
EIGHTH = INCH / 8


@pytest.mark.parametrize(
    ("tradition", "upper", "lower"),
    [
        ("even", 0.0, 0.0),
        ("pair-half-pound", 0.25 * POUND, -0.25 * POUND),
        ("each-quarter-kilo-to-half", 0.375, -0.375),
        ("each-three-eighths-pound", 0.375 * POUND, -0.375 * POUND),
    ],
)
def test_each_tradition_of_closing_bias(tradition: str, upper: float, lower: float) -> None:
    answer = hung({"hanging": {"bias": tradition}}, {**PLAIN, "measured": WEIGHED})
    assert answer.values["upper"]["weight_each_kg"] == pytest.approx(7.5 * POUND + upper)
    assert answer.values["lower"]["weight_each_kg"] == pytest.approx(8 * POUND + lower)
    (step,) = [s for s in answer.working if s.step == "weight on each side of the lower sash"]
    assert step.inputs["tradition"] == KNOWLEDGE.bias[tradition].name
    assert step.source == KNOWLEDGE.bias[tradition].source


def test_all_traditions_of_the_table_are_tried_above() -> None:
    assert set(KNOWLEDGE.bias) == {
        "even",
        "pair-half-pound",
        "each-quarter-kilo-to-half",
        "each-three-eighths-pound",
    }


def test_the_ordinary_weight_where_there_is_room() -> None:
    """Kidder, sec. 239: ordinary weights are cast-iron cylinders of about 1 1/2 in."""
    answer = hung({}, {**PLAIN, "measured": WEIGHED})
    for which in ("upper", "lower"):
        values = answer.values[which]
        assert values["weight_stock"] == "cast-iron-round-1-1-2"
        # 0.26 lb/in3 on 1.767 in2 is 0.46 lb to the inch, and 3/4 in of eye.
        body = values["weight_each_kg"] / POUND / 0.46 + 0.75
        assert values["weight_length_mm"] / 25.4 == pytest.approx(body, rel=0.003)
        only(answer, "ok", f"{which}.weight", "cast iron, round, 1 1/2 in")


def body_length(key: str, mass: float) -> float:
    """Length [m] of a stock weight, from densities in print and the section worked out here."""
    stock = KNOWLEDGE.weight_stock[key]
    density = {"cast-iron": 7200, "steel": 7850, "lead": 11340}[stock.material]
    area = stock.size**2 * (math.pi / 4 if stock.shape == "round" else 1)
    return mass / density / area + stock.eye


def test_lead_where_iron_and_steel_are_too_long() -> None:
    answer = hung({}, LOW_AND_WIDE)
    for which in ("upper", "lower"):
        values = answer.values[which]
        assert values["weight_material"] == "lead"
        mass, longest = values["weight_each_kg"], values["longest_weight_mm"] / 1000
        for key, stock in KNOWLEDGE.weight_stock.items():
            if stock.material != "lead" and stock.size * 1000 <= values["thickest_weight_mm"]:
                assert body_length(key, mass) > longest, key
        taken = body_length(values["weight_stock"], mass)
        assert values["weight_length_mm"] / 1000 == pytest.approx(taken, abs=1e-6)
        assert taken <= longest


def test_the_shop_says_which_materials_come_first() -> None:
    first = hung({"hanging": {"weight_materials": ["lead", "cast-iron"]}})
    assert first.values["lower"]["weight_stock"] == "lead-round-1-1-2"
    square = hung({"hanging": {"weight_shapes": ["square"]}})
    assert square.values["lower"]["weight_stock"] == "cast-iron-square-1-1-2"


def test_a_material_by_another_of_its_names() -> None:
    answer = hung({"hanging": {"weight_materials": ["grey iron", "Lead"]}})
    assert answer.values["lower"]["weight_stock"] == "cast-iron-round-1-1-2"


# --- nothing fits: the reason, and what would ------------------------------------------


def test_nothing_fits_and_another_material_would() -> None:
    family = {"hanging": {"weight_materials": ["cast-iron"]}}
    answer = hung(family, LOW_AND_WIDE)
    fail = only(answer, "fail", "lower.weight", "No allowed weight")
    # 3.09 kg in 1 1/2 in square, 0.585 lb to the inch, and the eye: 12.39 in, the shortest of iron.
    assert 'square cast iron (grey) 1 1/2" would be 12 1/2" long' in fail.because
    assert 'the pocket takes 9 1/2"' in fail.because
    assert 'What would: square lead 1 1/2", 8 1/8" long; or a stop' in fail.says
    values = answer.values["lower"]
    assert values["weight_stock"] is values["weight_length_mm"] is values["spare_mm"] is None
    # What is said to fit does fit.
    allowed = hung({"hanging": {"weight_materials": ["cast-iron", "lead"]}}, LOW_AND_WIDE)
    assert allowed.values["lower"]["weight_section"] == "square 38.1 mm"


@pytest.mark.parametrize("height", [28, 29, 30])
@pytest.mark.parametrize("width", [52, 57, 61.5])
def test_nothing_fits_and_a_stop_would(width: float, height: float) -> None:
    window = {"width": width, "height": height}
    answer = hung({}, window)
    stops = {}
    for which in ("upper", "lower"):
        (fail,) = findings(answer, "fail", f"{which}.weight")
        told = re.search(r"shortens the travel to ([^,]+),", fail.says)
        assert told is not None
        stops[f"{which}_travel"] = told[1]
    stopped = hung({"hanging": stops}, window)
    assert not findings(stopped, "fail")
    # And no shorter than it needs to be.
    for which in ("upper", "lower"):
        assert stopped.values[which]["spare_mm"] <= EIGHTH * 1000


@pytest.mark.parametrize("height", [15, 16, 17])
def test_nothing_fits_and_a_deeper_pocket_would(height: float) -> None:
    window = {"width": 40, "height": height}
    family = {"hanging": {"knot_hole": 6}}
    answer = hung(family, window)
    told = [
        re.search(r"a pocket floor (.+) deeper", f.says)
        for f in findings(answer, "fail")
        if f.on.endswith(".weight")
    ]
    deeper = max(parse_length(found[1]) for found in told if found is not None)
    fits = hung({**family, "pocket": {"floor_below_sill": f"{deeper} m"}}, window)
    assert fits.values["lower"]["weight_length_mm"] is not None
    assert fits.values["upper"]["weight_length_mm"] is not None


def test_nothing_is_slim_enough_and_a_larger_wheel_would() -> None:
    """1 3/4 in wheel and 1/4 in cord: the weight's middle 9/16 in behind the stile, so 1 in thick."""
    answer = hung({"hanging": {"pulley": "plain-1-3-4"}})
    values = answer.values["lower"]
    assert values["thickest_weight_mm"] == pytest.approx(25.4)
    fail = only(answer, "fail", "lower.weight", "a larger wheel")
    assert 'no weight thicker than 1"' in fail.because
    assert 'thinnest of the allowed stock is 1 1/4"' in fail.because
    assert hung({"hanging": {"pulley": "plain-2"}}).values["lower"]["weight_stock"] is not None


# --- limits of the section -------------------------------------------------------------


def thickest_in_inches(family: dict[str, Any]) -> float:
    thickest: float = hung(family).values["lower"]["thickest_weight_mm"] / 25.4
    return thickest


@pytest.mark.parametrize(
    ("wheel", "stile", "by_hand"),
    # Twice what is left of: wheel + 1/4 in cord - 5/16 in before the face - stile - 1/16 in.
    [("plain-2", 1.125, 1.5), ("plain-2", 0.875, 2.0), ("plain-2-1-2", 1.125, 2.5)],
)
def test_thickness_by_the_back_of_the_pulley_stile(
    wheel: str, stile: float, by_hand: float
) -> None:
    family = {
        "frame": {"pulley_stile": stile},
        "hanging": {"pulley": wheel},
        "pocket": {"across": 6},
    }
    assert thickest_in_inches(family) == pytest.approx(by_hand, abs=1e-4)


@pytest.mark.parametrize(
    ("across", "by_hand"),
    # The weight's middle hangs 13/16 in behind the stile: twice (across - 13/16 - 1/16) in.
    [(2.25, 1.5), (1.5, 1.25), (1.375, 1.0)],
)
def test_thickness_by_the_width_of_the_pocket(across: float, by_hand: float) -> None:
    assert thickest_in_inches({"pocket": {"across": across}}) == pytest.approx(by_hand, abs=1e-4)


def test_a_narrow_pocket_takes_a_slim_weight() -> None:
    answer = hung({"pocket": {"across": 1.5}})
    assert answer.values["lower"]["weight_stock"] == "cast-iron-round-1-1-4"


@pytest.mark.parametrize(
    "pocket",
    [
        # Middles 1 15/16 in apart, 1/16 in clear outside: twice (3 3/8 - 1 15/16 - 2/16).
        {"depth": 3.375},
        # 1/16 in clear on each side of the strip: twice (1 15/16 - 1/2 - 2/16).
        {"pendulum": 0.5},
    ],
    ids=["depth through the wall", "pendulum"],
)
def test_the_weight_of_the_other_sash(pocket: dict[str, float]) -> None:
    """2 5/8 in for both: 1 3/8 and 1 1/4 pass each other, two of 1 1/2 do not."""
    answer = hung({"pocket": pocket})
    sizes = [answer.values[which]["weight_size_mm"] / 25.4 for which in ("upper", "lower")]
    assert sizes == pytest.approx([1.375, 1.25])


@pytest.mark.parametrize(
    "pocket", [{"depth": 3.25}, {"pendulum": 0.625}], ids=["depth", "pendulum"]
)
def test_no_two_weights_pass(pocket: dict[str, float]) -> None:
    """2 3/8 in for both is less than twice the slimmest, 1 1/4 in: the lower sash has it."""
    answer = hung({"pocket": pocket})
    assert answer.values["lower"]["weight_size_mm"] == pytest.approx(1.25 * 25.4)
    assert answer.values["upper"]["weight_stock"] is None
    fail = only(answer, "fail", "upper.weight", "pendulum")
    assert 'the other sash\'s weight, 1 1/4" thick, only 1 1/8" is left' in fail.because


def test_a_single_hung_sash_has_the_pocket_to_itself() -> None:
    alone = hung({"pocket": {"pendulum": 0.625}}, {**PLAIN, "hung": "single"})
    assert alone.values["lower"]["weight_stock"] == "cast-iron-round-1-1-2"


def sixteenths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 16), round(high * 16)).map(lambda n: n / 16)


@given(
    across=sixteenths(1.5, 4),
    depth=sixteenths(3, 7),
    pendulum=st.sampled_from([0, 0.25, 0.375]),
    pulley=st.sampled_from(["plain-2", "plain-2-1-4", "plain-2-1-2", "plain-3"]),
    stile=sixteenths(0.75, 1.25),
    thickness=st.sampled_from([1.375, 1.75, 2.25]),
    width=sixteenths(20, 60),
    height=sixteenths(32, 100),
)
def test_a_chosen_weight_touches_nothing(
    across: float,
    depth: float,
    pendulum: float,
    pulley: str,
    stile: float,
    thickness: float,
    width: float,
    height: float,
) -> None:
    """Whatever the window: the weight clears stile, back, outer sides, pendulum and its neighbour."""
    family = {
        "sash": {"thickness": thickness},
        "frame": {"pulley_stile": stile},
        "pocket": {"across": across, "depth": depth, "pendulum": pendulum},
        "hanging": {"pulley": pulley, "suspension": "cotton-8"},
    }
    answer = hung(family, {"width": width, "height": height})
    least = 1 / 16 - 1e-4
    sizes = []
    for which in ("upper", "lower"):
        values = answer.values[which]
        if values["weight_stock"] is None:
            assert findings(answer, "fail", f"{which}.weight")
            continue
        size = values["weight_size_mm"] / 25.4
        sizes.append(size)
        wheel = KNOWLEDGE.pulley[pulley].wheel_diameter / INCH + 0.25
        middle = wheel - 5 / 16 - stile
        assert middle - size / 2 >= least
        assert across - middle - size / 2 >= least
        assert values["weight_length_mm"] <= values["longest_weight_mm"] + 1e-3
    if len(sizes) == 2:
        # Bead, one play of the track and one thickness lie between the middles of both sash.
        apart = 0.5 + 1 / 16 + thickness
        sides = 2 * least if pendulum else least
        assert apart - sum(sizes) / 2 - pendulum >= sides
        assert depth - apart - sum(sizes) / 2 >= 2 * least


# --- the cover of the pocket ---------------------------------------------------------


def test_pocket_cover() -> None:
    assert not findings(hung({"pocket": {"cover_height": 20}}), "note", "lower.weight")
    long = hung({"pocket": {"cover_height": 12}})
    note = only(long, "note", "lower.weight", "longer than the pocket hole")
    assert 'hole 12"' in note.because
    none = hung({"pocket": {"cover_height": 0}})
    only(none, "caution", "lower.weight", "no pocket cover")
