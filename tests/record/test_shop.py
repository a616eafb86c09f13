"""The shop in the record: editions saved, merged, undone and put back, and read from a file."""

from __future__ import annotations

import pytest
from django.contrib.auth.models import User

from sashwright.record import store
from sashwright.record.demo import stock
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.housefile import HouseFileError
from sashwright.record.models import ShopEdition
from sashwright.record.shopfile import parse_shop, shop_text
from sashwright.units import INCH

BOARD = {"species": "eastern-white-pine", "quarters": 8, "width": "6 1/4", "length": "10 ft"}


@pytest.fixture
def rack(ann: User) -> int:
    """A shop with two boards and a weight, at its first edition."""
    document = {
        "boards": {"B2": BOARD, "B10": BOARD},
        "weights": {"31": {"mass": "8 lb", "length": "17", "size": "1 1/2"}},
    }
    return store.save_shop(document, 0, ann).version


def test_an_empty_shop_is_there_before_anything_is_said(db: None) -> None:
    assert store.shop_edition() == 0
    assert store.stored_shop().version == 0
    assert not store.load_shop().boards


def test_a_shop_is_kept_with_its_units(rack: int, ann: User) -> None:
    shop = store.load_shop()
    assert rack == store.shop_edition() == 1
    assert list(shop.boards) == ["B2", "B10"]
    assert shop.boards["B2"].width == pytest.approx(6.25 * INCH)
    assert store.stored_shop().document["boards"]["B2"]["length"] == "120 in"
    (row,) = store.shop_history()
    assert (row.who, row.edition) == ("Ann Alder", 1)


def test_the_same_again_is_no_edition(rack: int, ann: User) -> None:
    assert store.save_shop(store.stored_shop().document, rack, ann).version == rack


def test_two_people_change_different_boards(rack: int, ann: User, bob: User) -> None:
    store.save_shop_fields({"boards.B2.length": "9 ft"}, rack, ann)
    kept = store.save_shop_fields({"boards.B10": None, "weights.31.mass": "8 lb 1"}, rack, bob)
    assert kept.merged
    shop = store.load_shop()
    assert list(shop.boards) == ["B2"]
    assert shop.boards["B2"].length == pytest.approx(108 * INCH)


def test_two_people_change_the_same_board_differently(rack: int, ann: User, bob: User) -> None:
    store.save_shop_fields({"boards.B2.length": "9 ft"}, rack, ann)
    with pytest.raises(Conflict) as caught:
        store.save_shop_fields({"boards.B2.length": "8 ft"}, rack, bob)
    (field,) = caught.value.fields
    assert (field.path, field.mine, field.theirs) == ("boards.B2.length", "96 in", "108 in")
    assert caught.value.who == "Ann Alder"
    assert str(caught.value).startswith("The shop was changed by Ann Alder")
    assert store.shop_edition() == 2


def test_what_is_wrong_changes_nothing(rack: int, ann: User) -> None:
    for field, value in (("boards.B2.species", "balsa"), ("boards.B2.width", "six"), ("bords", {})):
        with pytest.raises(Refused):
            store.save_shop_fields({field: value}, rack, ann)
    assert store.shop_edition() == rack


def test_an_old_fault_does_not_keep_one_from_working(rack: int, ann: User) -> None:
    row = ShopEdition.objects.get()
    row.document["boards"]["B2"]["species"] = "a wood no table has now"
    row.save()
    store.save_shop_fields({"boards.B10.place": "rack B"}, rack, ann)
    assert store.load_shop().boards["B10"].place == "rack B"


def test_a_change_is_undone_and_what_came_after_stays(rack: int, ann: User) -> None:
    store.save_shop_fields({"boards.B2": None}, 1, ann, "board B2 taken out")
    store.save_shop_fields({"boards.B10.place": "rack B"}, 2, ann)
    store.undo_shop(2, ann)
    shop = store.load_shop()
    assert set(shop.boards) == {"B2", "B10"}
    assert shop.boards["B10"].place == "rack B"
    assert store.shop_history()[0].says == "undid: board B2 taken out"
    with pytest.raises(NotThere):
        store.undo_shop(9, ann)


def test_undoing_what_was_changed_again_is_a_conflict(rack: int, ann: User) -> None:
    store.save_shop_fields({"boards.B2.place": "rack A"}, 1, ann)
    store.save_shop_fields({"boards.B2.place": "rack B"}, 2, ann)
    with pytest.raises(Conflict):
        store.undo_shop(2, ann)


def test_everything_is_put_back_as_it_was(rack: int, ann: User) -> None:
    first = store.stored_shop().document
    store.save_shop_fields({"boards.B2": None, "weights.31": None}, 1, ann)
    assert store.put_back_shop(1, ann).version == 3
    assert store.stored_shop().document == first
    assert [row.edition for row in store.shop_history()] == [3, 2, 1]


def test_the_demo_shop_is_brought_in_once(ann: User) -> None:
    stock.bring_in(ann)
    stock.bring_in(ann)
    shop = store.load_shop()
    assert store.shop_edition() == 1
    counts = [len(each) for each in (shop.boards, shop.sheets, shop.weights)]
    assert counts == [58, 15, 90]


def test_a_file_is_written_and_read_back_the_same(ann: User) -> None:
    stock.bring_in(ann)
    shop = store.load_shop()
    again = parse_shop(shop_text(shop).encode(), "shop.toml", store.knowledge())
    assert again == shop
    store.import_shop(shop_text(shop).encode(), "shop.toml", ann)
    assert store.shop_edition() == 1


FILE = """
units = "us"

[boards]
B1 = { species = "eastern-white-pine", quarters = 8, width = "6", length = "96" }
B2 = { species = "eastern-white-pine", quarters = 7, width = "6", length = "96", colour = "red" }

[hours]
bench-hnd = 40
"""


def told(text: str) -> list[tuple[int | None, str]]:
    with pytest.raises(HouseFileError) as caught:
        parse_shop(text.encode(), "shop.toml", store.knowledge())
    return [(problem.line, problem.field) for problem in caught.value.problems]


def test_a_bad_file_says_line_and_field(db: None) -> None:
    assert told(FILE) == [(6, "boards.B2.quarters"), (6, "boards.B2.colour")]
    good = FILE.replace(', colour = "red"', "").replace("quarters = 7", "quarters = 8")
    assert told(good) == [(9, "hours.bench-hnd")]


def test_a_bad_file_changes_nothing(rack: int, ann: User) -> None:
    with pytest.raises(HouseFileError):
        store.import_shop(FILE.encode(), "shop.toml", ann)
    assert store.shop_edition() == rack


def test_unknown_fields_are_told_by_what_a_shop_knows(db: None) -> None:
    with pytest.raises(HouseFileError, match=r"colour.*species, quarters, width"):
        parse_shop(FILE.replace("7", "8").encode(), "shop.toml", store.knowledge())
