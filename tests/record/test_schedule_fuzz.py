"""Thousands of damaged files and senseless plans: one clear sentence each, and nothing changed.

``SASHWRIGHT_FUZZ=20000`` tries so many instead of the sample.
"""

from __future__ import annotations

import io
import os
import random
import re
import zipfile
from collections import Counter
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import transaction

from sashwright.record import store
from sashwright.record.errors import Refused
from sashwright.record.models import Change
from sashwright.record.schedule import (
    UNITS,
    Book,
    Column,
    Plan,
    ScheduleError,
    bring_in,
    csv_schedule,
    fields,
    guessed,
    keep_book,
    kept_book,
    preview,
    read_book,
    xlsx_schedule,
)
from tests.record.schedules import csv_file, xlsx_file

CASES = int(os.environ.get("SASHWRIGHT_FUZZ", "150"))
NASTY: list[Any] = [
    "", " ", "=1+1", "'=1", '"', '"x', "'", "[", "[]", "{}", '{"columns": 1e999}', "[[[[", "[" * 3000,
    "null", '"\\ud800"', "1e308 in", "-1", "0", "1/0", "3/8", "13/8", "nan", "inf", "9" * 400, "9" * 5000,
    "x" * 5000, "\x01", "\ufeff", "\u202e101", "101", "999", "yes", "6/6", "7/7", "100x100", "1x1/1x1",
    "32 x 60", "N", "2026-02-30", 0, -1, 1e308, -1e308, 3.5, True, '[{"on": "sill"}]', "north",
    '[{"on": "sill", "fault": "decay", "length": "1e9 in"}]', "=HYPERLINK(1)", "A", "Z", "103L", "#REF!",
    '{"columns": 2, "rows": 2, "column_shares": [1]}', "\r\n",
]  # fmt: skip


class Maker:
    """Makes cases, the same ones from the same seed."""

    def __init__(self, slug: str, seed: int) -> None:
        self.dice = random.Random(seed)
        table = [
            ["No.", "Room", "Faces", "W", "H", "Lites", "Remarks", "Beside", "condition.found"],
            ["101", "parlor", "E", "32", "62 1/2", "6/1", "sticks", "", ""],
            ["401", "hall", "N", "28", "60", "1/1", "", "", ""],
            ["402", "hall", "N", 28.5, 60, "2x2/1x1", "new", "401", '[{"on": "sill", "fault": "decay"}]'],
        ]  # fmt: skip
        self.table = table
        self.files = [csv_schedule(slug), xlsx_schedule(slug), csv_file(table), xlsx_file(table)]

    def file(self) -> bytes:
        kind = self.dice.randrange(4)
        if kind == 0:
            return self._mutated(self.dice.choice(self.files))
        if kind == 1:
            return self._repacked(self.dice.choice(self.files[1::2]))
        table = [list(row) for row in self.table]
        for _ in range(self.dice.randint(1, 4)):
            row = self.dice.choice(table)
            row[self.dice.randrange(len(row))] = self.dice.choice(NASTY)
        if kind == 2:
            return csv_file(table, self.dice.choice(",;\t"))
        return xlsx_file([[_cell(value) for value in row] for row in table])

    def _mutated(self, data: bytes) -> bytes:
        found = bytearray(data)
        for _ in range(self.dice.randint(1, 8)):
            at = self.dice.randrange(len(found) or 1)
            act = self.dice.randrange(5)
            if act == 0 and found:
                found[at] = self.dice.randrange(256)
            elif act == 1:
                del found[at : at + self.dice.randint(1, 40)]
            elif act == 2:
                found[at:at] = found[at : at + self.dice.randint(1, 60)]
            elif act == 3:
                found[at:at] = self.dice.randbytes(self.dice.randint(1, 9))
            elif self.dice.random() < 0.2:
                del found[at:]
        return bytes(found)

    def _repacked(self, data: bytes) -> bytes:
        """A workbook that is whole as an archive, with one of its parts damaged."""
        out = io.BytesIO()
        with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
            hit = self.dice.choice(old.namelist())
            for name in old.namelist():
                part = old.read(name)
                if name != hit:
                    new.writestr(name, part)
                elif self.dice.random() < 0.9:
                    new.writestr(name, self._damaged(part))
        return out.getvalue()

    def _damaged(self, part: bytes) -> bytes:
        if self.dice.random() < 0.5:
            return self._mutated(part)
        numbers = list(re.finditer(rb"\d+", part))
        if not numbers:
            return b""
        at = self.dice.choice(numbers)
        other = self.dice.choice([b"0", b"-1", b"99999999", b"x", b"1e999", b"16384"])
        return part[: at.start()] + other + part[at.end() :]

    def plan(self, book: Book) -> Plan:
        sheet = self.dice.choice(book.sheets)
        plan = guessed(sheet, {"family": self.dice.choice(["A", "B", "Z", ""])})
        if self.dice.random() < 0.5:
            return plan
        paths = ["", *fields(), "nowhere"]
        columns = [
            Column(
                column.index,
                column.path if self.dice.random() < 0.6 else self.dice.choice(paths),
                self.dice.choice([*UNITS, *UNITS, "furlong"]),
            )
            for column in plan.columns
        ]
        head = self.dice.choice([plan.head, plan.head, 0, 2, 99, -1])
        given = {"family": "A", "wall": "north", "storey": self.dice.choice(["1", "x", ""])}
        return Plan(columns, head, sheet.name, given, self.dice.random() < 0.3)


def _cell(value: Any) -> Any:
    """What a workbook can hold of a value."""
    return re.sub("[\x00-\x08\x0b-\x1f]", "", value)[:32_000] if isinstance(value, str) else value


def test_damaged_schedules_are_refused_in_words_and_change_nothing(elm: str, ann: User) -> None:
    maker, ended = Maker(elm, 7), Counter[str]()
    before, changes = store.stored_windows(elm), Change.objects.count()
    for case in range(CASES):
        try:
            ended[attempt(elm, ann, maker)] += 1
        except (ScheduleError, Refused) as error:
            said = str(error)
            assert 10 < len(said) < 1000, (case, said)
            ended["refused"] += 1
        except Exception as error:
            pytest.fail(f"case {case}: {type(error).__name__}: {error}")
        if case % 50 == 0 or case == CASES - 1:
            assert (store.stored_windows(elm), Change.objects.count()) == (before, changes), case
    # Both ways must be met, or the cases would not test much.
    assert ended["refused"] > CASES / 5, ended
    assert ended["nothing"] + ended["done"] > CASES / 20, ended
    print(ended)  # noqa: T201 - how a large run ended


def attempt(slug: str, who: User, maker: Maker) -> str:
    """One case; what it changes is taken back, so that the next begins alike."""
    data = maker.file()
    # Kept files are looked over by each that comes: every tenth is enough.
    kept = maker.dice.random() < 0.1
    book = kept_book(keep_book(data, "case")) if kept else read_book(data, "case")
    plan = maker.plan(book)
    seen = preview(slug, book, plan, who)
    for problem in seen.problems:
        assert problem.found
        assert problem.expected
        assert problem.row > 0
    with transaction.atomic():
        brought = bring_in(slug, book, plan, who, seen.mark)
        assert seen.may
        transaction.set_rollback(True)
    return "done" if brought.change else "nothing"
