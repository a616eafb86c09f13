"""``draw`` and ``papers``: what commands make."""

from __future__ import annotations

import io
import xml.etree.ElementTree as ET
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from click.testing import Result

from sashwright.cli import exits, paper
from sashwright.cli.drawings import VIEWS

Run = Callable[..., Result]


def svg_of(text: str) -> ET.Element:
    root = ET.fromstring(text)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    return root


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("number", ["101", "105", "109", "301"])
def test_every_view_of_windows_of_every_kind(
    view: str, number: str, run: Run, demo: Path, tmp_path: Path
) -> None:
    target = tmp_path / "window.svg"
    ended = run("draw", demo, "--window", number, "--view", view, "-o", target)
    assert (ended.exit_code, ended.stdout) == (exits.OK, "")
    assert ended.stderr == f"Wrote {target}\n"
    svg_of(target.read_text(encoding="utf-8"))


def test_a_drawing_on_stdout_at_another_scale(run: Run, demo: Path) -> None:
    def width(scale: str) -> float:
        text = run("draw", demo, "--window", "104", "--scale", scale).stdout
        return float((svg_of(text).get("width") or "").removesuffix("mm"))

    assert width("1:4") > 1.5 * width("1:8")


def test_a_drawing_in_metric_units(run: Run, demo: Path) -> None:
    us = run("draw", demo, "--window", "104").stdout
    metric = run("draw", demo, "--window", "104", "--units", "metric").stdout
    assert us != metric


@pytest.mark.parametrize("scale", ["8", "2:1", "1:0", "1:-4", "1:x"])
def test_a_scale_that_is_none(scale: str, run: Run, demo: Path) -> None:
    ended = run("draw", demo, "--window", "104", "--scale", scale)
    assert ended.exit_code == exits.USAGE
    assert "expected a scale such as 1:8" in ended.stderr


def pages(path: Path) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(path.read_bytes())).pages)


def test_the_packet(run: Run, demo: Path, tmp_path: Path) -> None:
    target = tmp_path / "packet.pdf"
    ended = run("papers", demo, "-o", target, "--window", "101", "--window", "106")
    assert (ended.exit_code, ended.stdout) == (exits.OK, "")
    assert ended.stderr == f"Wrote {target}\n"
    found = pages(target)
    assert "Quill House" in found[0].extract_text()
    assert float(found[0].mediabox.width) == pytest.approx(612, abs=1)


def test_one_part_of_the_packet_on_other_paper(run: Run, demo: Path, tmp_path: Path) -> None:
    whole, part = tmp_path / "whole.pdf", tmp_path / "part.pdf"
    chosen = ("--window", "101")
    assert run("papers", demo, "-o", whole, *chosen).exit_code == exits.OK
    ended = run("papers", demo, "-o", part, *chosen, "--only", "weights", "--units", "metric")
    assert ended.exit_code == exits.OK
    assert len(pages(part)) < len(pages(whole))
    assert float(pages(part)[0].mediabox.width) == pytest.approx(595, abs=1)


def test_papers_that_cannot_be_written(run: Run, demo: Path, tmp_path: Path) -> None:
    ended = run("papers", demo, "-o", tmp_path / "no" / "a.pdf", "--only", "weights")
    assert ended.exit_code == exits.FOUND
    assert "found no way to write it" in ended.stderr


def test_a_bar_only_where_a_person_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    with paper.progress("Printing") as step:
        assert step is None
    screen = io.StringIO()
    monkeypatch.setattr(screen, "isatty", lambda: True)
    monkeypatch.setattr("sys.stderr", screen)
    with paper.progress("Printing") as step:
        assert step is not None
        step(1, 3)
    assert "Printing" in screen.getvalue()
