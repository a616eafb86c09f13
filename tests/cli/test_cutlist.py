"""The command ``make``, and the page of the manual that tells of it."""

from __future__ import annotations

import doctest
import json
import re
import shlex
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from sashwright.chapters.make.frame_maker import SHORT as FRAME_MARKS
from sashwright.chapters.make.wood import SHORT as SASH_MARKS
from sashwright.cli import exits
from tests.cli.test_manual import blocks, without_figures

PAGE = (Path(__file__).parents[2] / "docs" / "manual" / "make.md").read_text(encoding="utf-8")


def examples() -> Iterator[tuple[list[str], str]]:
    for block in blocks(PAGE, "console"):
        command, _, said = block.removeprefix("$ ").partition("\n")
        yield shlex.split(command)[1:], said


@pytest.mark.parametrize(("words", "said"), list(examples()))
def test_the_page_of_the_manual(
    run: Callable[..., Any], starter: Path, words: list[str], said: str
) -> None:
    ended = run(words[0], starter, *words[2:])
    assert ended.exit_code == exits.OK, ended.output
    flags = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
    shown, wanted = without_figures(ended.stdout), without_figures(said)
    assert doctest.OutputChecker().check_output(wanted, shown, flags), ended.stdout


def test_the_page_tells_every_mark() -> None:
    told = set(re.findall(r"\b[A-Z]{2}\b", PAGE))
    assert {*SASH_MARKS.values(), *FRAME_MARKS.values()} - told <= {"LS", "RS"}


def test_lists_by_stack_then_glass_then_totals(run: Callable[..., Any], starter: Path) -> None:
    ended = run("make", starter, "--all", "sash", "--all", "screen", "--units", "metric")
    assert ended.exit_code == exits.OK
    places = [ended.stdout.index(w) for w in ("6/4:", "8/4:", "Glass", "In all", "m³", "Sash lift")]
    assert places[:4] == sorted(places[:4])
    assert "sizes in mm" in ended.stdout


def test_as_data(run: Callable[..., Any], starter: Path) -> None:
    words = ("--all", "frame", "--frame-kind", "box", "--json")
    answer = json.loads(run("make", starter, *words).stdout)
    assert answer["chapter"] == "make"
    (window,) = answer["windows"]
    assert window["values"]["frame_kind"] == "box"
    assert {row["unit"] for row in window["values"]["parts"]} == {"frame"}
    assert answer["values"]["board_feet"] == pytest.approx(
        sum(row["board_feet"] for row in window["values"]["parts"])
    )


def test_working_and_an_unknown_wood(run: Callable[..., Any], starter: Path) -> None:
    shown = run("make", starter, "--all", "sash", "--working").stdout
    assert "board feet: lower sash" in shown
    ended = run("make", starter, "--all", "sash", "--wood", "balsa")
    assert ended.exit_code == exits.USAGE
    assert "balsa" in ended.stderr
