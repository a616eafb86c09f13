"""The bin of salvaged weights against the sash of a house: which two hang where, and what must be bought."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, Step, WindowAnswer, mm
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.hang import hang_window
from sashwright.chapters.make.bin import BinPlan, HungPair, Room, SashNeed, Weight, assign
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.window.layout import Which
from sashwright.window.pocket import room_through_wall
from sashwright.window.resolve import Placed, place_each
from sashwright.window.shop import Shop
from sashwright.window.spec import House

SIDES: tuple[Which, ...] = ("upper", "lower")
SOURCE = "the shop's bin rules"


@dataclass(frozen=True, slots=True)
class _Asked:
    """The sash of a window, and what the hang chapter says of each."""

    number: str
    needs: tuple[SashNeed, ...]
    hung: Mapping[Which, Mapping[str, Any]]
    together: float


def bin_plan(
    house: House,
    knowledge: Knowledge,
    shop: Shop,
    budget: Budget,
    *,
    system: units.System | None = None,
) -> Answer:
    """Two weights of the shop's bin for every hung sash of a house, or how many to buy and of what mass.

    Targets, the room of each pocket over the full travel and the allowed materials come from the hang
    chapter; how far a weight may be off its target, and the two of a sash from each other, from the shop's
    rules. As few as can be are bought; of those choices the one nearest the targets, proven or with its gap.
    A window that contradicts itself is answered with what is wrong.
    """
    words = Words(system or house.units)
    asked: dict[str, _Asked | WindowAnswer] = {}
    for window, placed in place_each(house, knowledge):
        asked[window.number] = (
            _ask(placed, shop, words.system)
            if isinstance(placed, Placed)
            else contradicted(window.number, placed)
        )
    weights = [
        Weight(
            label,
            weight.mass,
            weight.length,
            weight.size,
            weight.shape,
            str(knowledge.find("weight_material", weight.material).key),
        )
        for label, weight in shop.weights.items()
    ]
    windows = [each for each in asked.values() if isinstance(each, _Asked)]
    needs = [need for each in windows for need in each.needs]
    plan = assign(weights, needs, {each.number: each.together for each in windows}, budget)
    pairs = {(pair.sash.window, pair.sash.which): pair for pair in plan.pairs}
    answers = [
        each if isinstance(each, WindowAnswer) else _answer(each, pairs, knowledge, words)
        for each in asked.values()
    ]
    values = _values(plan, weights, shop)
    findings = list(_findings(plan, values, words))
    return Answer("bin", house.name, answers, values, findings, list(_steps(plan, values, shop)))


def _ask(placed: Placed, shop: Shop, system: units.System) -> _Asked:
    layout, answer = placed.layout, hang_window(placed, system)
    hanging = layout.family.hanging
    knowledge = placed.knowledge
    materials = tuple(
        str(knowledge.find("weight_material", key).key) for key in hanging.weight_materials
    )
    hung = {which: answer.values[which] for which in SIDES if answer.values.get(which) is not None}
    needs = tuple(
        SashNeed(
            layout.window.number,
            which,
            hung[which]["weight_each_kg"],
            shop.bin.tolerance,
            shop.bin.apart,
            (
                Room(
                    hung[which]["thickest_weight_mm"] / 1000,
                    hung[which]["longest_weight_mm"] / 1000,
                ),
            ),
            (hung[which]["weight_size_mm"] or 0.0) / 1000,
            materials,
            tuple(hanging.weight_shapes),
        )
        for which in SIDES
        if which in hung
    )
    bought = sum(need.buys for need in needs)
    # Where no weight that can be bought passes its fellow, hang says so; the bin must not fail for it.
    together = max(room_through_wall(layout), bought)
    return _Asked(layout.window.number, needs, hung, together)


# --- the answer -----------------------------------------------------------------------


def _answer(
    asked: _Asked,
    pairs: Mapping[tuple[str, Which], HungPair],
    knowledge: Knowledge,
    words: Words,
) -> WindowAnswer:
    values: dict[str, Any] = dict.fromkeys(SIDES)
    findings: list[Finding] = []
    for which in SIDES:
        pair = pairs.get((asked.number, which))
        if pair is not None:
            values[which] = _pair(pair, asked.hung[which])
            findings += _pair_findings(pair, asked.hung[which], knowledge, words)
    return WindowAnswer(asked.number, values, findings)


def _pair(pair: HungPair, hung: Mapping[str, Any]) -> dict[str, Any]:
    sides = {"left": _weight(pair.left), "right": _weight(pair.right)}
    masses = [pair.sash.each if w is None else w.mass for w in (pair.left, pair.right)]
    return {
        "weight_each_kg": pair.sash.each,
        **sides,
        "buy": pair.bought,
        "buy_stock": hung["weight_stock"] if pair.bought else None,
        "buy_length_mm": hung["weight_length_mm"] if pair.bought else None,
        "off_kg": sum(masses) - 2 * pair.sash.each,
        "apart_kg": abs(masses[0] - masses[1]),
        "longest_weight_mm": hung["longest_weight_mm"],
        "thickest_weight_mm": hung["thickest_weight_mm"],
        "spare_mm": min(
            (
                hung["longest_weight_mm"] - mm(w.length)
                for w in (pair.left, pair.right)
                if w is not None
            ),
            default=None,
        ),
    }


def _weight(weight: Weight | None) -> dict[str, Any] | None:
    if weight is None:
        return None
    return {
        "number": weight.number,
        "mass_kg": weight.mass,
        "length_mm": mm(weight.length),
        "size_mm": mm(weight.size),
        "shape": weight.shape,
        "material": weight.material,
    }


def _pair_findings(
    pair: HungPair, hung: Mapping[str, Any], knowledge: Knowledge, words: Words
) -> Iterator[Finding]:
    which = pair.sash.which
    on = f"{which}.weight"
    found = [w for w in (pair.left, pair.right) if w is not None]
    rule = (
        f"within {words.mass(pair.sash.tolerance)} of {words.mass(pair.sash.each)} each and "
        f"{words.mass(pair.sash.apart)} of each other, short and slim enough for the pocket"
    )
    if pair.bought == 0:
        numbers = " and ".join(w.number for w in (pair.left, pair.right) if w is not None)
        yield Finding("ok", on, f"From the bin for the {which} sash, nos. {numbers}.", rule, SOURCE)
        return
    stock = hung["weight_stock"]
    if stock is None:
        yield Finding(
            "fail",
            on,
            f"No weight for the {which} sash: none of the bin is near {words.mass(pair.sash.each)} and fits "
            "the pocket, and none that can be bought fits it either.",
            rule,
            SOURCE,
        )
        return
    name = knowledge.find("weight_stock", stock).name
    one = f"{found[0].number} of the bin and one bought" if found else "two bought"
    yield Finding(
        "note",
        on,
        f"For the {which} sash {one}, of {words.mass(pair.sash.each)}: {name[:1].lower()}{name[1:]}, "
        f"{words.rough(hung['weight_length_mm'] / 1000)} long.",
        rule,
        SOURCE,
    )


def _values(plan: BinPlan, weights: Sequence[Weight], shop: Shop) -> dict[str, Any]:
    used = {w.number for pair in plan.pairs for w in (pair.left, pair.right) if w is not None}
    left = [weight for weight in weights if weight.number not in used]
    least = plan.least_deviation
    return {
        "weights": len(weights),
        "used": len(used),
        "left": [_weight(weight) for weight in left],
        "left_kg": sum(weight.mass for weight in left),
        "sash": len(plan.pairs),
        "sash_from_bin": sum(pair.bought == 0 for pair in plan.pairs),
        "bought": plan.weights_bought,
        "least_bought": plan.least_bought,
        "bought_kg": sum(pair.bought * pair.sash.each for pair in plan.pairs),
        "off_kg": plan.deviation,
        "least_off_kg": least,
        "gap_kg": None if least is None else max(plan.deviation - least, 0.0),
        "proven": plan.proven,
        "tolerance_kg": shop.bin.tolerance,
        "apart_kg": shop.bin.apart,
    }


def _findings(plan: BinPlan, values: Mapping[str, Any], words: Words) -> Iterator[Finding]:
    if not plan.pairs:
        yield Finding(
            "note", "bin", "No sash of the house is hung on weights.", "nothing to hang", "survey"
        )
        return
    if not values["weights"]:
        yield Finding(
            "note", "bin", "The bin is empty: weigh salvaged weights and enter them.",
            "no weight is known", "the shop's stock",
        )  # fmt: skip
    says = (
        f"{values['used']} weights of the bin hang {values['sash_from_bin']} sash whole; "
        f"{values['bought']} {'is' if values['bought'] == 1 else 'are'} bought."
    )
    if plan.proven:
        yield Finding(
            "ok", "bin", says, "no choice buys fewer, nor is one with as few nearer the targets",
            "set packing by a whole-number programme, proven",
        )  # fmt: skip
        return
    gap = values["gap_kg"]
    because = (
        f"no choice buys fewer than {values['least_bought']}"
        if gap is None
        else f"no choice buys fewer; all weights together could be {words.mass(gap)} nearer their targets"
    )
    yield Finding(
        "note", "bin", says, because, "set packing by a whole-number programme, time over"
    )


def _steps(plan: BinPlan, values: Mapping[str, Any], shop: Shop) -> Iterator[Step]:
    yield Step(
        "weights that must be bought",
        "least number of weights to buy over all choices of one pair for each sash",
        {
            "weights": values["weights"],
            "sash": values["sash"],
            "tolerance_kg": shop.bin.tolerance,
            "apart_kg": shop.bin.apart,
            "least": values["least_bought"],
        },
        values["bought"],
        "-",
        "set packing; column generation and a whole-number programme",
    )
    yield Step(
        "deviation of all weights of the bin",
        "sum of |weight - target|",
        {"least_kg": values["least_off_kg"], "proven": plan.proven},
        values["off_kg"],
        "kg",
        "targets: the hang chapter",
    )
