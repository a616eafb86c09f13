"""Everything in the record, written out in open formats."""

from __future__ import annotations

import csv
import io
import json
import tracemalloc
import zipfile
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.models import User

from sashwright.knowledge.load import load
from sashwright.record import store
from sashwright.record.everything import ExportError, export_all
from sashwright.record.housefile import parse_house
from sashwright.record.models import Photograph
from sashwright.record.orders import create_order
from sashwright.record.schedule import bring_in, guessed, read_book
from sashwright.record.visits import add_visit
from tests.pictures import picture_file


def rows(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


@pytest.fixture
def busy(elm: str, ann: User) -> str:
    """The house with something of every kind."""
    store.add_reading(elm, "101", "lower", 8.25, "finished", ann, note="=cmd")
    store.set_stage(elm, "101", "lower", "removed", ann)
    line = {
        "item": "glass",
        "says": "single-strength",
        "quantity": 2,
        "unit": "lite",
        "windows": ["101"],
    }
    create_order(elm, "glass", [line], ann)
    add_visit(elm, "2026-05-02", [{"what": "oiled", "window": "102"}], ann, note="fine")
    store.add_photograph(elm, picture_file(), ann, window="102", note="soft, left end")
    store.add_photograph(elm, picture_file(size=(40, 30)), ann)
    return elm


def test_holds_all_of_it(busy: str, ann: User, tmp_path: Path) -> None:
    made = export_all(tmp_path / "all.zip")
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
        assert archive.testzip() is None
    assert set(files) == set(made.files)
    assert (made.houses, made.windows, made.photographs, made.missing) == (1, 5, 2, [])
    house = parse_house(files[f"houses/{busy}.toml"], "x", load())
    assert [window.number for window in house.windows] == store.window_numbers(busy)
    before = store.stored_windows(busy)
    for ending in ("csv", "xlsx"):
        book = read_book(files[f"schedules/{busy}.{ending}"], "x")
        assert bring_in(busy, book, guessed(book.sheet(), {}), ann).change is None
    assert store.stored_windows(busy) == before
    (reading,) = rows(files["readings.csv"])
    assert [reading[name] for name in ("house", "window", "sash", "value_kg", "who", "note")] == [
        busy, "101", "lower", "8.25", "Ann Alder", "'=cmd",
    ]  # fmt: skip
    assert [row["stage"] for row in rows(files["stages.csv"])] == ["removed"]
    assert [row["windows"] for row in rows(files["orders.csv"])] == ["101"]
    assert [(row["window"], row["what"]) for row in rows(files["visits.csv"])] == [("102", "oiled")]
    captions = {row["file"]: row for row in rows(files["photographs/captions.csv"])}
    kept = {row.key: row for row in store.photographs(busy)}
    assert {row["note"] for row in captions.values()} == {"soft, left end", ""}
    for name, row in captions.items():
        shows = kept[row["key"]].window or "house"
        assert name == f"photographs/{busy}/{shows}-{row['key']}.jpg"
        assert files[name] == store.photograph_file(busy, row["key"])[0].read_bytes()
    assert b"photographs/captions.csv and 2 photographs" in files["README.txt"]
    assert b"could not be written" not in files["README.txt"]


def test_tells_the_whole_history(busy: str, ann: User, tmp_path: Path) -> None:
    store.save_fields(busy, "window", "102", {"width": "33"}, 1, ann)
    store.undo(store.changes(busy)[0].id, ann)
    export_all(tmp_path / "all")
    told = rows((tmp_path / "all" / "history.csv").read_bytes())
    assert {int(row["change"]) for row in told} == {change.id for change in store.changes(busy)}
    changed = [row for row in told if row["name"] == "102" and row["did"] == "changed"]
    assert [json.loads(row["fields"]) for row in changed] == [
        {"width": ["32 in", "33 in"]}, {"width": ["33 in", "32 in"]},
    ]  # fmt: skip
    assert [(row["undone"], bool(row["undoes"])) for row in changed] == [
        ("yes", False),
        ("no", True),
    ]


def test_a_photograph_that_is_missing_keeps_its_caption(
    busy: str, ann: User, tmp_path: Path
) -> None:
    row = store.photographs(busy)[0]
    store.photograph_file(busy, row.key)[0].unlink()
    assert export_all(tmp_path / "all").photographs == 1
    captions = rows((tmp_path / "all/photographs/captions.csv").read_bytes())
    assert [caption["file"] == "" for caption in captions] == [True, False]
    assert Photograph.objects.count() == 2


def test_nothing_there_is_written_over(elm: str, tmp_path: Path) -> None:
    (tmp_path / "x").write_text("mine")
    for target, says in (
        (tmp_path, "not empty"),
        (tmp_path / "x", "not empty"),
        (tmp_path / "x/y.zip", "cannot"),
    ):
        with pytest.raises(ExportError, match=says):
            export_all(target)
    target = tmp_path / "all.zip"
    export_all(target)
    with pytest.raises(ExportError, match="is there already"):
        export_all(target)
    assert export_all(target, replace=True).houses == 1
    assert sorted(path.name for path in tmp_path.iterdir()) == ["all.zip", "x"]


def test_takes_little_memory_for_large_photographs(
    elm: str, ann: User, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    added = store.add_photograph(elm, picture_file(), ann)
    path = store.photograph_file(elm, added.key)[0]
    path.write_bytes(bytes(24_000_000))
    export_all(tmp_path / "warm.zip")
    tracemalloc.start()
    try:
        export_all(tmp_path / "all.zip")
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert peak < 8_000_000
    assert (tmp_path / "all.zip").stat().st_size > 24_000_000


def test_an_empty_record(db: Any, tmp_path: Path) -> None:
    made = export_all(tmp_path / "all.zip")
    assert (made.houses, made.photographs) == (0, 0)
    assert "README.txt" in made.files
