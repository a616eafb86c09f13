"""Between the values of a window's document and the cells of a table, both ways.

Whatever is written reads back as the very same value, also where a spreadsheet opened and saved it in
between. Text that a spreadsheet would take for a formula gets an apostrophe in front, which reading takes
away; text that no cell keeps as it is (nothing at all, blanks at its ends, signs of no shape) is written as
JSON writes it, in quotation marks.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Mapping
from typing import Any

from sashwright.record.schedule.fields import Kind, SheetField
from sashwright.record.schedule.table import Odd, Value, is_blank, shown
from sashwright.record.schedule.trade import lites
from sashwright.window.quantities import Length, Mass

Cell = str | int | float

STARTERS = ("=", "+", "-", "@")
"""With which a spreadsheet begins to reckon."""
_ODD_SIGNS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufffe\uffff]|_x[0-9A-Fa-f]{4}_")
_BARE = re.compile(r"[0-9 .,/½¼¾⅛⅜⅝⅞-]*[0-9½¼¾⅛⅜⅝⅞]")
_LIKE_A_DATE = re.compile(
    r"\d{1,2}[-. ][A-Za-z]{3,9}\.?(?:[-. ]\d{2,4})?|[A-Za-z]{3,9}\.?[-. ]\d{1,4}"
    r"|\d{1,4}[-/.]\d{1,2}[-/.]\d{2,4}(?:[ T]0?0:00(?::00)?)?"
)
_LONGEST = 60
YES = frozenset({"yes", "y", "true", "x", "1", "✓"})
NO = frozenset({"no", "n", "false", "0", "-", "–"})


class CellError(ValueError):
    """What a cell holds cannot be a value of its field."""

    def __init__(self, found: str, expected: str) -> None:
        self.found, self.expected = found, expected
        super().__init__(f"found {found}, expected {expected}")


# --- written ----------------------------------------------------------------------


def cell_of(value: Any) -> Cell:
    """What a cell holds for a value of a document."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        # A spreadsheet keeps fifteen figures of a number, and all of a text.
        return value if float(f"{value:.15g}") == value else repr(value)
    if isinstance(value, str):
        return _protected(value)
    if isinstance(value, list) and value and all(_is_plain(each) for each in value):
        return _protected("; ".join(value))
    return _json(value)


def _json(value: Any) -> str:
    """As JSON writes it, with every sign escaped where one is odd: no file of XML holds U+FFFE."""
    text = json.dumps(value, ensure_ascii=False)
    if _ODD_SIGNS.search(text):
        # Spreadsheets read _x000a_ as the end of a line.
        return json.dumps(value, ensure_ascii=True).replace("_x", "\\u005fx")
    return text


def _is_plain(value: Any) -> bool:
    return (
        isinstance(value, str)
        and bool(value)
        and value == value.strip()
        and not _ODD_SIGNS.search(value)
        and not value.startswith(("[", '"', "'", *STARTERS))
        and ";" not in value
    )


def _protected(text: str) -> str:
    # Splitting lines tells every sign that some program would take for the end of one.
    odd = not text or text != text.strip() or _ODD_SIGNS.search(text) or "\r" in text
    if odd or text.startswith('"'):
        return _json(text)
    return f"'{text}" if text.startswith((*STARTERS, "'")) else text


def text_of(cell: str) -> str:
    """What a cell says, without what protected it."""
    text = cell.strip()
    if text.startswith("'") and text[1:].startswith((*STARTERS, "'")):
        return text[1:]
    if len(text) > 1 and text.startswith('"') and text.endswith('"'):
        try:
            read = json.loads(text)
        except (ValueError, RecursionError):
            return text
        return read if isinstance(read, str) else text
    return text


# --- read -------------------------------------------------------------------------


def value_of(cell: Value, field: SheetField, unit: str = "") -> Any:
    """The value for a document of what a cell holds; None for nothing.

    ``unit`` is that of bare numbers of the column, the house's own where not given. Raises ``CellError``
    for what the field's own check could not tell as well.
    """
    if isinstance(cell, Odd):
        return _odd(cell, field)
    if is_blank(cell):
        return None
    if isinstance(cell, (int, float)) and not isinstance(cell, bool):
        return _of_number(cell, field, unit)
    return _of_text(text_of(shown(cell)), field, unit)


