"""The commands ``keep`` and ``orders``: tables, data, a calendar file."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from sashwright.cli import exits


def test_years_and_what_to_do(run: Callable[..., Any], starter: Path) -> None:
    ended = run("keep", starter, "--on", "2026-11-25")
    assert ended.exit_code == exits.OK, ended.output
    assert "2026  Look over" in ended.stdout
    card = run("keep", starter, "--on", "2026-11-25", "--window", "101", "--working")
    assert "Paint outside" in card.stdout
    assert "likely life x sun x rain" in card.stdout


def test_a_calendar_file(run: Callable[..., Any], starter: Path, tmp_path: Path) -> None:
    file = tmp_path / "keep.ics"
    ended = run("keep", starter, "--on", "2026-11-25", "--ics", file, "--json")
    assert ended.exit_code == exits.OK, ended.output
    assert json.loads(ended.stdout)["chapter"] == "keep"
    events = Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    assert any(str(event["summary"]).startswith("Look over") for event in events)


def test_no_day(run: Callable[..., Any], starter: Path) -> None:
    ended = run("keep", starter, "--on", "tomorrow")
    assert ended.exit_code == exits.USAGE
    assert "2026-08-15" in ended.stderr


def test_what_to_order(run: Callable[..., Any], starter: Path, tmp_path: Path) -> None:
    text = starter.read_text(encoding="utf-8")
    decided = text.replace(
        'number = "101"\n', 'number = "101"\ndecision = { alternative = "shop" }\n', 1
    )
    assert decided != text
    starter.write_text(decided, encoding="utf-8")
    ended = run("orders", starter)
    assert ended.exit_code == exits.OK, ended.output
    assert "Paint and putty" in ended.stdout
    data = json.loads(run("orders", starter, "--json").stdout)
    (putty,) = [
        row for row in data["values"]["kinds"]["paint"]["lines"] if row["item"].startswith("putty/")
    ]
    assert putty["to_order"] == putty["need"] > 0
    shop = tmp_path / "shop.toml"
    shop.write_text('[supplies]\nputty = { linseed-oil-putty = "50 lb" }\n', encoding="utf-8")
    less = json.loads(run("orders", starter, "--shop", shop, "--json").stdout)
    (putty,) = [
        row for row in less["values"]["kinds"]["paint"]["lines"] if row["item"].startswith("putty/")
    ]
    assert putty["to_order"] == 0


@pytest.mark.parametrize("words", [("--shop", "nowhere.toml"), ("--window", "999")])
def test_what_is_not_there(run: Callable[..., Any], starter: Path, words: tuple[str, ...]) -> None:
    assert run("orders", starter, *words).exit_code != exits.OK
