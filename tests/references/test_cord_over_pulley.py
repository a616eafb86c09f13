"""Effort on a hung sash, derived a second way: by energy, and by solving the wheel's balance numerically.

Sources: the principle of work, and Coulomb friction at a plain journal, in any textbook of statics (for
instance J. L. Meriam and L. G. Kraige, Engineering Mechanics: Statics, sections 6/6 Journal Bearings and 7/3
Virtual Work, from memory). The program's own formula is closed: a ratio of tensions at each wheel. Here a
chain is a thousand small masses with a height each, and tensions are found by bisection.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import pytest

from sashwright.chapters.hang import hang
from sashwright.chapters.hang.effort import Effort, effort_of
from sashwright.knowledge.load import load
from sashwright.knowledge.tables import Pulley, Suspension
from sashwright.window.check import house_from
from sashwright.window.layout import Which
from sashwright.window.pocket import Hang

KNOWLEDGE = load()
G = 9.80665
CHAIN = KNOWLEDGE.suspension["chain-steel-heavy"]  # 190 g/m
WHEEL = KNOWLEDGE.pulley["chain-2-1-4"]  # axle 5/16 in, friction 0.2
SMOOTH = replace(WHEEL, friction_coefficient=0.0)
WEIGHTLESS = replace(CHAIN, mass_per_length=0.0)

LINKS = 4000
"""Masses that a chain of 1.8 m is divided into, of 0.08 g or 0.8 mN each."""
SLOPE = 1e-6
"""[N]: differences of some 10 J over 2 mm, in double precision. A single link more on one side of a wheel
would show as 1 mN."""
ROUNDED = 2e-4
"""[N]: answers are rounded to 0.0001 N and to 0.001 mm."""
SOLVED = 1e-9
"""Bisection goes on until the tension is known to this [N]."""

SASH, WEIGHT = 8.0, 3.9
DRAG = 6.0


def place(which: Which, pulley: Pulley, chain: Suspension) -> Hang:
    """A sash that travels 0.80 m, its pulley 1.55 m above the sill."""
    return Hang(
        which=which,
        travel=0.80,
        wheel=pulley.wheel_diameter + chain.thickness,
        cord_front=0.008,
        offset=0.02,
        pulley=1.55,
        floor=0.0,
        knot=0.60 if which == "lower" else 1.45,
        top_closed=1.50 if which == "lower" else 0.70,
        longest=0.60,
    )


@dataclass(frozen=True)
class Model:
    """Sash, two weights and two chains as masses with heights, moved by ``lift`` [m] from closed."""

    hang: Hang
    sash: float
    weight: float
    chain: Suspension

    def up(self, moved: float) -> float:
        """How far the sash has risen, where ``moved`` counts from closed."""
        return moved if self.hang.which == "lower" else -moved

    def energy(self, moved: float) -> float:
        """Potential energy [J] of sash, weights and every link of both chains."""
        rise = self.up(moved)
        knot, top = self.hang.knot + rise, self.hang.top_closed - rise
        radius = self.hang.wheel / 2
        length = self.hang.run + math.pi * radius + self.hang.drop
        along = (np.arange(LINKS) + 0.5) * length / LINKS
        run = self.hang.pulley - knot
        over = (along - run) / radius
        heights = np.where(
            along < run,
            knot + along,
            np.where(
                over < math.pi,
                self.hang.pulley + radius * np.sin(np.clip(over, 0, math.pi)),
                self.hang.pulley - (along - run - math.pi * radius),
            ),
        )
        links = self.chain.mass_per_length * length / LINKS * heights.sum()
        return G * (self.sash * rise + 2 * self.weight * top + 2 * float(links))

    def hanging(self, moved: float) -> tuple[float, float]:
        """Load on the sash's side and on the weight's side of one wheel [N]."""
        rise = self.up(moved)
        run = self.hang.pulley - (self.hang.knot + rise)
        drop = self.hang.pulley - (self.hang.top_closed - rise)
        per_metre = self.chain.mass_per_length
        return (self.sash / 2 + per_metre * run) * G, (self.weight + per_metre * drop) * G


def bisect(unbalanced: Callable[[float], float], low: float, high: float) -> float:
    """Where a function that rises passes zero."""
    assert unbalanced(low) <= 0 <= unbalanced(high)
    while high - low > SOLVED:
        middle = (low + high) / 2
        if unbalanced(middle) > 0:
            high = middle
        else:
            low = middle
    return (low + high) / 2


def journal(pulley: Pulley, *, exact: bool = False) -> float:
    """Arm of the friction at the axle [m]: friction times its radius.

    Exactly, the reaction is tangent to a circle of radius times the sine of the angle of friction.
    """
    friction = pulley.friction_coefficient
    share = math.sin(math.atan(friction)) if exact else friction
    return share * pulley.axle_diameter / 2


def carried(pull: float, wheel: float, arm: float, *, turning: int) -> float:
    """Tension on the sash's side [N] as the wheel just turns, found from moments about its axle.

    ``turning`` +1: toward the weight, the sash rising. The axle carries both tensions.
    """

    def unbalanced(tension: float) -> float:
        return (tension - pull) * wheel / 2 + turning * (tension + pull) * arm

    return bisect(unbalanced, 0.0, 3 * pull)


def by_statics(model: Model, pulley: Pulley, drag: float, *, exact: bool = False) -> np.ndarray:
    """Forces to raise and to lower at each position [N]."""
    arm = journal(pulley, exact=exact)
    found = []
    for moved in np.linspace(0, model.hang.travel, 41):
        load, pull = model.hanging(float(moved))
        up = 2 * (load - carried(pull, model.hang.wheel, arm, turning=1)) + drag
        down = 2 * (carried(pull, model.hang.wheel, arm, turning=-1) - load) + drag
        found.append((up, down))
    return np.array(found).T


def work(force: np.ndarray, moved: np.ndarray) -> float:
    """By trapeziums, exact for forces that change evenly [J]."""
    return float(((force[1:] + force[:-1]) / 2 * np.diff(moved)).sum())


def ours(model: Model, pulley: Pulley, drag: float = 0.0) -> Effort:
    return effort_of(model.sash, model.weight, model.hang, model.chain, pulley, (drag, drag))


@pytest.fixture(params=["upper", "lower"])
def which(request: pytest.FixtureRequest) -> Which:
    found: Which = request.param
    return found


# --- no friction: the force is the slope of the energy -----------------------------------


def test_without_friction_the_force_is_the_slope_of_the_energy(which: Which) -> None:
    model = Model(place(which, SMOOTH, CHAIN), SASH, WEIGHT, CHAIN)
    effort = ours(model, SMOOTH)
    step = 0.001
    for moved, raising, lowering in zip(
        effort.moved[1:-1], effort.raising[1:-1], effort.lowering[1:-1], strict=True
    ):
        slope = (model.energy(moved + step) - model.energy(moved - step)) / (2 * step)
        upward = slope if which == "lower" else -slope
        assert raising == pytest.approx(upward, abs=SLOPE)
        assert lowering == pytest.approx(-upward, abs=SLOPE)


def test_energy_over_the_whole_travel(which: Which) -> None:
    """What the hand puts in on the way up, all told: the difference of the energies."""
    model = Model(place(which, SMOOTH, CHAIN), SASH, WEIGHT, CHAIN)
    effort = ours(model, SMOOTH)
    gained = model.energy(model.hang.travel) - model.energy(0.0)
    force = effort.raising if which == "lower" else effort.lowering
    assert work(force, effort.moved) == pytest.approx(gained, abs=SLOPE)


# --- with friction: tensions by bisection -----------------------------------------------


@pytest.mark.parametrize("weight", [3.6, 3.9, 4.0, 4.4])
@pytest.mark.parametrize("chain", [CHAIN, WEIGHTLESS], ids=["chain", "no chain"])
def test_statics_solved_numerically(which: Which, weight: float, chain: Suspension) -> None:
    model = Model(place(which, WHEEL, chain), SASH, weight, chain)
    effort = ours(model, WHEEL, DRAG)
    raising, lowering = by_statics(model, WHEEL, DRAG)
    assert effort.raising == pytest.approx(raising, abs=10 * SOLVED)
    assert effort.lowering == pytest.approx(lowering, abs=10 * SOLVED)


def test_work_in_is_energy_gained_and_heat_in_the_axles(which: Which) -> None:
    """Over a stroke up: hand's work = change of energy + torque of friction times angle + drag.

    The torque at each axle is its friction on the sum of both tensions there, the angle the stroke over
    the wheel's radius.
    """
    model = Model(place(which, WHEEL, CHAIN), SASH, WEIGHT, CHAIN)
    effort = ours(model, WHEEL, DRAG)
    force = effort.raising if which == "lower" else effort.lowering
    hand = work(force, effort.moved)
    arm, radius = journal(WHEEL), model.hang.wheel / 2
    torque = []
    turning = 1 if which == "lower" else -1
    for moved in effort.moved:
        _, pull = model.hanging(float(moved))
        torque.append(arm * (pull + carried(pull, model.hang.wheel, arm, turning=turning)))
    heat = 2 * work(np.array(torque), effort.moved) / radius
    stored = model.energy(model.hang.travel) - model.energy(0.0)
    assert hand == pytest.approx(stored + heat + DRAG * model.hang.travel, abs=SLOPE)


def test_up_and_down_again_costs_only_friction(which: Which) -> None:
    model = Model(place(which, SMOOTH, CHAIN), SASH, WEIGHT, CHAIN)
    effort = ours(model, SMOOTH, DRAG)
    both = work(effort.raising + effort.lowering, effort.moved)
    assert both == pytest.approx(2 * DRAG * model.hang.travel, rel=1e-12)


# --- how good the textbook's short form is ----------------------------------------------


def test_against_the_circle_of_friction() -> None:
    """Friction 0.2 stands for sin(atan 0.2) = 0.196: the axles' part comes out 2 % too great.

    That is far within what is known of the friction of an old pulley (0.1 to 0.3).
    """
    model = Model(place("lower", WHEEL, WEIGHTLESS), 8.0, 4.0, WEIGHTLESS)
    exact = by_statics(model, WHEEL, 0.0, exact=True)
    effort = ours(model, WHEEL)
    assert effort.raising[0] / exact[0, 0] == pytest.approx(1.02, abs=0.005)
    assert effort.lowering[0] / exact[1, 0] == pytest.approx(1.02, abs=0.005)


# --- limits ---------------------------------------------------------------------------


def test_no_friction_no_chain_exact_balance(which: Which) -> None:
    model = Model(place(which, SMOOTH, WEIGHTLESS), 8.0, 4.0, WEIGHTLESS)
    effort = ours(model, SMOOTH)
    assert effort.raising == pytest.approx(np.zeros(41), abs=1e-12)
    assert effort.lowering == pytest.approx(np.zeros(41), abs=1e-12)
    # Nothing pulls it either way.
    assert effort.stays_put


def test_chain_balances_where_both_sides_hang_alike() -> None:
    """Lower sash: 0.95 m of run and 0.05 m of drop, so alike 0.45 m up, and the more off the further."""
    model = Model(place("lower", SMOOTH, CHAIN), 8.0, 4.0, CHAIN)
    effort = ours(model, SMOOTH)
    zero = np.interp(0.0, -effort.raising, effort.moved)
    assert zero == pytest.approx(0.45, abs=1e-9)
    assert effort.raising[0] == pytest.approx(2 * 0.190 * 0.9 * G)


def test_a_larger_wheel_turns_more_easily() -> None:
    """The same axle in a wheel twice as large loses half as much."""
    small = replace(WHEEL, wheel_diameter=0.05)
    large = replace(WHEEL, wheel_diameter=0.10)
    thin = replace(WEIGHTLESS, thickness=0.0)
    pulls = [
        ours(Model(place("lower", wheel, thin), 8.0, 4.0, thin), wheel).raising[0]
        for wheel in (small, large)
    ]
    # To first order: the loss itself, 3.2 %, is the error of that.
    assert pulls[0] / pulls[1] == pytest.approx(2.0, rel=0.033)


# --- the whole chapter ------------------------------------------------------------------


def test_the_chapters_curve_by_energy() -> None:
    """A plain window on heavy chain: mass, run and drop from the answer, force from the energy."""
    document = {
        "name": "x",
        "families": {
            "A": {"hanging": {"suspension": "chain-steel-heavy", "pulley": "chain-2-1-4"}}
        },
        "windows": [{"number": "1", "family": "A", "width": 32, "height": 66}],
    }
    smooth = replace(KNOWLEDGE, pulley={**KNOWLEDGE.pulley, "chain-2-1-4": SMOOTH})
    (answer,) = hang(house_from(document, smooth), smooth).windows
    sides: tuple[Which, Which] = ("upper", "lower")
    for which in sides:
        values = answer.values[which]
        places = values["positions"]
        model = Model(
            Hang(
                which=which,
                travel=values["travel_mm"] / 1000,
                wheel=places["wheel_mm"] / 1000,
                cord_front=0.0,
                offset=0.0,
                pulley=places["pulley_height_mm"] / 1000,
                floor=0.0,
                knot=places["knot_height_closed_mm"] / 1000,
                top_closed=places["weight_top_closed_mm"] / 1000,
                longest=0.0,
            ),
            values["sash_mass_kg"],
            values["weight_each_kg"],
            CHAIN,
        )
        curve = values["effort_curve"]
        for lift, raising in zip(curve["lift_mm"][1:-1], curve["raise_n"][1:-1], strict=True):
            moved, step = lift / 1000, 0.001
            slope = (model.energy(moved + step) - model.energy(moved - step)) / (2 * step)
            assert raising == pytest.approx(slope if which == "lower" else -slope, abs=ROUNDED)
