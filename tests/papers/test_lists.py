"""The workbook, read again and compared with the chapters' own answers."""

from __future__ import annotations

import datetime
import io
from decimal import Decimal
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from sashwright import units
from sashwright.chapters.hang import hang
from sashwright.chapters.keep import keep
from sashwright.chapters.make.chapter import make
from sashwright.chapters.make.orders import orders
from sashwright.chapters.price import price
from sashwright.chapters.treat import treat
from sashwright.knowledge.tables import Knowledge
from sashwright.papers.job import take
from sashwright.papers.lists import lists
from sashwright.papers.spreadsheet import plain
from sashwright.units import POUND
from sashwright.window.check import house_from
from sashwright.window.spec import House, Window
from tests.papers.demo import demo_house
from tests.papers.printing import DAY

SHEETS = [
    "Summary", "Schedule", "Condition", "Cutting list", "Glass", "Lumber", "Orders", "Weights and cords",
    "Price", "Options", "Maintenance",
]  # fmt: skip
FORMULA = '=HYPERLINK("http://example.invalid","look")'


def book(house: House, knowledge: Knowledge, system: units.System = "us") -> Any:
    data = lists(take(house, knowledge, system, None), DAY, "17")
    return load_workbook(io.BytesIO(data))


@pytest.fixture(scope="module", params=["us", "metric"])
def both(request: Any, knowledge: Knowledge) -> tuple[Any, units.System]:
    return book(demo_house(), knowledge, request.param), request.param


@pytest.fixture(scope="module")
def us(knowledge: Knowledge) -> Any:
    return book(demo_house(), knowledge)


def rows(sheet: Worksheet) -> list[dict[str, Any]]:
    """Each row by the names of its columns, without their units."""
    head, *rest = sheet.iter_rows(values_only=True)
    names = [str(name).partition(", ")[0] for name in head]
    return [dict(zip(names, row, strict=True)) for row in rest]


def test_it_has_every_list_with_a_frozen_head_and_no_formula(both: tuple[Any, str]) -> None:
    found, _ = both
    assert found.sheetnames == SHEETS
    for sheet in found:
        assert sheet.freeze_panes == "A2"
        assert all(cell.font.bold for cell in sheet[1])
        assert all(cell.data_type != "f" for row in sheet.iter_rows() for cell in row)
        widths = [sheet.column_dimensions[cell.column_letter].width for cell in sheet[1]]
        assert all(7 <= width <= 62 for width in widths)


def test_units_stand_in_the_head(both: tuple[Any, units.System]) -> None:
    found, system = both
    length, mass = ("in", "lb") if system == "us" else ("mm", "kg")
    assert f"Opening wide, {length}" in [cell.value for cell in found["Schedule"][1]]
    assert f"Sash mass, {mass}" in [cell.value for cell in found["Weights and cords"][1]]
    assert "Likely, USD" in [cell.value for cell in found["Price"][1]]


def test_the_schedule_is_that_of_the_house(
    both: tuple[Any, units.System], knowledge: Knowledge
) -> None:
    found, system = both
    house, treated = demo_house(), treat(demo_house(), knowledge)
    scale = 0.0254 if system == "us" else 0.001
    for window, answer, row in zip(
        house.windows, treated.windows, rows(found["Schedule"]), strict=True
    ):
        assert row["Window"] == window.number
        assert row["Opening wide"] == pytest.approx(window.width / scale, abs=1e-9)
        assert row["Opening high"] == pytest.approx(window.height / scale, abs=1e-9)
        assert row["Class"] == answer.values["class_number"]
        assert row["Findings"] == len(answer.values["condition"])
    decided = rows(found["Schedule"])[0]["Decided on"]
    assert decided.date() == datetime.date(2026, 4, 20)


def test_sizes_are_numbers_shown_as_fractions(us: Any) -> None:
    cell = us["Schedule"]["G2"]
    assert isinstance(cell.value, (int, float))
    assert cell.number_format == "# ??/16"


def test_weights_are_those_of_the_chapter(
    both: tuple[Any, units.System], knowledge: Knowledge
) -> None:
    found, system = both
    unit = POUND if system == "us" else 1.0
    wanted = [
        (answer.number, which, values)
        for answer in hang(demo_house(), knowledge).windows
        for which in ("upper", "lower")
        if (values := answer.values.get(which))
    ]
    for (number, which, values), row in zip(wanted, rows(found["Weights and cords"]), strict=True):
        assert (row["Window"], row["Sash"]) == (number, which)
        assert row["Sash mass"] == pytest.approx(values["sash_mass_kg"] / unit)
        assert row["Weight each"] == pytest.approx(values["weight_each_kg"] / unit)


