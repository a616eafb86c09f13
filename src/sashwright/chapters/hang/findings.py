"""Judgements on weights, cords, pulleys, pocket and effort."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sashwright.chapters.answer import Finding
from sashwright.chapters.words import Words
from sashwright.units import INCH
from sashwright.window.layout import WindowLayout
from sashwright.window.pocket import LEAST_CLEARANCE
from sashwright.window.resolve import Placed

if TYPE_CHECKING:
    from sashwright.chapters.hang.chapter import Hung

KNOT_ROOM = 0.5 * INCH
"""Least height of the pulley's centre above the knot at the end of the travel [m]; common practice."""
ONE_HAND = 22.2
"""5 lbf: advisory for accessible operable parts (2010 ADA Standards, sec. 309) [N]."""
HARD = 135.0
"""30 lbf: usual limit of operating force for a hung window of the residential class, from memory [N]."""
OVERSIZE_KG = 18.1
"""40 lb: sash above it are better hung on chain or ribbon (c. 1900 practice) [kg]."""

KIDDER = "F. E. Kidder, Building Construction and Superintendence, sec. 236-239"


def sash_findings(each: Hung, layout: WindowLayout, words: Words) -> Iterator[Finding]:
    """All judgements on one hung sash."""
    yield _weight(each, words)
    yield from _cover(each, layout, words)
    yield from _knot(each, layout, words)
    yield from _cord(each, words)
    yield from _effort(each, words)


def _weight(each: Hung, words: Words) -> Finding:
    on = f"{each.which}.weight"
    taken = each.choice.taken
    if taken is None:
        remedies = "; or ".join(each.choice.remedies) or "none of the stock in the tables"
        return Finding(
            "fail",
            on,
            f"No allowed weight of {words.mass(each.need.mass)} fits the {each.which} sash's pocket. "
            f"What would: {remedies}.",
            each.choice.reason,
            "geometry of the pocket over the full travel",
        )
    spare = each.hang.longest - taken.length
    return Finding(
        "ok",
        on,
        f"Two weights of {words.mass(each.need.mass)}, {taken.stock.name.lower()}, "
        f"{words.rough(taken.length)} long, fit with {words.rough(spare)} to spare.",
        f"the pocket takes {words.rough(each.hang.longest)} at both ends of the travel, and "
        f"{words.length(each.need.thickest)} thick",
        "geometry of the pocket over the full travel",
    )


def _cover(each: Hung, layout: WindowLayout, words: Words) -> Iterator[Finding]:
    taken = each.choice.taken
    hole = layout.family.pocket.cover_height
    if taken is None or hole >= taken.length:
        return
    on = f"{each.which}.weight"
    if hole == 0:
        yield Finding(
            "caution",
            on,
            "There is no pocket cover: the casing has to come off to reach the weights.",
            "no opening behind the pulley stile is recorded",
            "common practice",
        )
        return
    yield Finding(
        "note",
        on,
        f"The {each.which} sash's weight is longer than the pocket hole; use a weight in sections, or "
        "pass it in from behind the casing.",
        f"weight {words.rough(taken.length)}, hole {words.rough(hole)}",
        "common practice",
    )


def _knot(each: Hung, layout: WindowLayout, words: Words) -> Iterator[Finding]:
    place = each.hang
    highest = place.knot + (place.travel if each.which == "lower" else 0.0)
    room = place.pulley - highest
    if room < KNOT_ROOM:
        yield Finding(
            "fail",
            f"{each.which}.cord",
            f"The knot of the {each.which} sash reaches the pulley before the sash reaches its end; set "
            "the knot lower on the stile.",
            f"{words.length(room)} left between knot and pulley, {words.length(KNOT_ROOM)} wanted",
            "geometry; clearance common practice",
        )
    sash = layout.sash(each.which)
    if place.knot < sash.stile_bottom:
        yield Finding(
            "fail",
            f"{each.which}.cord",
            f"The knot hole would lie below the {each.which} sash; set it higher on the stile.",
            f"{words.length(layout.family.hanging.knot_hole)} from the top of a stile "
            f"{words.length(sash.stile_top - sash.stile_bottom)} long",
            "geometry of the window",
        )
    if place.travel <= 0:
        yield Finding(
            "caution",
            f"{each.which}.sash",
            f"The {each.which} sash has no travel.",
            "its stiles already reach the end of the opening",
            "geometry of the window",
        )


