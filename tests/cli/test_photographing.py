"""The command ``photographs``: brought in, listed, refused."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from sashwright.cli import exits
from tests.pictures import picture_file


def test_photographs_by_the_command_line(
    run_in_record: Callable[..., list[Any]], starter: Path, tmp_path: Path
) -> None:
    good, bad = tmp_path / "rail.jpg", tmp_path / "bad.jpg"
    good.write_bytes(picture_file(taken="2026:04:14 10:20:30", zone="-04:00"))
    bad.write_bytes(b"no picture")
    to = ("photographs", "my-house")
    _, none, added, listed, refused, missing, odd, strange = run_in_record(
        ("import", starter),
        to,
        (*to, "--window", "101", "--add", good, "--part", "lower.bottom_rail", "--json"),
        to,
        (*to, "--add", bad),
        (*to, "--add", tmp_path / "nowhere.jpg"),
        (*to, "--note", "damp"),
        (*to, "--window", "999", "--add", good),
    )
    assert none.out == "No photographs yet: --add FILE brings one in.\n"
    (row,) = json.loads(added.out)
    assert (row["window"], row["component"], row["width"]) == ("101", "lower.bottom_rail", 64)
    assert row["taken_at"] == "2026-04-14T14:20:30+00:00"
    assert row["key"][:12] in listed.out
    assert (refused.code, refused.err) == (
        exits.FOUND,
        "bad.jpg: found a file that is no picture, expected a photograph as JPEG, PNG or WebP\n",
    )
    assert missing.code == exits.FOUND
    assert odd.code == exits.USAGE
    assert "There is no window 999" in strange.err
