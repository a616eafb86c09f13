"""The pages docs/methods/seal.md and season.md say what the program does."""

from __future__ import annotations

import importlib
import re
import tomllib
from collections.abc import Callable, Mapping
from typing import Any

import pytest

from sashwright.chapters.answer import Answer
from sashwright.chapters.seal import seal
from sashwright.chapters.season import season
from sashwright.knowledge.climate_load import gazetteer
from sashwright.knowledge.load import load
from sashwright.window.check import house_from
from tests.test_methods_docs import CONSTANT, PAGES, at, lines_of, rows, step_of, worked_out

KNOWLEDGE = load()
CHAPTERS: Mapping[str, Callable[..., Answer]] = {"seal": seal, "season": season}
METRES_IN = 0.0254


def example(page: str) -> dict[str, Any]:
    text = (PAGES / page).read_text(encoding="utf-8")
    (block,) = re.findall(r"```toml\n(.*?)```", text, flags=re.DOTALL)
    house = house_from(tomllib.loads(block), KNOWLEDGE)
    return {name: chapter(house, KNOWLEDGE).windows[0].values for name, chapter in CHAPTERS.items()}


@pytest.mark.parametrize(("page", "least"), [("seal.md", 20), ("season.md", 15)])
def test_worked_example(page: str, least: int) -> None:
    answers = example(page)
    found = list(rows(page))
    assert len(found) >= least
    assert sum(row.path is not None for row in found) >= 0.7 * least
    for row in found:
        assert worked_out(row.sum) == pytest.approx(row.result, abs=0.51 * row.step), row.what
        if row.chapter is None or row.path is None:
            continue
        ours = at(answers[row.chapter], row.path)
        # Sums are of rounded figures: they may be out by one in the last digit.
        assert ours == pytest.approx(row.result, abs=1.01 * row.step), row.what


@pytest.mark.parametrize(("page", "least"), [("seal.md", 10), ("season.md", 7)])
def test_constants(page: str, least: int) -> None:
    found = list(lines_of(page, lambda cells: cells[-1] == "in the program"))
    assert len(found) >= least
    for line in found:
        match = CONSTANT.match(line)
        assert match is not None, f"cannot be read: {line}"
        ours = getattr(importlib.import_module(f"sashwright.{match['module']}"), match["name"])
        # Inches where the line says so; everything else stands as it is.
        unit = METRES_IN if re.search(r", in \|", line) else 1.0
        within = 0.51 * step_of(match["value"])
        assert ours / unit == pytest.approx(float(match["value"]), abs=within), line


def test_the_weeks_that_the_page_names() -> None:
    house = house_from({"name": "Boston", "families": {"A": {}}, "windows": []}, KNOWLEDGE)
    found = season(house, KNOWLEDGE, place=gazetteer().find("Boston, MA")).values["changeover"]
    text = " ".join((PAGES / "season.md").read_text(encoding="utf-8").split())
    on = f"{found['storms_on_from']['date']} to {found['storms_on_by']['date']}"
    off = f"{found['screens_on_from']['date']} to {found['screens_on_by']['date']}"
    assert f"{on} and {off}" in text
