"""The commands ``schedule`` and ``export-all``."""

from __future__ import annotations

import json
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from sashwright.cli import exits
from sashwright.cli.main import cli
from sashwright.record.housefile import write_house
from tests.factories import make_house
from tests.record.schedules import csv_file

ROWS = [["Tag", "Location", "Wide", "Remarks"], ["101", "parlor", "33 1/4", "sticks"]]


@pytest.fixture
def house(tmp_path: Path) -> Path:
    write_house(make_house(), tmp_path / "elm.toml")
    return tmp_path / "elm.toml"


def test_read_and_written(
    run_in_record: Callable[..., list[Any]], house: Path, tmp_path: Path
) -> None:
    good, bad = tmp_path / "shop.csv", tmp_path / "bad.csv"
    good.write_bytes(csv_file(ROWS))
    bad.write_bytes(csv_file([*ROWS, ["102", "", "3-Aug", ""], ["101", "", "30", ""]]))
    elm = "12-elm-street"
    _, dry, done, same, wrong, left, told, csv, xlsx, twice, again, out, folder, kept = (
        run_in_record(
            ["import", house],
            ["schedule", "read", elm, good, "--dry-run"],
            ["schedule", "read", elm, good, "--column", "Remarks="],
            ["schedule", "read", elm, good, "--column", "remarks=", "--json"],
            ["schedule", "read", elm, bad],
            [
                "schedule",
                "read",
                elm,
                good,
                "--column",
                "C=height",
                "--column",
                "Wide=width mm",
                "--dry-run",
            ],
            ["schedule", "read", elm, good, "--column", "D=nonsense"],
            ["schedule", "write", elm, "out.csv"],
            ["schedule", "write", elm, "out.xlsx"],
            ["schedule", "write", elm, "out.xlsx"],
            ["schedule", "read", elm, "out.xlsx"],
            ["export-all", "all.zip"],
            ["export-all", "all"],
            ["export-all", "all.zip"],
        )
    )
    assert dry.code == exits.OK
    assert "Columns: A = number, B = room, C = width, D = note" in dry.out
    assert "Width 32 in to 33 1/4 in" in dry.out
    assert "Nothing was changed; it would be: 1 window changed." in dry.out
    assert done.code == exits.OK
    assert "Left out: D (Remarks)" in done.out
    assert done.out.endswith("1 window changed.\n")
    data = json.loads(same.out)
    assert (data["done"], data["rows"][0]["does"]) == (True, "nothing")
    assert wrong.code == exits.FOUND
    assert "bad.csv, row 3, C3 (Width): found '3-Aug', which looks like a date" in wrong.err
    assert "row 4, A4 (Number): found '101' again" in wrong.err
    assert wrong.err.endswith("2 things to correct. Nothing was changed.\n")
    assert left.code == exits.FOUND
    assert "(Width): found 1 5/16" in left.err
    assert told.code == exits.USAGE
    assert "a window has no field 'nonsense'" in told.err
    assert [csv.code, xlsx.code, twice.code] == [exits.OK, exits.OK, exits.USAGE]
    assert (tmp_path / "out.csv").read_text("utf-8-sig").startswith("Number [number],")
    assert again.out.endswith("5 as they are.\nNothing new.\n")
    assert out.out == "all.zip: 1 house, 5 windows, 0 photographs, 11 files.\n"
    assert folder.code == exits.OK
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        names = sorted(archive.namelist())
    found = [path for path in (tmp_path / "all").rglob("*") if path.is_file()]
    assert names == sorted(path.relative_to(tmp_path / "all").as_posix() for path in found)
    assert kept.code == exits.FOUND
    assert "all.zip is there already" in kept.err


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["read", "elm", "nothing.csv"], "There is no file nothing.csv"),
        (["write", "elm", "out.pdf"], "expected .csv or .xlsx"),
    ],
)
def test_what_cannot_be(run: Callable[..., Any], words: list[str], says: str) -> None:
    ended = run("schedule", *words)
    assert ended.exit_code == exits.USAGE
    assert says in ended.output


def test_each_half_of_the_command_is_in_the_manual() -> None:
    manual = Path(__file__).parents[2] / "docs" / "manual" / "command-line.md"
    text = manual.read_text(encoding="utf-8")
    for name, command in cli.commands["schedule"].commands.items():  # type: ignore[attr-defined]
        assert f"sashwright schedule {name}" in text
        for param in command.params:
            for option in param.opts[:1]:
                assert not option.startswith("--") or option in text, option
