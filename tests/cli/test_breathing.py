"""``breathe``: the household's card in words and as data."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

from click.testing import Result

from sashwright.chapters.breathe import breathe
from sashwright.cli import exits
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house
from sashwright.record.outdoors import named

Run = Callable[..., Result]
WARM = "Sacramento, CA"


def test_data_is_exactly_the_answer(run: Run, starter: Path) -> None:
    house = read_house(starter, load())
    answer = breathe(house, load(), year=named(WARM).year, seconds=0.1)
    ended = run("breathe", starter, "--json", "--climate", WARM, "--seconds", "0.1")
    assert json.loads(ended.stdout) == json.loads(json.dumps(answer.to_dict()))


def test_the_card_and_the_comparison_in_words(run: Run, starter: Path) -> None:
    ended = run("breathe", starter, "--climate", WARM, "--seconds", "0.1", "--working")
    assert ended.exit_code == exits.OK
    for words in ("June to September (hot", "all shut", "the old rule", "the plan", "Working"):
        assert words in ended.stdout
    assert "°F" in ended.stdout


def test_metric_words(run: Run, starter: Path) -> None:
    words = ("--climate", WARM, "--seconds", "0.1", "--units", "metric")
    text = run("breathe", starter, *words).stdout
    assert "°C" in text
    assert "°F" not in text


def test_without_weather_it_ends_with_what_to_write(run: Run, starter: Path) -> None:
    ended = run("breathe", starter)
    assert ended.exit_code == exits.FOUND
    assert "Found no climate for the house" in ended.stderr
