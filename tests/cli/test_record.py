"""``import``, ``export``, ``houses``, ``demo``, ``serve``: each against a record of its own."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from sashwright.cli import exits, serving
from sashwright.cli.exits import Failure
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house

RunInRecord = Callable[..., list[Any]]


def test_a_house_goes_in_and_comes_out_the_same(
    run_in_record: RunInRecord, demo: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.toml"
    empty, imported, data, words, exported, printed = run_in_record(
        ("houses",),
        ("import", demo),
        ("houses", "--json"),
        ("houses",),
        ("export", "quill house", "-o", copy),
        ("export", "quill-house"),
    )
    assert "holds no house yet" in empty.out
    assert imported.out == "Quill House is in the record as quill-house.\n"
    (row,) = json.loads(data.out)
    assert (row["slug"], row["windows"], row["families"]) == ("quill-house", 24, 4)
    assert "14 Tannery Lane" in words.out
    assert (exported.code, exported.out, exported.err) == (0, "", f"Wrote {copy}\n")
    assert read_house(copy, load()) == read_house(demo, load())
    assert printed.out == copy.read_text(encoding="utf-8")


def test_a_house_takes_the_place_of_another(
    run_in_record: RunInRecord, starter: Path, tmp_path: Path
) -> None:
    changed = tmp_path / "changed.toml"
    changed.write_text(starter.read_text().replace("front room", "study"))
    _, replaced, data, printed, strange = run_in_record(
        ("import", starter),
        ("import", changed, "--replace", "my-house"),
        ("houses", "--json"),
        ("export", "my-house"),
        ("import", changed, "--replace", "my-hose"),
    )
    assert replaced.code == exits.OK
    assert len(json.loads(data.out)) == 1
    assert 'room = "study"' in printed.out
    assert strange.code == exits.USAGE
    assert "did you mean my-house?" in strange.err


def test_a_file_with_anything_wrong_changes_nothing(
    run_in_record: RunInRecord, starter: Path
) -> None:
    starter.write_text(starter.read_text().replace('"62"', '"6 2"'))
    refused, data = run_in_record(("import", starter), ("houses", "--json"))
    assert (refused.code, refused.out) == (exits.FOUND, "")
    assert "windows[0].height (window 101)" in refused.err
    assert json.loads(data.out) == []


def test_what_is_not_there_or_in_the_way(run_in_record: RunInRecord, starter: Path) -> None:
    before = starter.read_text()
    missing, _, _, several, kept = run_in_record(
        ("export", "my-house"),
        ("import", starter),
        ("import", starter),
        ("export", "My house"),
        ("export", "my-house", "-o", starter),
    )
    assert missing.code == exits.USAGE
    assert "The record holds no house my-house" in missing.err
    assert "Several houses are called My house: my-house-2, my-house" in several.err
    assert kept.code == exits.USAGE
    assert starter.read_text() == before
    (forced,) = run_in_record(("export", "my-house", "-o", starter, "--force"))
    assert forced.code == exits.OK
    assert starter.read_text() != before


def test_a_folder_that_cannot_be_used(run_in_record: RunInRecord, tmp_path: Path) -> None:
    blocked = tmp_path / "blocked"
    blocked.write_text("a file, not a folder")
    (ended,) = run_in_record(("houses", "--home", blocked))
    assert ended.code == exits.FOUND
    assert "cannot be used" in ended.err


# --- serving ----------------------------------------------------------------------


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind((serving.ADDRESS, 0))
        return int(probe.getsockname()[1])


@contextmanager
def served(command: str, home: Path, *words: str) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The running server and the address it prints."""
    process = subprocess.Popen(
        [sys.executable, "-m", "sashwright.cli.main", command, "--no-browser", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "SASHWRIGHT_HOME": str(home)},
    )
    try:
        assert process.stdout is not None
        line = process.stdout.readline()
        assert line.startswith("Sashwright is open at http://127.0.0.1:"), process.communicate()
        yield process, line.split()[4]
    finally:
        process.kill()
        process.communicate()


def page(address: str) -> str:
    with urllib.request.urlopen(address, timeout=30) as answer:
        return str(answer.read().decode())


@pytest.mark.skipif(os.name != "posix", reason="sends the signal of Ctrl-C")
def test_demo_opens_on_the_demo_house_and_stops_on_ctrl_c(tmp_path: Path) -> None:
    with served("demo", tmp_path) as (process, address):
        assert address.endswith("/quill-house/")
        assert "Quill House" in page(address)
        process.send_signal(signal.SIGINT)
        _, words = process.communicate(timeout=30)
        assert process.returncode == exits.INTERRUPTED
        assert words.endswith("Stopped.\n")
        assert "Traceback" not in words
    with served("demo", tmp_path) as (_, again):
        # It is not brought in twice.
        assert again.endswith("/quill-house/")


def test_serve_on_the_port_asked_for(tmp_path: Path) -> None:
    port = free_port()
    with served("serve", tmp_path, "--port", str(port)) as (_, address):
        assert address == f"http://127.0.0.1:{port}/"
        assert "<html" in page(address)


def test_the_next_free_port_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    first = free_port()
    monkeypatch.setattr(serving, "FIRST_PORT", first)
    one, two = (serving.open_server(None, None) for _ in range(2))
    try:
        assert one.socket.getsockname() == (serving.ADDRESS, first)
        assert first < two.socket.getsockname()[1] < first + serving.PORTS_TRIED
        with pytest.raises(Failure, match="is taken or not allowed"):
            serving.open_server(first, None)
    finally:
        one.stop()
        two.stop()


def test_no_browser_takes_over_a_bare_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    assert not serving.has_browser()
    monkeypatch.setenv("DISPLAY", ":0")
    assert serving.has_browser()
