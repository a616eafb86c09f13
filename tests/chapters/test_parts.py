"""Every piece of a sash and the glass to cut, by hand in inches.

The plain window: opening 32 by 66 in; clearance 1/16 at each side and at the head, none at the sill.
Stiles and top rail 2, meeting rails 1 1/8, bottom rail 3, thickness 1 3/8, rabbet 3/16 by 1/2.
Daylight of both sash together: 66 - 1/16 - 2 - 1 1/8 - 3 = 59 13/16, 29 29/32 for each.
"""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.parts import parts
from sashwright.window.spec import House
from tests.chapters.houses import INCH, KNOWLEDGE, PLAIN, findings, house_of, only, taken_apart

DAYLIGHT = 29 + 29 / 32
SHOULDER = 27.875  # 32 - 2/16 - 2 x 2
ROUNDED = 1e-4  # answers are rounded to a thousandth of a millimetre


def row(answer: WindowAnswer, sash: str, name: str) -> dict[str, Any]:
    """The one row of this piece."""
    pieces: list[dict[str, Any]] = answer.values["parts"]
    (found,) = [r for r in pieces if (r["sash"], r["name"]) == (sash, name)]
    return found


def sizes(piece: dict[str, Any]) -> list[float]:
    """Length, shoulder, width and thickness [in]."""
    names = ("length_mm", "shoulder_mm", "width_mm", "thickness_mm")
    return [piece[name] / 1000 / INCH for name in names]


def glass(answer: WindowAnswer, sash: str) -> list[dict[str, Any]]:
    return [r for r in answer.values["glass"] if r["sash"] == sash]


# Meeting rail at its thickest: half of the gap of 1/2 + 1/16 - 1/32, and the bevel of 12 degrees over
# half of 1 1/8.
CLOSING = 1.375 + (0.5 + 1 / 16 - 1 / 32) / 2 + math.tan(math.radians(12)) * 1.125 / 2

BY_HAND = {
    ("upper", "stile"): (2, DAYLIGHT + 2 + 1.125, DAYLIGHT + 2 + 1.125, 2, 1.375),
    ("upper", "top rail"): (1, SHOULDER + 4, SHOULDER, 2, 1.375),
    ("upper", "meeting rail"): (1, SHOULDER + 4, SHOULDER, 1.125, CLOSING),
    ("lower", "stile"): (2, DAYLIGHT + 3 + 1.125, DAYLIGHT + 3 + 1.125, 2, 1.375),
    ("lower", "bottom rail"): (1, SHOULDER + 4, SHOULDER, 3, 1.375),
    ("lower", "meeting rail"): (1, SHOULDER + 4, SHOULDER, 1.125, CLOSING),
}


def test_pieces_of_a_plain_window() -> None:
    answer = taken_apart({})
    found = {(r["sash"], r["name"]): (r["count"], *sizes(r)) for r in answer.values["parts"]}
    assert found.keys() == BY_HAND.keys()
    for piece, by_hand in BY_HAND.items():
        assert found[piece] == pytest.approx(by_hand, abs=ROUNDED), piece


def test_sash_of_a_plain_window() -> None:
    values = taken_apart({}).values
    for which, rails in (("upper", 2 + 1.125), ("lower", 3 + 1.125)):
        size = [values[which][f"{name}_mm"] / 25.4 for name in ("width", "height", "thickness")]
        assert size == pytest.approx([31.875, DAYLIGHT + rails, 1.375], abs=ROUNDED)


def test_joints_without_and_with_horns() -> None:
    plain, horned = taken_apart({}), taken_apart({"sash": {"horn": 2}})
    for which in ("upper", "lower"):
        assert row(plain, which, "meeting rail")["joint"] == "bridle joint"
        assert row(horned, which, "meeting rail")["joint"] == "through tenon"
        longer = sizes(row(horned, which, "stile"))[0] - sizes(row(plain, which, "stile"))[0]
        assert longer == pytest.approx(2, abs=ROUNDED)
        # Only the stiles grow: two ends of 2 by 1 3/8, less rabbet and moulding.
        for name in ("meeting rail", "top rail" if which == "upper" else "bottom rail"):
            assert sizes(row(horned, which, name)) == sizes(row(plain, which, name))
        # The sash between its outer edges is as high as before.
        assert horned.values[which]["height_mm"] == plain.values[which]["height_mm"]


