"""The commands ``treat`` and ``price`` as a shop would run them."""

from __future__ import annotations

import json
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

from sashwright.cli import exits

Run = Callable[..., Any]


def total(run: Run, *words: Any) -> Decimal:
    ended = run("price", *words, "--json")
    assert ended.exit_code == exits.OK, ended.output
    return Decimal(json.loads(ended.stdout)["values"]["price"]["likely"])


def test_the_card_of_a_window_says_what_and_why(run: Run, demo: Path) -> None:
    said = run("treat", demo, "--window", "104", "--working").stdout
    assert "lower bottom rail" in said
    assert "* Repaired in place" in said
    assert "sound wood is scarfed on, the rest stays" in said
    assert "fixed hours x times + hours for a unit x amount" in said


def test_the_house_is_one_line_a_window(run: Run, demo: Path) -> None:
    said = run("treat", demo).stdout
    assert "decay on lower bottom rail, and 4 more" in " ".join(said.split())
    assert "Restored in the shop" in said


def test_prices_in_words_and_in_json_agree(run: Run, demo: Path) -> None:
    whole = total(run, demo)
    said = run("price", demo).stdout
    assert f"{whole:,.2f}" in said
    assert "Hours learned" in said
    card = run("price", demo, "--window", "101").stdout
    assert "Overhead, 18 %" in card


def test_what_if_on_the_command_line(run: Run, demo: Path) -> None:
    plain = total(run, demo)
    assert total(run, demo, "--margin", "0") < plain
    assert total(run, demo, "--overhead", "30") > plain
    assert total(run, demo, "--rate", "installer=90") > plain
    assert total(run, demo, "--times", "1.2") > plain
    assert total(run, demo, "--option", "own-painting") == plain - 240
    assert total(run, demo, "--alternative", "shop") > plain


def test_another_house_teaches(run: Run, demo: Path, starter: Path) -> None:
    plain = total(run, starter, "--alternative", "shop")
    assert total(run, starter, "--alternative", "shop", "--jobs", demo) > plain


def test_slips_are_told(run: Run, demo: Path) -> None:
    for words, says in (
        (("--rate", "wizard=9"), "expected a skill and money such as joiner=70"),
        (("--rate", "overhead=9"), "expected a skill and money"),
        (("--rate", "joiner"), "expected a skill and money"),
        (("--rate", "joiner=NaN"), "expected a skill and money"),
        (("--option", "nothing"), "the house has attic-storms, own-painting"),
        (("--alternative", "burn"), "expected a row of the table scope"),
    ):
        ended = run("price", demo, *words)
        assert ended.exit_code == exits.USAGE, words
        assert says in ended.output
