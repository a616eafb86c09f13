"""Weatherstrip to fit: as long as the joints that the seal chapter counts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sashwright.chapters.make.wanted import Wanted
from sashwright.knowledge.tables import Knowledge, Weatherstrip
from sashwright.window.cracks import cracks_of

NEW = "spring-bronze"
"""What is fitted where the family names nothing: a row of the weatherstrip table."""
PLACES = ("sides", "head", "meeting rail", "sill")


def strip_lengths(windows: Iterable[Wanted], knowledge: Knowledge) -> dict[str, float]:
    """Length of each kind of weatherstrip [m], by rows of its table."""
    lengths: dict[str, float] = {}
    for wanted in windows:
        for key, length in _strips(wanted, knowledge):
            lengths[key] = lengths.get(key, 0.0) + length
    return dict(sorted(lengths.items()))


def _strips(wanted: Wanted, knowledge: Knowledge) -> Iterator[tuple[str, float]]:
    layout = wanted.placed.layout
    cracks, family = cracks_of(layout), layout.family.strips
    fixed = not layout.upper.hung
    amounts = {
        "sides": cracks.lower_sides + (0.0 if fixed else cracks.upper_sides),
        "head": 0.0 if fixed else cracks.head,
        "meeting rail": cracks.meeting_rail,
        "sill": cracks.sill,
    }
    fallback: Weatherstrip = knowledge.find("weatherstrip", NEW)
    for place in PLACES:
        row = knowledge.find("weatherstrip", getattr(family, place.replace(" ", "_")))
        if row.kind == "none" and place in fallback.places:
            row = fallback
        if row.kind != "none" and amounts[place]:
            yield row.key, amounts[place]
