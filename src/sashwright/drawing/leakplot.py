"""Air that gets by, as bars: path by path, and for the window in one state after the other.

Bars are as long as the flow at the pressure that windows are rated at; a whisker shows the range of the
tables. What a storm sash does not hold back is hatched, and so is a bar behind a storm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.words import Words
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
BAR = 0.0042
THIN = 0.0030
LINE = 0.0036
"""Height of a bar, of one behind a storm, and of a line of words [m]."""
BETWEEN = 0.0030
"""From a bar to the words of the next one [m]."""
PRESSURE = "75 Pa"
CFM = 4.719474432e-4
"""[m3/s]"""


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: flow and range [m3/s], pen and hatch."""

    flow: float
    low: float | None
    high: float | None
    pen: str = "wood"
    hatch: Hatch | None = None
    height: float = BAR

    @property
    def reach(self) -> float:
        return max(self.flow, self.high or 0.0)


@dataclass(frozen=True, slots=True)
class Row:
    """Bars under one line of words, with a figure at its end."""

    name: str
    figure: str
    bars: tuple[Bar, ...]
    title: str
    key: str


# --- paths ----------------------------------------------------------------------------------------


def leak_bars(answer: WindowAnswer, system: units.System = "us") -> Drawing:
    """Leakage of a window path by path, most first, with ranges and shares.

    Parameters
    ----------
    answer
        The seal chapter's answer for a window.
    """
    title = f"Window {answer.number}, air that gets by, path by path"
    paths = sorted(answer.values.get("paths", ()), key=lambda path: -path["flow_75_m3_s"])
    rows = [_path_row(path, system) for path in paths if path["flow_75_m3_s"] > 0]
    if not rows:
        return _nothing(title)
    round_a_storm = any(not path["behind_storm"] for path in paths)
    legend = "Hatched: a storm sash does not hold it back." if round_a_storm else ""
    words = "; ".join(row.title for row in rows)
    return drawing(title, f"At {PRESSURE}, most first: {words}.", _chart(rows, system, legend), 1.0)


def _path_row(path: Mapping[str, Any], system: units.System) -> Row:
    flow, area = float(path["flow_75_m3_s"]), float(path["leakage_area_cm2"])
    low, high = (
        flow * float(path[name]) / area if area else None
        for name in ("leakage_area_low_cm2", "leakage_area_high_cm2")
    )
    figure = f"{Words(system).flow(flow)}, {100 * path['share']:.0f} %"
    hatch: Hatch | None = None if path["behind_storm"] else "metal"
    words = f"{path['words']} {figure}{_range(low, high, system)}"
    return Row(path["words"], figure, (Bar(flow, low, high, hatch=hatch),), words, path["path"])


def _range(low: float | None, high: float | None, system: units.System) -> str:
    if low is None or high is None:
        return ""
    words = Words(system)
    return f" ({words.flow(low)} to {words.flow(high)})"


# --- states ---------------------------------------------------------------------------------------


def scenario_bars(answer: WindowAnswer | Answer, system: units.System = "us") -> Drawing:
    """Leakage of a window, or of all windows of a house, in each state, bare and behind a storm.

    Parameters
    ----------
    answer
        The seal chapter's answer for a window or for a house.

    Notes
    -----
    States that leak alike share one bar.
    """
    if isinstance(answer, Answer):
        whose, states = f"{answer.house}, all windows", answer.values.get("totals", ())
    else:
        whose, states = f"Window {answer.number}", answer.values.get("scenarios", ())
    title = f"{whose}: air that gets by, state by state"
    rows = list(_state_rows(states, system))
    if not rows:
        return _nothing(title)
    words = "; ".join(row.title for row in rows)
    legend = "Hatched: the same with a storm sash before it."
    return drawing(title, f"At {PRESSURE}: {words}.", _chart(rows, system, legend), 1.0)


def _state_rows(scenarios: Sequence[Mapping[str, Any]], system: units.System) -> Iterator[Row]:
    alone = {each["name"]: each for each in scenarios if not each["storm"]}
    storms = {each["name"]: each for each in scenarios if each["storm"]}
    groups: dict[tuple[float, float], list[str]] = {}
    for name, each in alone.items():
        behind = storms.get(name, each)
        key = (round(each["flow_75_m3_s"], 7), round(behind["flow_75_m3_s"], 7))
        groups.setdefault(key, []).append(name)
    for names in groups.values():
        yield _state_row(names, alone[names[0]], storms.get(names[0]), system)


