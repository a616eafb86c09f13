"""Warmth sheets, read back from the PDF: one page for windows alike, with the chapter's own figures."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.chapters.heat import heat
from sashwright.chapters.heat.say import loss_words, u_number
from sashwright.knowledge.tables import Knowledge
from sashwright.papers import heatwords
from sashwright.papers.figures import Pictures
from sashwright.papers.job import take
from sashwright.papers.packet import packet
from sashwright.papers.warmsheet import heat_rows, warm_sheets
from sashwright.record.outdoors import Outdoors, named
from sashwright.window.check import house_from
from sashwright.window.spec import House
from tests.papers.printing import DAY, Printed, document, squeezed

SYSTEMS: tuple[units.System, ...] = ("us", "metric")


@pytest.fixture(scope="module")
def outdoors() -> Outdoors:
    return named("Portland, Maine")


@pytest.fixture(scope="module")
def stormy(knowledge: Knowledge) -> House:
    """Storms on one family; one of its windows has shutters besides."""
    data = document()
    data["families"]["A"] |= {"storm": "winter"}
    data["windows"][2]["changes"] = {"covering": "shutters"}
    return house_from(data, knowledge)


@pytest.fixture(scope="module")
def answer(stormy: House, knowledge: Knowledge, outdoors: Outdoors) -> Answer:
    return heat(stormy, knowledge, year=outdoors.year, place=outdoors.place)


@pytest.fixture(scope="module")
def sheets(stormy: House, knowledge: Knowledge, outdoors: Outdoors) -> Any:
    @cache
    def of(system: units.System) -> list[dict[str, Any]]:
        job = take(stormy, knowledge, system, None)
        return warm_sheets(job, Pictures(job, "letter"), outdoors)["sheets"]  # type: ignore[no-any-return]

    return of


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_one_page_for_windows_that_are_alike(
    stormy: House, knowledge: Knowledge, outdoors: Outdoors, paper: Any
) -> None:
    pdf = packet(stormy, knowledge, paper=paper, include=["heat"], today=DAY, outdoors=outdoors)
    printed = Printed(pdf)
    # Family A twice: 103 has shutters; family B.
    assert printed.count == 3
    for page, numbers in zip(printed.pages, ("101 and 102", "103", "201 and 202"), strict=True):
        assert numbers in page
        assert "Screening figures" in page
        assert "lead" in page


def test_the_sheet_says_what_the_chapter_does(sheets: Any, answer: Answer) -> None:
    for system in SYSTEMS:
        own, other = heatwords.way(system), heatwords.other_way(system)
        front = sheets(system)[0]["warm"]
        found = next(w for w in answer.windows if w.number == "101").values
        for line, row in zip(front["states"], found["alternatives"], strict=True):
            there, name, u, u_other, conducted, air = line[:6]
            assert name == row["name"]
            assert there == (row["key"] == found["as_found"])
            assert u == u_number(row[f"u_{own}_w_m2k"], heatwords.SYSTEM[own])
            assert u_other == u_number(row[f"u_{other}_w_m2k"], heatwords.SYSTEM[other])
            assert loss_words(row[f"loss_{own}_w_k"], system).startswith(f"{conducted} ")
            # Leakage has a column of its own, and is never hidden in U.
            assert loss_words(row["leak_w_k"], system).startswith(f"{air} ")


def test_what_is_drawn_over_it_is_told_where_it_hangs(sheets: Any) -> None:
    alike, shuttered, _ = sheets("us")
    assert alike["warm"]["covered"] == ""
    assert "shutters" in shuttered["warm"]["covered"]
    assert "U-factor" in shuttered["warm"]["covered"]
    assert "others of the family have other glass" in shuttered["where"]


def test_pictures_stand_on_the_sheet_with_words(sheets: Any) -> None:
    warm = sheets("metric")[0]["warm"]
    assert "Lines of equal warmth" in warm["section"]["alt"]
    assert "in the room 20 °C" in warm["section"]["alt"]
    assert "conducted" in warm["losses"]["alt"]
    assert "hours" in warm["wet"]["alt"]


def test_water_and_what_helps_are_the_chapters(sheets: Any, answer: Answer) -> None:
    year = answer.windows[0].values["condensation"]["year"]
    helps = sheets("us")[0]["warm"]["helps"]
    left = {row["does"].lower(): row["wet_hours"] for row in year["options"]}
    assert helps
    hours = []
    for does, leaves in helps:
        assert leaves == f"{left[does.lower()]:.0f} h"
        hours.append(int(leaves.split()[0]))
        assert "leave the storm off" not in does.lower()
    assert hours == sorted(hours)


def test_without_weather_the_sheet_has_no_year(stormy: House, knowledge: Knowledge) -> None:
    pdf = packet(stormy, knowledge, include=["heat"], numbers=["101"], today=DAY)
    printed = Printed(pdf)
    assert printed.count == 1
    assert "Hours wet or frosted" not in printed.text
    assert "0°Foutdoors,68°Fintheroom" in squeezed(printed.text)


def test_sizes_that_contradict_each_other_have_their_page(knowledge: Knowledge) -> None:
    data = document()
    data["windows"] = data["windows"][2:3]
    house = house_from(data, knowledge)
    broken = house.model_copy(
        update={"windows": (house.windows[0].model_copy(update={"meeting_height": 0.1}),)}
    )
    printed = Printed(packet(broken, knowledge, include=["heat"], today=DAY))
    assert printed.count == 1
    assert "fail" in printed.text
    assert "Lines of equal warmth" not in printed.text


def test_no_window_no_sheet(stormy: House, knowledge: Knowledge) -> None:
    empty = stormy.model_copy(update={"windows": ()})
    job = take(empty, knowledge, "us", None)
    assert warm_sheets(job, Pictures(job, "letter"), None)["sheets"] == []


def test_the_performance_sheet_has_rows_of_heat(
    stormy: House, knowledge: Knowledge, outdoors: Outdoors, answer: Answer
) -> None:
    job = take(stormy, knowledge, "us", ["101"])
    rows = heat_rows(job, outdoors)(job.windows[0])
    assert rows is not None
    assert "as it hangs" in rows["rows"][1][0]
    found = answer.windows[0].values["alternatives"][1]
    assert rows["rows"][1][1] == u_number(found["u_na_w_m2k"], "us")
    assert all(len(row) == len(rows["columns"]) for row in rows["rows"])
    assert "no part of it" in rows["note"]
