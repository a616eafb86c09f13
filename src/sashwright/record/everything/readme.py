"""The page of an export that says what is what."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

_TEXT = """\
Everything in the record
========================

Written by Sashwright {version} on {when}. Nothing in here needs Sashwright to be read: TOML and CSV are
plain text, XLSX opens in any spreadsheet, photographs are JPEG, PNG or WebP as they were taken in.

houses/NAME.toml          a house whole: families, windows, walls, rooms, prices. Sashwright reads it
                          back by "Read a house file" or  sashwright import NAME.toml
schedules/NAME.csv .xlsx  the windows of a house, a row for each. The words in square brackets above each
                          column name the field; such a file reads back by "Read a schedule" or
                          sashwright schedule read NAME NAME.csv
shop.toml                 the shop: stock, bin of weights, rates, rules
readings.csv              what the scale said, one by one [kg]
stages.csv                which piece of which window came to which stage of the work, and when
orders.csv                what was ordered and what came, a row for each line of an order
visits.csv                what was done on visits, a row for each thing
history.csv               every change: who, when, what. "fields" is JSON: each field by its dotted path
                          with its value before and after; null where it had none
photographs/HOUSE/...     photographs, named by the number of the window they show and by their key
photographs/captions.csv  what is to be seen on each, what was drawn on it (JSON, as shares of width and
                          height) and measured

CSV is UTF-8 with commas between, text in quotation marks where it holds any. Text that begins with = + - @
or an apostrophe has one apostrophe in front, so that no spreadsheet takes it for a formula: leave it
off when you read the file by a program of your own. Text that no cell keeps as it is (blanks at its ends,
odd signs) is written as JSON writes it, in quotation marks. Lengths and masses carry their units. Times
are those of the shop's clock with their distance from UTC.

Not in here: people and their pass words, keys, links for clients, and what was removed from the record, of
which the history still tells. To move the record to another computer take a backup instead.
"""


def readme(version: str, when: datetime, files: Sequence[str], missing: Sequence[str]) -> str:
    """What is what, which files there are, and what could not be written."""
    text = _TEXT.format(version=version, when=f"{when:%Y-%m-%d %H:%M}")
    pictures = sum(name.startswith("photographs/") for name in files) - 1
    plain = [name for name in sorted(files) if not name.startswith("photographs/")]
    lines = [f"  {name}" for name in plain]
    listed = "\n".join([*lines, f"  photographs/captions.csv and {max(pictures, 0)} photographs"])
    told = "".join(f"  {sentence}\n" for sentence in missing)
    lost = f"\nWhat could not be written:\n{told}" if missing else ""
    return f"{text}\nFiles:\n{listed}\n{lost}"
