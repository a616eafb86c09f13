"""Heat through the sections of a window: what must hold whatever the figures."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from sashwright.chapters.heat import sections as module
from sashwright.chapters.heat.centre import own
from sashwright.chapters.heat.cuts import Cutting
from sashwright.chapters.heat.flows import InteriorStorm, SectionFlow
from sashwright.chapters.heat.geometry import EDGE_BAND
from sashwright.chapters.heat.remember import Remembered
from sashwright.chapters.heat.sections import sections
from sashwright.chapters.heat.spaces import spaces_of
from sashwright.chapters.heat.through import through
from sashwright.knowledge.load import load
from sashwright.physics.glazing import Gap, Pane, en673_u
from sashwright.physics.glazing.layers import EN_BARE_EMISSIVITY
from sashwright.window.check import house_from
from sashwright.window.resolve import Placed, place

KNOWLEDGE = load()
PANEL = InteriorStorm(0.04, 0.003, 0.19)
BARE = {"emissivity_outside": EN_BARE_EMISSIVITY, "emissivity_inside": EN_BARE_EMISSIVITY}


def window(beside: bool = False, **family: Any) -> Placed:
    """A window of three lites over one; with ``beside`` the right one of a pair."""
    rows = [{"number": "1", "family": "A", "width": "30", "height": "60", "upper": "3x1"}]
    if beside:
        rows.append({**rows[0], "number": "2", "beside": "1"})
    house = {"name": "12 Elm Street", "families": {"A": family}, "windows": rows}
    return place(house_from(house, KNOWLEDGE), rows[-1]["number"], KNOWLEDGE)


@pytest.fixture(scope="module")
def bare() -> dict[str, SectionFlow]:
    return sections(window())


def test_all_sections_are_there(bare: dict[str, SectionFlow]) -> None:
    usual = {"head", "jamb_upper", "jamb_lower", "meeting", "sill", "muntin_upper"}
    assert set(bare) == usual
    assert set(sections(window(beside=True))) == usual | {"mullion_upper", "mullion_lower"}
    assert [flow.edges for flow in bare.values()] == [1, 1, 1, 2, 1, 2]


@pytest.mark.parametrize("convention", ["en", "na"])
def test_no_storm_raises_the_flow(convention: Any) -> None:
    placed = window()
    alone, outside, inside = (
        sections(placed, storm=storm, convention=convention, interior=PANEL)
        for storm in ("none", "exterior", "interior")
    )
    for name, flow in alone.items():
        assert outside[name].conductance < 0.7 * flow.conductance
        assert inside[name].conductance < 0.7 * flow.conductance
        assert outside[name].factor_glass > flow.factor_glass + 0.2
        # Behind a panel the prime is colder than without.
        assert inside[name].factor_prime_glass < flow.factor_glass
        assert inside[name].factor_glass > flow.factor_glass + 0.2
        assert flow.factor_storm is None
        assert 0 < (outside[name].factor_storm or 0.0) < outside[name].factor_prime_glass


def test_at_the_centre_the_glazing_is_the_glazing(bare: dict[str, SectionFlow]) -> None:
    """Films here are 0.13 and 0.04 m2 K/W, in EN 673 1/7.7 and 1/25."""
    placed = window()
    glass = (
        KNOWLEDGE.glass["double-strength"].thickness,
        KNOWLEDGE.glass["single-strength"].thickness,
    )
    change = 0.13 + 0.04 - 1 / 7.7 - 1 / 25
    alone = 1 / en673_u([Pane(glass[0], **BARE)])
    assert bare["head"].u_glass[0] == pytest.approx(1 / (alone + change), rel=1e-9)
    behind = sections(placed, storm="exterior")["head"]
    storm, upper = placed.storm_sash.panels[-1], placed.layout.upper
    back = storm.face + storm.spec.rabbet_depth - storm.spec.glazing.bed
    front = upper.face + upper.spec.rabbet_depth - upper.spec.glazing.bed - glass[0]
    stack = [Pane(glass[1], **BARE), Pane(glass[0], **BARE)]
    assert behind.u_glass[0] == pytest.approx(
        1 / (1 / en673_u(stack, [Gap(front - back)]) + change), rel=1e-9
    )


def test_far_from_the_frame_the_model_has_the_glazing_s_flow() -> None:
    """The end of the glass is as warm as the row of resistances says, at every face of it."""
    placed = window()
    gaps = {"upper": (5.0,), "lower": (6.0,)}
    flow = sections(placed, storm="exterior", gaps=gaps)["jamb_lower"]
    x, z = flow.field.nodes.T
    end = np.abs(x - x.min()) < 1e-6
    storm, sash = placed.storm_sash.panels[0], placed.layout.lower
    back = storm.face + storm.spec.rabbet_depth - storm.spec.glazing.bed
    front = sash.face + sash.spec.rabbet_depth - sash.spec.glazing.bed
    front -= KNOWLEDGE.glass["double-strength"].thickness
    at_storm, at_prime = (
        float(flow.field.factors[end & (np.abs(z - face) < 2e-5)].mean()) for face in (back, front)
    )
    assert at_prime - at_storm == pytest.approx(flow.u_glass[0] / 6.0, abs=0.002)
    assert flow.u_glass[0] == pytest.approx(
        1 / (0.17 + (storm_glass() + KNOWLEDGE.glass["double-strength"].thickness) / 1.0 + 1 / 6.0)
    )


def storm_glass() -> float:
    return float(KNOWLEDGE.glass["single-strength"].thickness)


def test_drier_and_lighter_wood_insulates_better() -> None:
    def frame(**sash: Any) -> float:
        return sections(window(sash=sash, frame=sash))["jamb_lower"].u_frame

    pine = frame(wood="eastern-white-pine", moisture=12)
    assert frame(wood="eastern-white-pine", moisture=8) < pine
    assert frame(wood="white-oak", moisture=12) > 1.15 * pine


def test_a_wider_rail_lowers_u() -> None:
    """Wood in the place of glass: through the same height of window flows less."""
    found = [sections(window(sash={"bottom_rail": width}))["sill"] for width in ("3", "4", "5 1/2")]
    whole = [f.conductance + f.u_glass[0] * (0.2 - f.width) for f in found]
    assert whole == sorted(whole, reverse=True)


def test_thicker_sash_insulates_better() -> None:
    thin, thick = (
        sections(window(sash={"thickness": thickness}))["muntin_upper"].u_frame
        for thickness in ("1 3/8", "2")
    )
    assert thick < thin


def test_a_mullion_of_two_alike_is_symmetric() -> None:
    flow = sections(window(beside=True), convention="na")["mullion_lower"]
    x = flow.field.nodes[:, 0]
    left, right = (flow.field.temperatures[np.abs(x - end) < 1e-5] for end in (x.min(), x.max()))
    assert left.mean() == pytest.approx(right.mean(), abs=0.02)
    jamb = sections(window(beside=True), convention="na")["jamb_lower"]
    # Half of a mullion is wider than a jamb by its pocket, and closed in by the other half.
    assert flow.u_glass[0] == pytest.approx(flow.u_glass[1])
    assert flow.u_frame == pytest.approx(jamb.u_frame, rel=0.15)


def test_what_comes_in_goes_out(bare: dict[str, SectionFlow]) -> None:
    """The flow by parts, put together again, is the whole."""
    for flow in bare.values():
        assert flow.psi is not None
        assert flow.flow == pytest.approx(20 * flow.conductance)
        parts = flow.u_frame * flow.width + sum(flow.u_glass) * flow.glass + flow.edges * flow.psi
        assert parts == pytest.approx(flow.conductance, rel=1e-9)
    for flow in sections(window(), convention="na").values():
        assert flow.u_edge is not None
        assert flow.psi is None
        centre = (flow.glass - EDGE_BAND) * sum(flow.u_glass)
        parts = flow.u_frame * flow.width + flow.u_edge * EDGE_BAND * flow.edges + centre
        # Beyond the edge zone hardly anything is bent.
        assert parts == pytest.approx(flow.conductance, rel=0.01)


def test_temperatures_lie_between_both_sides(bare: dict[str, SectionFlow]) -> None:
    for flow in bare.values():
        field = flow.field
        assert 0 <= field.factors.min() < field.factors.max() <= 1
        assert field.temperatures == pytest.approx(20 * field.factors)
        assert len(field.materials) == len(field.triangles)
        assert {"wood", "glass", "putty"} <= set(field.materials)
        assert 0 < flow.factor_glass <= flow.factor_frame < 1


def test_iron_in_the_pocket_and_bronze_in_the_crack_let_more_through() -> None:
    placed = window()
    plain = sections(placed)["jamb_lower"]
    assert "metal" in plain.field.materials
    bronze = sections(window(strips={"sides": "spring-bronze"}))["jamb_lower"]
    assert "bronze" in bronze.field.materials
    assert 1.001 < bronze.conductance / plain.conductance < 1.05
    assert "the pulleys" in plain.left_out
    ribbed = sections(window(strips={"sides": "interlocking-rib"}))["jamb_lower"]
    assert "the metal rib at the sides" in ribbed.left_out
    assert ribbed.conductance == plain.conductance


def test_insulated_glass_in_the_rabbet() -> None:
    sealed = window(
        sash={
            "thickness": "2",
            "rabbet_depth": "1 1/8",
            "glazing": {"panes": ["float-3mm", "float-3mm"], "gaps": ["1/2"]},
        }
    )
    flow = sections(sealed)["jamb_lower"]
    assert {"gas", "spacer"} <= set(flow.field.materials)
    assert flow.u_glass[0] == pytest.approx(2.85, abs=0.05)
    # The usual value for an aluminium spacer in wood is 0.06 W/(m K), ISO 10077-1 annex E.
    assert flow.psi == pytest.approx(0.06, abs=0.03)


def test_plain_meeting_rails_are_a_crack() -> None:
    plain = sections(window(meeting={"style": "plain"}))["meeting"]
    checked = sections(window())["meeting"]
    assert plain.u_frame == pytest.approx(checked.u_frame, rel=0.5)


def test_refused() -> None:
    placed = window()
    with pytest.raises(ValueError, match="found no interior storm"):
        sections(placed, storm="interior")
    with pytest.raises(ValueError, match="expected at most"):
        sections(placed, storm="interior", interior=replace(PANEL, distance=0.5))
    with pytest.raises(ValueError, match="expected all three above 0"):
        replace(PANEL, thickness=0.0)
    with pytest.raises(ValueError, match=r"found 0 conductances .* expected 1"):
        sections(placed, storm="exterior", gaps={"upper": (), "lower": ()})


# --- kept in memory -------------------------------------------------------------------


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the sections that are really worked out."""
    asked: list[str] = []

    def work_out(one: Any) -> SectionFlow:
        asked.append(one.cut.name)
        return through(one)

    monkeypatch.setattr(module, "_through", Remembered(work_out, 50))
    return asked


