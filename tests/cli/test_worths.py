"""The commands ``worth`` and ``stock``: a table for a house, data, and a table of houses."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from sashwright.cli import exits

HEADINGS = "id,climate,windows,floor_area_m2\n"


def test_a_house_is_told_what_costs_least_and_why(run: Callable[..., Any], starter: Path) -> None:
    ended = run("worth", str(starter), "--climate", "Portland, Maine", "--draws", "30", "--working")
    assert ended.exit_code == exits.OK, ended.output
    for words in (
        "Left as found",
        "Replacement windows of PVC",
        "costs least",
        "30 draws",
        "What decides how far apart they are",
        "The trade",
        "net present cost",
    ):
        assert words in ended.stdout, words


def test_as_data_with_repair_due(run: Callable[..., Any], starter: Path) -> None:
    words = ("--climate", "Boston", "--draws", "0", "--repair-due", "--json")
    answer = json.loads(run("worth", str(starter), *words).stdout)
    assert answer["chapter"] == "worth"
    assert answer["values"]["base"] == "repair"


def test_without_weather_it_says_what_to_write(run: Callable[..., Any], starter: Path) -> None:
    ended = run("worth", str(starter))
    assert ended.exit_code == exits.FOUND
    assert "--climate" in ended.stderr


def test_a_table_of_houses(run: Callable[..., Any], tmp_path: Path) -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    table = tmp_path / "town.csv"
    table.write_text(HEADINGS + "a,Boston,8,90\nb,Nowhere,8,90\n")
    out = tmp_path / "town.parquet"
    ended = run("stock", str(table), "--out", str(out), "--workers", "1")
    assert ended.exit_code == exits.OK, ended.output
    assert "1 house answered" in ended.stdout
    assert "1 row skipped" in ended.stdout
    assert "2 houses, 1 skipped" in ended.stderr
    assert parquet.read_table(out).num_rows == 1


@pytest.mark.parametrize(
    ("words", "says", "code"),
    [
        ((), "are wanted", exits.USAGE),
        (("nothing.csv", "--out", "x"), "There is no file", exits.USAGE),
    ],
)
def test_what_is_missing_is_told(
    run: Callable[..., Any], words: tuple[str, ...], says: str, code: int
) -> None:
    ended = run("stock", *words)
    assert ended.exit_code == code
    assert says in ended.stderr


def test_the_columns_are_listed(run: Callable[..., Any]) -> None:
    shown = run("stock", "--columns").stdout
    assert "floor_area_ft2" in shown
    assert "painted shut" in shown
