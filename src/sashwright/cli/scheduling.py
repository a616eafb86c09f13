"""The command ``schedule``: a shop's own list of windows read into a house of the record, and written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import exits, say
from sashwright.cli.exits import Failure, usage
from sashwright.cli.options import home_option, json_option, require_file, to_correct
from sashwright.cli.record import find_house, open_record, told
from sashwright.cli.writing import deliver

if TYPE_CHECKING:
    from sashwright.record.schedule import Book, Column, Plan, Preview, RowDoes, Sheet

ENDINGS = (".csv", ".xlsx")
_FILE = click.Path(path_type=Path)


@click.group()
def schedule() -> None:
    """Read a schedule of windows (CSV, XLSX) into a house, or write one.

    \b
    Examples:
      sashwright schedule read quill-house windows.csv --dry-run
      sashwright schedule write quill-house windows.xlsx
    """


@schedule.command()
@click.argument("house", metavar="SLUG|NAME")
@click.argument("file", metavar="FILE", type=_FILE)
@click.option(
    "--column",
    "told_columns",
    metavar="HEAD=FIELD",
    multiple=True,
    help='What a column holds: "No.=number", "C=width mm"; nothing after = leaves it out.',
)
@click.option("--family", metavar="KEY", help="The family of new windows; else the house's first.")
@click.option("--wall", metavar="NAME", help="The wall of new windows.")
@click.option("--storey", metavar="N", help="The storey of new windows.")
@click.option(
    "--sheet", metavar="NAME", default="", help="The sheet of a workbook; else the first."
)
@click.option(
    "--head", type=click.IntRange(0), metavar="N", help="The row of the heads; 0 for none."
)
@click.option("--clear", is_flag=True, help="Have an empty cell take away what a window has there.")
@click.option("--dry-run", is_flag=True, help="Only tell what would be done.")
@json_option
@home_option
def read(  # noqa: PLR0913, PLR0917
    house: str,
    file: Path,
    told_columns: tuple[str, ...],
    family: str | None,
    wall: str | None,
    storey: str | None,
    sheet: str,
    head: int | None,
    clear: bool,
    dry_run: bool,
    as_json: bool,
    home: Path | None,
) -> None:
    """Bring a schedule into a house of the record: all of it or nothing.

    Windows are known by their numbers: those there are changed in the columns that the file has, the others
    are added. What each column holds is guessed from its head.

    \b
    Example:
      sashwright schedule read quill-house windows.csv --dry-run
      sashwright schedule read quill-house windows.xlsx --column "Tag=number" --family A
    """
    require_file(file, ENDINGS)
    open_record(home)
    from sashwright.record import schedule as schedules
    from sashwright.record import store

    slug, who = find_house(house), store.local_owner()
    given = {"family": family, "wall": wall, "storey": storey}
    try:
        book = schedules.read_book(_bytes(file), file.name)
        plan = _plan(book.sheet(sheet), slug, given, head, told_columns)
        plan = replace(plan, clear=clear)
        with told():
            found = schedules.preview(slug, book, plan, who)
        if found.may and not dry_run:
            with told():
                schedules.bring_in(slug, book, plan, who)
    except schedules.ScheduleError as error:
        raise Failure(str(error)) from None
    _show(found, book, plan, dry_run=dry_run, as_json=as_json)
    if not found.may:
        raise click.exceptions.Exit(exits.FOUND)


def _bytes(file: Path) -> bytes:
    from sashwright.record.schedule import LARGEST

    try:
        with file.open("rb") as stream:
            return stream.read(LARGEST + 1)
    except OSError as error:
        raise Failure(f"{file}: {error.strerror}") from None


def _plan(
    sheet: Sheet,
    slug: str,
    given: Mapping[str, str | None],
    head: int | None,
    told_columns: Sequence[str],
) -> Plan:
    from sashwright.record import store
    from sashwright.record.schedule import guessed

    families = list(store.family_keys(slug))
    said = {path: value for path, value in given.items() if value is not None}
    if families:
        said.setdefault("family", families[0])
    plan = guessed(sheet, said, head)
    columns = list(plan.columns)
    for each in told_columns:
        column = _column(sheet, plan.head, each)
        columns = [
            column if old.index == column.index else _freed(old, column.path) for old in columns
        ]
    return replace(plan, columns=tuple(columns))


def _freed(column: Column, path: str) -> Column:
    """A guess gives way to what was told of another column."""
    return replace(column, path="", unit="") if column.path == path != "note" else column


def _column(sheet: Sheet, head: int, words: str) -> Column:
    """What ``HEAD=FIELD`` says; a head may be the column's letter too."""
    from sashwright.record.schedule import UNITS, Column, fields, heads_of, letters
    from sashwright.record.schedule.heads import guess

    name, equals, field = (part.strip() for part in words.rpartition("="))
    if not equals or not name:
        raise usage(f"--column {words!r}: expected a head and a field, such as No.=number.")
    heads = [each.casefold() for each in heads_of(sheet, head)]
    width = max(len(row) for row in sheet.rows)
    by_letter = {letters(index).casefold(): index for index in range(width)}
    if name.casefold() in heads:
        index = heads.index(name.casefold())
    elif name.casefold() in by_letter:
        index = by_letter[name.casefold()]
    else:
        raise usage(
            f"--column {words!r}: the file has no column {name!r}; it has {', '.join(heads)}."
        )
    path, _, unit = field.rpartition(" ")
    if unit not in UNITS[1:] or not path:
        path, unit = field, ""
    known = path if path in fields() else guess(path)[0]
    if path and not known:
        raise usage(
            f"--column {words!r}: a window has no field {path!r}; expected one such as width, "
            "measured.lower.mass or changes.sash.wood."
        )
    return Column(index, known, unit)


