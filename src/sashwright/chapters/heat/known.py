"""Sections found so far: a window asked about again, or another just like it, is not cut up again."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from sashwright.chapters.heat.flows import Convention, Gaps, InteriorStorm, SectionFlow, StormPlace
from sashwright.chapters.heat.remember import Remembered
from sashwright.chapters.heat.sections import sections
from sashwright.window.layout import WindowLayout
from sashwright.window.resolve import Placed

MOST = 2000
"""Windows, each without and with its storm and by two conventions, that are kept in memory."""


@dataclass(frozen=True)
class Asked:
    """What sections are asked for; alike where all that they hang on is alike, whatever its number."""

    placed: Placed = field(compare=False)
    windows: tuple[Any, ...]
    tables: int
    storm: StormPlace
    convention: Convention
    gaps: tuple[Gaps, Gaps]
    films: tuple[tuple[float, float], tuple[float, float]] | None
    interior: InteriorStorm | None


def sections_of(
    placed: Placed,
    storm: StormPlace,
    convention: Convention,
    gaps: tuple[Gaps, Gaps],
    films: tuple[tuple[float, float], tuple[float, float]] | None,
    interior: InteriorStorm | None,
) -> dict[str, SectionFlow]:
    """As :func:`~sashwright.chapters.heat.sections.sections`; pairs are of the upper and the lower sash."""
    windows = tuple(_content(each) for each in (placed.layout, placed.left, placed.right))
    # The tables themselves are kept by the window that is kept, so that their number stays theirs.
    tables = id(placed.knowledge)
    return _known(Asked(placed, windows, tables, storm, convention, gaps, films, interior))


def _content(layout: WindowLayout | None) -> tuple[Any, ...] | None:
    """All of a window that its sections hang on."""
    if layout is None:
        return None
    window = layout.window
    size = (window.width, window.height, window.head, window.hung, window.meeting_height)
    return (layout.family, size, window.upper, window.lower, window.measured)


def _work_out(asked: Asked) -> dict[str, SectionFlow]:
    films = asked.films
    return sections(
        asked.placed,
        storm=asked.storm,
        convention=asked.convention,
        gaps={"upper": asked.gaps[0], "lower": asked.gaps[1]},
        films=None if films is None else {"upper": films[0], "lower": films[1]},
        interior=asked.interior,
    )


_known = Remembered(_work_out, MOST)
