"""An opening in a wall, and what is in it from its edge inward to the sash opening."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sashwright.chapters.make.tradition.sizes import Sizes
from sashwright.knowledge.tradition_tables import BoxPlace
from sashwright.units import INCH, System
from sashwright.window.spec import Head

Kind = Literal["rough", "masonry", "sash"]
KINDS: tuple[Kind, ...] = ("rough", "masonry", "sash")
STEP = {"us": INCH / 16, "metric": 0.001}
"""What the sash opening is rounded down to [m]; what is over goes to what stands round the frame."""
LEAST, MOST = 0.2, 4.0
"""Between which an opening is taken for one [m]."""
HAIR = 1e-7
"""Sizes that differ less are the same [m]."""


@dataclass(frozen=True, slots=True)
class Opening:
    """An opening as it is measured [m].

    ``rough``: between the studs, and from the rough sill up to the header. ``masonry``: between the faces of
    the outer reveal, and from the stone or brick sill up to the soffit. ``sash``: between the pulley stiles,
    and from the sill at the parting bead up to the head. Of an arched one, the height is at its crown.
    """

    kind: Kind
    width: float
    height: float
    rise: float = 0.0
    """From the springing to the crown; 0 for a square head, half the width for a full arch."""
    wall: float | None = None
    """Thickness of the wall, from the outside casing's back to the inside casing's back."""
    box: BoxPlace | None = None
    """How the box stands in masonry; as the tradition has it where not given."""

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"Found an opening of kind {self.kind!r}, expected {_or(KINDS)}.")
        for what, size in (("width", self.width), ("height", self.height)):
            if not LEAST <= size <= MOST:
                raise ValueError(
                    f"Found an opening {size / INCH:.4g} in ({size * 1000:.0f} mm) in {what}, expected "
                    f"{LEAST / INCH:.0f} to {MOST / INCH:.0f} in "
                    f"({LEAST * 1000:.0f} to {MOST * 1000:.0f} mm)."
                )
        if not 0 <= self.rise <= self.width / 2 + HAIR:
            raise ValueError(
                f"Found an arch that rises {self.rise / INCH:.4g} in ({self.rise * 1000:.0f} mm), expected "
                "at most half the width of the opening, which is a full arch."
            )
        if self.rise >= self.height:
            raise ValueError(
                "Found an arch higher than its opening, expected some height below it."
            )

    @property
    def full_arch(self) -> bool:
        return self.rise > 0 and self.rise >= self.width / 2 - HAIR


def _or(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}"


@dataclass(frozen=True, slots=True)
class Piece:
    """Something between one edge of an opening and the other, in order."""

    name: str
    size: float


@dataclass(frozen=True, slots=True)
class Inward:
    """The way from an opening in to the sash opening. All [m]."""

    across: tuple[Piece, ...]
    """From the left to the right; the sash opening is among them."""
    up: tuple[Piece, ...]
    """From below upward, at the crown of an arched head."""
    width: float
    """Of the sash opening."""
    height: float
    head: Head
    pocket: float
    """Clear behind each pulley stile."""
    spare: tuple[float, float]
    """What rounding left over, across and up."""


SASH_OPENING = "sash opening"


def inward(
    opening: Opening, sizes: Sizes, box: BoxPlace, back_lining: float, system: System
) -> Inward:
    """Work inward from an opening with these sizes.

    The sash opening is rounded down to a sixteenth of an inch or a millimetre; what is over goes to the
    weight pockets, the bed or the reveal, so that everything adds up to the opening.

    Raises ``ValueError`` where nothing is left for the sash.
    """
    step = STEP[system]
    sides, above = _beside(opening, sizes, box, back_lining), _above(opening, sizes, box)
    below = _below(opening, sizes)
    side, top = (sum(piece.size for piece in some) for some in (sides, above))
    foot = sum(piece.size for piece in below)
    clear = opening.width - 2 * side, opening.height - top - foot
    width, height = clear if opening.kind == "sash" else (_down(size, step) for size in clear)
    if min(width, height) < LEAST:
        raise ValueError(
            f"Found an opening {opening.width * 1000:.0f} by {opening.height * 1000:.0f} mm, which the frame "
            f"leaves {max(clear[0], 0) * 1000:.0f} by {max(clear[1], 0) * 1000:.0f} mm of for the sash, "
            "expected a larger one."
        )
    over = clear[0] - width, clear[1] - height
    if sides:
        # The outermost takes up what is over: pocket, bed or reveal.
        taker = 1 if sides[0].name == BACK_LINING else 0
        sides[taker] = Piece(sides[taker].name, _clean(sides[taker].size + over[0] / 2))
        above[-1] = Piece(above[-1].name, _clean(above[-1].size + over[1]))
    pocket = next((piece.size for piece in sides if piece.name == POCKET), sizes["pocket"])
    middle = [Piece(SASH_OPENING, width)], [Piece(SASH_OPENING, height)]
    head = _head(opening, width, sum(piece.size for piece in above))
    across = (*sides, *middle[0], *reversed(sides))
    return Inward(across, (*below, *middle[1], *above), width, height, head, pocket, over)


def _down(size: float, step: float) -> float:
    return _clean(math.floor(size / step + 1e-6) * step)


def _clean(size: float) -> float:
    """Without the last bits of a sum, so that it is written as short as it was read."""
    return round(size, 9)


POCKET, BACK_LINING = "weight pocket", "back lining"


def _beside(opening: Opening, sizes: Sizes, box: BoxPlace, back_lining: float) -> list[Piece]:
    """From the left edge of the opening to the sash opening."""
    stile, pocket = Piece("pulley stile", sizes["pulley-stile"]), Piece(POCKET, sizes["pocket"])
    if opening.kind == "rough":
        return [pocket, stile]
    if opening.kind == "sash":
        return []
    if box == "behind":
        return [Piece("from the masonry to the pulley stile", sizes["reveal"])]
    return [Piece("bed", sizes["bed"]), Piece(BACK_LINING, back_lining), pocket, stile]


def _above(opening: Opening, sizes: Sizes, box: BoxPlace) -> list[Piece]:
    """From the sash opening up to the opening's upper edge."""
    if opening.kind == "sash":
        return []
    if opening.kind == "masonry" and box == "behind":
        return [Piece("from the head to the masonry", sizes["reveal"])]
    rough = opening.kind == "rough"
    over = Piece("room over the head", sizes["head-room"]) if rough else Piece("bed", sizes["bed"])
    return [Piece("head", sizes["head"]), over]


def _below(opening: Opening, sizes: Sizes) -> list[Piece]:
    """From the opening's lower edge up to the sill at the parting bead: under the frame's outer face."""
    if opening.kind == "sash":
        return []
    slope = math.radians(sizes.slope)
    return [
        Piece("sill", sizes["sill"] / math.cos(slope)),
        Piece("fall of the sill", outer_face(sizes) * math.tan(slope)),
    ]


def outer_face(sizes: Sizes) -> float:
    """From the inner face of the parting bead out to the back of the outside casing [m]."""
    track = sizes["thickness"] + sizes["track-play"]
    return sizes["parting-bead"] + track + sizes["blind-stop"]


def _head(opening: Opening, width: float, above: float) -> Head:
    """The head of the sash opening: about the same centre as the opening's own arch."""
    if opening.rise <= 0:
        return Head()
    if opening.full_arch:
        return Head(shape="full arch")
    radius = (opening.width**2 / 4 + opening.rise**2) / (2 * opening.rise) - above
    if radius <= width / 2 + HAIR:
        return Head(shape="full arch")
    rise = round(radius - math.sqrt(radius**2 - width**2 / 4), 6)
    return Head(shape="segmental", rise=rise)
