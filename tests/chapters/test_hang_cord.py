"""Cord, chain and pulley: loads, knots, and what the mass of a chain does to the effort."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.knowledge.tables import Knowledge
from tests.chapters.houses import KNOWLEDGE, PLAIN, POUND, findings, hung, only

G = 9.80665
POUND_FORCE = POUND * G
CHAINED = {"hanging": {"suspension": "chain-steel-heavy", "pulley": "chain-2-1-4"}}


def with_row(table: str, key: str, **fields: Any) -> Knowledge:
    """The trade's tables with one row changed."""
    rows = dict(getattr(KNOWLEDGE, table))
    rows[key] = replace(rows[key], **fields)
    return replace(KNOWLEDGE, **{table: rows})


def slopes(answer: WindowAnswer, which: str) -> tuple[float, float]:
    """Change of the forces to raise and to lower, per metre that the sash is moved [N/m]."""
    curve = answer.values[which]["effort_curve"]
    metres = np.array(curve["lift_mm"]) / 1000
    found = []
    for name in ("raise_n", "lower_n"):
        slope, _ = np.polyfit(metres, curve[name], 1)
        assert np.polyval([slope, curve[name][0]], metres) == pytest.approx(curve[name], abs=2e-4)
        found.append(float(slope))
    return found[0], found[1]


def test_a_chain_tips_the_balance_by_four_times_its_mass() -> None:
    """Every inch of lift takes an inch of chain from the sash's side of both wheels to the weights'.

    Two chains, each lighter by one inch on one side and heavier by one on the other: 4 x mass x g.
    """
    smooth = with_row("pulley", "chain-2-1-4", friction_coefficient=0.0)
    answer = hung(CHAINED, knowledge=smooth)
    per_metre = 4 * 0.190 * G  # 190 g/m
    raising, lowering = slopes(answer, "lower")
    assert raising == pytest.approx(-per_metre, rel=1e-4)
    assert lowering == pytest.approx(per_metre, rel=1e-4)
    # The upper sash moves down.
    raising, lowering = slopes(answer, "upper")
    assert raising == pytest.approx(per_metre, rel=1e-4)
    assert lowering == pytest.approx(-per_metre, rel=1e-4)


def test_friction_of_the_wheels_hardly_changes_that() -> None:
    """Half the difference of both forces is the imbalance: r + 1/r differs from 2 by (r - 1)^2 / r."""
    answer = hung(CHAINED)
    raising, lowering = slopes(answer, "lower")
    (ratio,) = [
        s.result for s in answer.working if s.step == "friction of the lower sash's pulleys"
    ]
    per_metre = 0.190 * G
    assert raising == pytest.approx(-2 * per_metre * (1 + 1 / ratio), rel=1e-4)
    assert lowering == pytest.approx(2 * per_metre * (1 + ratio), rel=1e-4)
    assert (lowering - raising) / 2 == pytest.approx(4 * per_metre, rel=1.5e-3)


def test_cord_does_the_same_on_its_smaller_scale() -> None:
    smooth = with_row("pulley", "plain-2", friction_coefficient=0.0)
    raising, _ = slopes(hung({}, knowledge=smooth), "lower")
    assert raising == pytest.approx(-4 * 0.028 * G, rel=1e-3)  # no. 8, 28 g/m


def test_heavy_chain_on_a_light_sash_is_noticed() -> None:
    """190 g/m: 32 in of travel shift 0.62 kg from the sash to the weights, more than ball bearings hold."""
    family = {"hanging": {"suspension": "chain-steel-heavy", "pulley": "ball-bearing-2-1-4"}}
    answer = hung(family)
    assert not answer.values["lower"]["stays_put"]
    only(answer, "caution", "lower.sash", "by itself over part of its travel")
    assert hung({"hanging": {"pulley": "plain-2"}}).values["lower"]["stays_put"]


# --- loads -----------------------------------------------------------------------------


def test_greatest_pull_in_one_cord() -> None:
    """Lower sash of 15 1/2 lb: half of it, the longest piece of cord, and what the wheel adds.

    The run is longest shut: 61 1/2 - 24 1/32 in to the knot, and the travel of 31 31/32 in besides, to
    be safe. No. 8 weighs 28 g/m. Wheel 2 1/4 in, axle 1/4, friction 0.2.
    """
    answer = hung({}, {**PLAIN, "measured": {"lower": {"mass": "15 lb 8 oz"}}})
    cord = 0.028 * (61.5 - 24.03125 + 31.96875) * 0.0254
    loss = 0.2 * 0.25 / 2.25
    newtons = (7.75 * POUND + cord) * G * (1 + loss) / (1 - loss)
    assert answer.values["lower"]["cord_load_n"] == pytest.approx(newtons, rel=1e-6)
    assert answer.values["lower"]["cord_working_load_n"] == pytest.approx(90 * POUND_FORCE)
    only(answer, "ok", "lower.cord", f"carries {newtons / POUND_FORCE:.1f} lbf of its 90.0 lbf")


def test_cord_too_weak() -> None:
    window = {**PLAIN, "measured": {"lower": {"mass": "98 lb"}}}
    fail = only(
        hung({"hanging": {"suspension": "cotton-6"}}, window), "fail", "lower.cord", "stronger"
    )
    assert "of its 50.0 lbf" in fail.says
    assert not findings(hung({"hanging": {"suspension": "cotton-8"}}, window), "fail", "lower.cord")


