"""What it takes to lift a storm sash or a screen into place: reach, people, minutes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sashwright.chapters.answer import Finding
from sashwright.chapters.words import Words
from sashwright.window.changeover import Changeover
from sashwright.window.spec import Window
from sashwright.window.storm import OutsidePiece

Reach = Literal["ground", "steps", "ladder"]

ARM = 2.1
"""Height that a person on the ground hooks a hanger at [m]; common practice."""
STEPS = 3.5
"""Height up to which a stepladder will do [m]; common practice."""
ONE_ON_A_LADDER = 12.0
"""Most that one person should carry up a ladder [kg]: 25 to 30 lb by common practice."""
TWO_ON_LADDERS = 22.7
"""Most that two should handle from ladders [kg]: 50 lb by common practice."""
LIFT_LIMIT = 23.0
"""Most to lift under ideal conditions, close to the body and on firm ground [kg]: the load constant of
the revised NIOSH lifting equation (NIOSH publication 94-110, 1994), 51 lb."""
LIFT_SOURCE = "NIOSH revised lifting equation (publication 94-110), load constant 23 kg"
LADDER_SOURCE = "common practice: 25 to 30 lb for one person on a ladder, 50 lb for two"


@dataclass(frozen=True, slots=True)
class Handling:
    """How one piece is put up or taken down."""

    mass: float
    top: float | None
    """Of the piece above the ground [m]; None where the sill's height is not recorded."""
    reach: Reach
    people: int
    minutes: float
    """One way, for all of the crew together at the window."""

    @property
    def too_heavy(self) -> bool:
        """More than two people should handle there."""
        return self.mass > (LIFT_LIMIT * 2 if self.reach == "ground" else TWO_ON_LADDERS)


def handling_of(piece: OutsidePiece, window: Window, rules: Changeover) -> Handling:
    """Reach, people and time for one piece of a window."""
    sill = window.sill_above_ground
    top = None if sill is None else sill + piece.outline.top
    reach = _reach(top, window.storey)
    limit = LIFT_LIMIT if reach == "ground" else ONE_ON_A_LADDER
    people = 1 if piece.total <= limit else 2
    minutes = rules.minutes * (2 if reach == "ladder" else 1)
    return Handling(piece.total, top, reach, people, minutes)


def _reach(top: float | None, storey: int) -> Reach:
    if top is None:
        # A ground floor's heads are mostly over arm's reach, an upper one's over any stepladder.
        return "steps" if storey <= 1 else "ladder"
    if top <= ARM:
        return "ground"
    return "steps" if top <= STEPS else "ladder"


def handling_findings(piece: OutsidePiece, found: Handling, words: Words) -> Iterator[Finding]:
    """Whether it can be handled, and how."""
    name = "storm sash" if piece.owner == "storm" else "screen"
    where = {
        "ground": "from the ground",
        "steps": "from a stepladder",
        "ladder": "from a ladder",
    }[found.reach]
    weighs = f"The {name} weighs {words.mass(found.mass)}"
    if found.too_heavy:
        yield Finding(
            "fail",
            piece.owner,
            f"{weighs}: too much for two people {where}. Hang it from a scaffold, make it in two "
            "leaves, or take thinner glass.",
            f"more than {words.mass(TWO_ON_LADDERS)} off the ground",
            LADDER_SOURCE,
        )
    elif found.people > 1:
        yield Finding(
            "caution",
            piece.owner,
            f"{weighs}: two people {where}, ladders footed and tied, 1 out for 4 up.",
            f"more than {words.mass(ONE_ON_A_LADDER)} for one on a ladder; on firm ground the limit of "
            f"an ideal lift is {words.mass(LIFT_LIMIT)}",
            f"{LADDER_SOURCE}; {LIFT_SOURCE}",
        )
    else:
        yield Finding(
            "ok",
            piece.owner,
            f"{weighs}: one person can hang it {where}.",
            f"at most {words.mass(LIFT_LIMIT if found.reach == 'ground' else ONE_ON_A_LADDER)}",
            LIFT_SOURCE if found.reach == "ground" else LADDER_SOURCE,
        )
