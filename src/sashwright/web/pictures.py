"""Drawings for pages: taken from the drawing room, marked with what was found, written as SVG."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from django.utils.safestring import SafeString, mark_safe

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, WindowAnswer
from sashwright.drawing.curve import effort_plot
from sashwright.drawing.elevation import elevation
from sashwright.drawing.leakplot import leak_bars, scenario_bars
from sashwright.drawing.model import Drawing, marked
from sashwright.drawing.opened import opened
from sashwright.drawing.paper import extent
from sashwright.drawing.seasonplot import season_plot
from sashwright.drawing.sections import horizontal_section, vertical_section
from sashwright.drawing.storm import storm_elevation
from sashwright.drawing.svg import to_svg
from sashwright.drawing.thumbnail import thumbnail
from sashwright.drawing.yearplot import clearance_plot
from sashwright.web import present
from sashwright.web.asking import Asked
from sashwright.window.resolve import Placed

VIEWS = {"outside": "Outside", "inside": "Inside", "opened": "Opened", "sections": "Sections"}

PAGE_FONT = "inherit"
"""Drawings on a page are lettered in the page's own face."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing ready for a page; ``name`` tells the style sheet which it is."""

    name: str
    svg: SafeString
    title: str = ""


PAGE_SCALE = 0.065
PHONE_SCALE = 0.042
SECTION_SCALE = 0.37
"""Of what fills its column on a page: smaller than on paper, so that its lettering is larger."""

SECTION_PX = 4.0
"""Pixels for each paper millimetre of a section, so that both are lettered alike."""
PIECE_SCALE = 0.045
PIECE_PX = 6.2
"""The same for storm sash and screens, so that both stand to one scale."""


def svg(
    drawing: Drawing,
    id_prefix: str,
    marks: Mapping[str, str] | None = None,
    scale: float | None = None,
    px_per_mm: float | None = None,
) -> SafeString:
    """A drawing as part of a page: coloured by the page, one style sheet for all."""
    if marks:
        items = tuple(marked(item, dict(marks)) for item in drawing.items)
        drawing = replace(drawing, items=items)
    text = to_svg(
        drawing,
        scale=scale,
        width_px=px_per_mm and px_per_mm * extent(drawing, 1000 * (scale or drawing.scale)).width,
        standalone=False,
        styles=False,
        id_prefix=id_prefix,
        font=PAGE_FONT,
    )
    # Written by our own drawing room, which escapes all names and notes in it.
    return mark_safe(text)


def drawings(
    placed: Placed, answer: WindowAnswer, view: str, system: units.System
) -> list[Drawing]:
    """The drawings of one view of a window."""
    if view == "opened":
        return [opened(placed, answer, system)]
    if view == "sections":
        return [
            vertical_section(placed, system),
            horizontal_section(placed, answer, system),
        ]
    return [elevation(placed, "inside" if view == "inside" else "outside", system)]


def window_pictures(
    asked: Asked, view: str, findings: Sequence[Finding], *, phone: bool = False
) -> list[Picture]:
    """One view of a window with its findings on it; nothing where its sizes contradict each other."""
    if asked.placed is None:
        return []
    marks = present.marks(findings)
    drawn = drawings(asked.placed, asked.hang, view, asked.system)
    if view != "sections":
        return [
            Picture(
                view, svg(drawn[0], f"view-{view}", marks, PHONE_SCALE if phone else PAGE_SCALE)
            )
        ]
    return [
        Picture(name, svg(drawing, f"view-{name}", marks, SECTION_SCALE, SECTION_PX))
        for name, drawing in zip(("vertical", "horizontal"), drawn, strict=True)
    ]


def effort_pictures(asked: Asked) -> list[Picture]:
    """Effort through the travel, for each sash that is hung."""
    return [
        Picture(which, svg(effort_plot(values, which, asked.system), f"effort-{which}"))
        for which in present.SIDES
        if (values := asked.hang.values.get(which)) is not None
    ]


def clearance_pictures(answer: WindowAnswer, system: units.System) -> list[Picture]:
    """Each clearance of a window through the year."""
    return [
        Picture(
            place,
            svg(clearance_plot(answer, place, system), f"clearance-{place}"),
            row["name"][:1].upper() + row["name"][1:],
        )
        for place, row in answer.values.get("clearances", {}).items()
    ]


def leak_pictures(answer: WindowAnswer, system: units.System) -> list[Picture]:
    """The air of a window by path, and by state."""
    return [
        Picture("paths", svg(leak_bars(answer, system), "leak-paths")),
        Picture("states", svg(scenario_bars(answer, system), "leak-states")),
    ]


def totals_picture(answer: Answer, system: units.System) -> Picture:
    """The air of all windows of a house by state."""
    return Picture("totals", svg(scenario_bars(answer, system), "leak-totals"))


def storm_pictures(asked: Asked, answer: WindowAnswer) -> list[Picture]:
    """The storm sash and the screen of a window, as far as it has them."""
    if asked.placed is None:
        return []
    pieces: tuple[Literal["storm", "screen"], ...] = ("storm", "screen")
    return [
        Picture(
            piece,
            svg(
                storm_elevation(asked.placed, answer, piece, asked.system),
                f"piece-{piece}",
                scale=PIECE_SCALE,
                px_per_mm=PIECE_PX,
            ),
        )
        for piece in pieces
        if answer.values.get(piece) is not None
    ]


def season_picture(answer: Answer, system: units.System, today: int) -> Picture:
    """The mean day of a house and the weeks of its changes."""
    return Picture("season", svg(season_plot(answer, system, today), "season"))


def small(placed: Placed | None, number: str) -> SafeString:
    """A window's small elevation for a list."""
    return svg(thumbnail(placed), f"small-{number}") if placed is not None else mark_safe("")


def slides(asked: Asked) -> str:
    """What a page needs to slide the sash: travel, and effort and clearances along it, as JSON."""
    return json.dumps(
        {
            "system": asked.system,
            "sashes": {
                which: _slide(values)
                for which in present.SIDES
                if (values := asked.hang.values.get(which)) is not None
            },
        }
    )


def _slide(values: Mapping[str, Any]) -> dict[str, Any]:
    curve, at = values["effort_curve"], values["positions"]
    floor, pulley = at["pocket_floor_mm"], at["pulley_height_mm"]
    slide: dict[str, Any] = {"travel": values["travel_mm"], **curve}
    for end in ("closed", "open"):
        top, bottom = at[f"weight_top_{end}_mm"], at[f"weight_bottom_{end}_mm"]
        slide[f"above_{end}"] = pulley - top
        slide[f"below_{end}"] = None if bottom is None else bottom - floor
    return slide
