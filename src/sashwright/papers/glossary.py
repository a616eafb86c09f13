"""The trade's words, for readers of reports who do not work at windows."""

from __future__ import annotations

from collections.abc import Sequence

TERMS: Sequence[tuple[str, str]] = (
    ("Blind stop", "the strip of the frame outside the upper sash, on which storm sash and screens hang."),
    ("Casing", "the boards round the opening, outside and inside."),
    ("Consolidant", "a thin resin that soaks into soft wood and hardens it."),
    ("Cord, chain", "runs from a sash over a pulley to its weight."),
    ("Dutchman", "a piece of new wood let into a damaged place."),
    ("Glazing point", "a small metal piece that holds a pane under the putty."),
    ("Inside stop", "the strip that holds the lower sash on the room side."),
    ("Lite", "one pane of glass. 6/6: six over six, upper sash first."),
    ("Meeting rail", "the two rails that close on each other where the sash meet."),
    ("Muntin", "a bar between lites."),
    ("Parting bead", "the strip between the tracks of the two sash."),
    ("Pocket, pocket cover", "the box in which the weights hang, and the lid that gives access to them."),
    ("Pulley stile", "the side of the frame on which the sash slide."),
    ("Putty", "seals the glass to the wood outside."),
    ("Rabbet", "the step in the wood in which the glass lies."),
    ("Rail", "a level piece of a sash: top rail, meeting rail, bottom rail."),
    ("Sash", "the moving frame with its glass; one or many."),
    ("Sill", "the sloping piece under the sash that sheds the water; inside, the stool."),
    ("Splice", "new wood joined to the sound end of an old piece."),
    ("Stile", "an upright piece of a sash."),
    ("Storm sash", "a second sash hung outside for the winter."),
    ("Tenon", "the tongue at the end of a rail that is held in the stile."),
    ("Weatherstrip", "closes the gap round a sash."),
)  # fmt: skip


def terms() -> Sequence[tuple[str, str]]:
    """Words with what they mean, by the alphabet."""
    return TERMS
