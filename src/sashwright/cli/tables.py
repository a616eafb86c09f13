"""The command ``knowledge``: the trade's tables, every row with its source."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import say
from sashwright.cli.exits import usage
from sashwright.cli.options import json_option, knowledge_from, knowledge_option

if TYPE_CHECKING:
    from sashwright.knowledge.tables import Knowledge, Row

_COMMON = ("key", "name", "source", "status", "note", "aliases")


@click.command()
@click.argument("table", required=False)
@json_option
@knowledge_option
def knowledge(table: str | None, as_json: bool, shop_files: tuple[Path, ...]) -> None:
    """Show the tables of woods, glass, weights and so on, with their sources.

    Without a name it lists the tables.

    \b
    Example:
      sashwright knowledge glass
    """
    tables = knowledge_from(shop_files)
    names = [field.name for field in dataclasses.fields(tables)]
    if table is not None and table not in names:
        raise usage(f"There is no table {table}; the tables are {', '.join(names)}.")
    if as_json:
        chosen = names if table is None else [table]
        say.print_json({name: _rows_as_data(tables, name) for name in chosen})
        return
    if table is None:
        rows = [(name, str(len(getattr(tables, name)))) for name in names]
        say.show(say.table(("Table", "Rows"), rows))
        return
    click.echo("\n".join(_lines(getattr(tables, table))))


def _lines(rows: Mapping[str, Row]) -> Iterator[str]:
    """Row by row: its names, its figures, where they come from."""
    for row in rows.values():
        aliases = f" ({', '.join(row.aliases)})" if row.aliases else ""
        yield f"{row.key}: {row.name}{aliases}"
        figures = ", ".join(f"{name} {value}" for name, value in _figures(row))
        if figures:
            yield f"    {figures}"
        yield f"    {row.status}: {row.source}"
        if row.note:
            yield f"    {row.note}"


def _figures(row: Row) -> Iterator[tuple[str, str]]:
    for field in dataclasses.fields(row):
        value = getattr(row, field.name)
        if field.name not in _COMMON and value not in (None, ""):
            unit = field.metadata.get("unit", "")
            yield field.name.replace("_", " "), _with_unit(value, unit)


def _with_unit(value: Any, unit: str) -> str:
    if unit == "m":
        return f"{value * 1000:.4g} mm"
    if isinstance(value, float):
        return f"{value:.5g} {unit}".rstrip()
    if isinstance(value, tuple):
        return "; ".join(" ".join(map(str, v)) if isinstance(v, tuple) else str(v) for v in value)
    return str(value)


def _rows_as_data(tables: Knowledge, table: str) -> Sequence[Mapping[str, Any]]:
    return [_row_as_data(row) for row in getattr(tables, table).values()]


def _row_as_data(row: Row) -> Mapping[str, Any]:
    """A row with its fields in SI units, each named with its unit."""
    return {
        "_".join((field.name, *_unit_words(field))): getattr(row, field.name)
        for field in dataclasses.fields(row)
    }


def _unit_words(field: dataclasses.Field[Any]) -> Sequence[str]:
    unit = field.metadata.get("unit", "")
    return [unit.lower().replace("/", "_")] if unit else []
