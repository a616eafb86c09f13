"""A new window from an opening and a tradition."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.hang import hang_window
from sashwright.chapters.make.tradition.build import (
    Built,
    Making,
    Place,
    hung_on,
    with_cover,
)
from sashwright.chapters.make.tradition.findings import findings_of
from sashwright.chapters.make.tradition.opening import Inward, Opening, inward
from sashwright.chapters.make.tradition.pattern import Fitted, brought_near, fitting
from sashwright.chapters.make.tradition.sizes import Given, Sizes, usual_sizes
from sashwright.chapters.make.tradition.values import values_of
from sashwright.chapters.make.tradition.working import steps_of
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge, Pulley, Suspension
from sashwright.knowledge.tradition_tables import BoxPlace, Tradition
from sashwright.units import INCH, POUND, System
from sashwright.window.check import problems_of
from sashwright.window.resolve import Placed
from sashwright.window.spec import Family, Window

CORDS: tuple[tuple[float, str], ...] = (
    (15 * POUND, "cotton-7"), (25 * POUND, "cotton-8"), (35 * POUND, "cotton-9"),
    (45 * POUND, "cotton-10"),
)  # fmt: skip
"""Heaviest weight [kg] on each cord: F. E. Kidder, Building Construction and Superintendence (c. 1900)."""
CALMER = ("pair-half-pound", "even")
"""Closing biases that are tried where a sash would move by itself with the usual one."""
CHAIN = "chain-steel-medium"
"""For heavier weights."""
LEAST_WHEEL = 2 * INCH
"""Of an ordinary pulley [m]: the same; smaller ones only for very small windows."""
COVER_MORE, COVER_STEP, COVER_MOST = 2 * INCH, INCH / 2, 0.45
"""What the hole behind the pocket cover is longer than the weight, its step [m], and the most that it takes
of the height: it ends below the meeting rails; common practice."""


@dataclass(frozen=True)
class Proposal:
    """A window as the tradition would have it in the opening: a family and a window of the house file."""

    tradition: Tradition
    opening: Opening
    box: BoxPlace
    fitted: Fitted
    answer: WindowAnswer
    hung: WindowAnswer
    """The hang chapter's answer for it."""

    @property
    def built(self) -> Built:
        return self.fitted.built

    @property
    def family(self) -> Family:
        return self.built.family

    @property
    def window(self) -> Window:
        return self.built.window


def propose(
    opening: Opening,
    tradition: str,
    knowledge: Knowledge,
    *,
    wood: str | None = None,
    given: Given | None = None,
    place: Place | None = None,
    system: System = "us",
) -> Proposal:
    """The window that a tradition would have in an opening.

    Works inward from the opening through the parts of the frame to the sash opening; takes the pattern of
    lites whose proportion comes nearest to its usual one, and lets stiles and bottom rail give way within
    their ranges for it. Where no weight fits the pocket, the pocket is made as wide as the tradition has it
    at most.

    Parameters
    ----------
    tradition
        A row of the tradition table.
    wood
        Of the sash: a row of the wood table; the tradition's usual where not given.
    given
        Sizes and lites that are to be otherwise than the tradition has them.
    place
        Number, family and wall of the window.
    system
        Of the sentences, and of what sizes are rounded to.

    Raises
    ------
    KnowledgeError
        For an unknown tradition or wood, or a tradition that lacks a size.
    ValueError
        Where the opening leaves no room for a sash, or its sash none for the lites; or for a size, a name or
        a number that no house file takes.
    """
    row: Tradition = knowledge.find("tradition", tradition)
    species = knowledge.find("wood", wood or row.wood).key
    asked, place = given or Given(), place or Place()
    box = opening.box or row.box
    making = Making(
        opening, row, knowledge, species, system, place, opening.kind == "masonry"
    )  # fmt: skip
    usual = usual_sizes(row, asked, knowledge)
    lining = float(knowledge.find("frame_part", "back-lining").thickness or 0.0)
    found: list[tuple[Fitted, WindowAnswer]] = []
    for sizes in _pockets(usual, asked):
        way = inward(opening, sizes, box, lining, system)
        with _said_plainly():
            fitted = _best(making, sizes, asked, way)
            fitted, hung = _hung(making, fitted)
        found.append((fitted, hung))
        if not _too_narrow(hung):
            break
    # A wider pocket that does not help either is no reason for a narrower sash.
    fitted, hung = found[-1] if not _too_narrow(found[-1][1]) else found[0]
    words = Words(system)
    answer = WindowAnswer(
        place.number,
        values_of(making, box, fitted, hung),
        list(findings_of(making, box, fitted, asked, words)),
        list(steps_of(making, fitted)),
    )
    return Proposal(row, opening, box, fitted, answer, hung)


