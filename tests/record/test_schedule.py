"""A shop's own schedule: read, looked at, brought in, written out."""

from __future__ import annotations

import datetime
import io
import os
import re
import time
import zipfile
from dataclasses import replace
from typing import Any

import pytest
from django.contrib.auth.models import User
from hypothesis import HealthCheck, assume, given, settings
from openpyxl import Workbook, load_workbook

from sashwright.record import store
from sashwright.record.errors import NotThere, Refused
from sashwright.record.models import Change
from sashwright.record.schedule import (
    LITES,
    SIZE,
    Book,
    Column,
    NotAsSeen,
    Odd,
    Plan,
    ScheduleError,
    bring_in,
    csv_schedule,
    guessed,
    keep_book,
    kept_book,
    preview,
    read_book,
    trade,
    xlsx_schedule,
)
from sashwright.record.schedule import kept as kept_files
from sashwright.record.schedule.cells import cell_of, text_of
from sashwright.record.schedule.fields import fields
from sashwright.record.schedule.heads import guess
from tests.factories import house_document
from tests.record.schedules import ODD_TEXT, csv_file, houses, xlsx_file

HEADS = ["No.", "Room", "Wall", "Width", "Height", "Remarks"]


def documents(slug: str) -> list[dict[str, Any]]:
    return [stored.document for stored in store.stored_windows(slug)]


def plan_of(book: Book, **other: Any) -> Plan:
    return replace(guessed(book.sheet(), {"family": "A"}), **other)


def read(rows: list[list[Any]], slug: str, who: User, **other: Any) -> Any:
    book = read_book(csv_file(rows), "shop.csv")
    return bring_in(slug, book, plan_of(book, **other), who)


def why_not(rows: list[list[Any]], slug: str, who: User, *, xlsx: bool = False) -> list[str]:
    """Every reason a schedule cannot be brought in; that nothing changed is made sure."""
    before = documents(slug), Change.objects.count()
    book = read_book(xlsx_file(rows) if xlsx else csv_file(rows), "shop")
    plan = plan_of(book)
    found = preview(slug, book, plan, who)
    with pytest.raises(Refused) as refused:
        bring_in(slug, book, plan, who)
    assert (documents(slug), Change.objects.count()) == before
    assert len(refused.value.problems) == len(found.problems) + len(found.elsewhere)
    return [*map(str, found.problems), *found.elsewhere]


# --- round and round ---------------------------------------------------------------


@pytest.mark.django_db
@pytest.mark.parametrize("write", [csv_schedule, xlsx_schedule])
@settings(
    max_examples=int(os.environ.get("SASHWRIGHT_SCHEDULES", "12")),
    suppress_health_check=list(HealthCheck),
)
@given(document=houses())
def test_an_export_reads_back_unchanged(write: Any, document: dict[str, Any]) -> None:
    who = store.local_owner()
    try:
        slug = store.create_house(document, who)
    except Refused:
        assume(False)
    before, edition = documents(slug), Change.objects.count()
    book = read_book(write(slug), "again")
    assert bring_in(slug, book, guessed(book.sheet(), {}), who).change is None
    assert (documents(slug), Change.objects.count()) == (before, edition)
    bare = store.create_house({**document, "windows": []}, who)
    bring_in(bare, book, guessed(book.sheet(), {}), who)
    assert documents(bare) == before


@given(text=ODD_TEXT)
def test_any_text_reads_back_from_a_cell(text: str) -> None:
    cell = cell_of(text)
    assert isinstance(cell, str)
    assert not cell.startswith(("=", "+", "-", "@"))
    assert text_of(cell) == text


