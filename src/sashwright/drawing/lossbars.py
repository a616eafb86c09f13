"""Heat that a window loses, as bars: as it is, and with each way of making it warmer.

What is conducted stands in one bar: through the glass, added at its edge, through the wood. What goes with
the air through the joints has a bar of its own below, with the range of the tables as a whisker. The bars
of what hangs there in winter are marked by the red pencil.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.heat.leak import heat_of
from sashwright.chapters.heat.say import BTU_HOUR, CONVENTIONS
from sashwright.drawing.axes import LETTERING, Field, round_step, steps_between, wrapped
from sashwright.drawing.model import (
    Drawing,
    Group,
    Hatch,
    Item,
    Line,
    Text,
    drawing,
    rectangle,
)
from sashwright.drawing.paper import text_width

WIDTH = 0.086
"""Of the field on paper [m]."""
BAR = 0.0040
THIN = 0.0026
LINE = 0.0036
BETWEEN = 0.0032
"""Height of a bar, of that of the air, of a line of words, and from a bar to the next words [m]."""
LOOKS: Mapping[str, tuple[str, str, Hatch | None]] = {
    "glass": ("glass", "glass edge", None),
    "edge": ("edge of the glass", "metal-far edge", None),
    "frame": ("wood", "wood edge", "end-grain"),
    "air": ("air through the joints", "void edge", "metal"),
}
"""Name, pen and hatch of each part."""
NAMES = {
    "as found": "As they hang in winter",
    "prime": "The windows alone",
    "storm": "With storm sash",
    "storm-clear": "With clear storm sash",
    "storm-low-e": "With low-e storm sash",
    "inside": "With inside storms",
    "inside-low-e": "With inside storms, low-e",
    "unit": "With insulated glass in the old sash",
    "new": "New windows",
}
"""States of all windows of a house together."""


@dataclass(frozen=True, slots=True)
class Loss:
    """One state: heat by each part, and with the air from low to high, all in the reader's unit."""

    key: str
    name: str
    parts: Mapping[str, float]
    air: float
    low: float
    high: float
    there: bool

    @property
    def conducted(self) -> float:
        return sum(self.parts.values())

    @property
    def reach(self) -> float:
        return max(self.conducted, self.high)


def unit_of(system: units.System) -> str:
    return "Btu/h per °F" if system == "us" else "W/K"


def loss_bars(answer: WindowAnswer | Answer, system: units.System = "us") -> Drawing:
    """Heat lost by a window, or by all windows of a house, in each state.

    Parameters
    ----------
    answer
        The heat chapter's answer for a window or for a house.

    Notes
    -----
    By the reader's own convention. Where edges of glass save heat (European, below 0), that is taken off
    the glass. A house's glass includes its edges.
    """
    whose = (
        f"Window {answer.number}"
        if isinstance(answer, WindowAnswer)
        else f"{answer.house}, all windows"
    )
    title = f"{whose}: heat lost, state by state"
    losses = list(losses_of(answer, system))
    if not losses:
        note = Text((0.0, 0.0), "Nothing is known of the heat it loses.")
        return drawing(title, "Nothing is known of it.", (note,), 1.0)
    words = "; ".join(_words(loss) for loss in losses)
    return drawing(title, f"In {unit_of(system)}: {words}.", _chart(losses, system), 1.0)


def losses_of(answer: WindowAnswer | Answer, system: units.System) -> Iterator[Loss]:
    """The bars of an answer."""
    if isinstance(answer, WindowAnswer):
        as_found = answer.values.get("as_found")
        for row in answer.values.get("alternatives", ()):
            there = row["key"] == as_found
            low, high = heat_of(row["leak_low_m3_s"]), heat_of(row["leak_high_m3_s"])
            yield _loss(row, row["name"], (low, high), system, there=there)
        return
    for row in answer.values.get("totals", ()):
        ends = row["leak_low_w_k"], row["leak_high_w_k"]
        yield _loss(row, NAMES[row["key"]], ends, system, there=row["key"] == "as found")


def _loss(
    row: Mapping[str, Any],
    name: str,
    ends: tuple[float, float],
    system: units.System,
    *,
    there: bool,
) -> Loss:
    way = CONVENTIONS[system]
    per = BTU_HOUR if system == "us" else 1.0
    glass, edge, frame = (
        row.get(f"{part}_{way}_w_k", 0.0) / per for part in ("glass", "edge", "frame")
    )
    if edge < 0:
        glass, edge = glass + edge, 0.0
    parts = {"glass": glass, "edge": edge, "frame": frame}
    rest = row[f"loss_{way}_w_k"] / per - sum(parts.values())
    # What is known as one figure only counts as the whole window's.
    parts["glass"] += rest
    low, high = (end / per for end in ends)
    return Loss(row["key"], name, parts, row["leak_w_k"] / per, low, high, there)


