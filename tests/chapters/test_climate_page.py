"""The page docs/methods/climate.md says what the program does."""

from __future__ import annotations

import importlib
import tomllib
from pathlib import Path

import pytest

from sashwright.knowledge.climate_load import gazetteer
from tests.test_methods_docs import CONSTANT, PAGES, lines_of, step_of


def test_constants() -> None:
    found = list(lines_of("climate.md", lambda cells: cells[-1] == "in the program"))
    assert len(found) >= 18
    for line in found:
        match = CONSTANT.match(line)
        assert match is not None, f"cannot be read: {line}"
        ours = getattr(importlib.import_module(f"sashwright.{match['module']}"), match["name"])
        within = 0.51 * step_of(match["value"])
        assert ours == pytest.approx(float(match["value"]), abs=within), line


def test_the_example_of_a_place_is_understood(tmp_path: Path) -> None:
    text = (PAGES / "climate.md").read_text(encoding="utf-8")
    block = text.split("```toml\n")[1].split("```")[0]
    file = tmp_path / "places.toml"
    file.write_text(block, encoding="utf-8")
    place = gazetteer(file).find("The shop's yard, ME")
    assert place.elevation == tomllib.loads(block)["place"]["yard"]["elevation_m"]


def test_the_page_counts_the_places() -> None:
    countries = [spot.country for spot in gazetteer().spots.values()]
    text = (PAGES / "climate.md").read_text(encoding="utf-8")
    assert f"| United States | {countries.count('US'):,} |" in text
    assert f"| Great Britain | {countries.count('GB')} |" in text