@pytest.mark.parametrize(
    ("value", "cell"),
    [
        ("=1+2", "'=1+2"),
        ("'=x", "''=x"),
        ("it's", "it's"),
        ("", '""'),
        (" x", '" x"'),
        ("a\rb", '"a\\rb"'),
        (True, "yes"),
        (12, 12),
        (0.1 + 0.2, "0.30000000000000004"),
        (["round", "square"], "round; square"),
        ([], "[]"),
        (["a;b"], '["a;b"]'),
        ([{"note": "\ufffe½"}], '[{"note": "\\ufffe\\u00bd"}]'),
        ([{"note": "½ _x0041_"}], '[{"note": "\\u00bd \\u005fx0041_"}]'),
        ({}, "{}"),
    ],
)
def test_how_a_cell_is_written(value: Any, cell: Any) -> None:
    assert cell_of(value) == cell


def test_an_export_is_for_people_too(elm: str, ann: User) -> None:
    lines = csv_schedule(elm).decode("utf-8-sig").split("\r\n")
    assert lines[0].startswith("Number [number],Family [family],Room [room],Wall [wall],")
    assert lines[1].startswith("101,A,parlor,east,1,32 in,62 1/2 in")
    sheet = load_workbook(io.BytesIO(xlsx_schedule(elm))).worksheets[0]
    assert sheet.freeze_panes == "B2"
    assert [cell.value for cell in sheet[5]][:3] == ["103R", "A", "dining room"]
    assert sheet["F5"].number_format == "@"
    store.save_fields(elm, "window", "101", {"note": "=HYPERLINK(1)"}, 1, ann)
    assert "'=HYPERLINK(1)" in csv_schedule(elm).decode()
    sheet = load_workbook(io.BytesIO(xlsx_schedule(elm))).worksheets[0]
    assert "f" not in {cell.data_type for row in sheet for cell in row}


def test_a_window_that_says_too_much_for_a_workbook(elm: str, ann: User) -> None:
    found = [{"on": "sill", "fault": "decay", "note": "x" * 3900}] * 9
    store.save_fields(elm, "window", "101", {"condition.found": found}, 1, ann)
    with pytest.raises(ScheduleError, match=r"Window 101 .* take the schedule as CSV"):
        xlsx_schedule(elm)
    book = read_book(csv_schedule(elm), "again")
    assert bring_in(elm, book, guessed(book.sheet(), {}), ann).change is None


# --- read ---------------------------------------------------------------------------