def test_blind_tenons_stop_half_an_inch_short() -> None:
    answer = taken_apart({"sash": {"tenon": "blind"}})
    rail = row(answer, "lower", "bottom rail")
    assert sizes(rail)[:2] == pytest.approx([SHOULDER + 2 * 1.5, SHOULDER], abs=ROUNDED)
    assert rail["joint"] == "blind tenon, haunched"


def test_a_blind_tenon_moves_wood_from_the_rail_to_the_stile() -> None:
    through, blind = taken_apart({}), taken_apart({"sash": {"tenon": "blind"}})
    for which in ("upper", "lower"):
        assert blind.values[which]["wood_cm3"] == pytest.approx(through.values[which]["wood_cm3"])
    # Nose 3/8 in (1 3/8 - 1/2 - 1/2); tenon two thirds of 3 - 3/16 in; 1/2 in short at either end.
    moved = 2 * 0.5 * 0.375 * (3 - 3 / 16) * 2 / 3 * INCH**3 * 1e6
    rails = [row(a, "lower", "bottom rail")["volume_cm3"] for a in (through, blind)]
    assert rails[0] - rails[1] == pytest.approx(moved)


def test_bars_of_a_two_over_two() -> None:
    answer = taken_apart({"sash": {"lites": "2x2"}})
    for which in ("upper", "lower"):
        upright = row(answer, which, "upright bar")
        # Stub tenons of 1/2 in at both ends.
        assert (upright["count"], *sizes(upright)) == pytest.approx(
            (1, DAYLIGHT + 1, DAYLIGHT, 0.875, 1.375), abs=ROUNDED
        )
        cross = row(answer, which, "cross bar")
        lite = (SHOULDER - 0.875) / 2
        # Tenoned into the stile, coped to the upright.
        assert (cross["count"], *sizes(cross)) == pytest.approx(
            (2, lite + 0.5, lite, 0.875, 1.375), abs=ROUNDED
        )
        assert cross["joint"] == "coped to the upright"


def test_a_cross_bar_from_stile_to_stile() -> None:
    answer = taken_apart({"sash": {"lites": "1x2"}})
    cross = row(answer, "upper", "cross bar")
    assert (cross["count"], *sizes(cross)) == pytest.approx(
        (1, SHOULDER + 1, SHOULDER, 0.875, 1.375), abs=ROUNDED
    )
    assert cross["joint"] == "stub tenons"


def test_middle_cross_bars_have_no_tenon() -> None:
    answer = taken_apart({"sash": {"lites": "3x2"}})
    lite = (SHOULDER - 2 * 0.875) / 3
    bars = [r for r in answer.values["parts"] if (r["sash"], r["name"]) == ("upper", "cross bar")]
    short, long = sorted(bars, key=lambda bar: float(bar["length_mm"]))
    assert (sizes(short)[0], short["count"]) == pytest.approx((lite, 1), abs=ROUNDED)
    assert (sizes(long)[0], long["count"]) == pytest.approx((lite + 0.5, 2), abs=ROUNDED)


# --- glass ----------------------------------------------------------------------------


def test_glass_of_a_plain_window() -> None:
    """Daylight and a lap of 3/16 - 1/16 on each side."""
    for which in ("upper", "lower"):
        (pane,) = glass(taken_apart({}), which)
        assert pane["glass"] == "double-strength"
        assert pane["count"] == 1
        cut = (pane["width_mm"] / 25.4, pane["height_mm"] / 25.4)
        assert cut == pytest.approx((SHOULDER + 0.25, DAYLIGHT + 0.25), abs=ROUNDED)
        area = (SHOULDER + 0.25) * (DAYLIGHT + 0.25) * INCH**2
        assert pane["area_m2"] == pytest.approx(area)
        assert pane["arched"] is False
        assert pane["edge_heights_mm"] is pane["arc_radius_mm"] is None