def test_cutting_glass_and_lumber_are_those_of_the_chapter(
    both: tuple[Any, units.System], knowledge: Knowledge
) -> None:
    found, system = both
    answer = make(demo_house(), knowledge)
    scale = 25.4 if system == "us" else 1.0
    parts = [row for window in answer.windows for row in window.values["parts"]]
    for row, shown in zip(parts, rows(found["Cutting list"]), strict=True):
        assert shown["Mark"] == row["mark"]
        assert shown["Pieces"] == row["count"]
        assert shown["Rough length"] == pytest.approx(row["rough_length_mm"] / scale)
    panes = [row for window in answer.windows for row in window.values["glass"]]
    for row, shown in zip(panes, rows(found["Glass"]), strict=True):
        assert shown["Width"] == pytest.approx(row["width_mm"] / scale)
    amount = "board_feet" if system == "us" else "rough_m3"
    assert sum(row["Rough"] for row in rows(found["Lumber"])) == pytest.approx(
        answer.values[amount]
    )


def test_the_price_adds_up_to_the_cent(us: Any, knowledge: Knowledge) -> None:
    answer = price(demo_house(), knowledge)
    for name in ("low", "likely", "high"):
        total = sum(Decimal(str(row[name.capitalize()])) for row in rows(us["Price"]))
        assert total == Decimal(answer.values["price"][name])
    told = {row["What"]: row["Number"] for row in rows(us["Summary"])}
    assert Decimal(str(told["Price, likely, USD"])) == Decimal(answer.values["price"]["likely"])
    shown = [Decimal(str(row["Likely"])) for row in rows(us["Options"])]
    assert shown == [Decimal(each["likely"]) for each in answer.values["options"]]


def test_orders_are_those_of_the_chapter(
    both: tuple[Any, units.System], knowledge: Knowledge
) -> None:
    found, system = both
    answer = orders(demo_house(), knowledge, system=system)
    lines = [line for kind in answer.values["kinds"].values() for line in kind["lines"]]
    for line, row in zip(lines, rows(found["Orders"]), strict=True):
        factor = row["Needed"] / line["need"]
        assert row["What"] == line["says"]
        assert row["To order"] == pytest.approx(line["to_order"] * factor)
        assert row["For windows"] == ", ".join(line["windows"])
    putty = next(row for row in rows(found["Orders"]) if row["What"].startswith("Linseed-oil"))
    assert putty["Unit"] == ("lb" if system == "us" else "kg")


def test_maintenance_is_that_of_the_chapter(us: Any, knowledge: Knowledge) -> None:
    answer = keep(demo_house(), knowledge, today=DAY.isoformat())
    wanted = [(w.number, row) for w in answer.windows for row in w.values["items"]]
    for (number, each), row in zip(wanted, rows(us["Maintenance"]), strict=True):
        assert (row["Window"], row["What"], row["Status"]) == (number, each["name"], each["status"])
        planned = row["Planned"] and row["Planned"].date().isoformat()
        assert planned == each["planned"]


def test_findings_are_those_of_the_chapter(us: Any, knowledge: Knowledge) -> None:
    wanted = [
        (answer.number, each)
        for answer in treat(demo_house(), knowledge).windows
        for each in answer.values["condition"]
    ]
    for (number, each), row in zip(wanted, rows(us["Condition"]), strict=True):
        assert (row["Window"], row["Fault"], row["Severity"]) == (
            number, each["name"], each["severity"],
        )  # fmt: skip
        assert row["Meter"] == each["moisture_pct"]
        assert row["Share of the part"] == pytest.approx(100 * each["share"])


@pytest.mark.parametrize("text", [FORMULA, "+1", "-2+3", "@SUM(A1)", "\t=1", "  =1", "\r=2"])
def test_text_of_users_never_becomes_a_formula(knowledge: Knowledge, text: str) -> None:
    demo = demo_house()
    window = demo.windows[0].model_copy(update={"room": text, "note": text})
    house = demo.model_copy(update={"windows": (window,), "owner": text})
    found = book(house, knowledge)
    cells = [cell for sheet in found for row in sheet.iter_rows() for cell in row if cell.value]
    assert all(cell.data_type != "f" for cell in cells)
    assert not [c for c in cells if isinstance(c.value, str) and c.value.lstrip()[:1] in "=+-@"]
    assert plain(text).strip("' \t\r") in rows(found["Schedule"])[0]["Room"]


def test_control_signs_do_no_harm(knowledge: Knowledge) -> None:
    demo = demo_house()
    window = demo.windows[0].model_copy(update={"note": "a\x00b\x0bc\ud800"})
    found = book(demo.model_copy(update={"windows": (window,)}), knowledge)
    assert rows(found["Schedule"])[0]["Note"] == "ab\nc"


def test_an_empty_house_has_its_heads(knowledge: Knowledge) -> None:
    found = book(house_from({"name": "Nothing yet"}, knowledge), knowledge)
    assert found.sheetnames == SHEETS
    assert rows(found["Schedule"]) == []


def test_a_window_that_contradicts_itself_has_its_row(knowledge: Knowledge) -> None:
    wrong = Window(number="999", family="parlor", width=6 * 0.0254, height=1.0)
    found = book(demo_house().model_copy(update={"windows": (wrong,)}), knowledge)
    (row,) = rows(found["Schedule"])
    assert row["Window"] == "999"
    assert row["Class"] is None