class TestFiles:
    @pytest.mark.parametrize("delimiter", [",", ";", "\t"])
    def test_whatever_stands_between(self, delimiter: str) -> None:
        rows = [["No.", "Remarks"], ["101", "soft, left; right"], ["102", "a\tb"], ["103", ""]]
        found = read_book(csv_file(rows, delimiter), "x").sheet().rows
        assert found[1] == ["101", "soft, left; right"]
        assert found[3] == ["103"]

    def test_whatever_the_first_line_says_stands_between(self) -> None:
        assert read_book(b"sep=;\r\na,b;c\r\n", "x").sheet().rows == [["a,b", "c"]]

    @pytest.mark.parametrize(
        "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
    )
    def test_whatever_letters_it_is_in(self, encoding: str) -> None:
        found = read_book("No.,Room\r\n101,Café – ½\r\n".encode(encoding), "x")
        assert found.sheet().rows == [["No.", "Room"], ["101", "Café – ½"]]

    def test_rows_are_counted_as_a_spreadsheet_does(self) -> None:
        found = read_book(b'a,b\n"two\nlines",c\n\n,,,\nd\n\n', "x").sheet().rows
        assert found == [["a", "b"], ["two\nlines", "c"], [], [], ["d"]]

    @pytest.mark.parametrize(
        ("data", "says"),
        [
            (b"", "nothing in it"),
            (b" \n \n", "nothing in it"),
            (b"PK\x03\x04junk", "a workbook that cannot be read"),
            (b"\xd0\xcf\x11\xe0\xa1\xb1", "of an old kind or locked by a password"),
            (b"%PDF-1.7", "a PDF"),
            (b"\x00\x01\x02\x81", "no text"),
            (b"a,b\n" * 5001, "more than 5000 rows"),
            (b",".join([b"x"] * 201), "201 columns, expected at most 200"),
            (b"x" * 10_000_001, "above 10 MB"),
            (b'a,b\n101,"34 3/8""\n', "row 2: found what cannot be read"),
        ],
    )
    def test_what_is_no_schedule_is_refused_in_words(self, data: bytes, says: str) -> None:
        with pytest.raises(
            ScheduleError, match=f"^shop: found .*{re.escape(says)}|{re.escape(says)}"
        ):
            read_book(data, "shop")

    def test_workbooks_hold_numbers_dates_and_formulas(self) -> None:
        day, cells = datetime.date(2026, 3, 8), ["101", 34.375, 0.1 + 0.2, "=A1", True]
        book = Workbook()
        book.worksheets[0].append([*cells, day, "#N/A", 0.09])
        book.worksheets[0]["H1"].number_format = "0%"
        book.create_sheet("empty")
        hidden = book.create_sheet("hidden")
        hidden.sheet_state, hidden["A1"] = "hidden", "x"
        out = io.BytesIO()
        book.save(out)
        found = read_book(out.getvalue(), "x")
        assert [sheet.name for sheet in found.sheets] == ["Sheet"]
        assert found.sheet().rows == [
            [
                "101", 34.375, 0.3, Odd("formula", "=A1"), True, Odd("date", "2026-03-08"),
                Odd("error", "#N/A"), "9 %",
            ]
        ]  # fmt: skip

    def test_workbooks_may_have_several_sheets(self) -> None:
        book = read_book(xlsx_file([["a"]], [["b"]]), "x")
        assert book.sheet("Sheet 2").rows == [["b"]]
        with pytest.raises(ScheduleError, match="no sheet 'c', expected one of Sheet 1, Sheet 2"):
            book.sheet("c")

    def test_no_bomb_is_unpacked(self) -> None:
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr("[Content_Types].xml", b"<Types/>")
            archive.writestr("xl/worksheets/sheet1.xml", b" " * 90_000_000)
        with pytest.raises(ScheduleError, match="a workbook of 90 MB and 2 parts when unpacked"):
            read_book(out.getvalue(), "x")

    def test_no_declaration_is_followed(self) -> None:
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w") as archive:
            archive.writestr("[Content_Types].xml", b'<!DOCTYPE a [<!ENTITY b "c">]><Types/>')
        with pytest.raises(ScheduleError, match=r"declarations in \[Content_Types"):
            read_book(out.getvalue(), "x")

    def test_a_workbook_may_not_be_too_large(self) -> None:
        far = Workbook()
        far.worksheets[0]["A5001"] = "x"
        wide = Workbook()
        wide.worksheets[0]["GS2"] = "x"
        for book, says in ((far, "more than 5000 rows"), (wide, "row 2: found more than 200")):
            out = io.BytesIO()
            book.save(out)
            with pytest.raises(ScheduleError, match=says):
                read_book(out.getvalue(), "x")

    @pytest.mark.parametrize("row", ["5001", "1048576", "99999999"])
    def test_a_row_far_below_costs_no_time(self, row: str) -> None:
        data, out = xlsx_file([["No."], ["101"]]), io.BytesIO()
        with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
            for name in old.namelist():
                part = old.read(name)
                part = part.replace(b'<row r="2"', f'<row r="{row}"'.encode())
                new.writestr(name, part.replace(b'r="A2"', f'r="A{row}"'.encode()))
        begun = time.process_time()
        with pytest.raises(ScheduleError, match=r"more than 5000 rows|cannot be read"):
            read_book(out.getvalue(), "x")
        assert time.process_time() - begun < 3

    def test_are_kept_for_a_day(self, monkeypatch: pytest.MonkeyPatch) -> None:
        data = xlsx_file([["No.", datetime.date(2026, 3, 8), 1.5]])
        key = keep_book(data, "shop.xlsx")
        assert kept_book(key) == read_book(data, "shop.xlsx")
        monkeypatch.setattr(kept_files, "DAY_S", -1.0)
        for wanted in (key, "../secret", "0" * 32):
            with pytest.raises(NotThere, match="kept for a day"):
                kept_book(wanted)
        monkeypatch.undo()
        assert kept_book(key).name == "shop.xlsx"


