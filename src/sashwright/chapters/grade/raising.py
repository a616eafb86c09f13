"""What would raise the grade: one remedy for each thing that governs, and how far it takes the window."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sashwright.chapters.grade.glass import pane_resistance
from sashwright.chapters.grade.rating import water_grade, wind_grade
from sashwright.chapters.grade.resistance import Resistance
from sashwright.chapters.grade.water import NAMES, ON
from sashwright.chapters.grade.window import Graded
from sashwright.chapters.seal.paths import BY_NAME
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Wood
from sashwright.units import INCH
from sashwright.window.layout import Which

STIFFER = "douglas-fir"
"""Row of the wood table that new bars and rails are reckoned with: stiff, and to be had."""
NEW_GLASS = frozenset({"clear float", "laminated"})
ENOUGH = 50
"""Performance grade from which nothing is advised where no wind speed is known; judgement: what a corner
of a low house by open water asks at 150 mph."""
DAM_STEP = INCH / 16
"""A sill dam is cut to the next 1/16 in [m]."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """What to do at a part, the pressure that it is good for then [Pa], and the grade of that."""

    raises: str
    on: str
    does: str
    to: float
    grade: int | None


def remedies(graded: Graded, words: Words) -> Iterator[Remedy]:
    yield from _wind(graded)
    yield from _water(graded, words)
    yield from _air(graded)


def _wind(graded: Graded) -> Iterator[Remedy]:
    """For the part that governs, until the site's load is borne or else by one step."""
    used = graded.utilisation
    if used is None and (graded.wind_grade or 0) >= ENOUGH:
        return
    if used is not None and used <= 1.0:
        return
    part = graded.governing
    found = _glass(graded, part) if part.kind == "glass" else _wood(graded, part)
    if found is not None:
        yield found


def _glass(graded: Graded, part: Resistance) -> Remedy | None:
    which: Which = "upper" if part.on.startswith("upper") else "lower"
    sash, knowledge = graded.placed.layout.sash(which), graded.placed.knowledge
    need = graded.load_on(part)
    sizes = (np.array([part.facts["width_m"]]), np.array([part.facts["height_m"]]))
    rows = sorted(
        (row for row in knowledge.glass.values() if row.kind in NEW_GLASS),
        key=lambda row: row.thickness_min,
    )
    best = None
    for row in rows:
        new = sash.spec.glazing.model_copy(
            update={
                "panes": (row.key,), "gaps": (), "least_thickness": None, "surface": "sound",
            }
        )  # fmt: skip
        capacity = float(pane_resistance(*sizes, new, knowledge)[0][0])
        deep = sash.spec.glazing.bed + row.thickness
        if capacity <= part.capacity * 1.02 or deep >= sash.spec.rabbet_depth:
            continue
        best = Remedy(
            "wind",
            part.on,
            f"glaze the {which} sash with {row.name}",
            capacity,
            wind_grade(capacity),
        )
        if need is None or capacity >= need:
            break
    return best


def _wood(graded: Graded, part: Resistance) -> Remedy | None:
    pair = graded.pair
    check = graded.placed.family.meeting.style == "check"
    if part.on.endswith("meeting_rail") and check and not pair.together:
        both = [each.capacity for each in pair.resistances(together=True) if each.kind == part.kind]
        does = "fit a sash lock, so that both meeting rails bend as one"
        return Remedy("wind", part.on, does, min(both), wind_grade(min(both)))
    stiffer: Wood = graded.placed.knowledge.find("wood", STIFFER)
    wood: Wood = graded.placed.knowledge.find("wood", _wood_of(graded, part))
    ratio = (
        stiffer.modulus_elasticity / wood.modulus_elasticity
        if part.kind == "stiffness"
        else stiffer.modulus_rupture / wood.modulus_rupture
    )
    if ratio <= 1.02:
        return None
    to = part.capacity * ratio
    return Remedy(
        "wind", part.on, f"if it must be renewed, make it of {stiffer.name}", to, wind_grade(to)
    )


def _wood_of(graded: Graded, part: Resistance) -> str:
    if part.on.startswith("frame."):
        return graded.placed.family.frame.wood
    return graded.placed.layout.sash("upper" if part.on.startswith("upper") else "lower").spec.wood


def _water(graded: Graded, words: Words) -> Iterator[Remedy]:
    """Tighten what is not tight, then raise the dam to what the grade asks."""
    asked = graded.water_asked
    for dam in graded.dams:
        if dam.held >= asked:
            continue
        on, held = ON[dam.where], dam.held
        if not dam.tight and dam.held_tight > dam.held:
            held = dam.held_tight
            yield Remedy(
                "water", on, f"weatherstrip the joint at {NAMES[dam.where]}", held,
                water_grade(held),
            )  # fmt: skip
        if dam.where == "sill" and held < asked:
            more = (
                (asked - held) / held * (dam.upstand if held == dam.held else dam.rise + dam.step)
            )
            high = float(np.ceil(more / DAM_STEP - 1e-9)) * DAM_STEP
            yield Remedy(
                "water",
                on,
                f"set a dam {words.fine(high)} higher behind the sash, and bed it",
                asked,
                water_grade(asked),
            )


def _air(graded: Graded) -> Iterator[Remedy]:
    steps = [step for step in graded.sealed.steps if not BY_NAME[step.path].of_the_wall]
    if graded.air_met or not steps:
        return
    first = steps[0]
    yield Remedy("air", f"path.{first.path}", f"first {first.does}", 0.0, None)
