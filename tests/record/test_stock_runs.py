"""Tables of houses from file to file: the same by every way, kept when stopped, no row lost."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from sashwright.record.stock import Progress, StockError, run_stock

parquet = pytest.importorskip("pyarrow.parquet")

COLUMNS = ("id", "climate", "windows", "floor_area_m2", "condition")


def rows() -> Iterator[tuple[Any, ...]]:
    for at in range(6):
        yield f"house {at}", "Boston", 8 + at, 100 + 10 * at, "average" if at != 3 else "awful"


@pytest.fixture
def town(tmp_path: Path) -> Path:
    path = tmp_path / "town.csv"
    with path.open("w", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(COLUMNS)
        writer.writerows(rows())
    return path


def results(out: Path) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = parquet.read_table(out).to_pylist()
    return found


def test_results_are_one_table_and_skipped_rows_a_file(town: Path, tmp_path: Path) -> None:
    out, told = tmp_path / "town.parquet", list[Progress]()
    ended = run_stock(town, out, rows_a_part=2, tell=told.append)
    assert (ended.houses, ended.skipped) == (6, 1)
    assert [each.houses for each in told] == [2, 4, 6]
    assert [each["id"] for each in results(out)] == [f"house {at}" for at in (0, 1, 2, 4, 5)]
    with (tmp_path / "town-skipped.csv").open() as file:
        (skipped,) = csv.DictReader(file)
    assert (skipped["row"], skipped["id"]) == ("4", "house 3")
    assert "awful" in skipped["reason"]


def test_a_run_that_was_stopped_goes_on(town: Path, tmp_path: Path) -> None:
    out = tmp_path / "town.parquet"

    class Stopped(Exception):  # noqa: N818
        pass

    def stop(progress: Progress) -> None:
        if progress.houses == 4:
            raise Stopped

    with pytest.raises(Stopped):
        run_stock(town, out, rows_a_part=2, tell=stop)
    first = sorted(out.glob("part-*.parquet"))
    assert len(first) == 2
    before = [path.stat().st_mtime_ns for path in first]
    ended = run_stock(town, out, rows_a_part=2)
    assert (ended.houses, ended.kept, ended.skipped) == (6, 4, 1)
    assert [path.stat().st_mtime_ns for path in first] == before
    whole = tmp_path / "whole.parquet"
    run_stock(town, whole, rows_a_part=2)
    assert results(out) == results(whole)


def test_another_table_does_not_go_into_the_same_results(town: Path, tmp_path: Path) -> None:
    out = tmp_path / "town.parquet"
    run_stock(town, out, rows_a_part=6)
    town.write_text(town.read_text().replace("house 5", "house 50"))
    with pytest.raises(StockError, match="of another table"):
        run_stock(town, out, rows_a_part=6)
    run_stock(town, out, rows_a_part=6, fresh=True)
    assert results(out)[-1]["id"] == "house 50"


def test_what_is_no_result_is_not_touched(town: Path, tmp_path: Path) -> None:
    out = tmp_path / "papers"
    out.mkdir()
    (out / "letter.txt").write_text("keep me")
    with pytest.raises(StockError, match="name another"):
        run_stock(town, out, fresh=True)
    assert (out / "letter.txt").exists()


def test_parquet_and_csv_say_the_same(town: Path, tmp_path: Path) -> None:
    import pyarrow as pa

    table = pa.Table.from_pylist([dict(zip(COLUMNS, row, strict=True)) for row in rows()])
    parquet.write_table(table, tmp_path / "town.in.parquet")
    run_stock(town, tmp_path / "a", rows_a_part=4)
    run_stock(tmp_path / "town.in.parquet", tmp_path / "b", rows_a_part=3)
    assert results(tmp_path / "a") == results(tmp_path / "b")


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("town.csv", "id,climate\n", "found no column windows"),
        ("town.csv", "id,climate,windows,flor\n", "found the columns flor"),
        ("town.xlsx", "", "expected .csv or .parquet"),
        ("town.parquet", "no such thing", "no readable Parquet file"),
    ],
)
def test_a_table_that_cannot_be_read_is_told(
    tmp_path: Path, name: str, text: str, says: str
) -> None:
    path = tmp_path / name
    path.write_text(text)
    with pytest.raises(StockError, match=says):
        run_stock(path, tmp_path / "out")


def test_processes_answer_the_same(town: Path, tmp_path: Path) -> None:
    run_stock(town, tmp_path / "one", rows_a_part=3)
    run_stock(town, tmp_path / "two", rows_a_part=3, workers=2)
    assert results(tmp_path / "one") == results(tmp_path / "two")
    skipped = [(tmp_path / f"{name}-skipped.csv").read_text() for name in ("one", "two")]
    assert skipped[0] == skipped[1]


@pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::UserWarning")
def test_a_cluster_answers_the_same(town: Path, tmp_path: Path) -> None:
    distributed = pytest.importorskip("distributed")
    run_stock(town, tmp_path / "here", rows_a_part=3)
    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None
    ) as cluster:
        run_stock(town, tmp_path / "there", rows_a_part=3, scheduler=cluster.scheduler_address)
    assert results(tmp_path / "here") == results(tmp_path / "there")


def test_no_cluster_is_told(town: Path, tmp_path: Path) -> None:
    pytest.importorskip("distributed")
    with pytest.raises(StockError, match="no scheduler there"):
        run_stock(town, tmp_path / "out", scheduler="nonsense://nowhere:1")
