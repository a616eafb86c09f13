"""Identities that hold for every window: pieces make up the sash, both sash the opening."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings

from sashwright.chapters.hang import hang_window
from sashwright.chapters.parts import parts_window
from sashwright.window.layout import Lite, SashLayout
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed, place
from sashwright.window.spec import House
from tests.window.strategies import KNOWLEDGE, houses

HUNDREDTH_MM = 1e-5
"""Lengths agree to this [m]."""
TENTH_GRAM = 1e-4
"""Masses agree to this [kg]."""


def placed(house: House) -> Placed:
    """The only window of a random house; draws whose sizes contradict each other do not count."""
    try:
        return place(house, "1", KNOWLEDGE)
    except LayoutError:
        assume(False)
        raise


def grown_area(lite: Lite, inset: float) -> float:
    """Area of a lite grown by ``inset``, by numeric integration of its height over its width."""
    left, right, low = lite.left - inset, lite.right + inset, lite.bottom - inset
    if lite.arc is None:
        return (right - left) * (lite.top + inset - low)
    # x = r sin(angle) removes the steep ends of a full arch.
    radius = lite.arc.radius + inset
    first, last = (math.asin(max(-1.0, min(1.0, x / radius))) for x in (left, right))
    angle, weight = np.polynomial.legendre.leggauss(40)
    angle = first + (angle + 1) / 2 * (last - first)
    tops = lite.arc.centre + radius * np.cos(angle)
    widths = radius * np.cos(angle) * weight * (last - first) / 2
    return float(((tops - low) * widths).sum())


def void_volume(sash: SashLayout) -> float:
    """Volume of all lites through the sash, wider in rabbet and moulding."""
    nodes = sash.profile.nodes
    return sum(
        float(weight) * grown_area(lite, float(inset))
        for weight, inset in zip(nodes.weight, nodes.inset, strict=True)
        for lite in sash.lites
    )


def outline_volume(sash: SashLayout) -> float:
    """The sash as a solid board, horns and bevel included."""
    area = sash.width * (sash.stile_top - sash.horns[1] - sash.bottom)
    if sash.arc is not None:
        half, radius = sash.half, sash.arc.radius
        angle = math.asin(min(1.0, half / radius))
        area += radius**2 * angle - half * math.sqrt(max(radius**2 - half**2, 0.0))
    wedge = sash.width * sash.bevel * sash.thickness**2 / 2
    horns = 2 * sum(sash.horns) * (sash.spec.stile * sash.thickness - sash.profile.removed)
    return area * sash.thickness - wedge + horns


def grooves_volume(placed: Placed, sash: SashLayout) -> float:
    hanging, family = placed.family.hanging, placed.family
    cord = 0.0
    knot = sash.stile_top
    if sash.hung:
        knot = max(sash.stile_top - hanging.knot_hole, sash.stile_bottom)
        cord = (
            (sash.stile_top - knot)
            * min(hanging.cord_groove_width, sash.thickness)
            * min(hanging.cord_groove_depth, sash.spec.stile / 2)
        )
    strip = KNOWLEDGE.find("weatherstrip", family.strips.sides)
    kerf = strip.kerf_width * strip.kerf_depth * (knot - sash.stile_bottom)
    return 2 * (cord + kerf)


@given(houses)
@settings(max_examples=400)
def test_pieces_add_up_to_the_sash(house: House) -> None:
    window = placed(house)
    for which in ("upper", "lower"):
        facts = window.sash(which)
        sash = facts.layout
        check = sash.check[0] * sash.check_length * sash.spec.meeting_rail
        whole = outline_volume(sash) - void_volume(sash) + check - grooves_volume(window, sash)
        assert facts.pieces.wood.volume * facts.mass.wood_density == pytest.approx(
            whole * facts.mass.wood_density, abs=TENTH_GRAM
        )


@given(houses)
@settings(max_examples=400)
def test_both_sash_make_up_the_opening(house: House) -> None:
    window = placed(house)
    layout, frame = window.layout, window.family.frame
    upper, lower = layout.upper, layout.lower
    for sash in (upper, lower):
        assert sash.width + 2 * frame.side_clearance == pytest.approx(
            layout.window.width, abs=HUNDREDTH_MM
        )
    top = layout.window.height if layout.head_arc is None else upper.top + frame.head_clearance
    total = upper.height + lower.height - upper.spec.meeting_rail
    assert total + frame.head_clearance + frame.sill_clearance == pytest.approx(
        top, abs=HUNDREDTH_MM
    )
    assert upper.bottom + upper.spec.meeting_rail == pytest.approx(lower.top, abs=HUNDREDTH_MM)
    gap = lower.face - (upper.face + upper.thickness)
    assert gap == pytest.approx(frame.parting_bead_thickness + frame.track_play, abs=HUNDREDTH_MM)
    if layout.family.meeting.style == "check":
        closing = upper.check[0] + lower.check[0] + layout.family.meeting.gap
        assert closing == pytest.approx(gap, abs=HUNDREDTH_MM)


@given(houses)
@settings(max_examples=400)
def test_members_and_lites_span_the_sash(house: House) -> None:
    window = placed(house)
    for sash in (window.layout.upper, window.layout.lower):
        spec = sash.spec
        widths = sum(right - left for left, right in sash.columns)
        bars = (len(sash.columns) - 1) * spec.muntin
        assert widths + bars + 2 * spec.stile == pytest.approx(sash.width, abs=HUNDREDTH_MM)
        heights = sum(top - bottom for bottom, top in sash.rows)
        bars = (len(sash.rows) - 1) * spec.muntin
        spanned = sash.bottom_rail + heights + bars
        if sash.arc is None:
            assert spanned + sash.top_rail == pytest.approx(sash.height, abs=HUNDREDTH_MM)
        else:
            assert sash.inner_arc is not None
            springing = sash.inner_arc.height(sash.daylight[0])
            assert sash.bottom + spanned == pytest.approx(springing, abs=HUNDREDTH_MM)


@given(houses)
@settings(max_examples=400)
def test_glass_fits_its_rabbet_on_all_sides(house: House) -> None:
    window = placed(house)
    for which in ("upper", "lower"):
        facts = window.sash(which)
        sash, spec = facts.layout, facts.layout.spec
        lites = {(lite.column, lite.row): lite for lite in sash.lites}
        assert len(facts.pieces.panes) == len(lites) * len(spec.glazing.panes)
        for pane in facts.pieces.panes:
            lite = lites[pane.column, pane.row]
            lap = spec.rabbet_width - spec.glazing.clearance
            assert pane.width == pytest.approx(lite.width + 2 * lap, abs=HUNDREDTH_MM)
            assert lite.width < pane.width
            assert pane.width <= lite.width + 2 * spec.rabbet_width + HUNDREDTH_MM
            opening = lite.crown(spec.rabbet_width) - (lite.bottom - spec.rabbet_width)
            assert pane.height <= opening + HUNDREDTH_MM
            assert pane.height > lite.crown() - lite.bottom
            assert pane.solid.volume == pytest.approx(
                grown_area(lite, lap) * pane.thickness, abs=TENTH_GRAM / 2500
            )


@given(houses)
@settings(max_examples=200)
def test_putty_fills_what_glass_and_wood_leave_below_the_bevel(house: House) -> None:
    window = placed(house)
    for which in ("upper", "lower"):
        facts = window.sash(which)
        spec = facts.layout.spec
        nodes, weights = np.polynomial.legendre.leggauss(20)
        (pane_thickness,) = {pane.thickness for pane in facts.pieces.panes}
        bed, rabbet = spec.glazing.bed, spec.rabbet_width
        lap = rabbet - spec.glazing.clearance
        front = spec.rabbet_depth - bed - pane_thickness
        share = (nodes + 1) / 2
        volume = 0.0
        for lite in facts.layout.lites:
            full = grown_area(lite, rabbet)
            volume += bed * (full - grown_area(lite, 0.0))
            volume += pane_thickness * (full - grown_area(lite, lap))
            volume += sum(
                front * float(w) / 2 * (full - grown_area(lite, rabbet * (1 - float(s))))
                for s, w in zip(share, weights, strict=True)
            )
        density = KNOWLEDGE.find("putty", spec.glazing.putty).density
        assert facts.pieces.putty.volume * density == pytest.approx(
            volume * density, abs=TENTH_GRAM
        )


@given(houses)
@settings(max_examples=300)
def test_the_balance_point_lies_in_the_sash(house: House) -> None:
    window = placed(house)
    for which in ("upper", "lower"):
        facts = window.sash(which)
        x, y, z = facts.mass.centre
        sash = facts.layout
        assert abs(x) < sash.half / 2
        assert sash.bottom < y < sash.top
        assert 0 < z < sash.thickness
        if sash.spec.lites.column_shares is None:
            assert x == pytest.approx(0, abs=HUNDREDTH_MM)


@given(houses)
@settings(max_examples=300)
def test_every_window_has_an_answer(house: House) -> None:
    window = placed(house)
    hung = hang_window(window)
    cut = parts_window(window)
    for which in ("upper", "lower"):
        values = hung.values[which]
        if values is None:
            assert which == "upper"
            assert house.windows[0].hung == "single"
            continue
        assert values["sash_mass_kg"] > 0
        assert values["sash_mass_uncertainty_kg"] > 0
        assert values["weight_each_kg"] > 0
        assert math.isfinite(values["effort_max_n"])
        if values["weight_length_mm"] is not None:
            assert values["weight_length_mm"] <= values["longest_weight_mm"] + 0.01
    wood = sum(row["mass_kg"] * row["count"] for row in cut.values["parts"])
    upper, lower = (window.sash(which).mass.wood for which in ("upper", "lower"))
    # Both stiles of a line are alike, and so are its bars, to the last gram.
    assert wood == pytest.approx(upper + lower, abs=TENTH_GRAM)
