"""``grade``: wind and rain in words and as data."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

from click.testing import Result

from sashwright.chapters.grade import grade
from sashwright.cli import exits
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house

Run = Callable[..., Result]


def test_data_is_exactly_the_answer(run: Run, demo: Path) -> None:
    knowledge = load()
    house = read_house(demo, knowledge)
    whole = grade(house, knowledge).to_dict()
    assert json.loads(run("grade", demo, "--json").stdout) == whole
    some = grade(house, knowledge, ["104", "109"]).to_dict()
    asked = run("grade", demo, "--json", "--window", "104", "--window", "109")
    assert json.loads(asked.stdout) == some


def test_the_house_in_a_table(run: Run, demo: Path) -> None:
    ended = run("grade", demo)
    assert ended.exit_code == exits.OK
    numbers = [window.number for window in read_house(demo, load()).windows]
    assert re.findall(r"^(\d{3})  ", ended.stdout, re.MULTILINE) == numbers
    assert "115 mph, not confirmed; exposure B" in ended.stdout
    assert "lower upright bar, sags" in ended.stdout


def test_a_confirmed_speed_that_breaks_a_window_ends_in_found(
    run: Run, demo: Path, tmp_path: Path
) -> None:
    text = demo.read_text(encoding="utf-8")
    text = text.replace(
        'wind_speed = "115 mph"', 'wind_speed = "180 mph"\nconfirmed_by = "the town"'
    )
    windy = tmp_path / "windy.toml"
    windy.write_text(text, encoding="utf-8")
    ended = run("grade", windy, "--window", "109")
    assert ended.exit_code == exits.FOUND
    assert re.search(r"^fail     The design wind is", ended.stdout, re.MULTILINE)
    assert "180 mph, confirmed by the town" in ended.stdout


def test_the_working_and_metric_words(run: Run, demo: Path) -> None:
    text = run("grade", demo, "--window", "104", "--working", "--units", "metric").stdout
    text = " ".join(text.split())
    for formula in ("0.613 Kz Kzt Kd Ke V^2", "rho g (rise", "48 x grade"):
        assert formula in text
    assert "51.4 m/s" in text
    assert " psf" not in text.partition("Working")[0].replace("12 psf", "")