def test_heavy_sash_on_cord() -> None:
    """Kidder, sec. 239: over 40 lb chain or ribbon is cheaper in the end."""
    heavy = {**PLAIN, "measured": {"lower": {"mass": "41 lb"}}}
    light = {**PLAIN, "measured": {"lower": {"mass": "39 lb"}}}
    only(hung({}, heavy), "note", "lower.cord", "chain or ribbon outlasts cord")
    assert not findings(hung({}, light), "note", "lower.cord")
    assert not findings(hung(CHAINED, heavy), "note", "lower.cord")


# --- wheels ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("suspension", "pulley", "made_for_it"),
    [
        ("chain-steel-light", "plain-2", False),
        ("chain-steel-light", "chain-2", True),
        ("cotton-8", "chain-2", False),
        ("cotton-8", "ball-bearing-2", True),
        ("tape-bronze", "plain-2-1-4", False),
        ("tape-bronze", "tape-2-1-2", True),
    ],
)
def test_wheel_for_cord_chain_or_tape(suspension: str, pulley: str, made_for_it: bool) -> None:
    answer = hung({"hanging": {"suspension": suspension, "pulley": pulley}})
    for which in ("upper", "lower"):
        wrong = [
            f for f in findings(answer, "fail", f"{which}.cord") if "is not made for" in f.says
        ]
        assert bool(wrong) != made_for_it


def test_small_wheel() -> None:
    """No. 10 cord wants 2 1/4 in."""
    small = hung({"hanging": {"suspension": "cotton-10", "pulley": "plain-2"}})
    caution = only(small, "caution", "lower.cord", "wheel is small")
    assert caution.because == 'wheel 2", 2 1/4" wanted'
    enough = hung({"hanging": {"suspension": "cotton-10", "pulley": "plain-2-1-4"}})
    assert not findings(enough, "caution")


# --- knots -----------------------------------------------------------------------------


def test_the_knot_must_not_reach_the_pulley() -> None:
    """Knot 10 in below the top of the stile, pulley 4 1/2 in below the head: 5 1/2 in are left.

    At 9 3/4 in the pulley leaves 1/4 in to the risen lower sash, and 5/16 to the shut upper one.
    """
    assert not findings(hung({}), "fail")
    answer = hung({"hanging": {"pulley_drop": 9.75}})
    lower = only(answer, "fail", "lower.cord", "reaches the pulley")
    assert lower.because.startswith('1/4" left')
    upper = only(answer, "fail", "upper.cord", "reaches the pulley")
    assert upper.because.startswith('5/16" left')


def test_a_stop_keeps_the_lower_knot_from_the_pulley() -> None:
    answer = hung({"hanging": {"pulley_drop": 9.75, "lower_travel": 31}})
    assert not findings(answer, "fail", "lower.cord")


def test_the_knot_must_lie_in_the_stile() -> None:
    answer = hung({"hanging": {"knot_hole": 40}})
    fail = only(answer, "fail", "lower.cord", "below the lower sash")
    assert fail.because == '40" from the top of a stile 34 1/16" long'
    assert not [f for f in hung({"hanging": {"knot_hole": 32}}).findings if "knot" in f.says]


# --- effort ----------------------------------------------------------------------------


def test_effort_grows_with_the_drag_of_the_strip() -> None:
    bare, stripped = hung({}), hung({"strips": {"sides": "spring-bronze"}})
    # 8 N for each metre of both edges, 34 1/32 in high.
    drag = 8 * 2 * 34.03125 * 0.0254
    for name in ("effort_raise_max_n", "effort_lower_max_n"):
        gained = stripped.values["lower"][name] - bare.values["lower"][name]
        assert gained == pytest.approx(drag, abs=1e-6)


def test_stays_put_only_while_the_strip_drags_as_usual() -> None:
    """A bias of 0.375 kg each, 7.4 N together, against wheels that hold 2.5 N of it.

    Bronze drags at least 3 N for each metre of 1.73, 5.2 N; pile at least 2 N/m, 3.5 N, usually 8.6.
    """

    def stripped(strip: str) -> WindowAnswer:
        bias = {"bias": "each-quarter-kilo-to-half"}
        return hung({"hanging": bias, "strips": {"sides": strip}})

    only(stripped("none"), "caution", "lower.sash", "drops by itself")
    only(stripped("none"), "caution", "upper.sash", "climbs by itself")
    only(stripped("pile-bead"), "note", "lower.sash", "only if the weatherstrip drags as usual")
    only(stripped("spring-bronze"), "ok", "upper.sash", "stays where it is put")
    assert not stripped("none").values["lower"]["stays_put"]
    assert stripped("pile-bead").values["lower"]["stays_put"]


@pytest.mark.parametrize(
    ("drag", "level"),
    # 5.6 N without a strip, and the drag on 1.73 m of edge.
    [(9.5, None), (9.7, "note"), (74.5, "note"), (75.0, "caution")],
)
def test_effort_too_great(drag: float, level: str | None) -> None:
    """5 lbf (22.2 N) is the advisory where it must be accessible, 30 lbf (135 N) too hard for all."""
    strip = with_row("weatherstrip", "plastic-v", drag_low=drag, drag=drag, drag_high=drag)
    answer = hung({"strips": {"sides": "plastic-v"}}, knowledge=strip)
    told = [f.level for f in answer.findings if f.on == "lower.sash" and " to move" in f.says]
    assert told == ([level] if level else [])
