"""``hang``, ``parts``, ``knowledge``: answers in words and as data."""

from __future__ import annotations

import dataclasses
import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from sashwright.chapters.hang import hang
from sashwright.chapters.parts import parts
from sashwright.cli import exits
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house

Run = Callable[..., Result]


@pytest.mark.parametrize("chapter", [hang, parts])
def test_data_is_exactly_the_answer(chapter: Callable[..., object], run: Run, demo: Path) -> None:
    knowledge = load()
    house = read_house(demo, knowledge)
    name = chapter.__name__
    whole = chapter(house, knowledge).to_dict()  # type: ignore[attr-defined]
    assert json.loads(run(name, demo, "--json").stdout) == whole
    some = chapter(house, knowledge, ["104", "106"]).to_dict()  # type: ignore[attr-defined]
    ended = run(name, demo, "--json", "--window", "104", "--window", "106")
    assert json.loads(ended.stdout) == some
    assert ended.stderr == ""


def test_the_house_in_a_table(run: Run, demo: Path) -> None:
    ended = run("hang", demo)
    assert ended.exit_code == exits.FOUND
    text = ended.stdout
    numbers = [window.number for window in read_house(demo, load()).windows]
    assert re.findall(r"^(\d{3})  ", text, re.MULTILINE) == [n for n in numbers for _ in range(2)]
    assert "lead, round" in text
    assert "steel flat-link chain" in text.lower()
    assert re.search(r"^fail     No allowed weight", text, re.MULTILINE)
    # Notes are many, and stand with their windows.
    assert not re.search(r"^note ", text, re.MULTILINE)


def test_a_window_on_its_card(run: Run, demo: Path) -> None:
    text = run("hang", demo, "--window", "102").stdout
    assert "Window 102, parlor, south wall, storey 1" in text
    assert "Window 101" not in text
    for label in ("sash weighs", "weight, each", "longest that fits", "cord, each", "hand force"):
        assert label in text
    assert re.search(r"known by +its sizes +the scale", text)
    assert "caution  The scale and the sizes disagree on the lower sash" in text
    assert "Working" not in text


def test_levels_come_gravest_first(run: Run, demo: Path) -> None:
    text = run("hang", demo, "--window", "303").stdout
    levels = re.findall(r"^(fail|caution|note|ok) ", text, re.MULTILINE)
    order = ["fail", "caution", "note", "ok"]
    assert levels == sorted(levels, key=order.index)
    assert levels[0] == "fail"


def test_a_fixed_sash_is_called_fixed(run: Run, demo: Path) -> None:
    assert re.search(r"sash weighs +fixed", run("hang", demo, "--window", "301").stdout)


def test_working_unfolds_the_steps(run: Run, demo: Path) -> None:
    text = run("hang", demo, "--window", "101", "--working").stdout
    assert "Working" in text
    assert "wood + glass + putty + hardware + paint" in text
    assert "source: " in text
    whole = run("hang", demo, "--working").stdout
    assert whole.count(", working") == 24


@pytest.mark.parametrize("command", ["hang", "parts"])
def test_units_of_either_kind(command: str, run: Run, demo: Path) -> None:
    us = run(command, demo, "--window", "104", "--units", "us").stdout
    metric = run(command, demo, "--window", "104", "--units", "metric").stdout
    assert us == run(command, demo, "--window", "104").stdout
    assert us != metric
    assert not re.search(r"\blbf?\b", metric)


def test_parts_lists_wood_and_glass(run: Run, demo: Path) -> None:
    ended = run("parts", demo, "--window", "109")
    assert ended.exit_code == exits.OK
    text = ended.stdout
    assert "Window 109, sizes in inches" in text
    assert "Wood: Eastern white pine" in text
    for part in ("stile", "top rail", "meeting rail", "bottom rail"):
        assert part in run("parts", demo, "--window", "104").stdout
    assert "arched, edges" in text


def test_tables_fit_a_small_terminal(run: Run, demo: Path) -> None:
    for words in (("hang", demo), ("hang", demo, "--window", "103"), ("parts", demo)):
        text = run(*words, env={"COLUMNS": "80"}).stdout
        assert max(map(len, text.splitlines())) <= 80
        # No letter of a column stands alone below its word.
        assert not re.search(r"^Windo$", text, re.MULTILINE)


@pytest.mark.parametrize("env", [{}, {"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_no_colour_codes_outside_a_terminal(env: dict[str, str], run: Run, demo: Path) -> None:
    assert "\x1b" not in run("hang", demo, env=env).output


def test_text_of_the_house_is_shown_as_it_is(run: Run, starter: Path) -> None:
    starter.write_text(starter.read_text().replace("front room", "[bold]front[/x] :smile: room"))
    assert "[bold]front[/x] :smile: room" in run("hang", starter, "--window", "101").stdout


def test_an_unknown_window_is_answered_with_near_ones(run: Run, demo: Path) -> None:
    ended = run("hang", demo, "--window", "1O4")
    assert ended.exit_code == exits.USAGE
    assert "Quill House has no window 1O4; it has" in ended.stderr
    assert "104" in ended.stderr


def test_words_go_to_stderr_beside_data(run: Run, starter: Path) -> None:
    starter.write_text("name = 3")
    ended = run("hang", starter, "--json")
    assert (ended.exit_code, ended.stdout) == (exits.FOUND, "")
    assert ended.stderr.endswith("1 thing to correct.\n")


# --- the tables -------------------------------------------------------------------


def test_knowledge_lists_tables_and_rows(run: Run) -> None:
    tables = {field.name for field in dataclasses.fields(load())}
    assert tables <= set(run("knowledge").stdout.split())
    text = run("knowledge", "glass").stdout
    assert "double-strength: Double strength, 1/8 in" in text
    assert "thickness 3.16 mm" in text
    assert "published: ASTM C1036" in text


def test_knowledge_as_data(run: Run) -> None:
    rows = json.loads(run("knowledge", "glass", "--json").stdout)["glass"]
    row = next(row for row in rows if row["key"] == "double-strength")
    assert row["thickness_m"] == pytest.approx(0.00316)
    assert row["mass_per_area_kg_m2"] == pytest.approx(7.9)
    assert all(row["source"] and row["status"] for row in rows)
    everything = json.loads(run("knowledge", "--json").stdout)
    assert set(everything) == {field.name for field in dataclasses.fields(load())}


def test_an_unknown_table(run: Run) -> None:
    ended = run("knowledge", "glas")
    assert ended.exit_code == exits.USAGE
    assert "There is no table glas; the tables are wood, glass" in ended.stderr
