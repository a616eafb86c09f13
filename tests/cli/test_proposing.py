"""The command ``propose``: one tradition in full, all side by side, and the house file it writes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from sashwright.cli import exits
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house

OPENING = ("--opening", "36 x 66")


def as_json(run: Any, *words: str) -> Any:
    result = run("propose", *words, "--json")
    assert result.exit_code in (exits.OK, exits.FOUND), result.output
    return json.loads(result.stdout)


def test_one_tradition_in_full(run: Any) -> None:
    (window,) = as_json(run, *OPENING, "--tradition", "greek-revival")["windows"]
    values = window["values"]
    assert sum(each["mm"] for each in values["across"]) == pytest.approx(914.4, abs=0.01)
    assert set(values["chapters"]) == {"hang", "grade"}
    said = run("propose", *OPENING, "--tradition", "greek-revival", "--working")
    assert said.exit_code == exits.OK
    for words in ("weight pocket", "6 over 6", "check meeting rails", "ln(ratio / usual)"):
        assert words in said.stdout


def test_all_of_them_side_by_side(run: Any) -> None:
    found = as_json(run, "--opening", "3' x 5'-6\"")["traditions"]
    assert list(found) == list(load().tradition)
    assert found["federal"]["values"]["lites"]["pattern"] == "9 over 6"
    table = run("propose", "--opening", "36 by 66").stdout
    assert all(key in table for key in found)
    narrow = run("propose", "--opening", "11 x 66").stdout
    assert "no room" in narrow


def test_the_house_file_it_writes_is_good(run: Any, tmp_path: Path) -> None:
    target = tmp_path / "new.toml"
    words = ("propose", *OPENING, "--tradition", "gb-regency", "--kind", "masonry", "--number", "7",
             "--size", "muntin=5/8", "--wood", "teak", "-o", str(target))  # fmt: skip
    assert "Wrote" in run(*words).stdout
    house = read_house(target, load())
    assert house.windows[0].number == "7"
    assert house.families["A"].sash.wood == "teak"
    assert house.families["A"].sash.muntin == pytest.approx(0.625 * 0.0254)
    assert house.fabric.wall == "wall-brick-9"
    again = run(*words)
    assert again.exit_code == exits.USAGE
    assert "is there already" in again.stderr


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--opening", "36"), "expected width and height"),
        (("--opening", "36 x wide"), "expected a length"),
        (("--opening", "36 x 66", "--rise", "30"), "at most half the width"),
        ((*OPENING, "--tradition", "gothic"), "a row of the table tradition"),
        ((*OPENING, "--wood", "balsa"), "a row of the table wood"),
        ((*OPENING, "--tradition", "federal", "--size", "mullion=3"), "--size: found"),
        ((*OPENING, "--tradition", "federal", "--upper", "six"), "lites wide by high"),
        ((*OPENING, "-o", "x.toml"), "--tradition"),
    ],
)
def test_what_is_not_understood(run: Any, words: tuple[str, ...], says: str) -> None:
    result = run("propose", *words)
    assert result.exit_code == exits.USAGE
    assert says in result.stderr


def test_an_opening_without_room(run: Any) -> None:
    result = run("propose", "--opening", "14 x 40", "--tradition", "federal")
    assert result.exit_code == exits.FOUND
    assert "expected a larger one" in result.stderr
