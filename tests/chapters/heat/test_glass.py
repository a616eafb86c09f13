"""Glass, spaces and coatings as the specification says them: what they do to heat, sun and light."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.chapters.heat.curve import FOUR_INCHES, QUARTER_INCH, WIDTHS, curve_of
from sashwright.chapters.heat.glass import (
    Space,
    Stack,
    centre,
    layer_of,
    panel,
    recoated,
    stack_of,
    sun_and_light,
    u_en,
)
from sashwright.knowledge.tables import KnowledgeError
from sashwright.physics.glazing import NFRC_WINTER, Gap
from sashwright.window.spec import Glazing
from tests.chapters.houses import KNOWLEDGE

GLASSES = sorted(KNOWLEDGE.glass)
COATINGS = sorted(KNOWLEDGE.glass_coating)
TALL = 0.8


def stack(*panes: str, **given_: Any) -> Stack:
    return stack_of(Glazing(panes=panes, **given_), KNOWLEDGE)


def both(glass: Stack, height: float = TALL) -> tuple[float, float]:
    """U by both methods."""
    return u_en(glass), centre(glass, height).u


@given(st.sampled_from(GLASSES), st.sampled_from(GLASSES), st.floats(0.003, 0.15))
def test_another_pane_never_lets_more_through(first: str, second: str, width: float) -> None:
    one = stack(first)
    for more in (one.outside(stack(second), width), one.inside(stack(second), width)):
        assert all(after < before for after, before in zip(both(more), both(one), strict=True))


@given(
    st.sampled_from(GLASSES), st.sampled_from(COATINGS), st.integers(0, 3), st.floats(0.003, 0.15)
)
def test_a_coating_never_lets_more_heat_through(
    glass: str, coating: str, face: int, width: float
) -> None:
    bare = stack(glass).outside(stack("single-strength"), width)
    coated = recoated(bare, face, coating, KNOWLEDGE)
    assert all(a <= b + 1e-9 for a, b in zip(both(coated), both(bare), strict=True))


@given(st.sampled_from(GLASSES), st.floats(0.003, 0.15))
def test_turned_round_a_stack_of_like_panes_is_the_same(glass: str, width: float) -> None:
    coated = stack(glass).outside(stack(glass), width)
    inner = recoated(coated, 1, "hard-coat", KNOWLEDGE)
    outer = recoated(coated, 2, "hard-coat", KNOWLEDGE)
    # EN 673 knows no side; in a balance the space is a little warmer or colder.
    assert u_en(inner) == pytest.approx(u_en(outer), rel=1e-12)
    assert centre(inner, TALL).u == pytest.approx(centre(outer, TALL).u, rel=0.01)


def test_inside_or_outside_a_like_storm_is_worth_the_same() -> None:
    prime, storm = stack("double-strength"), stack("double-strength")
    assert both(prime.outside(storm, 0.05)) == both(prime.inside(storm, 0.05))


def test_coatings_go_face_by_face_from_outdoors() -> None:
    coated = stack("float-3mm", "float-3mm", gaps=(0.0127,), coatings=("none", "hard-coat"))
    assert [layer.pane.emissivity_inside for layer in coated.layers] == [0.15, 0.84]
    assert [layer.pane.emissivity_outside for layer in coated.layers] == [0.84, 0.84]
    assert coated.layers[0].coatings == ("none", "hard-coat")


def test_gas_fills_what_the_share_says() -> None:
    filled = {
        share: u_en(stack("float-3mm", "float-3mm", gaps=(0.012,), gas="argon", gas_share=share))
        for share in (1.0, 90.0, 100.0)
    }
    air = u_en(stack("float-3mm", "float-3mm", gaps=(0.012,)))
    assert air > filled[1.0] > filled[90.0] > filled[100.0]
    # The share means nothing where the gas is air.
    assert u_en(stack("float-3mm", "float-3mm", gaps=(0.012,), gas_share=50.0)) == air


def test_acrylic_is_a_worse_conductor_than_glass() -> None:
    plastic, glass = panel("acrylic-1-8", (), KNOWLEDGE), panel("float-3mm", (), KNOWLEDGE)
    assert u_en(plastic) < u_en(glass)
    assert sun_and_light(plastic, TALL)[1] > sun_and_light(glass, TALL)[1]


def test_a_shops_glass_without_optics_is_taken_for_clear() -> None:
    known = KNOWLEDGE.glass["float-6mm"]
    plain = replace(
        known, solar_transmittance=None, solar_reflectance=None,
        visible_transmittance=None, visible_reflectance=None,
    )  # fmt: skip
    shop = replace(KNOWLEDGE, glass={**KNOWLEDGE.glass, "float-6mm": plain})
    ours, theirs = (
        sun_and_light(Stack((layer_of("float-6mm", ("none", "none"), tables),)), TALL)
        for tables in (shop, KNOWLEDGE)
    )
    assert ours == pytest.approx(theirs, abs=0.005)


def test_light_and_sun_add_up_for_every_glass_and_coating() -> None:
    for glass, coating, face in itertools.product(GLASSES, COATINGS, (0, 1)):
        faces = (coating, "none") if face == 0 else ("none", coating)
        gain, light = sun_and_light(Stack((layer_of(glass, faces, KNOWLEDGE),)), TALL)
        assert 0.3 < gain < 0.93, (glass, coating)
        assert 0.5 < light < 0.93, (glass, coating)


def test_an_unknown_coating_is_told() -> None:
    with pytest.raises(KnowledgeError, match="did you mean 'hard-coat'"):
        stack("float-3mm", coatings=("hard coating",))


# --- the space ------------------------------------------------------------------------


def behind(width: float, coating: str = "none") -> Stack:
    storm = stack("single-strength", coatings=("none", coating))
    return stack("double-strength").outside(storm, width)


@pytest.mark.parametrize("coating", ["none", "hard-coat"])
def test_up_to_the_best_width_every_more_is_better(coating: str) -> None:
    curve = curve_of(behind(FOUR_INCHES, coating), 0)
    for values, best in ((curve.en, curve.best_en), (curve.na, curve.best_na)):
        narrow = [u for width, u in zip(WIDTHS, values, strict=True) if width <= best]
        assert all(later < earlier for earlier, later in itertools.pairwise(narrow))
        # Beyond it the air turns over: nothing is won; with EN 673, whose coefficient grows slowly with
        # the width, up to a fifth is lost where a coating leaves the air to carry it all.
        wide = [u for width, u in zip(WIDTHS, values, strict=True) if width > best]
        assert all(u >= min(values) for u in wide)
        assert max(wide) < 1.2 * min(values)


def test_the_marks_lie_on_the_curve() -> None:
    curve = curve_of(behind(FOUR_INCHES), 0)
    en, na = curve.marked(QUARTER_INCH)
    assert en == pytest.approx(u_en(behind(QUARTER_INCH)), rel=0.003)
    assert na == pytest.approx(centre(behind(QUARTER_INCH), 1.0).u, rel=0.003)
    assert curve.marked(FOUR_INCHES)[1] < na


def test_the_width_of_the_given_space_does_not_matter() -> None:
    assert curve_of(behind(0.02), 0) == curve_of(behind(0.09), 0)


def test_one_space_of_two_is_widened() -> None:
    unit = stack("float-3mm", "float-3mm", gaps=(0.006,))
    curve = curve_of(unit.outside(stack("single-strength"), 0.05), 0)
    three = Stack(
        unit.outside(stack("single-strength"), 0.05).layers,
        (Space(Gap(0.025), "storm"), Space(Gap(0.006), "sealed")),
    )
    assert curve.en[WIDTHS.index(0.025)] == pytest.approx(u_en(three), rel=1e-12)


def test_faces_fall_from_the_room_outward() -> None:
    found = centre(behind(0.05), TALL, NFRC_WINTER)
    assert list(found.faces) == sorted(found.faces)
    assert found.faces[0] > -18
    assert found.room_face < 21