def _words(loss: Loss) -> str:
    there = ", which hangs there," if loss.there else ""
    return (
        f"{loss.name[:1].lower()}{loss.name[1:]}{there} {loss.conducted:.1f} conducted and "
        f"{loss.air:.1f} with the air ({loss.low:.1f} to {loss.high:.1f})"
    )


# --- the chart ------------------------------------------------------------------------------------


def _chart(losses: Sequence[Loss], system: units.System) -> Iterator[Item]:
    most = max(loss.reach for loss in losses)
    laid = list(_laid(losses))
    foot = laid[-1][2] - 0.0025
    field = Field(0.0, foot, WIDTH, -foot, (0.0, most * 1.02), (0.0, 1.0))
    house = all(loss.parts["edge"] == 0 for loss in losses)
    used = [part for part in LOOKS if part == "air" or any(loss.parts[part] > 0 for loss in losses)]
    yield Group(tuple(_axis(field, system)), classes="axes", hidden=True)
    for loss, lines, bottom in laid:
        yield Group(
            tuple(_row(field, loss, lines, bottom)), _words(loss), classes="bar",
            data=(("state", loss.key),),
        )  # fmt: skip
    yield Group(
        tuple(_key(field, used, "glass and its edge" if house else "glass")),
        classes="key",
        hidden=True,
    )


def _laid(losses: Iterable[Loss]) -> Iterator[tuple[Loss, list[str], float]]:
    """Each state with its words in lines and the height of its foot, from the top down [m]."""
    y = 0.0
    for loss in losses:
        room = WIDTH * 1000 - text_width(_figure(loss), LETTERING) - 4
        lines = wrapped(loss.name, LETTERING, room)
        y -= BETWEEN + LINE * len(lines) + BAR + THIN
        yield loss, lines, y


def _figure(loss: Loss) -> str:
    return f"{loss.conducted:.1f} + air {loss.air:.1f}"


def _row(field: Field, loss: Loss, lines: Sequence[str], bottom: float) -> Iterator[Item]:
    yield from _air(field, loss, bottom)
    x, y = field.left, bottom + THIN
    for part, heat in loss.parts.items():
        if heat <= 0:
            continue
        end = x + field.x(heat) - field.left
        _, pen, hatch = LOOKS[part]
        yield rectangle(x, y, end, y + BAR, pen, hatch)
        x = end
    top = y + BAR
    if loss.there:
        mark = field.left - 0.0011
        yield Line((mark, bottom), (mark, top), "pencil-bold")
    pen = "pencil-note halo" if loss.there else "note halo"
    for index, line in enumerate(reversed(lines)):
        at = (field.left, top + index * LINE)
        yield Text(at, line, pen, LETTERING, "start", shift=(0.9, 1.0))
    at = (field.right, top + (len(lines) - 1) * LINE)
    yield Text(at, _figure(loss), "figure halo", LETTERING, "end", shift=(0.0, 1.0))


def _air(field: Field, loss: Loss, bottom: float) -> Iterator[Item]:
    _, pen, hatch = LOOKS["air"]
    yield rectangle(field.left, bottom, field.x(loss.air), bottom + THIN, pen, hatch)
    middle, half = bottom + THIN / 2, THIN * 0.3
    low, high = field.x(loss.low), field.x(loss.high)
    yield Line((low, middle), (high, middle), "axis")
    for x in (low, high):
        yield Line((x, middle - half), (x, middle + half), "axis")


def _axis(field: Field, system: units.System) -> Iterator[Item]:
    most = field.x_range[1]
    for value in steps_between(0.0, most, round_step(most / 6)):
        x = field.x(value)
        yield Line((x, field.bottom), (x, field.top), "grid" if value else "axis")
        yield Text((x, field.bottom), f"{value:g}", "figure", LETTERING, shift=(0.0, -3.6))
    at = (field.left, field.bottom)
    yield Text(at, unit_of(system), "note", 2.4, "start", shift=(0.0, -7.4))
    words = "Whiskers: the range of the tables for the air."
    yield Text(at, words, "note", 2.4, "start", shift=(0.0, -17.0))


def _key(field: Field, parts: Iterable[str], glass: str) -> Iterator[Item]:
    x, foot = field.left, field.bottom - 0.0130
    for part in parts:
        name, pen, hatch = LOOKS[part]
        name = glass if part == "glass" else name
        yield rectangle(x, foot, x + 0.0036, foot + 0.0022, pen, hatch)
        yield Text((x, foot), name, "note", 2.4, "start", shift=(4.5, 0.2))
        x += text_width(name, 2.4) / 1000 + 0.0078
