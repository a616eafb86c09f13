"""Parts to make, as the bench hand gets them: wood and glass with sizes, joints and marks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from sashwright.chapters.make.boards import Clear, LumberPart
from sashwright.chapters.make.panes import Lite
from sashwright.chapters.make.rough import board_feet
from sashwright.units import INCH

Unit = Literal["upper sash", "lower sash", "storm", "screen", "frame", "splice"]
UNITS: tuple[Unit, ...] = get_args(Unit)
"""What parts belong to, in the order of the list; ``splice`` is new wood let into old."""
INITIALS: dict[Unit, str] = {
    "upper sash": "U", "lower sash": "L", "storm": "S", "screen": "N", "frame": "F", "splice": "R",
}  # fmt: skip
"""First letter of a mark behind the window's number; N for the insect net, R for a repair."""
INCH_QUARTER = INCH / 4


@dataclass(frozen=True, slots=True)
class JointEnd:
    """One end of a part; sizes [m]."""

    joint: str
    tenon: float = 0.0
    """Length of the tenon, part of the part's length."""
    thickness: float = 0.0
    """Of the tenon."""
    haunch: float = 0.0
    """How much of the rail's width is left as haunch."""
    horn: float = 0.0
    """How far a stile runs past the joint, finished."""


SQUARE = JointEnd("square")


@dataclass(frozen=True, slots=True)
class Moulded:
    """The profile stuck on a part; sizes [m]."""

    profile: str
    """A row of the moulding table, or the name of a strip that is a profile of its own."""
    width: float
    """How far it stands back from the sight line; of a strip, its width."""
    depth: float
    edges: int = 1
    """How many edges of the part have it."""


@dataclass(frozen=True, slots=True)
class CutPart:
    """Wooden parts alike of one window. Finished and rough sizes [m]; ``count`` of them."""

    window: str
    unit: Unit
    name: str
    count: int
    length: float
    """Overall: tenons and horns included; along the arc of a curved part that is built up."""
    width: float
    thickness: float
    rough_length: float
    rough_width: float
    quarters: int
    """Thickness of the rough lumber, in quarters of an inch."""
    species: str
    """A row of the wood table."""
    grain: str
    """Which way the rings should lie, in words."""
    clear: Clear
    joint_ends: tuple[JointEnd, JointEnd]
    """Left and right; of an upright part, bottom and top."""
    moulding: Moulded | None
    mark: str
    """What is stamped on it."""
    note: str = ""
    shoulder: float = 0.0
    """Between the shoulders at the sight line; the whole length where there are none [m]."""
    volume: float = 0.0
    """Of one, finished [m3]."""
    layers: int = 1
    """Boards glued up for one, where none is sold so thick."""

    @property
    def board_feet(self) -> float:
        """Of all of them, rough."""
        return self.boards * board_feet(self.quarters, self.rough_width, self.rough_length)

    @property
    def boards(self) -> int:
        """Pieces to saw."""
        return self.count * self.layers

    @property
    def rough_volume(self) -> float:
        """Of all of them [m3]."""
        return self.boards * self.quarters * INCH_QUARTER * self.rough_width * self.rough_length

    @property
    def finished_volume(self) -> float:
        """Of all of them [m3]."""
        return self.count * self.volume

    def lumber(self) -> LumberPart:
        """As the cutting plan takes it."""
        return LumberPart(
            f"{self.mark} {self.name}", self.rough_length, self.rough_width,
            self.quarters, self.species, self.boards, self.clear,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Template:
    """True shape of an arched pane, from its lower left corner [m]."""

    radius: float
    centre: tuple[float, float]
    left: float
    """Height of the left edge."""
    right: float
    outline: tuple[tuple[float, float], ...]
    """Counter-clockwise: along the foot, up the right edge, back along the arc."""


@dataclass(frozen=True, slots=True)
class GlassPart:
    """Panes alike of one window: cut sizes [m], the play to the rabbet left off."""

    window: str
    unit: Unit
    name: str
    count: int
    cut_width: float
    cut_height: float
    """Of an arched pane, at its crown."""
    glass: str
    """A row of the glass table; of a sealed unit, its outermost pane."""
    arched: bool
    template: Template | None
    putty_m: float
    """Edge to putty, of one [m]."""
    points: int
    """Glazing points, of one."""
    mark: str = ""
    lites: tuple[str, ...] = ()
    """Which, as column.row from the lower left, seen from outside."""
    panes: tuple[str, ...] = ()
    """From outside to inside; more than one make a sealed unit, which is ordered and not cut."""
    coatings: tuple[str, ...] = ()
    area: float = 0.0
    """Of one face of one [m2]."""
    thickness: float = 0.0
    """Of the glass that is cut [m]."""
    putty: str = ""
    """A row of the putty table."""
    putty_volume: float = 0.0
    """Of one: bed, edge and front [m3]."""
    play: float = 0.0
    """Left to the rabbet on each side [m]."""
    turns: bool = True
    """Whether it may lie across the sheet: not so old glass, whose waves should keep their way."""

    @property
    def sealed(self) -> bool:
        return len(self.panes) > 1

    @property
    def united_inches(self) -> float:
        """Width and height of one together [in]."""
        return (self.cut_width + self.cut_height) / INCH

    def lite(self) -> Lite:
        """As the cutting plan takes it."""
        return Lite(
            f"{self.mark} {self.name}", self.cut_width, self.cut_height, self.glass,
            self.count, self.turns, self.arched,
        )  # fmt: skip
