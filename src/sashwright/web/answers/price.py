"""What to charge: lines that add up, options, and what finished work has taught."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.words import counted
from sashwright.drawing.pricebars import Priced
from sashwright.web.answers.say import NONE, percent

Values = Mapping[str, Any]
KINDS = {"labour": "Labour", "setup": "Setting up", "access": "Access", "material": "Material",
         "allowance": "Allowances", "option": "Options", "overhead": "Overhead", "margin": "Margin",
         "tax": "Tax"}  # fmt: skip
MOST_BARS = 40
EXACT = 3
"""Decimals of an amount as it is billed, so that a line can be worked out by hand."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a price."""

    kind: str
    name: str
    amount: str
    hours: str
    each: str
    cost: str
    span: str
    source: str


@dataclass(frozen=True, slots=True)
class Row:
    """A window's price in one line."""

    number: str
    way: str
    decided: bool
    hours: str
    price: str
    span: str


@dataclass(frozen=True, slots=True)
class Option:
    """Something that the client may take."""

    key: str
    name: str
    what: str
    change: str
    ticked: bool


@dataclass(frozen=True, slots=True)
class Learned:
    """What finished work says of a task."""

    name: str
    jobs: int
    factor: str
    span: str


@dataclass(frozen=True, slots=True)
class Prices:
    """All that the page shows of a house's price."""

    currency: str
    total: str
    span: str
    by_chance: str
    hours: str
    priced: int
    kinds: tuple[tuple[str, str, str], ...]
    rows: tuple[Row, ...]
    lines: tuple[Line, ...]
    """Of the house as a whole."""
    own: str
    """What those come to."""
    options: tuple[Option, ...]
    learned: tuple[Learned, ...]
    record: tuple[tuple[str, str], ...]


def money(text: str) -> str:
    """``1,234.50`` of the text in an answer; a true minus."""
    return f"{Decimal(text):,.2f}".replace("-", "\N{MINUS SIGN}")


def span(row: Values) -> str:
    """``1,020.00 to 1,700.50``; nothing where it is certain."""
    return "" if row["low"] == row["high"] else f"{money(row['low'])} to {money(row['high'])}"


def line_rows(lines: Sequence[Values]) -> tuple[Line, ...]:
    return tuple(_line(line) for line in lines)


def _line(line: Values) -> Line:
    of = f", {line['of']}" if line["of"] else ""
    return Line(
        KINDS[line["kind"]],
        line["name"] + of,
        NONE if line["quantity"] is None else counted(line["quantity"], line["unit"], EXACT),
        NONE if line["hours"] is None else f"{line['hours']:.2f}",
        NONE if line["each"] is None else money(line["each"]),
        money(line["likely"]),
        span(line),
        line["source"],
    )


def prices_shown(answer: Answer, names: Mapping[str, str]) -> Prices:
    """``names`` are those of tasks and alternatives by key."""
    values = answer.values
    chance = values["by_chance"]
    return Prices(
        values["currency"],
        money(values["price"]["likely"]),
        span(values["price"]),
        f"{money(chance['low'])} to {money(chance['high'])}",
        f"{values['hours']:.0f} h ({values['hours_low']:.0f} to {values['hours_high']:.0f})",
        values["priced"],
        tuple((KINDS[k], money(row["likely"]), span(row)) for k, row in values["kinds"].items()),
        tuple(_row(each) for each in answer.windows if each.values),
        line_rows(values["house_lines"]),
        money(str(sum((Decimal(line["likely"]) for line in values["house_lines"]), Decimal(0)))),
        tuple(_option(each, names) for each in values["options"]),
        tuple(_learned(each, names) for each in values["learned"]),
        tuple(_record(values["record"])),
    )


def _row(answer: WindowAnswer) -> Row:
    values = answer.values
    key = values["alternative"]
    if key is None:
        return Row(
            answer.number, "nothing to price", decided=False, hours=NONE, price=NONE, span=""
        )
    name = next(way["name"] for way in values["alternatives"] if way["key"] == key)
    return Row(
        answer.number,
        name,
        values["decided"],
        f"{values['hours']:.1f}",
        money(values["price"]["likely"]),
        span(values["price"]),
    )


def _option(each: Values, names: Mapping[str, str]) -> Option:
    what = ""
    if each["alternative"]:
        where = ", ".join(each["windows"]) or "all windows"
        what = f"{names.get(each['alternative'], each['alternative'])}: {where}"
    sign = "+" if Decimal(each["likely"]) > 0 else ""
    return Option(each["key"], each["name"], what, sign + money(each["likely"]), each["ticked"])


def _learned(each: Values, names: Mapping[str, str]) -> Learned:
    return Learned(
        names.get(each["task"], each["task"]),
        each["jobs"],
        f"{each['factor']:.2f}",
        f"{each['factor_low']:.2f} to {each['factor_high']:.2f}",
    )


def _record(record: Values | None) -> Iterator[tuple[str, str]]:
    """How far estimates were from the truth."""
    if record is None:
        return
    bias = record["bias_share"]
    yield "Finished tasks", str(record["jobs"])
    yield "Spent", f"{record['spent_h']:.1f} h"
    yield "By the table", f"{record['estimated_h']:.1f} h"
    yield "The table was", f"{percent(abs(bias))} too {'low' if bias > 0 else 'high'}"
    yield "Off in the single one", percent(record["error_share"])
    yield "The same as learned", percent(record["error_learned_share"])
    yield "Within low and high", percent(record["within_range_share"])


# --- pictures -------------------------------------------------------------------------


def window_bars(answer: Answer) -> list[Priced]:
    """The windows that are priced, the dearest first."""
    known = [each for each in answer.windows if each.values and each.values["alternative"]]
    priced = [_priced(each.number, each.values["price"]) for each in known]
    return sorted(priced, key=lambda each: -each.likely)[:MOST_BARS]


def way_bars(values: Values) -> list[Priced]:
    """The alternatives of a window."""
    return [
        _priced(way["name"], way, marked=way["key"] == values["alternative"])
        for way in values["alternatives"]
    ]


def _priced(name: str, row: Values, *, marked: bool = False) -> Priced:
    low, likely, high = (Decimal(row[end]) for end in ("low", "likely", "high"))
    return Priced(name, low, likely, high, marked)


@dataclass(frozen=True, slots=True)
class AcceptedShown:
    """What was agreed to, against what it comes to now."""

    total: str
    by: str
    on: str
    note: str
    ticked: str
    same: bool
    now: str
    change: str


def accepted_shown(values: Values | None, options: Sequence[Option]) -> AcceptedShown | None:
    if values is None:
        return None
    names = {option.key: option.name for option in options}
    change = Decimal(values["change"])
    return AcceptedShown(
        f"{values['currency']} {money(values['total'])}",
        values["by"],
        values["on"],
        values["note"],
        ", ".join(names.get(key, key) for key in values["ticked"]),
        values["same"],
        money(values["now"]),
        ("+" if change > 0 else "") + money(values["change"]),
    )
