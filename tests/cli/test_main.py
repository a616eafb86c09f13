"""The door of the command line: help, speed, exit codes."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import click
import pytest
from click.testing import Result

from sashwright import __version__
from sashwright.cli import exits
from sashwright.cli.main import cli, main

HEAVY = {"numpy", "pydantic", "django", "rich", "typst", "cheroot", "sashwright.window.spec"}


@pytest.mark.parametrize(
    "words",
    [
        ["--version"],
        ["--help"],
        *([name, "--help"] for name in ("hang", "fit", "season", "climate")),
    ],
    ids=" ".join,
)
def test_help_loads_nothing_heavy(words: list[str]) -> None:
    probe = (
        "import json, sys; from sashwright.cli.main import main; "
        f"code = main({words!r}); print(json.dumps([code, sorted(sys.modules)]))"
    )
    ended = subprocess.run([sys.executable, "-c", probe], capture_output=True, check=True)
    code, modules = json.loads(ended.stdout.splitlines()[-1])
    assert code == exits.OK
    assert not HEAVY & set(modules)


def test_version(run: Callable[..., Result]) -> None:
    assert run("--version").stdout == f"sashwright {__version__}\n"


@pytest.mark.parametrize("name", sorted(cli.commands))
def test_every_command_explains_itself(name: str, run: Callable[..., Result]) -> None:
    command = cli.commands[name]
    text = run(name, "--help").stdout
    first, _, rest = (command.help or "").partition("\n")
    assert first.strip().endswith((".", ":"))
    assert "Example" in rest
    assert f"sashwright {name}" in text
    # As wide as a small terminal.
    assert max(map(len, text.splitlines())) <= 80
    options = [param for param in command.params if isinstance(param, click.Option)]
    assert all(option.help for option in options)


def test_exit_codes_of_the_whole_program(
    starter: Path, demo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_text('name = ""\n')
    ends = {
        ("check", str(starter)): exits.OK,
        ("hang", str(starter)): exits.OK,
        ("hang", str(demo)): exits.FOUND,
        ("hang", str(broken)): exits.FOUND,
        ("fit", str(demo)): exits.FOUND,
        ("fit", str(demo), "--window", "101"): exits.OK,
        ("fit", str(starter)): exits.FOUND,
        ("fit", str(starter), "--climate", "Portland, ME"): exits.OK,
        ("fit", str(starter), "--climate", "Nowhere at all"): exits.USAGE,
        ("seal", str(starter)): exits.OK,
        ("season", str(starter)): exits.OK,
        ("season", str(starter), "--weather", str(tmp_path / "none.epw")): exits.USAGE,
        ("season", str(starter), "--weather", str(broken)): exits.FOUND,
        ("climate", "Portland, ME"): exits.OK,
        ("climate", "Portland"): exits.USAGE,
        ("check", str(broken)): exits.FOUND,
        ("check", str(tmp_path / "none.toml")): exits.USAGE,
        ("hang", str(starter), "--window", "9"): exits.USAGE,
        ("hang", str(starter), "--units", "stone"): exits.USAGE,
        ("hang",): exits.USAGE,
        ("weigh",): exits.USAGE,
    }
    assert {words: main(words) for words in ends} == ends
    assert "Traceback" not in capsys.readouterr().err


def test_the_numbers_of_the_exit_codes() -> None:
    assert (exits.OK, exits.FOUND, exits.USAGE, exits.INTERRUPTED) == (0, 1, 2, 130)


def test_an_interrupted_command(
    starter: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("sashwright.cli.files.require_file", interrupt)
    assert main(["check", str(starter)]) == exits.INTERRUPTED
    assert capsys.readouterr().err.endswith("Stopped.\n")


def test_a_missing_file_is_named_with_the_nearest(
    run: Callable[..., Result], starter: Path
) -> None:
    ended = run("hang", starter.with_name("larkspr.toml"))
    assert ended.exit_code == exits.USAGE
    assert "did you mean larkspur.toml?" in ended.stderr


@pytest.mark.skipif(os.name != "posix", reason="another way to set the encoding")
def test_a_terminal_without_the_signs_still_gets_words(
    run_apart: Callable[..., subprocess.CompletedProcess[str]], starter: Path
) -> None:
    ended = run_apart("hang", starter, PYTHONUTF8="0", PYTHONIOENCODING="ascii:strict")
    assert ended.returncode == exits.OK
    assert "cast iron" in ended.stdout


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_scripts(shell: str, run: Callable[..., Result]) -> None:
    ended = run("completion", shell)
    assert ended.exit_code == exits.OK
    assert "_SASHWRIGHT_COMPLETE" in ended.stdout
    assert ended.stdout.startswith("# ")


def test_completion_finds_commands(
    run_apart: Callable[..., subprocess.CompletedProcess[str]],
) -> None:
    ended = run_apart(
        _SASHWRIGHT_COMPLETE="bash_complete", COMP_WORDS="sashwright hou", COMP_CWORD="1"
    )
    assert ended.stdout == "plain,houses\n"
