"""Drawings for pages: taken from the drawing room, marked with what was found, written as SVG."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from django.utils.safestring import SafeString, mark_safe

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, WindowAnswer
from sashwright.chapters.heat.pictured import Pictured
from sashwright.drawing.airhour import AirHour, opened_of
from sashwright.drawing.airkey import air_key
from sashwright.drawing.airplan import air_plan
from sashwright.drawing.airsection import air_section
from sashwright.drawing.comfortcalendar import comfort_calendar
from sashwright.drawing.curve import effort_plot
from sashwright.drawing.elevation import elevation
from sashwright.drawing.gapplot import gap_plot
from sashwright.drawing.isotherms import State, isotherms
from sashwright.drawing.leakplot import leak_bars, scenario_bars
from sashwright.drawing.loadplot import load_plot
from sashwright.drawing.lossbars import loss_bars
from sashwright.drawing.model import Drawing, marked
from sashwright.drawing.opened import opened
from sashwright.drawing.paper import extent
from sashwright.drawing.planbars import plan_bars
from sashwright.drawing.pressureplot import pressure_plot
from sashwright.drawing.seasonplot import season_plot
from sashwright.drawing.sections import horizontal_section, vertical_section
from sashwright.drawing.storm import storm_elevation
from sashwright.drawing.svg import to_svg
from sashwright.drawing.thumbnail import Stamp, stamp_swatch, thumbnail
from sashwright.drawing.wetplot import wet_plot
from sashwright.drawing.worthplots import worth_plots
from sashwright.drawing.yearplot import clearance_plot
from sashwright.web import present
from sashwright.web.asking import Asked
from sashwright.window.resolve import Placed
from sashwright.window.spec import House, Wall

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
LOAD_SCALE = 0.046
LOAD_PHONE_SCALE = 0.03
LOAD_PX = 6.0
"""Of a window beside whose parts figures stand."""
WARM_PX = 6.0
"""The same of a section with its isotherms."""
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


def grade_pictures(
    asked: Asked, answer: Answer, wall: Wall | None, *, phone: bool = False
) -> list[Picture]:
    """What the design wind uses of each part of a window, and what the site asks."""
    found, system = answer.windows[0], asked.system
    if asked.placed is None or not found.values:
        return []
    site = answer.values["site"]
    return [
        Picture(
            "loads",
            svg(
                load_plot(asked.placed, found, system),
                "loads",
                scale=LOAD_PHONE_SCALE if phone else LOAD_SCALE,
                px_per_mm=LOAD_PX,
            ),
        ),
        Picture("site", svg(pressure_plot(asked.placed, found, site, wall, system), "site-wind")),
    ]


def heat_pictures(answer: WindowAnswer, system: units.System) -> dict[str, Picture]:
    """Heat of a window state by state, U against its air space, water on it; as far as they are known."""
    found = {"losses": Picture("losses", svg(loss_bars(answer, system), "heat-losses"))}
    if answer.values["curve"] is not None:
        found["space"] = Picture("space", svg(gap_plot(answer, system), "heat-space"))
    if (answer.values["condensation"] or {}).get("year"):
        found["wet"] = Picture("wet", svg(wet_plot(answer), "heat-wet"))
    return found


def warm_picture(section: Pictured, state: State, system: units.System) -> Picture:
    """A section of a window with its lines of equal warmth."""
    drawn = isotherms(section, state, system)
    return Picture("isotherms", svg(drawn, "isotherms", px_per_mm=WARM_PX), drawn.description)


def losses_picture(answer: Answer, system: units.System) -> Picture:
    """The heat of all windows of a house state by state."""
    return Picture("losses", svg(loss_bars(answer, system), "heat-totals"))


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


def air_pictures(
    house: House, values: Mapping[str, Any], system: units.System
) -> dict[str, list[Picture]]:
    """One hour's air: the section, the plan of each storey that has rooms in it, and the signs."""
    hour = AirHour(values, opened_of(values["opened"]))
    storeys = _storeys_with_air(house, hour)
    return {
        "section": [Picture("section", svg(air_section(house, hour, system), "air-section"))],
        "plans": [
            Picture("plan", svg(air_plan(house, storey, hour, system), f"air-plan-{storey}"))
            for storey in storeys
        ],
        "key": [Picture("key", svg(air_key(system), "air-key"))] if storeys else [],
    }


def _storeys_with_air(house: House, hour: AirHour) -> list[int]:
    """Storeys of the plan but for lofts in which nothing stands open."""
    rooms = house.rooms.values()
    lived_in = {room.storey for room in rooms if room.heated}
    numbers = {number for number, _ in hour.opened}
    opened = {
        house.rooms[window.room].storey
        for window in house.windows
        if window.number in numbers and window.room in house.rooms
    }
    return sorted({room.storey for room in rooms} & (lived_in | opened))


def room_plans(house: House) -> list[Picture]:
    """The bare plan of each storey."""
    storeys = sorted({room.storey for room in house.rooms.values()})
    return [Picture("plan", svg(air_plan(house, each), f"rooms-{each}")) for each in storeys]


def breathe_pictures(answer: Answer, season: str) -> dict[str, Picture]:
    """The plans beside each other, over all days or one season, and the year by the best and all shut."""
    values = answer.values
    bars = plan_bars(values["plans"], best=values["best"], season=season)
    return {
        "plans": Picture("plans", svg(bars, "plan-bars")),
        "shut": Picture("year", svg(comfort_calendar(values["calendar_shut"]), "year-shut")),
        "best": Picture("year", svg(comfort_calendar(values["calendar"]), "year-best")),
    }


def worth_pictures(answer: Answer, system: units.System) -> dict[str, Picture]:
    """Money over the years, ranges of cost and of payback, what decides, carbon."""
    drawn = worth_plots(answer.values, system)
    return {
        name: Picture(name, svg(each, f"worth-{name}"), each.title) for name, each in drawn.items()
    }


def class_swatches(stamps: Mapping[str | None, Stamp]) -> list[Picture]:
    """A patch for each stamp that windows are written over with, and what it means."""
    return [
        Picture("swatch", svg(stamp_swatch(stamp), f"stamp-{at}", px_per_mm=4.6), stamp.says)
        for at, stamp in enumerate(stamps.values())
    ]


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
