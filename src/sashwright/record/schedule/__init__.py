"""A shop's own schedule of windows, CSV or XLSX, read into a house and written out of it.

A file is read into a ``Book``; a ``Plan`` says which column holds which field, guessed from the heads; the
``preview`` tells row by row what would come of it; ``bring_in`` does it, all or nothing, as one change.
"""

from sashwright.record.schedule.bringing import Brought, NotAsSeen, bring_in, preview, said_of
from sashwright.record.schedule.fields import LITES, SIZE, SheetField, fields, label_of
from sashwright.record.schedule.heads import Column, guess_columns, heads_of
from sashwright.record.schedule.kept import keep_book, kept_book
from sashwright.record.schedule.mapping import UNITS, Plan, check_plan, guessed
from sashwright.record.schedule.opening import read_book
from sashwright.record.schedule.preview import Preview, RowDoes, columns_of
from sashwright.record.schedule.rows import RowProblem
from sashwright.record.schedule.table import (
    LARGEST,
    Book,
    Odd,
    ScheduleError,
    Sheet,
    letters,
    shown,
)
from sashwright.record.schedule.writing import csv_schedule, xlsx_schedule

__all__ = [
    "LARGEST",
    "LITES",
    "SIZE",
    "UNITS",
    "Book",
    "Brought",
    "Column",
    "NotAsSeen",
    "Odd",
    "Plan",
    "Preview",
    "RowDoes",
    "RowProblem",
    "ScheduleError",
    "Sheet",
    "SheetField",
    "bring_in",
    "check_plan",
    "columns_of",
    "csv_schedule",
    "fields",
    "guess_columns",
    "guessed",
    "heads_of",
    "keep_book",
    "kept_book",
    "label_of",
    "letters",
    "preview",
    "read_book",
    "said_of",
    "shown",
    "xlsx_schedule",
]
