"""``new``, ``check``, ``schema``: the house file itself."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from sashwright.cli import exits
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house

Run = Callable[..., Result]


def test_the_starter_file_is_in_order(run: Run, starter: Path) -> None:
    ended = run("check", starter)
    assert (ended.exit_code, ended.stdout) == (
        exits.OK,
        "1 window, 1 family: nothing to correct\n",
    )
    assert starter.read_text().count("#") > 20


def test_the_notes_of_the_starter_file_are_true(starter: Path) -> None:
    """Each line that is only a note becomes a valid line without its mark."""
    lines = starter.read_text().splitlines()
    said = [line.removeprefix("# ") if _is_field(line) else line for line in lines]
    assert said != lines
    starter.write_text("\n".join(said).replace("[families.A.upper]\n\n", ""))
    house = read_house(starter, load())
    window = house.windows[0]
    assert house.built == 1908
    assert window.measured.lower.mass == pytest.approx(8.33, abs=0.01)
    assert window.along == pytest.approx(76 * 0.0254)
    assert house.families["A"].upper_sash.lites.columns == 2


def _is_field(line: str) -> bool:
    note = line.removeprefix("# ")
    return line.startswith("# ") and (" = " in note or note.startswith("["))


def test_new_never_overwrites_unless_told(run: Run, starter: Path) -> None:
    starter.write_text("mine")
    ended = run("new", starter)
    assert ended.exit_code == exits.USAGE
    assert "--force replaces it" in ended.stderr
    assert starter.read_text() == "mine"
    assert run("new", starter, "--force").exit_code == exits.OK
    assert starter.read_text() != "mine"


def test_new_says_where_it_cannot_write(run: Run, tmp_path: Path) -> None:
    ended = run("new", tmp_path / "nowhere" / "house.toml")
    assert ended.exit_code == exits.FOUND
    assert "found no way to write it" in ended.stderr


def test_check_tells_every_problem(run: Run, starter: Path) -> None:
    text = starter.read_text()
    starter.write_text(text.replace('width = "30"', 'width = "3 2 4"').replace('"62"', "true"))
    ended = run("check", starter)
    assert ended.exit_code == exits.FOUND
    first, second, last = ended.stdout.splitlines()
    assert 'windows[0].width (window 101): found "3 2 4", expected a length' in first
    assert "windows[0].height (window 101): found true" in second
    assert last == "2 things to correct."


def test_check_as_data(run: Run, starter: Path, demo: Path) -> None:
    good = json.loads(run("check", demo, "--json").stdout)
    assert good == {"file": str(demo), "windows": 24, "families": 4, "problems": []}
    starter.write_text("name = 3")
    ended = run("check", starter, "--json")
    assert ended.exit_code == exits.FOUND
    (problem,) = json.loads(ended.stdout)["problems"]
    assert (problem["line"], problem["field"], problem["found"]) == (1, "name", "3")


def test_check_with_the_shops_own_figures(run: Run, starter: Path, tmp_path: Path) -> None:
    text = starter.read_text().replace('"double-strength"', '"attic-find"')
    starter.write_text(text)
    assert run("check", starter).exit_code == exits.FOUND
    shop = tmp_path / "shop.toml"
    shop.write_text(
        "[glass.attic-find]\nname = 'Attic find'\nkind = 'old sheet'\nnominal = '3/32'\n"
        "thickness_mm = 2.4\nthickness_min_mm = 2.1\nthickness_tolerance_mm = 0.3\n"
        "mass_per_area_kg_m2 = 6.0\nsource = 'measured in the shop'\n"
    )
    assert run("check", starter, "--knowledge", shop).exit_code == exits.OK
    assert run("check", starter, env={"SASHWRIGHT_KNOWLEDGE": str(shop)}).exit_code == exits.OK
    ended = run("check", starter, "--knowledge", tmp_path / "none.toml")
    assert ended.exit_code == exits.FOUND
    assert "none.toml: found no readable TOML file" in ended.stderr


def test_schema(run: Run) -> None:
    schema = json.loads(run("schema").stdout)
    assert {"name", "families", "windows"} <= set(schema["properties"])
