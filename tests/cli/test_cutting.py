"""The commands that take from the shop's stock."""

from __future__ import annotations

import json
import re
from importlib import resources
from pathlib import Path

import pytest

from sashwright.cli import exits
from sashwright.knowledge.load import load
from sashwright.record.shopfile import parse_shop
from sashwright.units import POUND
from tests.cli.conftest import Run


@pytest.fixture
def stock() -> Path:
    """The file of the demo shop."""
    return Path(str(resources.files("sashwright.record.demo") / "shop.toml"))


def test_what_was_decided_on_is_cut(run: Run, demo: Path, stock: Path, tmp_path: Path) -> None:
    ended = run("cut", demo, "--shop", stock, "--seconds", 1, "--svg", tmp_path / "svg")
    assert ended.exit_code == exits.OK
    assert "209 R-F-SI splice, sill" in ended.stdout
    assert "keep" in ended.stdout
    drawn = sorted(path.name for path in (tmp_path / "svg").iterdir())
    assert len(drawn) == 5
    assert drawn[0].startswith("board-B")


def test_the_answer_comes_as_data(run: Run, demo: Path, stock: Path) -> None:
    ended = run("cut", demo, "--shop", stock, "--scope", "storm", "--seconds", 0, "--json")
    answer = json.loads(ended.stdout)
    assert answer["chapter"] == "cut"
    assert answer["values"]["boards"]
    assert {"level", "on", "says", "because", "source"} == set(answer["findings"][0])


def test_the_bin_is_shown_for_some_windows(run: Run, demo: Path, stock: Path) -> None:
    ended = run("bin", demo, "--shop", stock, "--window", "104", "--working")
    assert ended.exit_code == exits.OK
    assert "104 lower" in ended.stdout
    assert "105 lower" not in ended.stdout
    assert "Left in the bin" in ended.stdout
    assert "set packing" in ended.stdout


def test_a_bad_stock_file_is_told_with_line_and_field(
    run: Run, demo: Path, stock: Path, tmp_path: Path
) -> None:
    bad = tmp_path / "stock.toml"
    bad.write_text(stock.read_text().replace("quarters = 8", "quarters = 9", 1))
    for name in ("cut", "bin"):
        ended = run(name, demo, "--shop", bad)
        assert ended.exit_code == exits.FOUND
        assert "quarters: found 9, expected 4, 5, 6" in ended.stderr
    ended = run("bin", demo, "--shop", tmp_path / "stok.toml")
    assert ended.exit_code == exits.USAGE
    assert "did you mean stock.toml" in ended.stderr


def test_the_schema_of_a_shop_is_printed(run: Run) -> None:
    schema = json.loads(run("schema", "--shop").stdout)
    assert "boards" in schema["properties"]
    assert "families" in json.loads(run("schema").stdout)["properties"]


def test_plans_are_printed(run: Run, demo: Path, stock: Path, tmp_path: Path) -> None:
    ended = run("papers", demo, "--only", "plans", "--shop", stock, "-o", tmp_path / "plans.pdf")
    assert ended.exit_code == exits.OK
    assert (tmp_path / "plans.pdf").read_bytes().startswith(b"%PDF")


def test_the_stock_file_of_the_manual_is_read() -> None:
    manual = Path(__file__).parents[2] / "docs" / "manual" / "shop-and-stock.md"
    (text,) = re.findall(r"^```toml\n(.*?)^```$", manual.read_text(), re.MULTILINE | re.DOTALL)
    shop = parse_shop(text.encode(), "stock.toml", load())
    assert shop.weights["31"].mass == pytest.approx(8.0625 * POUND)
    assert shop.boards["B7"].defects
