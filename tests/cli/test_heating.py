"""The command ``heat``: a table for the house, a card for each window, and data."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from sashwright.cli import exits


def test_a_card_names_every_state(run: Callable[..., Any], starter: Path) -> None:
    ended = run("heat", str(starter), "--window", "101", "--climate", "Portland, Maine")
    assert ended.exit_code == exits.OK
    for words in (
        "The window alone",
        "low-e storm",
        "inside storm",
        "Wood shutters",
        "four inches",
    ):
        assert words in ended.stdout
    assert "Btu/h" in ended.stdout


def test_metric_and_working(run: Callable[..., Any], starter: Path) -> None:
    ended = run("heat", str(starter), "--window", "101", "--units", "metric", "--working")
    assert "W/K" in ended.stdout
    assert "ISO 10077-1" in ended.stdout
    assert "U of the whole window, North American" in ended.stdout


def test_as_data(run: Callable[..., Any], starter: Path) -> None:
    ended = run("heat", str(starter), "--json", "--climate", "Portland, Maine")
    answer = json.loads(ended.stdout)
    assert answer["chapter"] == "heat"
    assert answer["values"]["totals"][0]["key"] == "as found"


def test_the_whole_house_has_a_line_for_each_window(run: Callable[..., Any], starter: Path) -> None:
    ended = run("heat", str(starter), "--climate", "Portland, Maine")
    assert "All windows together" in ended.stdout
    assert "new windows" in ended.stdout
