"""Whole windows against the standards' tables, handbook values, and what was measured on old windows.

ISO 10077-1 annexes F, D and H, ASHRAE Fundamentals 2001 to 2009 (fenestration, table of U-factors) and the
rated-style values of double-hung windows are from memory; glazing data of the handbook as in a public copy
of the 2009 table. Measured: Historic Scotland Technical Paper 1 (Baker, 2008, with corrections of 2010) and
English Heritage with Glasgow Caledonian University (Wood, Bordass and Baker, 2009), key findings.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

import sashwright.record.demo
from sashwright.chapters.heat import heat_window
from sashwright.chapters.heat.glass import centre, panel, stack_of, sun_and_light, u_en
from sashwright.chapters.heat.say import BTU
from sashwright.chapters.heat.whole import (
    HANDBOOK_EDGES,
    Whole,
    covered,
    handbook_edge,
    put_together,
)
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house
from sashwright.window.resolve import place
from sashwright.window.spec import Glazing
from tests.chapters.houses import PLAIN, house_of

KNOWLEDGE = load()
CLEAR = panel("float-3mm", (), KNOWLEDGE)
LOW_E = panel("float-3mm", ("none", "hard-coat"), KNOWLEDGE)

# --- ISO 10077-1 ----------------------------------------------------------------------

SIZE = (1.23, 1.48)
"""Of the window that the standard's tables are made for [m]."""


def tabulated(glass: float, frame: float, share: float, psi: float) -> float:
    """U of the table's window, with a frame of one width that takes a share of the area."""
    wide, high = SIZE
    area = wide * high
    # (w - 2b)(h - 2b) = (1 - share) w h
    half = (wide + high) / 2
    width = (half - (half * half - share * area) ** 0.5) / 2
    edge = 2 * (wide + high - 4 * width)
    inner = (1 - share) * area
    return put_together([(inner, glass)], [(edge, psi)], [(area - inner, frame)], area).u


@pytest.mark.parametrize(
    ("glass", "psi", "printed"),
    # ISO 10077-1:2006 table F.1 (30 % frame), columns Uf 1.4, 1.8, 2.2, 2.6: one decimal, from memory.
    [
        (5.7, 0.0, {1.4: 4.4, 1.8: 4.5, 2.2: 4.6, 2.6: 4.8}),
        (3.3, 0.06, {1.4: 2.9, 1.8: 3.0, 2.2: 3.1, 2.6: 3.2}),
        (2.8, 0.06, {1.4: 2.5, 1.8: 2.7, 2.2: 2.8, 2.6: 2.9}),
        (1.1, 0.08, {1.4: 1.4, 1.8: 1.5, 2.2: 1.6, 2.6: 1.7}),
    ],
)
def test_table_of_whole_windows(glass: float, psi: float, printed: Mapping[float, float]) -> None:
    for frame, value in printed.items():
        # Half a step of the one decimal, and the rounding of what goes in.
        assert tabulated(glass, frame, 0.3, psi) == pytest.approx(value, abs=0.055), frame


def test_window_a_by_hand() -> None:
    """1.00 x 1.60 m, two lights of 0.80 x 0.66 m: 4.576 with single glass, 2.815 with a sealed unit."""
    glass, frame = 1.056, 0.544
    single = put_together([(glass, 5.8)], [], [(frame, 2.2)], 1.6)
    double = put_together([(glass, 2.8)], [(5.84, 0.06)], [(frame, 2.2)], 1.6)
    assert single.u == pytest.approx(4.576, abs=5e-4)
    assert double.u == pytest.approx(2.815, abs=5e-4)


@pytest.mark.parametrize("width", [PLAIN["width"], "44"])
def test_a_storm_by_the_formula_for_two_windows(width: str) -> None:
    """1 / (1/U1 - Rsi + Rs - Rse + 1/U2) of ISO 10077-1, storm of single glass in a wood frame of 2.6.

    The formula joins two windows of one size by the resistance of the space all over; the sections follow
    each part. They agree within 8 %.
    """
    whole = Whole(place(house_of({"storm": "winter"}, {**PLAIN, "width": width}), "1", KNOWLEDGE))
    builds = whole.choices.builds
    alone, stormed = (whole.part(builds[key], "en").u for key in ("prime", "storm"))
    panels = whole.placed.storm_sash.panels
    outline = whole.placed.storm_sash.outline
    light = sum(lite.width * (lite.top - lite.bottom) for p in panels for lite in p.lites)
    area = outline.width * outline.height
    storm = put_together([(light, 5.8)], [], [(area - light, 2.6)], area).u
    joined = 1 / (1 / alone - 0.13 + 0.173 - 0.04 + 1 / storm)
    assert stormed == pytest.approx(joined, rel=0.08)


# --- handbook -------------------------------------------------------------------------


def glazing(*panes: str, **given: Any) -> Any:
    return stack_of(Glazing(panes=panes, **given), KNOWLEDGE)


