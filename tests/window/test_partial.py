"""What a family, its upper and lower sash and a window say, laid over each other field by field."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from sashwright.window.partial import Changes, overlay, partial
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import family_of
from sashwright.window.spec import (
    Family,
    FamilyChanges,
    Frame,
    House,
    Lites,
    Moulding,
    Sash,
    SashChanges,
    Window,
)

INCH = 0.0254


def changes(**fields: Any) -> FamilyChanges:
    """Changes as a file says them; bare numbers are inches."""
    return FamilyChanges.model_validate(fields, context={"system": "us"})


def family(**fields: Any) -> Family:
    return Family.model_validate(fields, context={"system": "us"})


# --- the partial model -----------------------------------------------------------------


def test_nothing_given_is_nothing_changed() -> None:
    assert not SashChanges()
    assert overlay(Sash(), SashChanges()) == Sash()
    assert overlay(Sash(), None) == Sash()
    whole = Sash()
    assert overlay(whole, SashChanges()) is whole


def test_only_given_fields_change() -> None:
    changed = overlay(Sash(), SashChanges(stile=0.06))
    assert changed == Sash(stile=0.06)
    assert changed.top_rail == Sash().top_rail


def test_a_value_equal_to_the_default_is_still_given() -> None:
    """A lower sash that goes back to the usual stile where its family has another."""
    usual = Sash().stile
    assert overlay(Sash(stile=0.07), SashChanges(stile=usual)).stile == usual


def test_none_is_not_given() -> None:
    assert overlay(Sash(stile=0.07), SashChanges.model_validate({"stile": None})).stile == 0.07


def test_nested_models_change_field_by_field() -> None:
    whole = Sash(moulding=Moulding(shape="ogee", width=0.004, depth=0.010))
    changed = overlay(whole, SashChanges.model_validate({"moulding": {"width": 0.006}}))
    assert changed.moulding == Moulding(shape="ogee", width=0.006, depth=0.010)


def test_a_grid_of_lites_is_replaced_whole() -> None:
    """Columns without their shares would be another window."""
    whole = Sash(lites=Lites(columns=3, rows=2, column_shares=(1, 4, 1)))
    changed = overlay(whole, SashChanges.model_validate({"lites": "2x1"}))
    assert changed.lites == Lites(columns=2, rows=1)


def test_lists_are_replaced_whole() -> None:
    whole = family(hardware=[{"item": "sash-lock"}])
    changed = overlay(whole, changes(hardware=[]))
    assert changed.hardware == ()


def test_the_whole_is_left_as_it_was() -> None:
    whole = family()
    before = whole.model_dump_json()
    overlay(whole, changes(sash={"stile": 3}, upper={"stile": 4}, name="other"))
    assert whole.model_dump_json() == before


def test_partial_models_check_as_strictly() -> None:
    with pytest.raises(ValidationError, match="extra"):
        changes(sash={"stiles": 3})
    with pytest.raises(ValidationError, match=r"expected 1/2.* to 12"):
        changes(sash={"stile": 30})
    with pytest.raises(ValidationError):
        changes(sash={"moulding": {"shape": "!"}})


def test_partial_models_read_lengths_as_a_shop_writes_them() -> None:
    read = changes(sash={"stile": "2 1/4"}, frame={"casing_width": "110 mm"})
    assert read.sash is not None
    assert read.sash.stile == pytest.approx(2.25 * INCH)
    assert read.frame is not None
    assert read.frame.casing_width == pytest.approx(0.110)


def test_a_partial_model_is_built_once_and_is_its_own_partial() -> None:
    assert partial(Sash) is partial(Sash)
    assert partial(partial(Sash)) is partial(Sash)
    assert issubclass(partial(Sash), Changes)


def test_partial_models_have_every_field_of_the_whole() -> None:
    for model in (Sash, Frame, Family):
        assert set(partial(model).model_fields) == set(model.model_fields)


def test_changes_round_trip_through_a_document() -> None:
    given = changes(
        sash={"stile": "2 1/4", "moulding": {"depth": "3/8"}},
        upper={"lites": {"columns": 3, "rows": 1, "column_shares": [1, 4, 1]}},
        hanging={"weight_materials": ["lead"]},
    )
    document = given.model_dump(mode="json", exclude_unset=True)
    assert document["sash"] == {"stile": "2 1/4 in", "moulding": {"depth": "3/8 in"}}
    assert set(document) == {"sash", "upper", "hanging"}
    assert changes(**document) == given


# --- family, upper and lower sash ------------------------------------------------------


def test_upper_and_lower_sash_of_a_family() -> None:
    both = family(
        sash={"thickness": "1 3/4", "stile": "2 1/4"},
        upper={"lites": "3x2"},
        lower={"stile": "2 1/2", "moulding": {"shape": "ogee"}},
    )
    upper, lower = both.upper_sash, both.lower_sash
    assert upper.thickness == lower.thickness == pytest.approx(1.75 * INCH)
    assert (upper.lites, lower.lites) == (Lites(columns=3, rows=2), Lites())
    assert (upper.stile, lower.stile) == pytest.approx((2.25 * INCH, 2.5 * INCH))
    assert (upper.moulding.shape, lower.moulding.shape) == ("ovolo", "ogee")
    assert lower.moulding.width == Moulding().width


# --- a window's own changes -----------------------------------------------------------


def of_window(own: dict[str, Any], **fields: Any) -> Family:
    """The family of a window with changes of its own, as every chapter sees it."""
    document = {
        "name": "x",
        "families": {"A": fields},
        "windows": [{"number": "1", "family": "A", "width": 32, "height": 66, "changes": own}],
    }
    house = House.model_validate(document, context={"system": "us"})
    return family_of(house, house.windows[0])


def test_a_window_without_changes_has_its_familys_data() -> None:
    assert of_window({}, sash={"stile": 3}) == family(sash={"stile": 3})


def test_a_window_changes_both_sash() -> None:
    own = of_window({"sash": {"stile": 3}}, sash={"top_rail": 4})
    for sash in (own.upper_sash, own.lower_sash):
        assert (sash.stile, sash.top_rail) == pytest.approx((3 * INCH, 4 * INCH))


def test_a_windows_upper_joins_its_familys_upper() -> None:
    """Field by field: what the window does not say about its upper sash, the family still says."""
    own = of_window(
        {"upper": {"stile": 3, "moulding": {"depth": "3/8"}}},
        upper={"top_rail": 4, "moulding": {"shape": "ogee", "depth": "5/8"}},
    )
    upper = own.upper_sash
    assert (upper.stile, upper.top_rail) == pytest.approx((3 * INCH, 4 * INCH))
    assert upper.moulding.shape == "ogee"
    assert upper.moulding.depth == pytest.approx(3 / 8 * INCH)
    assert own.lower_sash == Sash()


def test_a_familys_upper_beats_a_windows_sash() -> None:
    """The nearer word wins: a window's ``sash`` is about both, a family's ``upper`` about one."""
    own = of_window({"sash": {"stile": 3}}, upper={"stile": 4})
    assert own.upper_sash.stile == pytest.approx(4 * INCH)
    assert own.lower_sash.stile == pytest.approx(3 * INCH)
    nearest = of_window({"sash": {"stile": 3}, "upper": {"stile": 5}}, upper={"stile": 4})
    assert nearest.upper_sash.stile == pytest.approx(5 * INCH)


def test_a_window_changes_frame_pocket_and_hanging() -> None:
    own = of_window(
        {"frame": {"sill_slope": 9}, "pocket": {"across": 3}, "hanging": {"bias": "even"}},
        frame={"pulley_stile": "7/8"},
    )
    assert own.frame.sill_slope == 9
    assert own.frame.pulley_stile == pytest.approx(7 / 8 * INCH)
    assert own.pocket.across == pytest.approx(3 * INCH)
    assert own.hanging.bias == "even"
    assert own.meeting == family().meeting


def test_other_windows_of_the_family_are_not_changed() -> None:
    document = {
        "name": "x",
        "families": {"A": {}},
        "windows": [
            {"number": "1", "family": "A", "width": 32, "height": 66, "changes": {"name": "odd"}},
            {"number": "2", "family": "A", "width": 32, "height": 66},
        ],
    }
    house = House.model_validate(document, context={"system": "us"})
    assert [family_of(house, window).name for window in house.windows] == ["odd", ""]


def test_a_family_that_is_not_there() -> None:
    house = House(name="x")
    with pytest.raises(LayoutError):
        family_of(house, Window(number="1", family="A", width=0.8, height=1.6))
