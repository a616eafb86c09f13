"""What can be done with which window, and the work that it asks for."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from sashwright.chapters.worth.alternatives import BY_KEY, ORDINARY_AREA, WAYS, Alternative
from tests.chapters.worth.towns import KNOWLEDGE, model


def by_key(**cells: object) -> Mapping[str, Alternative]:
    return {each.key: each for each in model(**cells).alternatives}  # type: ignore[arg-type]


def test_every_measure_that_a_way_names_is_in_the_table() -> None:
    assert {key for way in WAYS for key in way.work} <= set(KNOWLEDGE.measure)
    assert len(BY_KEY) == len(WAYS)


def test_bare_windows_can_have_storms_and_panels() -> None:
    found = by_key()
    assert {"storm", "storm-low-e", "storm-stays", "inside", "repair-inside-low-e"} <= set(found)
    storm = found["storm"].windows[0]
    assert (storm.winter, storm.summer) == ("storm", "prime")
    assert {"storm-wood", "storm-paint", "paint", "putty", "cord"} == set(storm.work)
    stays = found["storm-stays"].windows[0]
    assert stays.winter == stays.summer == "storm-low-e"
    assert "storm-paint" not in stays.work


def test_windows_that_have_storms_are_not_given_them_again() -> None:
    found = by_key(storm="clear")
    assert not {"storm", "storm-stays", "inside"} & set(found)
    assert found["storm-low-e"].windows[0].work.count("low-e-glass") == 1
    assert "storm-wood" not in found["storm-low-e"].amounts
    # They are kept, and painted; replacement windows do without.
    assert "storm-paint" in found["keep"].amounts
    assert "storm-paint" not in found["replace-pvc"].amounts


def test_left_as_found_asks_for_upkeep_only() -> None:
    found = by_key()
    assert found["keep"].touched == 0
    assert set(found["keep"].amounts) == {"paint", "putty", "cord"}
    assert found["repair"].touched == 20


def test_amounts_go_with_the_size_of_the_window_as_far_as_the_table_says() -> None:
    wide = model(window_width_in=48)
    area = wide.home.windows[0].whole.geometry.opening
    found = next(each for each in wide.alternatives if each.key == "replace-pvc")
    share = KNOWLEDGE.measure["replace-pvc"].area_share
    assert area > ORDINARY_AREA
    assert found.amounts["replace-pvc"] == pytest.approx(
        20 * (1 - share + share * area / ORDINARY_AREA)
    )
    assert found.areas["replace-pvc"] == pytest.approx(20 * area)


def test_where_repair_is_due_nothing_is_left_as_found() -> None:
    due = model(repair_due=True)
    assert due.base.key == "repair"
    assert "keep" not in {each.key for each in due.alternatives}
