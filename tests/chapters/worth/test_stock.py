"""Tables of houses: cells, rows that are skipped, and the same answers however they are run."""

from __future__ import annotations

import pytest

from sashwright.chapters.worth.columns import COLUMNS, RowError, read, unknown
from sashwright.chapters.worth.model import Model
from sashwright.chapters.worth.stock import FIGURES, WAYS, Stock, house_of, result_columns, stock
from sashwright.window.spec import House
from tests.chapters.worth.towns import KNOWLEDGE, STOCK, row, year


def test_a_row_is_filled_up_and_its_feet_become_metres() -> None:
    found = read(row(floor_area_m2="", floor_area_ft2="1000", windows="12"))
    assert found["floor_area_m2"] == pytest.approx(92.90304)
    assert found["windows"] == 12
    assert found["window_width_mm"] == pytest.approx(812.8)
    assert found["heating"] == "gas-middling"
    assert {column.name for column in COLUMNS} > set(found)


@pytest.mark.parametrize(
    ("cells", "says"),
    [
        ({"id": ""}, "id: found nothing"),
        ({"windows": "many"}, "windows: found 'many', expected a number"),
        ({"windows": 2.5}, "expected a whole number"),
        ({"windows": float("nan")}, "windows: found nothing"),
        ({"storeys": 9}, "storeys: found 9, expected 1 to 3"),
        ({"condition": "so-so"}, "expected one of tight, average"),
        ({"floor_area_ft2": 900}, "expected one of the two"),
        ({"floor_area_m2": None}, "floor_area_m2: found nothing"),
    ],
)
def test_a_bad_cell_is_told(cells: dict[str, object], says: str) -> None:
    with pytest.raises(RowError, match=says):
        read(row(**cells))


def test_more_windows_than_walls_are_a_slip() -> None:
    with pytest.raises(RowError, match="expected at most 60% of them"):
        house_of(read(row(windows=400, floor_area_m2=40)))


def test_a_slip_in_a_heading_does_not_go_unseen() -> None:
    assert unknown(["id", "windws"]) == ["windws"]


def test_the_house_of_a_row_is_what_it_says() -> None:
    house = house_of(read(row(windows=10, storeys=2, condition="loose", storm="low-e")))
    assert isinstance(house, House)
    assert len(house.windows) == 10
    assert sum(room.area for room in house.rooms.values()) == pytest.approx(160)
    assert {window.wall for window in house.windows} == {"north", "east", "south", "west"}
    assert house.families["A"].seals.sill == "joint-loose"
    assert house.families["A"].storm_sash.glazing.coatings == ("none", "hard-coat")


def test_no_row_is_lost_and_the_others_are_answered() -> None:
    rows = [row(id="a"), row(id="b", climate="Nowhere at all"), row(id="c", heating="peat")]
    found, skipped = stock(rows, KNOWLEDGE, year)
    assert [each["id"] for each in found] == ["a"]
    assert [(each.row, each.id) for each in skipped] == [(2, "b"), (3, "c")]
    assert "peat" in skipped[1].reason


def test_a_result_has_all_columns_and_no_others() -> None:
    found = STOCK.answer(row())
    assert list(found) == list(result_columns())
    assert len(found) == 7 + len(WAYS) * len(FIGURES)


def test_a_row_is_answered_as_its_house_is() -> None:
    found = STOCK.answer(row())
    own = Model(STOCK._home(read(row())), KNOWLEDGE, draws=0)
    assert found["keep.heating_kwh"] == pytest.approx(own.needs["keep"].heating / 3.6e6)
    assert found["replace-pvc.net_present_cost"] == pytest.approx(own.cost("replace-pvc"))


def test_neither_order_nor_company_changes_a_row() -> None:
    rows = [row(id="a", lites="2x2", window_width_in=26), row(id="b", lites="2x2", windows=8)]
    one, _ = Stock(KNOWLEDGE, year).answers(rows)
    other, _ = Stock(KNOWLEDGE, year).answers(rows[::-1])
    assert one == other[::-1]


def test_sections_of_the_ordinary_window_stand_for_others_of_their_kind() -> None:
    """Whole conductance by them is within half a percent of the window's own sections."""
    from sashwright.chapters.heat.whole import Whole

    glazed = STOCK._home(read(row(window_width_in=26, window_height_in=72))).windows[0]
    own = Whole(glazed.placed)
    for key in ("prime", "storm"):
        build = own.choices.builds[key]
        theirs = glazed.whole.part(glazed.whole.choices.builds[key], "en").u
        assert own.part(build, "en").u == pytest.approx(theirs, rel=0.005)
