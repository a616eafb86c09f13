"""Guesses by its head what a column holds, and in which row the heads stand."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from sashwright.record.schedule.fields import LITES, SIZE, fields
from sashwright.record.schedule.table import Row, Sheet, shown

NOTE = "note"
_LOOKED_AT = 20

WORDS: Mapping[str, str] = {
    "number": "number, no, nr, num, #, window, window no, window number, window #, win, win no, tag, "
    "window tag, id, window id, opening, opening no, opening number, ref, reference",
    "family": "family, type, window type, style, window style",
    "room": "room, location, space, room name, where",
    "wall": "wall, side, elevation, faces, facade, facing, orientation, direction, exposure",
    "storey": "storey, story, floor, level, fl, flr",
    "width": "width, w, wide, breadth, width of opening, opening width, sash opening width",
    "height": "height, h, high, ht, height of opening, opening height, sash opening height",
    SIZE: "size, w x h, width x height, width height, w h, wxh, opening size, dimensions, opening",
    LITES: "lites, lights, lite pattern, light pattern, pattern, panes, configuration, grid, divisions, "
    "lites upper lower, muntins",
    "upper": "upper, upper lites, upper lights, top lites, upper sash lites, top sash",
    "lower": "lower, lower lites, lower lights, bottom lites, lower sash lites, bottom sash",
    NOTE: "note, notes, remark, remarks, comment, comments, condition, state, defects, observations, "
    "condition notes, description",
    "hung": "hung, operation, operable, action",
    "head.shape": "head, head shape, shape",
    "head.rise": "rise, head rise, arch rise",
    "meeting_height": "meeting rail height, meeting height, meeting rail",
    "sill_above_floor": "sill above floor, sill height, sill ht, sill",
    "sill_above_ground": "sill above ground, height above ground",
    "along": "along, along the wall, distance along",
    "beside": "beside, mullion with, mulled to, shares a mullion with, pair",
    "mark": "mark, stamp, cut mark",
    "decision.alternative": "decision, scope, alternative",
    "condition.by": "surveyed by, surveyor, by",
    "condition.on": "surveyed on, survey date, date of survey, date",
    "measured.upper.mass": "upper mass, upper weight, upper sash weight, upper sash mass",
    "measured.lower.mass": "lower mass, lower weight, lower sash weight, lower sash mass",
    "use.bedroom": "bedroom, sleeping room",
}
"""Words above the columns of schedules, by what they mean."""

UNITS: Mapping[str, str] = {
    "mm": "mm", "millimetres": "mm", "millimeters": "mm", "cm": "cm", "m": "m", "metres": "m",
    "in": "in", "inch": "in", "inches": "in", '"': "in", "ft": "ft", "feet": "ft", "'": "ft",
    "kg": "kg", "g": "g", "lb": "lb", "lbs": "lb", "oz": "oz",
}  # fmt: skip
_IN_BRACKETS = re.compile(r"\[(?P<path>[a-z0-9_./ ]+)\]\s*$")
_UNIT = re.compile(
    r"(?P<head>.*?)[\s,]*(?:[(\[]\s*(?P<a>[a-z\"']+)\.?\s*[)\]]|[,\s]\s*(?P<b>[a-z\"']+)\.?)\s*$"
)
_BRACKETS = re.compile(r"[(\[].*?[)\]]")
_BETWEEN = re.compile(r"[/&(),]")


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the file and the field of a window that it holds; none where ``path`` is empty."""

    index: int
    path: str = ""
    unit: str = ""
    """Of bare numbers in it; the house's own where empty."""


def guess_columns(sheet: Sheet, head: int) -> tuple[Column, ...]:
    """What each column holds, as far as its head tells; ``head`` is the row of the heads, 0 for none."""
    width = max((len(row) for row in sheet.rows), default=0)
    heads = heads_of(sheet, head)
    taken: set[str] = set()
    columns = []
    for index in range(width):
        path, unit = guess(heads[index] if index < len(heads) else "")
        if path in taken and path != NOTE:
            path = ""
        taken.add(path)
        columns.append(Column(index, path, unit if path else ""))
    if "number" not in taken:
        # In many schedules the mark is all the number that a window has.
        columns = [
            Column(each.index, "number") if each.path == "mark" else each for each in columns
        ]
    return tuple(columns)


def heads_of(sheet: Sheet, head: int) -> list[str]:
    """What stands above the columns."""
    row: Row = sheet.rows[head - 1] if 0 < head <= len(sheet.rows) else ()
    return [" ".join(shown(value).split()) for value in row]


def find_head(sheet: Sheet) -> int:
    """The row that most looks like heads, 1 where none does."""
    best, most = 1, 0
    for number, row in enumerate(sheet.rows[:_LOOKED_AT], 1):
        told = {guess(shown(value))[0] for value in row if isinstance(value, str)} - {""}
        if len(told) > most and (len(told) > 1 or "number" in told):
            best, most = number, len(told)
    return best


def guess(head: str) -> tuple[str, str]:
    """The field that a head means, or nothing, and the unit it tells of, or nothing."""
    text = " ".join(head.split())
    named = _IN_BRACKETS.search(text)
    if named and named["path"].strip() in fields():
        return named["path"].strip(), ""
    with_unit = _UNIT.fullmatch(text.casefold())
    unit = UNITS.get((with_unit["a"] or with_unit["b"]) if with_unit else "", "")
    tries = [(text, "")]
    if with_unit and unit:
        tries.append((with_unit["head"], unit))
    tries += [(part, "") for part in (_BRACKETS.sub(" ", text), *_BETWEEN.split(text))]
    for said, of in tries:
        path = _known().get(_plain(said)) or (said if _is_plain_path(said) else "")
        if path:
            return path, of
    return "", ""


def _is_plain_path(text: str) -> bool:
    field = fields().get(text)
    return field is not None and field.kind != "nothing"


@cache
def _known() -> Mapping[str, str]:
    named = {_plain(word): path for path, words in WORDS.items() for word in words.split(",")}
    labels = {_plain(f.label): path for path, f in fields().items() if f.kind != "nothing"}
    return {**labels, **named}


def _plain(text: str) -> str:
    """A head without capitals, dots and the like."""
    plain = text.casefold().replace("×", " x ").replace("№", "no")
    return " ".join(re.sub(r"[^\w#]+", " ", plain).split()).removeprefix("the ")


def chosen(columns: Sequence[Column]) -> dict[str, Column]:
    """The columns that hold a field, by its path; of several with notes the first."""
    return {each.path: each for each in reversed(columns) if each.path}