def _of_text(text: str, field: SheetField, unit: str) -> Any:
    if field.kind == "quantity":
        return _quantity(text, field, unit)
    if field.kind == "choice":
        return _choice(text, field.choices)
    read = _READERS.get(field.kind)
    return text if read is None else read(text)


def _odd(cell: Odd, field: SheetField) -> str:
    if cell.kind == "date" and (field.kind == "date" or field.path.endswith(".when")):
        return cell.text
    if cell.kind == "date":
        raise CellError(
            f"the date {cell.text}, which the spreadsheet may have made of a fraction such as 3/8",
            f"{_kind_of(field)}: have the cell hold text, and type it again",
        )
    if cell.kind == "formula":
        raise CellError(
            f"the formula {cell.text} without its result",
            f"{_kind_of(field)}: open the file in a spreadsheet and save it, so that results are kept",
        )
    what = "the error" if cell.kind == "error" else "the time"
    raise CellError(f"{what} {cell.text}", _kind_of(field))


def _kind_of(field: SheetField) -> str:
    if field.quantity is not None:
        return f"{field.quantity.kind} such as {field.quantity.examples[0]}"
    words = {"lites": "lites such as 6/6 or 3x2", "choice": f"one of {', '.join(field.choices)}"}
    return words.get(field.kind, "text")


def _of_number(cell: float, field: SheetField, unit: str) -> Any:
    if not math.isfinite(cell):
        raise CellError(str(cell), _kind_of(field))
    if field.kind == "quantity":
        return f"{shown(cell)} {unit}" if _takes(field, unit) else cell
    if field.kind == "number" or (field.kind == "whole" and float(cell).is_integer()):
        return int(cell) if field.kind == "whole" else cell
    return _of_text(shown(cell), field, unit)


def _takes(field: SheetField, unit: str) -> bool:
    """Whether a unit told above a column is one of its field."""
    if isinstance(field.quantity, Length):
        return unit in ("mm", "cm", "m", "in", "ft")
    return isinstance(field.quantity, Mass) and unit in ("kg", "g", "lb", "oz")


def _quantity(text: str, field: SheetField, unit: str) -> str:
    if _LIKE_A_DATE.fullmatch(text) and isinstance(field.quantity, (Length, Mass)):
        raise CellError(
            f"{_short(text)}, which looks like a date that a spreadsheet made of a fraction such as 3/8",
            f"{_kind_of(field)}: have the cell hold text, and type it again",
        )
    return f"{text} {unit}" if _takes(field, unit) and _BARE.fullmatch(text) else text


def _yes_or_no(text: str) -> bool:
    word = text.strip().casefold()
    if word in YES or word in NO:
        return word in YES
    raise CellError(_short(text), "yes or no")


def _choice(text: str, choices: tuple[str, ...]) -> str:
    """The choice that is meant, whatever its capitals and hyphens; else the text as it is."""
    plain = {_plain(choice): choice for choice in choices}
    words = _plain(text)
    return plain.get(words) or plain.get(words.removesuffix("hung")) or text


def _plain(text: str) -> str:
    return re.sub(r"[^a-z]", "", text.casefold())


def _lites(text: str) -> Any:
    if text.startswith("{"):
        return _object(text)
    try:
        return lites(text)
    except ValueError as error:
        raise CellError(_short(text), str(error)) from None


def _listed(text: str) -> Any:
    if text.startswith("["):
        return _object(text)
    return [part.strip() for part in text.split(";") if part.strip()]


def _object(text: str) -> Any:
    try:
        found = json.loads(text, parse_constant=_no_number)
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, (list, Mapping)):
        raise CellError(_short(text), 'a list as an export writes it, such as [{"on": "sill"}]')
    return found


def _no_number(_: str) -> Any:
    raise ValueError("no number")


def _short(text: str) -> str:
    plain = " ".join(text.split())
    return repr(plain if len(plain) <= _LONGEST else plain[: _LONGEST - 1] + "…")


def _number(text: str) -> str:
    return text.replace(",", ".") if re.fullmatch(r"[0-9]+,[0-9]+", text) else text


_READERS: Mapping[Kind, Callable[[str], Any]] = {
    "yes or no": _yes_or_no,
    "lites": _lites,
    "list": _listed,
    "rows": _object,
    "nothing": _object,
    "number": _number,
}
