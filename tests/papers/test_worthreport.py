"""The report keep or replace, read back from the PDF."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from sashwright.chapters.answer import Answer
from sashwright.chapters.worth import chapter
from sashwright.knowledge.tables import Knowledge
from sashwright.papers import worthwords
from sashwright.papers.worthreport import NO_WEATHER
from sashwright.record.outdoors import Outdoors, named
from sashwright.window.check import house_from
from sashwright.window.spec import House
from tests.papers.printing import Print, Printed, squeezed
from tests.worthhouse import bare_document, bare_house, weighed

FEW = 40


@pytest.fixture(scope="module")
def outdoors() -> Outdoors:
    return named("Boston")


@pytest.fixture(autouse=True)
def _known(monkeypatch: pytest.MonkeyPatch) -> None:
    """The chapter's own answers of the same house, each worked out once."""

    def worth(*_: Any, draws: int, repair_due: bool = False, **__: Any) -> Answer:
        return weighed(FEW if draws else 0, due=repair_due)

    monkeypatch.setattr(chapter, "worth", worth)


@pytest.fixture(scope="module")
def report(printed: Print, outdoors: Outdoors) -> Any:
    @cache
    def print_it(paper: str = "letter", system: Any = "us") -> Printed:
        return printed(
            bare_house(), include=["worth"], outdoors=outdoors, paper=paper, system=system
        )

    return print_it


def test_the_owner_reads_the_answer_first(report: Any) -> None:
    pages = [squeezed(page) for page in report().pages]
    values = weighed(FEW).values
    assert squeezed(weighed(FEW).findings[0].says) in pages[0]
    assert squeezed(weighed(0, due=True).findings[0].says) in pages[0]
    for change in worthwords.changes(values, "us"):
        assert squeezed(change.says) in pages[0]
    owner = "".join(pages[:3])
    for row in worthwords.ways(values, "us"):
        assert squeezed("".join(row.cells[1:])) in owner
    for study in worthwords.studies(values):
        assert squeezed(f"{study.found}{study.ours}{study.lies}") in owner
    for left in worthwords.LEFT_OUT:
        assert squeezed(left) in owner
    assert squeezed(worthwords.SCREENING) in owner


@pytest.mark.parametrize(("paper", "system"), [("letter", "us"), ("a4", "metric")])
def test_it_is_three_pages_and_an_appendix(report: Any, paper: str, system: Any) -> None:
    found = report(paper, system)
    heads = [at for at, page in enumerate(found.pages) if "How it was worked out" in page]
    assert heads == [3]
    assert 5 <= found.count <= 6


def test_the_appendix_has_inputs_sources_and_working(report: Any, knowledge: Knowledge) -> None:
    text = squeezed("".join(report().pages[3:]))
    for key in ("replace-pvc", "storm-wood", "paint"):
        row = knowledge.measure[key]
        assert squeezed(f"{row.cost_low:,.0f} to {row.cost_high:,.0f}") in text
        assert squeezed(f"{row.source} ({row.status})") in text
    for step in weighed(FEW).working:
        assert squeezed(step.formula) in text
    assert squeezed("W/(m² K)") in text
    assert "ISO52016-1" in text
    assert "NISTHandbook135" in text
    assert "_" not in text


def test_metric_readers_get_kilograms(report: Any) -> None:
    row = next(worthwords.ways(weighed(FEW).values, "metric"))
    assert row.landfill.endswith(" kg")
    assert squeezed(row.landfill) in squeezed(report("a4", "metric").pages[0])
    assert " lb" not in report("a4", "metric").text


def test_without_weather_or_windows_it_says_so(
    printed: Print, knowledge: Knowledge, outdoors: Outdoors
) -> None:
    assert squeezed(NO_WEATHER) in squeezed(printed(bare_house(), include=["worth"]).text)
    empty: House = house_from(bare_document(windows=[]), knowledge)
    assert "No windows" in printed(empty, include=["worth"], outdoors=outdoors).text


def test_it_is_of_the_whole_house(report: Any, printed: Print, outdoors: Outdoors) -> None:
    one = printed(bare_house(), include=["worth"], outdoors=outdoors, numbers=["1"])
    assert one.text == report().text


# --- words ----------------------------------------------------------------------------


def test_ranges_across_nothing_name_both_sides() -> None:
    values = dict(weighed(FEW).values)
    row = dict(values["alternatives"][1])
    row["ranges"] = {**row["ranges"], "net_savings": {"low": -900.0, "middle": 0.0, "high": 400.0}}
    values["alternatives"] = [values["alternatives"][0], row]
    *_, shown = worthwords.ways(values, "us")
    assert shown.beside_range == "$400 less to $900 more"


def test_an_input_that_turns_the_answer_is_told() -> None:
    values = dict(weighed(FEW).values)
    first = {**values["inputs"][0], "margin_at_low": -500.0, "margin_at_high": 2000.0}
    values["inputs"] = [first]
    (change,) = worthwords.changes(values, "us")
    assert change.turns
    assert "$500 less" in change.says
    assert "$2,000 more" in change.says


@pytest.mark.parametrize(
    ("kg", "system", "said"),
    [
        (0.1, "us", "–"),
        (45.06, "us", "99 lb"),
        (45.06, "metric", "45 kg"),
        (2751.9, "us", "6,100 lb"),
    ],
)
def test_masses_are_said_to_two_figures(kg: float, system: Any, said: str) -> None:
    assert worthwords.mass(kg, system) == said