def _state_row(
    names: Sequence[str],
    alone: Mapping[str, Any],
    storm: Mapping[str, Any] | None,
    system: units.System,
) -> Row:
    name = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"
    words = Words(system)
    bars = [_state_bar(alone)]
    figure = words.flow(bars[0].flow)
    title = f"{name} {figure}{_range(bars[0].low, bars[0].high, system)}"
    if storm is not None:
        bars.append(_state_bar(storm, "void", "metal", THIN))
        title += f", with a storm {words.flow(bars[1].flow)}"
        figure += f"; storm {words.flow(bars[1].flow)}"
    return Row(name, figure, tuple(bars), title, names[0])


def _state_bar(
    scenario: Mapping[str, Any], pen: str = "wood", hatch: Hatch | None = None, height: float = BAR
) -> Bar:
    return Bar(
        float(scenario["flow_75_m3_s"]),
        scenario.get("flow_75_low_m3_s"),
        scenario.get("flow_75_high_m3_s"),
        pen,
        hatch,
        height,
    )


# --- the chart ------------------------------------------------------------------------------------


def _nothing(title: str) -> Drawing:
    note = Text((0.0, 0.0), "Nothing is known of the air that gets by.")
    return drawing(title, "Nothing is known of it.", (note,), 1.0)


def _chart(rows: Sequence[Row], system: units.System, legend: str) -> Iterator[Item]:
    per = CFM if system == "us" else 1 / 3600
    most = max(bar.reach for row in rows for bar in row.bars) / per
    step = round_step(most / 5)
    laid = list(_laid(rows))
    foot = laid[-1][2] - 0.0025
    field = Field(0.0, foot, WIDTH, -foot, (0.0, most * 1.02), (0.0, 1.0))
    ranged = any(bar.low is not None for row in rows for bar in row.bars)
    words = ["Whiskers: the range of the tables."] if ranged else []
    words += [legend] if legend else []
    yield Group(tuple(_axis(field, step, system, words)), classes="axes", hidden=True)
    for row, lines, bottom in laid:
        yield Group(
            tuple(_row_items(field, row, lines, bottom, per)), row.title, classes="bar",
            data=(("path", row.key),),
        )  # fmt: skip


def _laid(rows: Sequence[Row]) -> Iterator[tuple[Row, list[str], float]]:
    """Each row with its words in lines and the height of its foot, from the top down [m]."""
    y = 0.0
    for row in rows:
        room = WIDTH * 1000 - text_width(row.figure, LETTERING) - 4
        lines = wrapped(f"{row.name[:1].upper()}{row.name[1:]}", LETTERING, room)
        y -= BETWEEN + LINE * len(lines) + sum(bar.height for bar in row.bars)
        yield row, lines, y


def _row_items(
    field: Field, row: Row, lines: Sequence[str], bottom: float, per: float
) -> Iterator[Item]:
    y = bottom
    for bar in reversed(row.bars):
        yield from _bar_items(field, bar, y, per)
        y += bar.height
    for index, line in enumerate(reversed(lines)):
        at = (field.left, y + index * LINE)
        yield Text(at, line, "note halo", LETTERING, "start", shift=(0.9, 1.0))
    at = (field.right, y + (len(lines) - 1) * LINE)
    yield Text(at, row.figure, "figure halo", LETTERING, "end", shift=(0.0, 1.0))


def _bar_items(field: Field, bar: Bar, y: float, per: float) -> Iterator[Item]:
    end = field.x(bar.flow / per)
    yield rectangle(field.left, y, end, y + bar.height, f"{bar.pen} edge", bar.hatch)
    if bar.low is None or bar.high is None:
        return
    middle, half = y + bar.height / 2, bar.height * 0.28
    low, high = field.x(bar.low / per), field.x(bar.high / per)
    yield Line((low, middle), (high, middle), "axis")
    for x in (low, high):
        yield Line((x, middle - half), (x, middle + half), "axis")


def _axis(field: Field, step: float, system: units.System, legend: Sequence[str]) -> Iterator[Item]:
    for value in steps_between(*field.x_range, step):
        x = field.x(value)
        yield Line((x, field.bottom), (x, field.top), "grid" if value else "axis")
        yield Text((x, field.bottom), f"{value:g}", "figure", LETTERING, shift=(0.0, -3.6))
    unit = "cfm" if system == "us" else "m³/h"
    for index, line in enumerate([f"{unit} at {PRESSURE}", *legend]):
        at = (field.left, field.bottom)
        yield Text(at, line, "note", 2.4, "start", shift=(0.0, -7.4 - 3.4 * index))