@contextmanager
def _said_plainly() -> Iterator[None]:
    """What the house file would not take, in a sentence."""
    try:
        yield
    except ValidationError as error:
        (problem, *_) = problems_of(error)
        raise ValueError(
            f"Found {problem.found} for {problem.field}, expected {problem.expected}."
        ) from None


def _pockets(usual: Sizes, asked: Given) -> Iterator[Sizes]:
    yield usual
    widest = usual.rows["pocket"].high
    if "pocket" not in asked.sizes and widest > usual["pocket"]:
        yield usual.with_({"pocket": widest})


def _best(making: Making, sizes: Sizes, asked: Given, way: Inward) -> Fitted:
    tried = fitting(making, sizes, way, asked)
    if not tried:
        raise ValueError(
            f"Found a sash opening {way.width * 1000:.0f} by {way.height * 1000:.0f} mm, expected room for "
            f"the stiles, rails and lites of {making.tradition.name}."
        )
    return brought_near(making, tried[0], asked)


def _hung(making: Making, fitted: Fitted) -> tuple[Fitted, WindowAnswer]:
    """On the cord and pulley that the heavier sash asks for, with the weights that follow."""
    knowledge = making.knowledge
    placed = Placed(fitted.built.layout, knowledge)
    heaviest = max(placed.sash(which).mass.total for which in ("upper", "lower")) / 2
    key = next((cord for most, cord in CORDS if heaviest <= most), CHAIN)
    suspension: Suspension = knowledge.find("suspension", key)
    pulley = _pulley(suspension, knowledge)
    usual = making.tradition.bias
    tried = []
    for bias in dict.fromkeys((usual, *CALMER)):
        built = hung_on(fitted.built, suspension, pulley, bias, knowledge)
        hung = hang_window(Placed(built.layout, knowledge), making.system)
        stays = all(values["stays_put"] for values in _sashes(hung))
        tried.append(((_too_narrow(hung), not stays), built, hung))
        if tried[-1][0] == (False, False):
            break
    # The first of the best: a weight for each sash comes before one that stays where it is put.
    _, built, hung = min(tried, key=lambda each: each[0])
    cover = _cover(built, hung)
    if cover > built.family.pocket.cover_height:
        built = with_cover(built, cover, knowledge)
        hung = hang_window(Placed(built.layout, knowledge), making.system)
    return Fitted(fitted.row, built, fitted.before), hung


def _cover(built: Built, hung: WindowAnswer) -> float:
    """Length of the hole behind the pocket cover that lets the longest weight in [m]."""
    lengths = [values["weight_length_mm"] or 0.0 for values in _sashes(hung)]
    wanted = math.ceil((max(lengths) / 1000 + COVER_MORE) / COVER_STEP) * COVER_STEP
    return min(wanted, COVER_MOST * built.way.height)


def _pulley(suspension: Suspension, knowledge: Knowledge) -> Pulley:
    """The smallest ordinary pulley for the cord; the largest there is where none is large enough."""
    kind = [row for row in knowledge.pulley.values() if suspension.kind in row.for_kinds]
    large = [
        row for row in kind if row.wheel_diameter >= max(suspension.min_wheel, LEAST_WHEEL) - 1e-9
    ]
    if large:
        return min(large, key=lambda row: row.wheel_diameter)
    return max(kind, key=lambda row: row.wheel_diameter)


def _too_narrow(hung: WindowAnswer) -> bool:
    """Whether a sash finds no weight for its pocket."""
    return any(values["weight_length_mm"] is None for values in _sashes(hung))


def _sashes(hung: WindowAnswer) -> list[Mapping[str, Any]]:
    return [values for which in ("upper", "lower") if (values := hung.values.get(which))]