@pytest.mark.parametrize(
    ("head", "path", "unit"),
    [
        ("No.", "number", ""),
        ("Window #", "number", ""),
        ("Location", "room", ""),
        ("Faces", "wall", ""),
        ("FLOOR", "storey", ""),
        ("Width (mm)", "width", "mm"),
        ("Height, in.", "height", "in"),
        ("W", "width", ""),
        ("W × H", SIZE, ""),
        ("Lites", LITES, ""),
        ("Lites, upper sash", "upper", ""),
        ("Remarks", "note", ""),
        ("Condition", "note", ""),
        ("Whatever [changes.sash.wood]", "changes.sash.wood", ""),
        ("measured.lower.mass", "measured.lower.mass", ""),
        ("Price", "", ""),
        ("", "", ""),
    ],
)
def test_heads_are_guessed(head: str, path: str, unit: str) -> None:
    assert guess(head) == (path, unit)


def test_every_field_of_an_export_is_guessed_by_its_head() -> None:
    for path, field in fields().items():
        assert guess(field.head) == (path, "")


def test_the_heads_need_not_stand_in_the_first_row() -> None:
    rows: list[list[Any]] = [["Windows of the mill"], [], ["Mark", "Room", "W"], ["101", "hall", 3]]
    plan = guessed(read_book(csv_file(rows), "x").sheet(), {})
    assert plan.head == 3
    # Without another number the mark is one.
    assert [column.path for column in plan.columns] == ["number", "room", "width"]


@pytest.mark.parametrize(
    ("text", "both"),
    [
        ("6/6", ("3x2", "3x2")),
        ("6 over 1", ("3x2", "1x1")),
        ("12-over-12", ("4x3", "4x3")),
        ("3x2 / 1x1", ("3x2", "1x1")),
    ],
)
def test_lites_as_the_trade_writes_them(text: str, both: tuple[str, str]) -> None:
    assert trade.lites_of_both(text) == both


# --- looked at and brought in -------------------------------------------------------


