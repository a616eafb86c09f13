"""Rails, bars and lites in the upright section: in (z, y)."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.window.layout import SashLayout
from sashwright.window.outlines.glazed import Glazed, Placing, bar, member, putty, spacers
from sashwright.window.outlines.shape import Outline, Point


def under(sash: SashLayout, sight: float) -> Placing:
    """A member below a sight line: glass above it."""
    return lambda p, z: (sash.face + z, sight - p)


def over(sash: SashLayout, sight: float) -> Placing:
    """A member above a sight line: glass below it."""
    return lambda p, z: (sash.face + z, sight + p)


def low_rail(sash: SashLayout) -> Outline:
    """Bottom rail, or the upper sash's meeting rail with its closing face; bevelled as the sill."""
    place, width = under(sash, sash.daylight[2]), sash.bottom_rail
    if sash.which == "upper" and sash.bevel == 0:
        outer = [*_check_face(sash, width), (width, 0.0)]
    else:
        deep = width - sash.bevel * sash.thickness
        outer = [(deep, sash.thickness), (width, 0.0)]
    name = "meeting_rail" if sash.which == "upper" else "bottom_rail"
    return member(f"{sash.which}.{name}", name.replace("_", " "), sash, outer, place)


def high_rail(sash: SashLayout) -> Outline:
    """Top rail, or the lower sash's meeting rail with its closing face."""
    place, width = over(sash, sash.daylight[3]), sash.top_rail
    outer = [(width, sash.thickness)]
    outer += list(_check_face(sash, width)) if sash.which == "lower" else [(width, 0.0)]
    name = "top_rail" if sash.which == "upper" else "meeting_rail"
    return member(f"{sash.which}.{name}", name.replace("_", " "), sash, outer, place)


def cross_bar(sash: SashLayout, below: float, above: float) -> Outline:
    """The bar between two sight lines."""
    place = over(sash, below)
    return bar(f"{sash.which}.cross_bars", "cross bar", sash, above - below, place)


def edge_of_lite(sash: SashLayout, glass: Glazed, place: Placing) -> Iterator[Outline]:
    """Putty and spacers at one edge of a lite."""
    name = f"{sash.which}.glass"
    yield putty(name, glass, place)
    yield from spacers(name, glass, place)


def _check_face(sash: SashLayout, width: float) -> Iterator[Point]:
    """The closing face of a meeting rail, going on from the last corner of its outline.

    It starts level with the end of the moulding, or of the rabbet: beside those no wood could
    stand, though the check rail is reckoned as high as the whole rail.
    """
    mean, slope = sash.check
    edge = sash.profile.edge(2)
    if sash.which == "upper":
        start = edge[-1][1]
        for p in (start, width):
            # Heights fall as p grows.
            yield p, sash.thickness + mean + slope * (width / 2 - p)
    else:
        start = edge[0][1]
        yield width, -(mean + slope * (width / 2))
        yield start, -(mean + slope * (start - width / 2))
        yield start, 0.0