def test_only_what_changed_is_worked_out(counted: list[str]) -> None:
    first = sections(window())
    assert len(counted) == 6
    counted.clear()
    again = sections(window())
    assert counted == []
    assert again["sill"].flow == first["sill"].flow
    changed = sections(window(sash={"bottom_rail": "4"}))
    assert counted == ["sill"]
    assert changed["sill"].flow != first["sill"].flow
    assert changed["head"].flow == first["head"].flow
    counted.clear()
    fresh = through_anew(window(sash={"bottom_rail": "4"}))
    assert changed["sill"].flow == fresh["sill"].flow
    # Glass, wood, moisture, weights and strips: each shows in what it touches.
    counted.clear()
    sections(window(sash={"bottom_rail": "4"}, frame={"moisture": 9}))
    assert set(counted) == {"head", "jamb_upper", "jamb_lower", "sill"}
    counted.clear()
    sections(window(sash={"bottom_rail": "4"}, strips={"sides": "spring-bronze"}))
    assert counted == ["jamb_upper", "jamb_lower"]


def through_anew(placed: Placed) -> dict[str, SectionFlow]:
    kept = module._through
    kept.forget()
    assert len(kept) == 0
    return sections(placed)


def test_a_larger_window_of_the_family_has_the_same_sections(counted: list[str]) -> None:
    small = sections(window())
    counted.clear()
    rows = [{"number": "9", "family": "A", "width": "40", "height": "80", "upper": "3x1"}]
    house = {"name": "12 Elm Street", "families": {"A": {}}, "windows": rows}
    large = sections(place(house_from(house, KNOWLEDGE), "9", KNOWLEDGE))
    # A heavier sash has a heavier weight in its pocket.
    assert set(counted) <= {"jamb_upper", "jamb_lower"}
    assert large["head"].u_frame == small["head"].u_frame
    moved = large["head"].field.nodes - small["head"].field.nodes
    assert np.ptp(moved, axis=0) == pytest.approx([0, 0], abs=1e-9)
    assert moved[0, 1] == pytest.approx(20 * 0.0254)


def test_answers_are_let_go_oldest_first() -> None:
    worked: list[int] = []

    def double(value: int) -> int:
        worked.append(value)
        return 2 * value

    kept = Remembered(double, 2)
    assert [kept(v) for v in (1, 2, 1, 3, 1, 2)] == [2, 4, 2, 6, 2, 4]
    assert worked == [1, 2, 3, 2]
    assert len(kept) == 2


def test_where_the_air_is_hangs_on_no_conductance() -> None:
    placed = window()
    cuts = {
        convention: [
            c.anywhere for c in Cutting(placed, "none", None, own(placed, convention, None)).cuts()
        ]
        for convention in ("en", "na")
    }
    assert cuts["en"] != cuts["na"]
    assert [c.pieces for c in cuts["en"]] == [c.pieces for c in cuts["na"]]
    for cut in cuts["na"]:
        assert spaces_of(cut).cracks == spaces_of(cut.pieces).cracks
        assert spaces_of(cut).strips == spaces_of(cut.pieces).strips
