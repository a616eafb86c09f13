"""Reads a table of houses bit by bit, so that no table is too long for the memory, and writes results."""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from sashwright.chapters.worth.columns import COLUMNS, unknown
from sashwright.chapters.worth.stock import Skipped, result_columns

ENDINGS = (".csv", ".parquet")
SKIPPED = ("row", "id", "reason")
BLOCK = 1 << 20
"""Bytes read at a time."""


class StockError(ValueError):
    """A table or a place for results that cannot be used; the message says what and why."""


def checksum(path: Path) -> str:
    """SHA-256 of a file."""
    whole = hashlib.sha256()
    with path.open("rb") as file:
        while block := file.read(BLOCK):
            whole.update(block)
    return whole.hexdigest()


def rows_of(path: Path) -> Iterator[Mapping[str, Any]]:
    """Every row of a CSV or Parquet file in its order. Raises ``StockError``."""
    return _csv(path) if path.suffix.lower() == ".csv" else _parquet(path)


def check_columns(path: Path) -> None:
    """Raises ``StockError`` where a column is missing or means nothing."""
    if path.suffix.lower() not in ENDINGS:
        raise StockError(f"{path}: found {path.suffix or 'no ending'}, expected .csv or .parquet")
    names = _names(path)
    needed = [column.name for column in COLUMNS if column.needed]
    missing = [name for name in needed if name not in names]
    strange = unknown(names)
    if missing:
        raise StockError(f"{path}: found no column {', '.join(missing)}, expected one")
    if strange:
        raise StockError(
            f"{path}: found the columns {', '.join(strange)}, expected only "
            f"{', '.join(column.name for column in COLUMNS)}"
        )


def _names(path: Path) -> Sequence[str]:
    if path.suffix.lower() == ".csv":
        try:
            with path.open(encoding="utf-8-sig", newline="") as file:
                return next(csv.reader(file), [])
        except (OSError, UnicodeDecodeError, csv.Error) as error:
            raise StockError(f"{path}: found no readable CSV file ({error})") from None
    from pyarrow import ArrowException  # noqa: PLC0415
    from pyarrow.parquet import ParquetFile  # noqa: PLC0415

    try:
        with ParquetFile(path) as file:
            return list(file.schema_arrow.names)
    except (OSError, ArrowException) as error:
        raise StockError(f"{path}: found no readable Parquet file ({error})") from None


def _csv(path: Path) -> Iterator[Mapping[str, Any]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        for row in csv.DictReader(file):
            # More cells than columns: the row is told as it stands, by a cell that no number is.
            if None in row:
                yield {**row, "windows": "more cells than columns"}
            else:
                yield row


def _parquet(path: Path) -> Iterator[Mapping[str, Any]]:
    from pyarrow.parquet import ParquetFile  # noqa: PLC0415

    with ParquetFile(path) as file:
        for batch in file.iter_batches(batch_size=256):
            yield from batch.to_pylist()


# --- results --------------------------------------------------------------------------


def write_results(path: Path, results: Sequence[Mapping[str, Any]]) -> None:
    """One part as Parquet, there whole or not at all."""
    import pyarrow as pa  # noqa: PLC0415
    from pyarrow import parquet  # noqa: PLC0415

    types = {str: pa.string(), float: pa.float64()}
    schema = pa.schema([(name, types[kind]) for name, kind in result_columns().items()])
    beside = path.with_name(f"_{path.name}.new")
    parquet.write_table(pa.Table.from_pylist(list(results), schema=schema), beside)
    beside.replace(path)


def write_skipped(path: Path, skipped: Sequence[Skipped]) -> None:
    """Skipped rows of one part as CSV, likewise."""
    beside = path.with_name(f"{path.name}.new")
    with beside.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(SKIPPED)
        writer.writerows((each.row, each.id, each.reason) for each in skipped)
    beside.replace(path)


def join_skipped(parts: Sequence[Path], whole: Path) -> int:
    """All parts' skipped rows in one file, none if there are none; how many."""
    count = 0
    beside = whole.with_name(f"{whole.name}.new")
    with beside.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(SKIPPED)
        for part in parts:
            with part.open(encoding="utf-8", newline="") as read:
                rows = csv.reader(read)
                next(rows, None)
                for row in rows:
                    writer.writerow(row)
                    count += 1
    if count:
        beside.replace(whole)
    else:
        beside.unlink()
        whole.unlink(missing_ok=True)
    return count