@pytest.mark.parametrize(
    ("stack", "gain", "light"),
    [
        # IDs 1, 5, 17a and 17c: solar heat gain straight on, visible transmittance.
        (glazing("float-3mm"), 0.86, 0.90),
        (glazing("float-3mm", "float-3mm", gaps=(0.0127,)), 0.76, 0.81),
        (glazing("float-3mm", "float-3mm", gaps=(0.0127,), coatings=("none", "hard-coat-0.20")), 0.65, 0.76),
        (
            glazing("float-3mm", "float-3mm", gaps=(0.0127,), coatings=("none", "none", "hard-coat-0.20")),
            0.70,
            0.76,
        ),
    ],
)  # fmt: skip
def test_sun_and_light_of_the_handbook(stack: Any, gain: float, light: float) -> None:
    """The coating's own values are such that one of its two rows comes out; the other is a check."""
    ours = sun_and_light(stack, 1.0)
    assert ours == pytest.approx((gain, light), abs=0.02)


@pytest.mark.parametrize(
    ("coating", "gas", "u"),
    [("hard-coat-0.20", "air", 1.99), ("soft-coat-0.10", "air", 1.82)],
)
def test_coatings_of_the_table_at_the_centre(coating: str, gas: str, u: float) -> None:
    stack = glazing("float-3mm", "float-3mm", gaps=(0.0127,), gas=gas, coatings=("none", coating))
    assert centre(stack, 1.0).u == pytest.approx(u, abs=0.03)


@pytest.mark.parametrize(
    ("middle", "edge", "printed"),
    # IDs 4, 5, 7, 17, 21, 25 and 27, operable window with a wood or vinyl frame.
    [
        (3.12, 3.63, 3.12), (2.73, 3.35, 2.90), (2.56, 3.24, 2.78), (1.99, 2.84, 2.38), (1.82, 2.73, 2.27),
        (1.70, 2.61, 2.21), (1.42, 2.38, 1.99),
    ],
)  # fmt: skip
def test_whole_products_of_the_handbook(middle: float, edge: float, printed: float) -> None:
    """An operable product of 0.9 x 1.5 m with a frame 70 mm wide and of 2.9 W/(m2 K), by our sum.

    The rows of the table themselves imply frames of 2.7 to 3.15; a step of the inch-pound table is 0.057.
    """
    assert handbook_edge(middle) == pytest.approx(edge)
    wide, high = 0.9 - 0.14, 1.5 - 0.14
    inner = (wide - 0.127) * (high - 0.127)
    glass = wide * high
    ours = put_together([(inner, middle)], [(glass - inner, edge)], [(1.35 - glass, 2.9)], 1.35)
    assert ours.u == pytest.approx(printed, abs=0.06)
    assert dict(HANDBOOK_EDGES)[middle] == edge


# --- measured on old windows ----------------------------------------------------------


def test_single_glass_in_the_climate_chamber() -> None:
    """5.5 W/(m2 K) at the centre (Technical Paper 1); the chamber's films are a little less."""
    assert u_en(CLEAR) == pytest.approx(5.5, rel=0.06)


def test_low_e_secondary_glazing_in_the_climate_chamber() -> None:
    """1.7 W/(m2 K) at the centre, 63 % off (Technical Paper 1; 1.6 in a house after the correction)."""
    inside = CLEAR.inside(panel("float-4mm", ("hard-coat", "none"), KNOWLEDGE), 0.1)
    assert u_en(inside) == pytest.approx(1.7, rel=0.15)
    assert 1 - u_en(inside) / u_en(CLEAR) == pytest.approx(0.63, abs=0.05)
    # Without the coating no calculation comes near what was measured: it must have had one.
    assert u_en(CLEAR.inside(CLEAR, 0.1)) > 1.5 * 1.7


def test_polycarbonate_secondary_panel() -> None:
    """2.4 W/(m2 K) at the centre (Historic Scotland, fabric improvements); a plastic pane, uncoated.

    Ours is 13 to 18 % above: chamber films, and a film on the panel where it was closely fitted.
    """
    inside = CLEAR.inside(panel("acrylic-3-16", (), KNOWLEDGE), 0.1)
    assert 2.4 < u_en(inside) < 1.2 * 2.4


def test_shutters_are_as_good_as_their_air_space() -> None:
    """Measured 51 %: a closed space of 100 mm and 8 mm of wood would add 0.23 m2 K/W, measured are 0.19.

    The space by EN 673, wood of 0.13 W/(m K). Shutters leak at their edges, so the measured resistance
    must lie below that of the closed space, and well above nothing.
    """
    behind = CLEAR.inside(CLEAR, 0.1)
    closed = 1 / u_en(behind) - 1 / u_en(CLEAR) - 0.003 + 0.008 / 0.13
    assert 0.5 * closed < KNOWLEDGE.covering["shutters"].resistance < closed