class TestBringIn:
    def test_changes_only_what_the_file_says(self, elm: str, ann: User) -> None:
        rows = [
            HEADS,
            ["102", "Parlor", "e", "2'-8 1/2\"", "", ""],
            ["401", "hall", "N", "28", "60", "new"],
        ]
        was = documents(elm)
        book = read_book(csv_file(rows), "shop.csv")
        seen = preview(elm, book, plan_of(book), ann)
        assert [(row.row, row.number, row.does) for row in seen.rows] == [
            (2, "102", "change"),
            (3, "401", "add"),
        ]
        assert [(c.path, c.before, c.after) for c in seen.rows[0].changes] == [
            ("width", "32 in", "32 1/2 in")
        ]
        assert documents(elm) == was
        brought = bring_in(elm, book, plan_of(book), ann, seen.mark)
        assert brought.change is not None
        assert brought.change.says == "schedule shop.csv read: 1 window added, 1 changed"
        # The room is the house's own, however it is written; an empty cell says nothing.
        assert documents(elm)[1] == {**was[1], "width": "32 1/2 in"}
        new = documents(elm)[-1]
        assert (new["number"], new["family"], new["wall"], new["note"]) == (
            "401",
            "A",
            "north",
            "new",
        )
        assert bring_in(elm, book, plan_of(book), ann).change is None
        assert Change.objects.count() == 2
        store.undo(brought.change.pk, ann)
        assert documents(elm) == was

    def test_bare_numbers_are_in_the_units_of_the_house_or_of_the_column(self, ann: User) -> None:
        metric = house_document(units="metric", families={"A": {}}, windows=[])
        slug = store.create_house(metric, ann)
        rows: list[list[Any]] = [["No.", "W", "Height (in)", "sill cm"], [101, 813.5, 62.5, "80"]]
        book = read_book(xlsx_file(rows), "x.xlsx")
        plan = plan_of(book)
        columns = [*plan.columns[:3], Column(3, "sill_above_floor", "cm")]
        bring_in(slug, book, replace(plan, columns=columns), ann)
        (window,) = documents(slug)
        assert [window[name] for name in ("width", "height", "sill_above_floor")] == [
            "813.5 mm", "1587.5 mm", "800 mm",
        ]  # fmt: skip

    def test_two_fields_in_one_cell(self, elm: str, ann: User) -> None:
        read([["No.", "Size", "Lites"], ["101", "34 3/8 x 60", "6/1"]], elm, ann)
        window = documents(elm)[0]
        assert [window[name] for name in ("width", "height", "upper", "lower")] == [
            "34 3/8 in",
            "60 in",
            "3x2",
            "1x1",
        ]

    def test_several_columns_of_notes(self, elm: str, ann: User) -> None:
        rows = [
            ["No.", "Remarks", "Condition"],
            ["101", "sticks", "sill soft"],
            ["102", "", "fair"],
        ]
        read(rows, elm, ann)
        assert [window["note"] for window in documents(elm)[:2]] == [
            "Remarks: sticks\nCondition: sill soft", "Condition: fair",
        ]  # fmt: skip
        assert read(rows, elm, ann).change is None

    def test_an_empty_cell_may_take_away(self, elm: str, ann: User) -> None:
        rows = [["No.", "Remarks", "use.bedroom", "decision.alternative"], ["102", "", "", ""]]
        assert read(rows, elm, ann).change is None
        store.save_fields(elm, "window", "102", {"decision.alternative": "in-place"}, 1, ann)
        assert read(rows, elm, ann, clear=True).change is not None
        window = documents(elm)[1]
        assert window["note"] == ""
        assert "decision" not in window

    def test_what_new_windows_are(self, elm: str, ann: User) -> None:
        rows = [
            ["No.", "W", "H", "Type"],
            ["401", "28", "44", ""],
            ["402", "28", "44", "attic, one over one"],
        ]
        read(rows, elm, ann, given={"family": "A", "wall": "west", "storey": "3"})
        told = [(w["family"], w["wall"], w["storey"]) for w in documents(elm)[-2:]]
        assert told == [("A", "west", 3), ("B", "west", 3)]

    def test_knows_a_window_by_its_number_however_written(self, elm: str, ann: User) -> None:
        read([["No.", "Remarks"], ["103l", "left"]], elm, ann)
        assert documents(elm)[2]["note"] == "left"

    def test_nothing_else_than_was_seen(self, elm: str, ann: User) -> None:
        book = read_book(csv_file([["No.", "W"], ["101", "33"]]), "x")
        seen = preview(elm, book, plan_of(book), ann)
        store.save_fields(elm, "window", "101", {"width": "34"}, 1, ann)
        with pytest.raises(NotAsSeen, match="changed meanwhile"):
            bring_in(elm, book, plan_of(book), ann, seen.mark)
        assert documents(elm)[0]["width"] == "34 in"


