"""Writes all of the record out: houses, schedules, lists, photographs, and a page about them."""

from __future__ import annotations

import contextlib
import csv
import io
import secrets
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain
from pathlib import Path

from django.utils import timezone

from sashwright import __version__
from sashwright.record.backup.tables import standing_still
from sashwright.record.errors import Refused
from sashwright.record.everything.lists import (
    CAPTIONS,
    LISTS,
    Cell,
    caption_rows,
    picture_names,
)
from sashwright.record.everything.readme import readme
from sashwright.record.everything.sinks import ExportError, FolderSink, Sink, ZipSink
from sashwright.record.housefile import house_text
from sashwright.record.houses import export_document, list_houses
from sashwright.record.picturefiles import file_of
from sashwright.record.schedule.cells import cell_of
from sashwright.record.schedule.table import ScheduleError
from sashwright.record.schedule.writing import csv_schedule, xlsx_schedule
from sashwright.record.shop import load_shop
from sashwright.record.shopfile import shop_text


@dataclass
class Exported:
    """What an export holds."""

    houses: int = 0
    windows: int = 0
    photographs: int = 0
    files: list[str] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    """What could not be written out, as sentences; the page that says what is what lists them too."""


def export_all(target: Path, *, replace: bool = False) -> Exported:
    """Write everything to a ZIP file, or into a new folder where the name does not end in ``.zip``.

    A ZIP file comes to be whole or not at all. Raises ``ExportError``.
    """
    try:
        if target.suffix.lower() != ".zip":
            return export_into(FolderSink(target))
        if target.exists() and not replace:
            raise ExportError(f"{target} is there already.")
        return _zipped(target)
    except OSError as error:
        raise ExportError(f"{target} cannot be written ({error.strerror or error}).") from None


def _zipped(target: Path) -> Exported:
    draft = target.with_name(f".{target.name}.{secrets.token_hex(4)}.part")
    target.parent.mkdir(parents=True, exist_ok=True)
    try:
        with zipfile.ZipFile(draft, "x") as archive:
            exported = export_into(ZipSink(archive))
        draft.replace(target)
    finally:
        with contextlib.suppress(OSError):
            draft.unlink()
    return exported


def export_into(sink: Sink) -> Exported:
    """Write everything, file by file; no more of it is held than one house and one piece of a picture."""
    exported = Exported()
    with standing_still():
        slugs = [row.slug for row in reversed(list_houses())]
        _put(sink, exported, "shop.toml", shop_text(load_shop()).encode())
        for slug in slugs:
            _house(sink, exported, slug)
        for name, (heads, rows) in LISTS.items():
            _list(sink, exported, name, heads, (row for slug in slugs for row in rows(slug)))
        names = {slug: list(picture_names(slug)) for slug in slugs}
        captions = (
            row
            for slug in slugs
            for row in caption_rows(slug, {key: name for key, _, name in names[slug]})
        )
        _list(sink, exported, "photographs/captions.csv", CAPTIONS, captions)
    # Pictures never change once they are there, so that nobody needs to stand still for them.
    for slug in slugs:
        for _, digest, name in names[slug]:
            sink.take(file_of(digest, "original")[0], name)
            exported.files.append(name)
            exported.photographs += 1
    now = timezone.localtime()
    told = readme(__version__, now, exported.files, exported.missing)
    _put(sink, exported, "README.txt", told.encode())
    return exported


def _house(sink: Sink, exported: Exported, slug: str) -> None:
    try:
        document = export_document(slug)
    except Refused as error:
        # An older program kept what this one cannot read; the history still holds it as it is.
        exported.missing.append(f"houses/{slug}.toml: {error}")
        return
    exported.houses += 1
    exported.windows += len(document["windows"])
    _put(sink, exported, f"houses/{slug}.toml", house_text(document).encode())
    _put(sink, exported, f"schedules/{slug}.csv", csv_schedule(slug))
    try:
        _put(sink, exported, f"schedules/{slug}.xlsx", xlsx_schedule(slug), packed=False)
    except ScheduleError as error:
        exported.missing.append(f"schedules/{slug}.xlsx: {error}")


def _put(sink: Sink, exported: Exported, name: str, data: bytes, *, packed: bool = True) -> None:
    with sink.open(name, packed=packed) as file:
        file.write(data)
    exported.files.append(name)


def _list(
    sink: Sink, exported: Exported, name: str, heads: Sequence[str], rows: Iterable[Sequence[Cell]]
) -> None:
    with sink.open(name) as file:
        file.writelines(_lines(heads, rows))
    exported.files.append(name)


def _lines(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> Iterator[bytes]:
    """CSV line by line; what a spreadsheet would take for a formula is protected as in a schedule."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    # A mark in front, so that every spreadsheet knows which letters these are.
    yield "\ufeff".encode()
    for row in chain([heads], rows):
        writer.writerow(["" if value in (None, "") else cell_of(value) for value in row])
        yield out.getvalue().encode()
        out.seek(0)
        out.truncate()