def test_glass_of_a_six_over_one() -> None:
    answer = taken_apart({"upper": {"lites": "3x2"}})
    (upper,) = glass(answer, "upper")
    assert upper["count"] == 6
    cut = (upper["width_mm"] / 25.4, upper["height_mm"] / 25.4)
    by_hand = ((SHOULDER - 2 * 0.875) / 3 + 0.25, (DAYLIGHT - 0.875) / 2 + 0.25)
    assert cut == pytest.approx(by_hand, abs=ROUNDED)


def test_unequal_lites_are_listed_apart() -> None:
    """Border lites: shares of 1, 4, 1 of 26 1/8 in."""
    lites = {"columns": 3, "rows": 1, "column_shares": [1, 4, 1]}
    rows = glass(taken_apart({"upper": {"lites": lites}}), "upper")
    border, middle = sorted(rows, key=lambda r: float(r["width_mm"]))
    clear = SHOULDER - 2 * 0.875
    cut = [border["width_mm"] / 25.4, middle["width_mm"] / 25.4]
    assert cut == pytest.approx([clear / 6 + 0.25, clear * 4 / 6 + 0.25], abs=ROUNDED)
    assert (border["count"], middle["count"]) == (2, 1)


def test_every_layer_of_an_insulating_unit() -> None:
    sash = {
        "thickness": "1 3/4",
        "rabbet_depth": "3/4",
        "glazing": {"panes": ["double-strength", "single-strength"], "gaps": ["1/4"]},
    }
    answer = taken_apart({"sash": sash})
    assert [(r["glass"], r["count"]) for r in glass(answer, "lower")] == [
        ("single-strength", 1),
        ("double-strength", 1),
    ]
    area = (SHOULDER + 0.25) * (DAYLIGHT + 0.25) * INCH**2
    assert answer.values["lower"]["glass_m2"] == pytest.approx(2 * area)


def test_glass_under_a_segmental_head() -> None:
    """Rise 4 on 32: radius 34, of the sash 34 - 1/16, of its sight line 2 less, of its glass 1/8 more.

    The crown of the glass lies 1/8 in above the sight line, its edges where the arc meets them.
    """
    window = {"width": 32, "height": 70, "head": {"shape": "segmental", "rise": 4}}
    (pane,) = glass(taken_apart({}, window), "upper")
    radius = 34 - 1 / 16 - 2 + 1 / 8
    assert pane["arched"] is True
    assert pane["arc_radius_mm"] / 25.4 == pytest.approx(radius, abs=ROUNDED)
    crown = (70 - 1 / 16 - 2 - 1.125 - 3) / 2 + 0.25
    assert pane["height_mm"] / 25.4 == pytest.approx(crown, abs=ROUNDED)
    half = SHOULDER / 2 + 1 / 8
    edge = crown - radius + math.sqrt(radius**2 - half**2)
    edges = [value / 25.4 for value in pane["edge_heights_mm"]]
    assert edges == pytest.approx([edge, edge], abs=ROUNDED)
    # Area: the rectangle up to the springing, and the segment above it.
    angle = math.asin(half / radius)
    segment = radius**2 * angle - half * math.sqrt(radius**2 - half**2)
    area = (2 * half * edge + segment) * INCH**2
    assert pane["area_m2"] == pytest.approx(area)


def test_the_curved_head_is_sawn_from_a_board_as_high_as_its_rise() -> None:
    window = {"width": 32, "height": 70, "head": {"shape": "segmental", "rise": 4}}
    head = row(taken_apart({}, window), "upper", "curved head rail")
    sight = 34 - 1 / 16 - 2
    board = 2 + sight - math.sqrt(sight**2 - (SHOULDER / 2) ** 2)
    by_hand = (SHOULDER, SHOULDER, board, 1.375)
    assert sizes(head) == pytest.approx(by_hand, abs=ROUNDED)


