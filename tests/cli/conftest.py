"""How the tests of the command line run its commands."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from sashwright.cli.main import cli

Run = Callable[..., Result]
RunApart = Callable[..., "subprocess.CompletedProcess[str]"]
RunInRecord = Callable[..., "list[Ended]"]

TELLING = ("SASHWRIGHT_HOME", "SASHWRIGHT_KNOWLEDGE", "SASHWRIGHT_DATABASE_URL", "COLUMNS")
"""Variables of the tester's own terminal that would change what commands do."""


@pytest.fixture(autouse=True)
def plain_surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in TELLING:
        monkeypatch.delenv(name, raising=False)


@pytest.fixture
def run() -> Run:
    """Run a command in this process: ``run("check", path)``."""

    def run_command(*words: str | Path, env: Mapping[str, str] | None = None) -> Result:
        return CliRunner().invoke(cli, [str(word) for word in words], env=env)

    return run_command


@pytest.fixture
def run_apart(tmp_path: Path) -> RunApart:
    """Run a command as a person would: a process of its own, a record of its own."""

    def run_command(*words: str | Path, **env: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "sashwright.cli.main", *map(str, words)],
            capture_output=True,
            text=True,
            encoding="utf-8",
            cwd=tmp_path,
            env={**own_environment(tmp_path), **env},
            check=False,
        )

    return run_command


BATCH = """
import contextlib, io, json, sys
from sashwright.cli.main import main
ended = []
for words in json.loads(sys.argv[1]):
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", write_through=True) for _ in "oe")
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(words)
    ended.append([code, *(stream.buffer.getvalue().decode() for stream in (out, err))])
print(json.dumps(ended))
"""


@dataclass(frozen=True)
class Ended:
    """How a command ended, and what it said."""

    code: int
    out: str
    err: str


@pytest.fixture
def run_in_record(tmp_path: Path) -> RunInRecord:
    """Run commands one after another against a record of their own, in one new process."""

    def run_commands(*commands: Sequence[str | Path]) -> list[Ended]:
        words = json.dumps([[str(word) for word in command] for command in commands])
        ended = subprocess.run(
            [sys.executable, "-c", BATCH, words],
            stdout=subprocess.PIPE,
            encoding="utf-8",
            cwd=tmp_path,
            env=own_environment(tmp_path),
            check=True,
        )
        return [Ended(*each) for each in json.loads(ended.stdout)]

    return run_commands


def own_environment(folder: Path) -> dict[str, str]:
    """The tester's environment without their own settings, and with a record of its own."""
    kept = {name: value for name, value in os.environ.items() if name not in TELLING}
    return {**kept, "SASHWRIGHT_HOME": str(folder / "record"), "PYTHONUTF8": "1"}


@pytest.fixture
def demo() -> Path:
    """The file of the demo house."""
    return Path(str(resources.files("sashwright.record.demo") / "house.toml"))


@pytest.fixture
def starter(run: Run, tmp_path: Path) -> Path:
    """A fresh house file."""
    path = tmp_path / "larkspur.toml"
    assert run("new", path).exit_code == 0
    return path
