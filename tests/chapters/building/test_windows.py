"""Windows of the house: how far they open, what sun and heat they let through in each state."""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.chapters.building.glass import WindowState
from sashwright.chapters.building.openings import screen_loss
from sashwright.physics.openings import USUAL_DISCHARGE
from sashwright.physics.sunlight import on_plane, sky_of
from tests.chapters.cottage import FAMILY, HIGH, LOW, made, usual

LOWER = {**LOW, "room": "kitchen", "wall": "south"}


def test_the_gaps_follow_the_sash_until_they_cross() -> None:
    opens = usual().opens["1"]
    over, under = opens.free(np.array([0.0, 0.1, 0.2]), 0.0)
    assert np.diff(over)[1] == pytest.approx(0.1)
    assert under.max() == 0.0
    # A lowered upper sash hangs before the gap of a raised lower one.
    _, alone = opens.free(0.0, opens.lower_travel)
    _, both = opens.free(opens.upper_travel, opens.lower_travel)
    assert both < 0.1 * alone


def test_what_is_clear_ends_at_stool_blind_stop_and_the_other_sash() -> None:
    """Window of 60 in: over the shut lower sash up to the blind stop, 1/2 in under the head."""
    opens = usual().opens["1"]
    over, under = opens.widest
    layout = opens.placed.layout
    assert over == pytest.approx((60 - 0.5) * 0.0254 - layout.lower.top)
    assert under == pytest.approx(layout.lower.bottom + opens.lower_travel - opens.sill)
    assert opens.lower_travel - 0.05 < under < opens.lower_travel


def test_a_stop_limits_the_sash() -> None:
    stopped = made({**LOWER, "changes": {"hanging": {"lower_travel": "6"}}}).opens["1"]
    assert stopped.lower_travel == pytest.approx(6 * 0.0254)


def test_a_wood_storm_all_year_lets_nothing_open_but_a_tracked_one_does() -> None:
    wood = made(LOWER, family={**FAMILY, "storm": "all year"})
    tracked = made(
        LOWER, family={**FAMILY, "storm": "all year", "storm_sash": {"kind": "combination"}}
    )
    assert not wood.opens["1"].can_open
    assert not [gap for gap in wood.air_side.gaps if gap.of == "1"]
    assert len([gap for gap in tracked.air_side.gaps if gap.of == "1"]) == 2


def test_a_half_screen_hinders_the_lower_gap_only() -> None:
    opens = usual().opens["1"]
    assert opens.discharge("upper") == USUAL_DISCHARGE
    k = screen_loss(0.678)
    assert opens.discharge("lower") == pytest.approx(
        USUAL_DISCHARGE / np.sqrt(1 + k * USUAL_DISCHARGE**2)
    )


def test_the_screen_loss_is_the_published_one() -> None:
    """β (1 - α²)/α² with β of Re 40, α 0.66: 1.2309, as by two codes of Blevins' table."""
    assert screen_loss(0.66) == pytest.approx(1.2309, rel=1e-4)
    with pytest.raises(ValueError, match="openness"):
        screen_loss(0.0)


def test_storm_screen_and_covering_each_keep_sun_off() -> None:
    found = made({**LOWER, "changes": {"covering": "shutters"}})
    window = found.by_number["1"]
    on = on_plane(sky_of(found.year), 180.0)
    bare, screened, covered, storm = (
        window.sun(state, on).sum()
        for state in (
            WindowState(), WindowState(screen=True), WindowState(covered=True), WindowState("storm"),
        )
    )  # fmt: skip
    # Half a screen before half the window: about a quarter of what a full one would keep off twice.
    assert 0.70 < screened / bare < 0.85
    assert 0.3 < covered / bare < 0.6
    assert 0.65 < storm / bare < 0.95
    assert window.u(WindowState("storm")) < 0.7 * window.u(WindowState())


def test_the_states_of_winter_and_summer() -> None:
    found = usual()
    assert set(found.winter.builds.values()) == {"storm"}
    assert set(found.summer.builds.values()) == {"prime"}
    assert made(place="Portland, ME").storms_on.mean() == pytest.approx(0.5, abs=0.12)


def test_storms_make_the_house_tighter() -> None:
    air = usual().air_side
    on, off = (air.crack_shares(state.builds) for state in (usual().winter, usual().summer))
    assert all(on[link] <= off[link] for link in off)
    assert sum(on.values()) < sum(off.values())


def test_only_what_is_opened_is_open() -> None:
    from sashwright.chapters.building import Scenario

    found = usual()
    half = np.zeros(8760)
    half[12] = 0.1
    fractions = found.fractions(Scenario(found.usual_states, 2, raised={"3": half}))
    gaps = {(gap.of, gap.which): gap.link for gap in found.air_side.gaps}
    opened = gaps.pop(("3", "lower"))
    _, under = found.opens["3"].free(0.0, 0.1)
    assert fractions[12, opened] == pytest.approx(float(under) / found.opens["3"].widest[1])
    assert fractions[11, opened] == 0.0
    shut = [link for (of, which), link in gaps.items() if which != "door"]
    assert not fractions[:, shut].any()


def test_a_house_of_high_windows_only_has_no_cracks_below() -> None:
    found = made({**HIGH, "wall": "north"})
    assert [each.zone for each in found.windows] == ["bedroom"]
