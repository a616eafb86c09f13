"""The worked examples of docs/methods are redone from what the pages say, and compared with the program.

A page has one house file in a ``toml`` block. A row of a table with a sum in its second cell, a result in its
third and a place in its fourth is checked twice: the sum gives the result, and so does the program. The place
is a chapter and the path of a value in its answer; where it is a dash only the sum is checked. A row whose
last cell names a constant of the program is checked against that constant.
"""

from __future__ import annotations

import ast
import importlib
import math
import operator
import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from sashwright.chapters.hang import hang
from sashwright.chapters.parts import parts
from sashwright.knowledge.load import load
from sashwright.window.check import house_from

PAGES = Path(__file__).parents[1] / "docs" / "methods"
KNOWLEDGE = load()
CHAPTERS = {"parts": parts, "hang": hang}

NUMBER = r"-?[0-9]+(?:\.[0-9]+)?"
SUM = re.compile(rf"^\| (?P<what>[^|]+) \| `(?P<sum>[^`]+)` \| (?P<result>{NUMBER})(?P<unit>[^|]*) \| "
                 r"(?:`(?P<chapter>\w+) (?P<path>[\w.-]+)`|–) \|$")  # fmt: skip
CONSTANT = re.compile(
    rf"^\| [^|]+ \| (?P<value>{NUMBER})(?P<unit>[^|]*) \| [^|]+ \| `(?P<module>[\w.]+):(?P<name>\w+)` \|$"
)
UNITS = {
    "kg": 1.0,
    "N": 1.0,
    "mm": 1e-3,
    "m": 1.0,
    "in": 0.0254,
    "%": 0.01,
    "": 1.0,
    "points": 0.01,
}

OPERATORS: dict[type[ast.AST], Callable[..., float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
    ast.USub: operator.neg,
}
FUNCTIONS: dict[str, Callable[[float], float]] = {
    "sqrt": math.sqrt,
    "tan": lambda degrees: math.tan(math.radians(degrees)),
}


def worked_out(text: str) -> float:
    """The value of a sum as the page writes it; angles in degrees."""

    def value(node: ast.AST) -> float:
        match node:
            case ast.Constant(value=int() | float() as number):
                return float(number)
            case ast.Name(id="pi"):
                return math.pi
            case ast.BinOp(left, op, right):
                return OPERATORS[type(op)](value(left), value(right))
            case ast.UnaryOp(op, operand):
                return OPERATORS[type(op)](value(operand))
            case ast.Call(ast.Name(id=name), [argument]):
                return FUNCTIONS[name](value(argument))
        raise ValueError(f"found {ast.dump(node)} in {text!r}, expected a sum of numbers")

    return value(ast.parse(text.replace("×", "*").replace("²", "**2"), mode="eval").body)


@dataclass(frozen=True)
class Row:
    """A line of a worked example."""

    what: str
    sum: str
    result: float
    step: float
    """One unit of the last digit shown."""
    chapter: str | None
    path: str | None


def lines_of(page: str, header: Callable[[list[str]], bool]) -> Iterator[str]:
    """The lines of all tables of a page whose header is so."""
    wanted = inside = False
    for line in (PAGES / page).read_text(encoding="utf-8").splitlines():
        if not line.startswith("|"):
            inside = False
        elif not inside:
            inside = True
            wanted = header([cell.strip() for cell in line.strip("|").split("|")])
        elif wanted and not line.startswith("|---"):
            yield line


def step_of(number: str) -> float:
    """One unit of the last digit shown."""
    return 10.0 ** -len(number.partition(".")[2])


def rows(page: str) -> Iterator[Row]:
    for line in lines_of(page, lambda cells: cells[:2] == ["step", "by hand"]):
        match = SUM.match(line)
        assert match is not None, f"cannot be read: {line}"
        yield Row(
            match["what"].strip(),
            match["sum"],
            float(match["result"]),
            step_of(match["result"]),
            match["chapter"],
            match["path"],
        )


def example(page: str) -> dict[str, Any]:
    """Both chapters' values for the page's house."""
    text = (PAGES / page).read_text(encoding="utf-8")
    (block,) = re.findall(r"```toml\n(.*?)```", text, flags=re.DOTALL)
    house = house_from(tomllib.loads(block), KNOWLEDGE)
    return {name: chapter(house, KNOWLEDGE).windows[0].values for name, chapter in CHAPTERS.items()}


def at(values: Any, path: str) -> Any:
    for name in path.split("."):
        values = values[int(name) if name.isdigit() else name]
    return values


@pytest.mark.parametrize(("page", "least"), [("parts.md", 20), ("hang.md", 20)])
def test_worked_example(page: str, least: int) -> None:
    answers = example(page)
    found = list(rows(page))
    assert len(found) >= least
    assert sum(row.path is not None for row in found) >= least / 2
    for row in found:
        by_hand = worked_out(row.sum)
        assert by_hand == pytest.approx(row.result, abs=0.51 * row.step), row.what
        if row.chapter is None or row.path is None:
            continue
        ours = at(answers[row.chapter], row.path)
        # Sums are of rounded figures: they may be out by one in the last digit.
        assert ours == pytest.approx(row.result, abs=1.01 * row.step), row.what


@pytest.mark.parametrize(
    ("page", "least"),
    [
        ("parts.md", 7),
        ("hang.md", 7),
        ("grade.md", 17),
        ("heat.md", 3),
        ("comfort.md", 2),
        ("make.md", 12),
        ("tradition.md", 15),
        ("house-heat.md", 11),
        ("treat.md", 3),
        ("price.md", 4),
        ("worth.md", 10),
        ("airflow.md", 6),
        ("breathe.md", 6),
        ("stages.md", 2),
        ("keep.md", 7),
    ],
)
def test_constants(page: str, least: int) -> None:
    found = list(lines_of(page, lambda cells: cells[-1] == "in the program"))
    assert len(found) >= least
    for line in found:
        match = CONSTANT.match(line)
        assert match is not None, f"cannot be read: {line}"
        unit = UNITS[match["unit"].strip()]
        ours = getattr(importlib.import_module(f"sashwright.{match['module']}"), match["name"])
        within = 0.51 * step_of(match["value"])
        assert ours / unit == pytest.approx(float(match["value"]), abs=within), line


def test_sums_are_really_worked_out() -> None:
    assert worked_out("2 × (1.5 + 0.25)² / 7") == pytest.approx(0.875)
    assert worked_out("tan(45) + sqrt(4) - pi") == pytest.approx(3 - math.pi)
    with pytest.raises(ValueError, match="expected a sum of numbers"):
        worked_out("__import__('os').getcwd()")
