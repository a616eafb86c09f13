"""What to cut? The cutting list of a house in the shape of every answer."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Step, WindowAnswer, mm
from sashwright.chapters.make.cut import UNITS, CutPart, Unit
from sashwright.chapters.make.cutlist import CutList, cut_list
from sashwright.chapters.make.findings import house_findings
from sashwright.chapters.make.frame_maker import FrameKind
from sashwright.chapters.make.glazing import LEAST_POINTS, POINT_SPACING
from sashwright.chapters.make.rough import Allowance
from sashwright.chapters.make.rows import glass_row, made_row, part_row, totals_row
from sashwright.chapters.make.tally import COVERAGE
from sashwright.chapters.make.wanted import Asked, Wanted
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.window.spec import House

BOARD_FOOT = "board foot: 1 in by 12 in by 12 in, rough"


def make(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    *,
    scope: Collection[Asked] | None = None,
    wood: str | None = None,
    frame: FrameKind | None = None,
    only: Collection[Unit] | None = None,
    allowance: Allowance | None = None,
) -> Answer:
    """Every part to cut for the windows of a house (all, or those with ``numbers``), and the totals.

    Parameters and errors are those of :func:`sashwright.chapters.make.cutlist.cut_list`. A window that
    contradicts itself is answered with what is wrong.
    """
    allowance, words = allowance or Allowance(), Words(system or house.units)
    found = cut_list(
        house, knowledge, numbers, scope=scope, wood=wood, frame=frame, only=only,
        allowance=allowance, system=words.system,
    )  # fmt: skip
    answers = {each.number: _answer(each, found, knowledge) for each in found.wanted}
    answers |= found.wrong
    wanted = [window.number for window in house.windows] if numbers is None else list(numbers)
    values = {
        **totals_row(found.totals, knowledge),
        "scope": None if scope is None else sorted(scope),
        "windows": sum(bool(found.parts_of(n) or found.glass_of(n)) for n in answers),
        "allowance_mm": {
            "length": mm(allowance.length),
            "width": mm(allowance.width),
            "thickness": mm(allowance.thickness),
            "horn": mm(allowance.horn),
            "step": mm(allowance.step),
        },
    }
    findings = list(house_findings(found, knowledge, words, allowance, chosen=wood is not None))
    working = list(_house_steps(found, allowance))
    return Answer(
        "make", house.name, [answers[number] for number in wanted], values, findings, working
    )


def _answer(wanted: Wanted, found: CutList, knowledge: Knowledge) -> WindowAnswer:
    number, way = wanted.number, wanted.alternative
    parts, glass = found.parts_of(number), found.glass_of(number)
    window = wanted.placed.window
    listed = {part.unit for part in parts} | {pane.unit for pane in glass}
    values: dict[str, Any] = {
        "room": window.room,
        "wall": window.wall,
        "storey": window.storey,
        "alternative": None if way is None else way.scope.key,
        "alternative_name": None if way is None else way.scope.name,
        "decided": wanted.decided,
        "units": [unit for unit in UNITS if unit in listed],
        "frame_kind": found.frames.get(number),
        "made": [made_row(each, knowledge) for each in found.made if each.window == number],
        "parts": [part_row(part, knowledge) for part in parts],
        "glass": [glass_row(part, knowledge) for part in glass],
        "board_feet": sum(part.board_feet for part in parts),
        "rough_m3": sum(part.rough_volume for part in parts),
        "finished_m3": sum(part.finished_volume for part in parts),
    }
    return WindowAnswer(number, values, found.findings.get(number, []), list(_steps(parts, found)))


def _steps(parts: Sequence[CutPart], found: CutList) -> Iterator[Step]:
    for unit in UNITS:
        mine = [part for part in parts if part.unit == unit]
        if mine:
            yield Step(
                f"board feet: {unit}",
                "sum of pieces x quarters / 4 x rough width in x rough length ft / 12",
                {f"{part.mark} {part.name}": round(part.board_feet, 4) for part in mine},
                sum(part.board_feet for part in mine),
                "board ft",
                BOARD_FOOT,
            )
    window = parts[0].window if parts else ""
    for pane in found.glass_of(window):
        yield Step(
            f"glass: {pane.unit}, {', '.join(pane.lites)}",
            "rabbet to rabbet less the play on both sides, wide and high",
            {
                "rabbet_wide_m": pane.cut_width + 2 * pane.play,
                "rabbet_high_m": pane.cut_height + 2 * pane.play,
                "play_m": pane.play,
            },
            [pane.cut_width, pane.cut_height],
            "m",
            "geometry of the rabbet; the play is the family's",
        )


def _house_steps(found: CutList, allowance: Allowance) -> Iterator[Step]:
    yield Step(
        "rough sizes",
        "finished + allowance, up to the next step; stiles longer by a horn at each end",
        {
            "length_m": allowance.length,
            "width_m": allowance.width,
            "thickness_m": allowance.thickness,
            "horn_m": allowance.horn,
            "step_m": allowance.step,
        },
        found.totals.rough_m3,
        "m3",
        "shop practice, from memory",
    )
    for each in found.totals.lumber:
        yield Step(
            f"board feet: {each.species}, {each.quarters}/4",
            "sum of its parts",
            {"pieces": each.pieces, "rough_m3": each.rough_m3},
            each.board_feet,
            "board ft",
            BOARD_FOOT,
        )
    for putty in found.totals.putty:
        yield Step(
            f"putty: {putty.putty}",
            "volume of bed, edge and front x density",
            {"volume_m3": putty.volume_m3},
            putty.mass_kg,
            "kg",
            "geometry of the rabbet; density: putty table",
        )
    if found.totals.points:
        yield Step(
            "glazing points",
            "on each side, its length / spacing rounded up, and no fewer than the least",
            {"spacing_m": POINT_SPACING, "least": LEAST_POINTS},
            found.totals.points,
            "",
            "8 to 10 in apart: Kidder, Building Construction and Superintendence",
        )
    for paint in found.totals.paint:
        yield Step(
            f"paint: {paint.coating}, one of {paint.coats} coats",
            "painted area / area that a litre covers",
            {"area_m2": paint.area_m2, "m2_per_litre": COVERAGE},
            paint.litres_a_coat,
            "L",
            "350 to 400 square feet to the gallon, from memory",
        )