@pytest.mark.parametrize(
    ("key", "reductions"),
    [
        # Heat-flow reductions of both studies: least and most.
        ("shutters", (0.51, 0.62)),
        ("shutters-insulated", (0.60, 0.71)),
        ("curtains-lined", (0.14, 0.41)),
        ("roller-blind", (0.22, 0.38)),
        ("roller-blind-old", (0.28, 0.28)),
        ("cellular-shade", (0.36, 0.45)),
    ],
)
def test_coverings_over_our_own_window_save_what_was_measured(
    key: str, reductions: tuple[float, float]
) -> None:
    """Over the glass of Technical Paper 1, by our own U of it: as the studies found, within a tenth."""
    u = u_en(CLEAR)
    saved = 1 - covered(u, KNOWLEDGE.covering[key].resistance) / u
    least, most = reductions
    assert 0.9 * least <= saved <= 1.1 * most


# --- the demo house -------------------------------------------------------------------

FILE = Path(sashwright.record.demo.__file__).parent / "house.toml"


@pytest.fixture(scope="module")
def demo() -> dict[str, dict[str, dict[str, Any]]]:
    """States of three windows: six over six, and two over two, with clear storms; plate with a low-e one."""
    house = read_house(FILE, KNOWLEDGE)
    return {
        number: {
            row["key"]: row
            for row in heat_window(place(house, number, KNOWLEDGE)).values["alternatives"]
        }
        for number in ("101", "104", "201")
    }


def test_the_window_alone_is_near_the_measured_sash_window(
    demo: dict[str, dict[str, dict[str, Any]]],
) -> None:
    """English Heritage: about 4.3 W/(m2 K) for a two-over-two of the 1880s, whole, in a chamber."""
    for states in demo.values():
        assert states["prime"]["u_en_w_m2k"] == pytest.approx(4.3, rel=0.10)


def test_against_rated_style_values_of_double_hung_windows(
    demo: dict[str, dict[str, dict[str, Any]]],
) -> None:
    """U-factors 0.88 alone, 0.47 with a clear storm, 0.36 with a low-e one.

    Ours are 0.07 to 0.12 lower, and must be: those are of frames about 2.6 in wide round 70 % of glass,
    while ours count stile, pulley stile and weight box, two fifths of the area, at a U-factor near 0.35.
    With the frame taken to end at the sash opening, and to have a U-factor of 0.55, ours come within 0.06.
    """
    for states in demo.values():
        alone, low_e = states["prime"], states.get("storm-low-e") or states["storm"]
        clear = states.get("storm-clear") or states["storm"]
        for row, printed in ((alone, 0.88), (clear, 0.47), (low_e, 0.36)):
            ours = row["u_na_w_m2k"] / BTU
            assert printed - 0.13 < ours < printed
    states = demo["201"]
    share = 0.70
    for key, printed in (("prime", 0.88), ("storm", 0.47), ("storm-low-e", 0.36)):
        row = states[key]
        glass = row["centre_lower_na_w_m2k"] / BTU
        frame = 0.55 if key == "prime" else 0.34
        assert share * glass + (1 - share) * frame == pytest.approx(printed, abs=0.06)


def test_storms_save_what_was_measured(demo: dict[str, dict[str, dict[str, Any]]]) -> None:
    """Clear storms: about half (US Department of Energy: 25 to 50 %, calculated 47 %); low-e about 60 %."""
    for states in demo.values():
        alone = states["prime"]["u_na_w_m2k"]
        clear = (states.get("storm-clear") or states["storm"])["u_na_w_m2k"]
        low_e = (states.get("storm-low-e") or states["storm"])["u_na_w_m2k"]
        assert 1 - clear / alone == pytest.approx(0.50, abs=0.05)
        assert 1 - low_e / alone == pytest.approx(0.60, abs=0.05)


def test_a_low_e_storm_does_about_as_well_as_a_replacement(
    demo: dict[str, dict[str, dict[str, Any]]],
) -> None:
    """Klems, ASHRAE Transactions 109(2), 2003: prime with low-e storm performed like a low-e replacement.

    That of today's code, U-factor 0.30 in the opening, with what stays of the old frame.
    """
    for states in demo.values():
        low_e = (states.get("storm-low-e") or states["storm"])["u_na_w_m2k"]
        assert low_e == pytest.approx(states["new"]["u_na_w_m2k"], rel=0.10)


def test_sun_through_the_whole_window(demo: dict[str, dict[str, dict[str, Any]]]) -> None:
    """Rated-style solar heat gain 0.61 alone, 0.54 with a clear storm, 0.46 with a low-e one.

    Those have 70 % of glass; ours have 58 to 65 %, and their part is held against it.
    """
    states = demo["201"]
    share = 0.60 / 0.70
    for key, printed in (("prime", 0.61), ("storm", 0.54), ("storm-low-e", 0.46)):
        assert states[key]["shgc"] == pytest.approx(share * printed, abs=0.05)