def test_little_lap_is_noticed() -> None:
    tight = taken_apart({"sash": {"glazing": {"clearance": "3/32"}}})
    caution = only(tight, "caution", "upper.glass", "laps the rabbet by only")
    assert caution.says.endswith('by only 3/32" on each side.')
    assert caution.because.startswith('less than 1/8"')
    assert not findings(taken_apart({}), "caution")


# --- sums ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("family", "window"),
    [
        ({}, PLAIN),
        ({"sash": {"lites": "3x2", "horn": 2, "tenon": "blind"}}, PLAIN),
        ({"upper": {"lites": "2x2"}}, {"width": 32, "height": 70, "head": {"shape": "full arch"}}),
        ({"upper": {"wood": "mahogany", "thickness": "1 3/4"}}, PLAIN),
    ],
)
def test_pieces_add_up(family: dict[str, Any], window: dict[str, Any]) -> None:
    answer = taken_apart(family, window)
    for which in ("upper", "lower"):
        rows = [r for r in answer.values["parts"] if r["sash"] == which]
        volume = sum(r["volume_cm3"] * r["count"] for r in rows)
        assert volume == pytest.approx(answer.values[which]["wood_cm3"])
        density = {round(r["mass_kg"] / r["volume_cm3"], 9) for r in rows}
        assert len(density) == 1
        area = sum(r["area_m2"] * r["count"] for r in glass(answer, which))
        assert area == pytest.approx(answer.values[which]["glass_m2"])


def test_each_sash_of_its_own_wood() -> None:
    answer = taken_apart({"upper": {"wood": "mahogany"}})
    assert row(answer, "upper", "stile")["wood"] == "mahogany"
    assert row(answer, "lower", "stile")["wood"] == "eastern-white-pine"


def test_the_plain_sash_balances_below_its_middle() -> None:
    """The bottom rail outweighs the meeting rail; nothing pulls to a side."""
    x, y, z = taken_apart({}).values["lower"]["centre_mm"]
    assert x == pytest.approx(0, abs=1e-6)
    assert 0.47 < y / (DAYLIGHT + 4.125) / 25.4 < 0.5
    # Glass and putty lie in the weather half of the thickness.
    assert 0.3 < z / 25.4 / 1.375 < 0.5


# --- the answer -------------------------------------------------------------------------


def test_json_round_trip() -> None:
    arched = {"width": 32, "height": 70, "head": {"shape": "full arch"}}
    house = house_of({"upper": {"lites": "2x2"}}, PLAIN, arched)
    answer = parts(house, KNOWLEDGE).to_dict()
    assert json.loads(json.dumps(answer, allow_nan=False)) == answer
    assert answer["chapter"] == "parts"


def test_a_contradictory_window_says_what_is_wrong() -> None:
    document = {
        "name": "x",
        "families": {"A": {}},
        "windows": [
            {
                "number": "1",
                "family": "A",
                "width": 6,
                "height": 66,
                "changes": {"sash": {"stile": 3}},
            },
            {"number": "2", "family": "A", **PLAIN},
        ],
    }
    house = House.model_validate(document, context={"system": "us"})
    bad, good = parts(house, KNOWLEDGE).windows
    assert bad.values == {}
    assert bad.worst == "fail"
    assert any(f.on == "width" for f in bad.findings)
    assert good.values == taken_apart({}).values


def test_steps_show_how_the_sizes_come_about() -> None:
    steps = {step.step: step for step in taken_apart({}).working}
    width = steps["width of the lower sash"]
    by_hand = width.inputs["opening_m"] - 2 * width.inputs["side_clearance_m"]
    assert width.result == pytest.approx(by_hand)
    daylight = steps["daylight of the lower sash"].result
    assert daylight == pytest.approx([SHOULDER * INCH, DAYLIGHT * INCH])
    for step in steps.values():
        assert step.formula
        assert step.source