# --- shown ------------------------------------------------------------------------


def _show(found: Preview, book: Book, plan: Plan, *, dry_run: bool, as_json: bool) -> None:
    from sashwright.record.schedule import columns_of, said_of

    done = found.may and not dry_run
    if as_json:
        say.print_json(_plain(found, plan, done=done))
        return
    click.echo(f"Columns: {columns_of(plan.columns)}")
    if found.ignored:
        click.echo(f"Left out: {', '.join(found.ignored)}")
    if not found.may:
        for problem in (*found.problems, *found.elsewhere):
            click.echo(f"{book.name}, {problem}", err=True)
        count = len(found.problems) + len(found.elsewhere)
        click.echo(f"{to_correct(count)} Nothing was changed.", err=True)
        return
    rows = [row for row in found.rows if row.does != "nothing"]
    if rows:
        say.show(say.table(("Row", "Window", "", "What"), (_line(row) for row in rows)))
    same = found.count("nothing")
    if same:
        click.echo(f"{same} as they are.")
    said = said_of(found)
    click.echo(f"Nothing was changed; it would be: {said}." if dry_run else f"{said}.".capitalize())


def _line(row: RowDoes) -> tuple[str, str, str, str]:
    from sashwright.record.says import told_value
    from sashwright.record.schedule import label_of

    def value(value: Any) -> str:
        return "nothing" if value in (None, "") else told_value(value)

    does = {"add": "added", "change": "changed"}.get(row.does, row.does)
    told_of = [
        f"{label_of(each.path)} {value(each.after)}"
        if row.does == "add"
        else f"{label_of(each.path)} {value(each.before)} to {value(each.after)}"
        for each in row.changes
        if each.after not in (None, "") or row.does != "add"
    ]
    return str(row.row), row.number, does, ", ".join(told_of)


def _plain(found: Preview, plan: Plan, *, done: bool) -> dict[str, Any]:
    return {
        "done": done,
        "head": plan.head,
        "columns": [
            {"column": each.index, "field": each.path, "unit": each.unit or None}
            for each in plan.columns
            if each.path
        ],
        "left_out": list(found.ignored),
        "rows": [
            {
                "row": row.row,
                "number": row.number,
                "does": row.does,
                "changes": [
                    {"field": each.path, "before": each.before, "after": each.after}
                    for each in row.changes
                ],
                "problems": [
                    {
                        "cell": each.cell or None,
                        "field": each.field,
                        "found": each.found,
                        "expected": each.expected,
                    }
                    for each in row.problems
                ],
            }
            for row in found.rows
        ],
        "elsewhere": list(found.elsewhere),
    }


# --- written ----------------------------------------------------------------------


@schedule.command()
@click.argument("house", metavar="SLUG|NAME")
@click.argument("file", metavar="FILE.csv|FILE.xlsx", type=_FILE)
@click.option("--force", is_flag=True, help="Replace a file of this name.")
@home_option
def write(house: str, file: Path, force: bool, home: Path | None) -> None:
    """Write the windows of a house as a schedule that reads back unchanged.

    \b
    Example:
      sashwright schedule write quill-house windows.xlsx
    """
    if file.suffix.lower() not in ENDINGS:
        raise usage(f"{file}: found the ending {file.suffix!r}, expected .csv or .xlsx.")
    if file.exists() and not force:
        raise usage(f"{file} is there already; --force replaces it.")
    open_record(home)
    from sashwright.record.schedule import ScheduleError, csv_schedule, xlsx_schedule

    written = csv_schedule if file.suffix.lower() == ".csv" else xlsx_schedule
    try:
        with told():
            data = written(find_house(house))
    except ScheduleError as error:
        raise Failure(str(error)) from None
    deliver(data, file)
