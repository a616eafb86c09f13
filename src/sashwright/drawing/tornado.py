"""What decides between keeping and replacing: the inputs that move the difference most, as bars."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.worth.say import SIGNS, amount
from sashwright.drawing.axes import LETTERING, Field, number, round_step, steps_between, wrapped
from sashwright.drawing.fates import scaled
from sashwright.drawing.model import Drawing, Group, Item, Line, Text, drawing, rectangle
from sashwright.drawing.paper import text_width

WIDTH = 0.086
BAR = 0.0036
LINE = 0.0036
BETWEEN = 0.0028
SMALL = 2.4
ROOM = 0.0175
"""Beyond the longest bar, for the figures at its ends [m]."""
KELVIN = 1.8
"""Degrees Fahrenheit."""
ROUGH = {"leak as found": ("tight", "leaky"), "leak after work": ("tight", "less tight")}
"""Ends of what is drawn by its rank."""

Input = Mapping[str, Any]


def tornado(
    inputs: Sequence[Input],
    margin: Mapping[str, float],
    *,
    most: int = 8,
    currency: str = "USD",
    system: units.System = "us",
) -> Drawing:
    """By how much replacing costs more than keeping when one input is low and when it is high.

    Parameters
    ----------
    inputs
        Rows of the worth chapter, those that matter most first.
    margin
        Its ``margin``: the ``middle`` of all draws is the line that the bars lie about.
    most
        How many are drawn.
    """
    title = "What decides between keeping and replacing"
    rows = inputs[:most]
    if not rows or "middle" not in margin:
        words = "Nothing was drawn, so nothing can be told."
        return drawing(title, words, (Text((0.0, 0.0), words),), 1.0)
    said = [
        f"{row['words']}: {amount(row['margin_at_low'], currency)} at {end_words(row, 'low', system)}, "
        f"{amount(row['margin_at_high'], currency)} at {end_words(row, 'high', system)}"
        for row in rows
    ]
    words = f"Replacing costs {amount(margin['middle'], currency)} more in the middle; {'; '.join(said)}."
    return drawing(title, words, _chart(rows, margin["middle"], currency, system), 1.0)


def end_words(row: Input, which: str, system: units.System) -> str:
    """The input at one end of its bar."""
    value, unit = row[which], row["unit"]
    money, _, per = unit.partition("/")
    match unit:
        case "rank":
            text = ROUGH.get(row["name"], ("low", "high"))[which == "high"]
        case "years":
            text = f"{value:.0f} years"
        case "K":
            text = f"{value * KELVIN:+.1f} °F" if system == "us" else f"{value:+.1f} °C"
        case "1/year":
            text = f"{100 * value:+.1f} %/year"
        case "-":
            text = f"{value:.2f}"
        case _ if per:
            text = f"{SIGNS.get(money, money + ' ')}{value:.2f}"
        case _:
            text = amount(value, money)
    return text


def _chart(
    rows: Sequence[Input], middle: float, currency: str, system: units.System
) -> Iterator[Item]:
    ends = [end for row in rows for end in (row["margin_at_low"], row["margin_at_high"])]
    divide, word = scaled(max(map(abs, ends)))
    low, high = min(*ends, middle), max(*ends, middle)
    # Where no input comes near the point at which both cost alike, that point is left out.
    if low > 0 and low < 0.6 * high:
        low = 0.0
    if high < 0 and high > 0.6 * low:
        high = 0.0
    laid = list(_laid(rows))
    foot = laid[-1][2] - 0.0022
    outer = ROOM / (WIDTH - 2 * ROOM) * (high - low)
    field = Field(0.0, foot, WIDTH, -foot, (low - outer, high + outer), (0.0, 1.0))
    yield Group(tuple(_axis(field, middle, divide)), classes="axes", hidden=True)
    for row, lines, bottom in laid:
        yield Group(
            tuple(_row(field, row, lines, bottom, middle, system)), _title(row), classes="bar"
        )
    unit = f"{word}{SIGNS.get(currency, currency)}"
    notes = [
        f"{unit[:1].upper()}{unit[1:]} by which replacing costs more than keeping, both at their cheapest",
        "Bars: the mean of it with that input among its lowest and its highest fifth; what it is then "
        "stands at the end. Pale: low. Hatched: high. Dashed: the middle of all draws.",
    ]
    y = -8.2
    for note in notes:
        for line in wrapped(note, SMALL, WIDTH * 1000):
            yield Text((field.left, foot), line, "note", SMALL, "start", shift=(0.0, y))
            y -= 3.2
        y -= 0.6


def _title(row: Input) -> str:
    return f"{row['words']}: {100 * row['share']:.0f} % of the spread"


def _name(row: Input) -> str:
    words = row["words"]
    return f"{words[:1].upper()}{words[1:]}"


def _share(row: Input) -> str:
    share = 100 * row["share"]
    return f"{share:.0f} %" if share >= 0.5 else "< 1 %"


def _laid(rows: Sequence[Input]) -> Iterator[tuple[Input, list[str], float]]:
    y = 0.0
    for row in rows:
        room = WIDTH * 1000 - text_width(_share(row), LETTERING) - 4
        lines = wrapped(_name(row), LETTERING, room)
        y -= BETWEEN + LINE * len(lines) + BAR
        yield row, lines, y


def _axis(field: Field, middle: float, divide: float) -> Iterator[Item]:
    low, high = (end / divide for end in field.x_range)
    step = round_step((high - low) / 6)
    for value in steps_between(low, high, step):
        x = field.x(value * divide)
        zero = abs(value) < 1e-9
        yield Line((x, field.bottom), (x, field.top), "axis" if zero else "grid")
        text = number(value, step)
        yield Text((x, field.bottom), text, "figure", LETTERING, shift=(0.0, -3.9))
    if field.x_range[0] < 0 < field.x_range[1]:
        at = (field.x(0.0), field.top)
        yield Text(at, "cost alike", "note halo", SMALL, shift=(0.0, 1.0))
    x = field.x(middle)
    yield Line((x, field.bottom), (x, field.top), "hidden")


def _row(
    field: Field,
    row: Input,
    lines: Sequence[str],
    bottom: float,
    middle: float,
    system: units.System,
) -> Iterator[Item]:
    top, centre = bottom + BAR, field.x(middle)
    for which, pen, hatch in (("low", "paper edge", None), ("high", "wood edge", "metal")):
        end = field.x(row[f"margin_at_{which}"])
        left, right = sorted((centre, end))
        yield rectangle(left, bottom, max(right, left + 0.0002), top, pen, hatch)  # type: ignore[arg-type]
    lower = row["margin_at_low"] < row["margin_at_high"]
    for which in ("low", "high"):
        end = field.x(row[f"margin_at_{which}"])
        left = lower == (which == "low")
        yield Text(
            (min(end, centre) if left else max(end, centre), bottom), end_words(row, which, system),
            "figure halo", SMALL, "end" if left else "start", shift=(-0.8 if left else 0.8, 0.8),
        )  # fmt: skip
    for index, line in enumerate(reversed(lines)):
        at = (field.left, top + index * LINE)
        yield Text(at, line, "note halo", LETTERING, "start", shift=(0.9, 1.0))
    at = (field.right, top + (len(lines) - 1) * LINE)
    yield Text(at, _share(row), "figure halo", LETTERING, "end", shift=(0.0, 1.0))
