"""The manual tells the truth: its examples are run, and no command or option is left out."""

from __future__ import annotations

import doctest
import re
import shlex
import tomllib
from calendar import month_abbr
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import click
import pytest

from sashwright.cli import exits
from sashwright.cli.main import cli
from sashwright.knowledge.load import load
from sashwright.window.check import house_from

MANUAL = Path(__file__).parents[2] / "docs" / "manual"
COMMANDS = (MANUAL / "command-line.md").read_text(encoding="utf-8")
HOUSE_FILE = (MANUAL / "house-file.md").read_text(encoding="utf-8")


def blocks(text: str, kind: str) -> list[str]:
    return re.findall(rf"^```{kind}\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)


def sessions() -> Iterator[tuple[list[str], str]]:
    """Each command of the console examples, with what the manual says it prints."""
    for block in blocks(COMMANDS, "console"):
        for example in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            command, _, said = example.partition("\n")
            program, *words = shlex.split(command)
            assert program == "sashwright"
            yield words, said


def without_figures(text: str) -> str:
    """The words of a text, its numbers made alike: a better figure does not make the manual wrong."""
    masked = re.sub(r"[0-9]+(?:[ /.'-]-?[0-9]+)*", "#", text)
    masked = re.sub(rf"# (?:{'|'.join(month_abbr[1:])})[a-z]*", "#", masked)
    masked = re.sub("# lb # oz|# lb|# oz", "#", masked)
    # Bars and lines are as long as their figures.
    return re.sub("─+", "─", re.sub(" [█▌]+", "", masked))


def test_the_console_examples_print_what_is_shown(
    run_in_record: Callable[..., list[Any]], tmp_path: Path
) -> None:
    (tmp_path / "shop.toml").write_text(blocks(COMMANDS, "toml")[0], encoding="utf-8")
    examples = list(sessions())
    assert len(examples) > 12
    matches = doctest.OutputChecker().check_output
    flags = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
    ended = run_in_record(*(words for words, _ in examples))
    for (words, said), each in zip(examples, ended, strict=True):
        assert each.code == exits.OK, words
        printed = each.out + each.err
        shown, wanted = without_figures(printed), without_figures(said)
        assert matches(wanted, shown, flags), f"{words}\n{printed}"


def test_the_shell_examples_are_commands() -> None:
    lines = [line for block in blocks(COMMANDS, "sh") for line in block.splitlines()]
    assert len(lines) >= 5
    for line in lines:
        plain = line.removeprefix('eval "$(').removesuffix(')"').partition(" > ")[0]
        program, name, *words = shlex.split(plain)
        assert program == "sashwright"
        cli.commands[name].make_context(name, words)


def test_the_problem_shown_is_the_problem_told(
    run: Callable[..., Any], starter: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    starter.write_text(starter.read_text().replace('width = "30"', 'width = "3 2 4"'))
    monkeypatch.chdir(starter.parent)
    (shown,) = blocks(COMMANDS, "text")
    assert run("check", starter.name).stdout == shown


@pytest.mark.parametrize("name", sorted(cli.commands))
def test_every_command_and_option_is_in_the_manual(name: str) -> None:
    headings = " ".join(re.findall(r"^#+ (.*)$", COMMANDS, re.MULTILINE))
    assert name == "new" or name in headings.split()
    assert f"sashwright {name}" in COMMANDS
    for param in cli.commands[name].params:
        if isinstance(param, click.Option) and "--help" not in param.opts:
            assert any(f"`{opt}" in COMMANDS or f" {opt}" in COMMANDS for opt in param.opts), param


def test_the_table_of_exit_codes() -> None:
    table = COMMANDS.split("| code | means |")[1]
    codes = {int(code) for code in re.findall(r"^\| (\d+) \|", table, re.MULTILINE)}
    assert codes == {exits.OK, exits.FOUND, exits.USAGE, exits.INTERRUPTED}


# --- the house file ---------------------------------------------------------------


def laid_over(whole: dict[str, Any], part: dict[str, Any]) -> dict[str, Any]:
    """A document with another over it: tables joined, everything else replaced."""
    joined = dict(whole)
    for key, value in part.items():
        both = isinstance(value, dict) and isinstance(joined.get(key), dict)
        joined[key] = laid_over(joined[key], value) if both else value
    return joined


def test_the_pieces_of_the_house_file_fit_together() -> None:
    document: dict[str, Any] = {}
    windows: list[Any] = []
    walls: dict[str, Any] = {}
    for block in blocks(HOUSE_FILE, "toml"):
        piece = tomllib.loads(block)
        windows += piece.pop("windows", [])
        walls |= piece.pop("walls", {})
        document = laid_over(document, piece)
        # Each piece is good by itself as well, once a house is round it.
        house_from({"name": "A", **document, "walls": walls, "windows": []}, load())
    # The windows stand on the walls that a house has without more words.
    house = house_from({**document, "windows": windows}, load())
    assert [window.number for window in house.windows] == ["104", "105", "109", "106", "110", "107"]
    assert house.windows[3].measured.lower.state == "before painting"


def test_the_ways_to_write_are_read() -> None:
    from sashwright.units import UnitsError, parse_length, parse_mass

    writing = HOUSE_FILE.split("## How to write")[1].split("## ")[0]
    lengths = re.search(r"^- Lengths: (.*?)\. A bare", writing, re.MULTILINE | re.DOTALL)
    masses = re.search(r"^- Masses: (.*?)\.$", writing, re.MULTILINE | re.DOTALL)
    assert lengths is not None
    assert masses is not None
    for text, read in ((lengths[1], parse_length), (masses[1], parse_mass)):
        examples = re.findall(r"`(\".*?\")`", text)
        assert len(examples) >= 3
        for example in examples:
            assert read(tomllib.loads(f"it = {example}")["it"]) > 0
    with pytest.raises(UnitsError, match="two ways"):
        parse_length("13/8")
