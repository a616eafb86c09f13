"""Which weights fit: every stock section against the pocket, for both sash of a window together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge, WeightStock
from sashwright.physics.hanging import bar_length, section_area
from sashwright.window.layout import Which
from sashwright.window.pocket import EPSILON, Hang, clears
from sashwright.window.spec import Hanging

USUAL_SIZE = 0.0381
"""Thickness of the ordinary cast weight, 1 1/2 in [m]; Kidder, sec. 239: tried first."""
SHORTEST_USEFUL_TRAVEL = 0.15
"""A window that opens less is hardly worth hanging [m]; judgement."""


@dataclass(frozen=True, slots=True)
class Need:
    """What one sash asks of each of its weights, and what the pocket allows [kg, m]."""

    which: Which
    mass: float
    thickest: float
    hang: Hang


@dataclass(frozen=True, slots=True)
class Candidate:
    """A stock section made to the needed mass: its length with the eye [m]."""

    stock: WeightStock
    length: float
    rank: int


@dataclass(frozen=True, slots=True)
class Choice:
    """The weight taken for one sash, or why none fits and what would."""

    taken: Candidate | None
    reason: str = ""
    remedies: tuple[str, ...] = ()


def slim_candidates(
    need: Need, stocks: Sequence[WeightStock], knowledge: Knowledge
) -> list[Candidate]:
    """Every section slim enough, made to the needed mass, in the order of ``stocks``."""
    found = []
    for rank, stock in enumerate(stocks):
        if not clears(stock, need.thickest):
            continue
        density = knowledge.find("weight_material", stock.material).density
        body = bar_length(need.mass, density, section_area(stock.shape, stock.size))
        found.append(Candidate(stock, body + stock.eye, rank))
    return found


def allowed_stocks(hanging: Hanging, knowledge: Knowledge) -> list[WeightStock]:
    """Sections the family allows, the preferred first: by material, then shape, then the usual size."""
    shapes = hanging.weight_shapes
    materials = [knowledge.find("weight_material", key).key for key in hanging.weight_materials]
    stocks = [
        stock
        for stock in knowledge.weight_stock.values()
        if stock.material in materials and stock.shape in shapes
    ]
    return sorted(
        stocks,
        key=lambda s: (
            materials.index(s.material),
            shapes.index(s.shape),
            abs(s.size - USUAL_SIZE),
            s.size,
        ),
    )


def _short_enough(candidate: Candidate, need: Need) -> bool:
    return candidate.length <= need.hang.longest + EPSILON


def choose(
    needs: Sequence[Need], together: float, hanging: Hanging, knowledge: Knowledge, words: Words
) -> dict[Which, Choice]:
    """The preferred weight for each sash such that those of both pass each other in the pocket.

    ``together`` is the greatest sum of two thicknesses that pass through the wall [m].
    """
    stocks = allowed_stocks(hanging, knowledge)
    slim = {n.which: slim_candidates(n, stocks, knowledge) for n in needs}
    fitting = {n.which: [c for c in slim[n.which] if _short_enough(c, n)] for n in needs}
    taken = _take(fitting, together)
    return {
        need.which: Choice(taken[need.which])
        if need.which in taken
        else _explain(
            need, stocks, slim[need.which], fitting[need.which], together, taken, knowledge, words
        )
        for need in needs
    }


def _take(fitting: dict[Which, list[Candidate]], together: float) -> dict[Which, Candidate]:
    """The best pair that passes; failing that, the best single one."""
    alone = {which: found[0] for which, found in fitting.items() if found}
    if len(alone) < 2:
        return alone
    pairs = [
        (upper.rank + lower.rank, upper.rank, upper, lower)
        for upper in fitting["upper"]
        for lower in fitting["lower"]
        if upper.stock.size + lower.stock.size <= together + EPSILON
    ]
    if pairs:
        _, _, upper, lower = min(pairs, key=lambda pair: pair[:2])
        return {"upper": upper, "lower": lower}
    slim = min(fitting["lower"], key=lambda candidate: (candidate.stock.size, candidate.rank))
    return {"lower": slim}


def _name(stock: WeightStock, knowledge: Knowledge, words: Words) -> str:
    material = knowledge.find("weight_material", stock.material).name.lower()
    return f"{stock.shape} {material} {words.length(stock.size)}"


def _explain(
    need: Need,
    stocks: Sequence[WeightStock],
    slim: Sequence[Candidate],
    fitting: Sequence[Candidate],
    together: float,
    taken: dict[Which, Candidate],
    knowledge: Knowledge,
    words: Words,
) -> Choice:
    """Why nothing fits one sash, and what would."""
    other = next(iter(taken.values()), None)
    if fitting and other is not None:
        reason = (
            f"beside the other sash's weight, {words.length(other.stock.size)} thick, only "
            f"{words.length(max(together - other.stock.size, 0.0))} is left through the wall"
        )
        return Choice(None, reason, ("take out or thin the pendulum between the weights",))
    if not slim:
        thinnest = min((stock.size for stock in stocks), default=0.0)
        reason = (
            f"the pocket takes no weight thicker than {words.length(max(need.thickest, 0.0))}, "
            f"the thinnest of the allowed stock is {words.length(thinnest)}"
        )
    else:
        best = min(slim, key=lambda c: c.length)
        reason = (
            f"{_name(best.stock, knowledge, words)} would be {words.at_least(best.length)} long, the "
            f"pocket takes {words.at_most(max(need.hang.longest, 0.0))} over the whole travel"
        )
    return Choice(None, reason, tuple(_remedies(need, slim, knowledge, words)))


def _remedies(
    need: Need, slim: Sequence[Candidate], knowledge: Knowledge, words: Words
) -> Iterator[str]:
    """Other stock that would fit; a shorter travel; a deeper pocket.

    Rounded so that whoever does what is said finds that it fits.
    """
    known = slim_candidates(need, list(knowledge.weight_stock.values()), knowledge)
    others = [c for c in known if _short_enough(c, need)]
    if others:
        shortest = min(others, key=lambda c: (c.length, c.stock.size))
        yield f"{_name(shortest.stock, knowledge, words)}, {words.rough(shortest.length)} long"
    if slim:
        best = min(slim, key=lambda c: c.length)
        travel = need.hang.travel - (best.length - need.hang.longest)
        if travel >= SHORTEST_USEFUL_TRAVEL:
            yield (
                f"a stop that shortens the travel to {words.at_most(travel)}, with "
                f"{_name(best.stock, knowledge, words)}"
            )
        else:
            yield (
                f"a pocket floor {words.at_least(best.length - need.hang.longest)} deeper, or a lighter sash"
            )
    else:
        yield "a larger wheel, which hangs the weights further back, or a wider pocket"