def _cord(each: Hung, words: Words) -> Iterator[Finding]:
    on = f"{each.which}.cord"
    suspension, pulley = each.suspension, each.pulley
    says = f"{suspension.name} carries {words.force(each.load)} of its {words.force(suspension.working_load)}"
    if each.load > suspension.working_load:
        yield Finding(
            "fail",
            on,
            f"{says}: take a stronger cord, or chain. A cord that parts drops the sash.",
            "greatest pull in one cord against its working load",
            suspension.source,
        )
    else:
        yield Finding(
            "ok",
            on,
            f"{says}.",
            "greatest pull in one cord against its working load",
            suspension.source,
        )
    if suspension.kind not in pulley.for_kinds:
        yield Finding(
            "fail",
            on,
            f"{pulley.name} is not made for {suspension.kind}.",
            f"it takes {', '.join(pulley.for_kinds)}",
            pulley.source,
        )
    if pulley.wheel_diameter < suspension.min_wheel - 1e-9:
        yield Finding(
            "caution",
            on,
            f"The wheel is small for {suspension.name.lower()}: it will wear early.",
            f"wheel {words.length(pulley.wheel_diameter)}, {words.length(suspension.min_wheel)} wanted",
            suspension.source,
        )
    if each.known.mass > OVERSIZE_KG and suspension.kind == "cord":
        yield Finding(
            "note",
            on,
            f"The {each.which} sash weighs {words.mass(each.known.mass)}: chain or ribbon outlasts cord.",
            f"sash over {words.mass(OVERSIZE_KG)}",
            KIDDER,
        )


def _effort(each: Hung, words: Words) -> Iterator[Finding]:
    on = f"{each.which}.sash"
    effort = each.effort
    if not effort.stays_put:
        falls = "drops" if effort.lowering.min() <= 0 else "climbs"
        worst = -min(float(effort.lowering.min()), float(effort.raising.min()))
        yield Finding(
            "caution",
            on,
            f"The {each.which} sash {falls} by itself over part of its travel.",
            f"the balance is off by {words.force(worst)} more than pulleys and weatherstrip hold",
            "balance of forces",
        )
    elif not effort.surely_stays:
        yield Finding(
            "note",
            on,
            f"The {each.which} sash stays put only if the weatherstrip drags as usual.",
            "with the least drag of its range the balance exceeds the friction",
            "balance of forces; drag range from the weatherstrip table",
        )
    else:
        yield Finding(
            "ok",
            on,
            f"The {each.which} sash stays where it is put, and moves with {words.force(effort.greatest)}.",
            "friction of pulleys and weatherstrip exceeds the imbalance everywhere",
            "balance of forces",
        )
    if effort.greatest > HARD:
        yield Finding(
            "caution",
            on,
            f"The {each.which} sash takes {words.force(effort.greatest)} to move: too hard for a dwelling.",
            f"more than {words.force(HARD)}",
            "usual limit for hung windows of the residential class (from memory)",
        )
    elif effort.greatest > ONE_HAND:
        yield Finding(
            "note",
            on,
            f"The {each.which} sash takes {words.force(effort.greatest)} to move, more than is advised "
            "where it must be accessible.",
            f"more than {words.force(ONE_HAND)}",
            "2010 ADA Standards, sec. 309 (advisory for windows)",
        )


def window_findings(placed: Placed, hung: Sequence[Hung], words: Words) -> Iterator[Finding]:
    """Judgements that concern both sash, the fixed sash and the neighbours."""
    layout = placed.layout
    if not layout.upper.hung:
        yield Finding(
            "note",
            "upper.sash",
            "The upper sash is fixed: only the lower sash takes weights.",
            "the window is recorded as single-hung",
            "survey",
        )
    if placed.left is not None or placed.right is not None:
        others = " and ".join(p.window.number for p in (placed.left, placed.right) if p is not None)
        yield Finding(
            "note",
            "pocket",
            f"Shares a mullion pocket with {others}: its weights may use half of the pocket's width.",
            f"four weights in {words.length(layout.family.pocket.mullion)} between the pulley stiles",
            "common practice; geometry of the pocket",
        )
    near = [each for each in hung if each.choice.taken and _bare(each)]
    if near:
        yield Finding(
            "note",
            "pocket",
            "A weight hangs within a hair of the pulley stile's back: a larger wheel would clear it better.",
            f"{words.length(LEAST_CLEARANCE)} is the least allowed",
            "common practice",
        )


def _bare(each: Hung) -> bool:
    taken = each.choice.taken
    return taken is not None and each.need.thickest - taken.stock.size < LEAST_CLEARANCE / 4