class TestReasons:
    def test_each_tells_its_row_and_cell(self, elm: str, ann: User) -> None:
        rows = [
            ["No.", "Wall", "W", "H", "Family", "Floor", "Hung", "Lites"],
            ["101", "bay", "wide", "62", "Z", "loft", "sideways", "7/1"],
            ["", "east", "30", "60", "A", "1", "double", "1/1"],
            ["102", "", "5", "", "", "", "", ""],
            ["102", "", "33", "", "", "", "", ""],
            ["a b", "east", "30", "60", "", "", "", ""],
            ["401", "east", "30", "", "", "", "Double-Hung", ""],
        ]
        said = why_not(rows, elm, ann)
        begins = [
            "row 2, H2 (Lites, upper / lower): found '7/1', expected lites wide by high",
            "row 2, F2 (Storey): found 'loft', expected a whole number",
            "row 2, C2 (Width): found 'wide', expected a length such as",
            "row 2, G2 (Hung): found 'sideways', expected 'double' or 'single'",
            "row 3, A3 (Number): found nothing, expected the number of a window",
            'row 4, C4 (Width): found 5" (127 mm), expected 6"',
            "row 5, A5 (Number): found '102' again, which row 4 has, expected each window once",
            "row 6, A6 (Number): found 'a b', expected",
            "row 7, D7 (Height): found nothing, expected a value",
        ]
        assert len(said) == len(begins), "\n".join(said)
        for begin in begins:
            assert any(each.startswith(begin) for each in said), (begin, said)

    def test_what_is_wrong_only_in_the_house(self, elm: str, ann: User) -> None:
        rows = [["No.", "W", "H", "Wall", "Family", "Beside"], ["101", "6", "", "bay", "Z", "999"]]
        said = why_not(rows, elm, ann)
        assert any(
            each.startswith("row 2, D2 (Wall): found 'bay', expected one of the") for each in said
        )
        assert any(
            each.startswith("row 2, E2 (Family): found 'Z', expected one of the") for each in said
        )
        assert any(
            each.startswith("row 2, F2 (Shares a mullion with): found '999'") for each in said
        )

    def test_sizes_that_contradict_each_other(self, elm: str, ann: User) -> None:
        assert why_not([["No.", "W"], ["101", "6"]], elm, ann)[0].startswith(
            "row 2 (Upper lites): found lites 0.042 in"
        )

    def test_fractions_that_became_dates(self, elm: str, ann: User) -> None:
        (said,) = why_not([["No.", "W"], [101, datetime.date(2026, 3, 8)]], elm, ann, xlsx=True)
        assert said == (
            "row 2, B2 (Width): found the date 2026-03-08, which the spreadsheet may have made of a fraction "
            "such as 3/8, expected a length such as 34 3/8: have the cell hold text, and type it again"
        )
        for text in ("8-Mar", "Mar-08", "3/8/2026", "2026-03-08"):
            (said,) = why_not([["No.", "W"], ["101", text]], elm, ann)
            assert said.startswith(f"row 2, B2 (Width): found '{text}', which looks like a date")

    def test_formulas_without_a_result(self, elm: str, ann: User) -> None:
        (said,) = why_not([["No.", "W"], [101, "=A2/3"]], elm, ann, xlsx=True)
        assert said.startswith("row 2, B2 (Width): found the formula =A2/3 without its result")

    def test_storeys_that_can_be_read_two_ways(self, elm: str, ann: User) -> None:
        rows = [["No.", "Floor"], ["101", "Ground floor"], ["102", "1st"], ["301", "3"]]
        (said,) = why_not(rows, elm, ann)
        assert said.startswith(
            "row 3, B3 (Storey): found '1st', expected a number, the ground floor being 1"
        )
        read([["No.", "Floor"], ["101", "basement"], ["102", "2nd"]], elm, ann)
        assert [window["storey"] for window in documents(elm)[:2]] == [0, 2]

    @pytest.mark.parametrize(
        ("columns", "says"),
        [
            ([], "no column with the numbers"),
            ([Column(0, "number"), Column(1, "width"), Column(2, SIZE)], "2 columns for width"),
            ([Column(0, "number"), Column(1, "nowhere")], "Column B: found 'nowhere'"),
            ([Column(0, "number", "furlong")], "the unit 'furlong'"),
        ],
    )
    def test_plans_that_make_no_schedule(
        self, elm: str, ann: User, columns: list[Column], says: str
    ) -> None:
        book = read_book(csv_file([["a", "b", "c"], ["101", "30", "30 x 60"]]), "x")
        with pytest.raises(ScheduleError, match=says):
            preview(elm, book, Plan(columns), ann)
