"""Which weights, on what cord? The answer for a window and for a house."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, Step, WindowAnswer, mm
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.hang.choice import Choice, Need, choose
from sashwright.chapters.hang.effort import Effort, effort_of
from sashwright.chapters.hang.findings import sash_findings, window_findings
from sashwright.chapters.hang.mass import Known, know, mass_findings, mass_steps
from sashwright.chapters.hang.totals import totals
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge, Pulley, Suspension
from sashwright.physics.hanging import STANDARD_GRAVITY
from sashwright.window.layout import Which, WindowLayout
from sashwright.window.pocket import Hang, cord_length, hang_in, room_through_wall, thickest
from sashwright.window.resolve import Laid, Placed, place_each
from sashwright.window.spec import House


@dataclass(frozen=True, slots=True)
class Hung:
    """Everything found out about one hung sash."""

    known: Known
    need: Need
    choice: Choice
    suspension: Suspension
    pulley: Pulley
    effort: Effort
    cord: float
    load: float
    """Greatest pull in one cord [N]."""

    @property
    def which(self) -> Which:
        return self.known.which

    @property
    def hang(self) -> Hang:
        return self.need.hang


def hang(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    *,
    laid: Iterable[Laid] | None = None,
) -> Answer:
    """Weights, cords and effort for the windows of a house (all, or those with ``numbers``).

    A window whose sizes contradict each other is answered with what is wrong; it never raises for one.
    Sentences are in ``system``, by default the house's own. ``laid`` are those windows as ``place_each``
    gives them, where they are at hand.
    """
    system = system or house.units
    answers = []
    for window, placed in laid or place_each(house, knowledge, numbers):
        if isinstance(placed, Placed):
            answers.append(hang_window(placed, system))
        else:
            answers.append(contradicted(window.number, placed))
    return Answer("hang", house.name, answers, totals(answers))


def hang_window(placed: Placed, system: units.System = "us") -> WindowAnswer:
    """Weights, cords and effort for one window."""
    words = Words(system)
    layout, knowledge = placed.layout, placed.knowledge
    sides: tuple[Which, Which] = ("upper", "lower")
    known = [know(placed, which) for which in sides if layout.sash(which).hung]
    hung = _hang_all(placed, known, words)
    findings: list[Finding] = []
    working: list[Step] = []
    for each in hung:
        findings += mass_findings(each.known, words)
        findings += sash_findings(each, layout, words)
        working += mass_steps(each.known, knowledge)
        working += _steps(each, layout, knowledge)
    findings += window_findings(placed, hung, words)
    values: dict[str, Any] = dict.fromkeys(sides)
    values |= {each.which: _values(each, knowledge) for each in hung}
    return WindowAnswer(layout.window.number, values, findings, working)


def _hang_all(placed: Placed, known: Sequence[Known], words: Words) -> list[Hung]:
    layout, knowledge = placed.layout, placed.knowledge
    hanging = layout.family.hanging
    suspension: Suspension = knowledge.find("suspension", hanging.suspension)
    pulley: Pulley = knowledge.find("pulley", hanging.pulley)
    shared = placed.left is not None or placed.right is not None
    needs = []
    for each in known:
        place = hang_in(layout, each.which, pulley, suspension)
        limit = thickest(layout, place, shared=False)
        if shared:
            limit = min(limit, thickest(layout, place, shared=True))
        needs.append(Need(each.which, _weight_each(each, layout, knowledge), limit, place))
    choices = choose(needs, room_through_wall(layout), hanging, knowledge, words)
    return [
        _hung(each, need, choices[each.which], layout, suspension, pulley, knowledge)
        for each, need in zip(known, needs, strict=True)
    ]


def _weight_each(known: Known, layout: WindowLayout, knowledge: Knowledge) -> float:
    """Half the sash, and the closing bias of the chosen tradition [kg]."""
    bias = knowledge.find("bias", layout.family.hanging.bias)
    extra = bias.upper_each if known.which == "upper" else bias.lower_each
    return max(float(known.mass / 2 + extra), 0.05)


def _hung(
    known: Known,
    need: Need,
    choice: Choice,
    layout: WindowLayout,
    suspension: Suspension,
    pulley: Pulley,
    knowledge: Knowledge,
) -> Hung:
    strip = knowledge.find("weatherstrip", layout.family.strips.sides)
    slides = 2 * known.facts.layout.height
    drag = (strip.drag * slides, strip.drag_low * slides)
    effort = effort_of(known.mass, need.mass, need.hang, suspension, pulley, drag)
    longest_cord = max(need.hang.run, need.hang.drop) + need.hang.travel
    heavier = max(need.mass, known.mass / 2) + suspension.mass_per_length * longest_cord
    return Hung(
        known,
        need,
        choice,
        suspension,
        pulley,
        effort,
        cord_length(need.hang, suspension),
        heavier * STANDARD_GRAVITY * effort.ratio,
    )


def _values(each: Hung, knowledge: Knowledge) -> dict[str, Any]:
    known, place, effort = each.known, each.hang, each.effort
    taken = each.choice.taken
    stock = taken.stock if taken else None
    length = taken.length if taken else None
    return {
        "sash_mass_kg": known.mass,
        "sash_mass_source": known.source,
        "sash_mass_computed_kg": known.computed.total,
        "sash_mass_uncertainty_kg": known.computed.uncertainty,
        "sash_mass_parts_kg": {
            name: getattr(known.computed, name)
            for name in ("wood", "glass", "putty", "hardware", "paint")
        },
        "weight_each_kg": each.need.mass,
        "weight_stock": stock.key if stock else None,
        "weight_material": stock.material if stock else None,
        "weight_shape": stock.shape if stock else None,
        "weight_size_mm": mm(stock.size) if stock else None,
        "weight_section": f"{stock.shape} {mm(stock.size):g} mm" if stock else None,
        "weight_length_mm": None if length is None else mm(length),
        "longest_weight_mm": mm(place.longest),
        "thickest_weight_mm": mm(each.need.thickest),
        "spare_mm": None if length is None else mm(place.longest - length),
        "suspension": each.suspension.key,
        "pulley": each.pulley.key,
        "cord_each_mm": mm(each.cord),
        "cord_load_n": each.load,
        "cord_working_load_n": each.suspension.working_load,
        "travel_mm": mm(place.travel),
        "effort_max_n": effort.greatest,
        "effort_raise_max_n": float(effort.raising.max()),
        "effort_lower_max_n": float(effort.lowering.max()),
        "stays_put": effort.stays_put,
        "effort_curve": {
            "lift_mm": (effort.moved * 1000).round(3).tolist(),
            "raise_n": effort.raising.round(4).tolist(),
            "lower_n": effort.lowering.round(4).tolist(),
        },
        "glass_change_each_kg": dict(_glass_changes(known, knowledge)),
        "positions": {
            "pulley_height_mm": mm(place.pulley),
            "wheel_mm": mm(place.wheel),
            "cord_front_mm": mm(place.cord_front),
            "weight_offset_mm": mm(place.offset),
            "knot_height_closed_mm": mm(place.knot),
            "weight_top_closed_mm": mm(place.top_closed),
            "weight_top_open_mm": mm(place.top_open),
            "weight_bottom_closed_mm": None if length is None else mm(place.top_closed - length),
            "weight_bottom_open_mm": None if length is None else mm(place.top_open - length),
            "pocket_floor_mm": mm(place.floor),
        },
    }


def _glass_changes(known: Known, knowledge: Knowledge) -> Iterator[tuple[str, float]]:
    """What each weight gains if the sash is reglazed with one pane of another glass [kg]."""
    present = sum(
        knowledge.find("glass", key).mass_per_area for key in known.facts.layout.spec.glazing.panes
    )
    area = known.facts.pieces.glass_area
    for key, glass in knowledge.glass.items():
        yield key, area * (glass.mass_per_area - present) / 2


def _steps(each: Hung, layout: WindowLayout, knowledge: Knowledge) -> Iterator[Step]:
    which, place, need = each.which, each.hang, each.need
    hanging = layout.family.hanging
    bias = knowledge.find("bias", hanging.bias)
    extra = bias.upper_each if which == "upper" else bias.lower_each
    yield Step(
        f"weight on each side of the {which} sash",
        "sash / 2 + closing bias",
        {"sash_kg": each.known.mass, "bias_each_kg": extra, "tradition": bias.name},
        need.mass,
        "kg",
        bias.source,
    )
    yield Step(
        f"travel of the {which} sash",
        "room above it to the head, or below it to the sill, or to its stop",
        {"full_travel_m": layout.full_travel(which)},
        place.travel,
        "m",
        "geometry of the window",
    )
    yield Step(
        f"longest weight of the {which} sash",
        "pulley - floor - travel - top clearance - bottom clearance",
        {
            "pulley_m": place.pulley,
            "floor_m": place.floor,
            "travel_m": place.travel,
            "top_clearance_m": hanging.top_clearance,
            "bottom_clearance_m": hanging.bottom_clearance,
        },
        place.longest,
        "m",
        "geometry of the pocket; clearances common practice",
    )
    if each.choice.taken is not None:
        stock = each.choice.taken.stock
        density = knowledge.find("weight_material", stock.material).density
        yield Step(
            f"length of each weight of the {which} sash",
            "mass / (density x section) + eye",
            {
                "mass_kg": need.mass,
                "density_kg_m3": density,
                "shape": stock.shape,
                "size_m": stock.size,
                "eye_m": stock.eye,
            },
            each.choice.taken.length,
            "m",
            stock.source,
        )
    yield Step(
        f"cord on each side of the {which} sash",
        "run to the knot + half a turn of the wheel + drop to the weight + ties",
        {
            "run_m": place.run,
            "half_turn_m": math.pi * place.wheel / 2,
            "drop_m": place.drop,
            "ties_m": each.suspension.ties,
        },
        each.cord,
        "m",
        "geometry; ties common practice",
    )
    yield Step(
        f"friction of the {which} sash's pulleys",
        "ratio of tensions = (1 + k) / (1 - k), k = friction x axle / wheel",
        {
            "friction": each.pulley.friction_coefficient,
            "axle_m": each.pulley.axle_diameter,
            "wheel_m": place.wheel,
        },
        each.effort.ratio,
        "-",
        f"moments about the axle; {each.pulley.source}",
    )
    strip = knowledge.find("weatherstrip", layout.family.strips.sides)
    yield Step(
        f"greatest effort on the {which} sash",
        "raise: 2 (sash/2 + cord - (weight + its cord) / ratio) g + drag; lower likewise; greatest of all",
        {
            "drag_n_per_m": strip.drag,
            "sliding_edge_m": 2 * each.known.facts.layout.height,
            "cord_kg_per_m": each.suspension.mass_per_length,
            "raise_closed_n": float(each.effort.raising[0]),
            "raise_open_n": float(each.effort.raising[-1]),
            "lower_closed_n": float(each.effort.lowering[0]),
            "lower_open_n": float(each.effort.lowering[-1]),
        },
        each.effort.greatest,
        "N",
        f"balance of forces; drag: {strip.source}",
    )
