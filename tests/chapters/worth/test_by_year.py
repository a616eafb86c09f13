"""Money, carbon and landfill year by year add up to the answer's totals."""

from __future__ import annotations

import numpy as np
import pytest

from tests.worthhouse import weighed


def test_carbon_and_landfill_of_the_last_year_are_the_totals() -> None:
    values = weighed().values
    for row in values["alternatives"]:
        carbon, tip = row["carbon_by_year_kg"], row["landfill_by_year_kg"]
        assert len(carbon) == len(tip) == values["years"] + 1
        assert carbon[0] == pytest.approx(row["carbon_made_now_kg"])
        assert carbon[-1] == pytest.approx(row["carbon_total_kg"])
        assert tip[0] == pytest.approx(row["landfill_now_kg"])
        assert tip[-1] == pytest.approx(row["landfill_kg"])
        assert (np.diff(tip) >= 0).all()


def test_ranges_by_year_end_with_those_of_the_net_savings() -> None:
    values = weighed().values
    ways = {row["key"]: row for row in values["alternatives"]}
    assert set(values["more_by_year"]) == {values["cheapest_keep"], values["cheapest_replace"]}
    for key, found in values["more_by_year"].items():
        saved = ways[key]["ranges"]["net_savings"]
        # Percentiles are read between draws here and at a draw there.
        assert found["low"][-1] == pytest.approx(-saved["high"], rel=0.1, abs=60)
        assert found["high"][-1] == pytest.approx(-saved["low"], rel=0.1, abs=60)


def test_where_repair_is_due_no_way_leaves_the_joints_as_found() -> None:
    due = weighed(0, due=True).values
    assert due["base"] == "repair"
    kept = [row for row in due["alternatives"] if row["group"] == "keep"]
    assert all(row["joints"] != "as found" for row in kept)
    assert any(row["key"] == "replace-pvc" for row in due["alternatives"])


def test_what_is_drawn_is_told_with_its_limits() -> None:
    for row in weighed().values["drawn_from"]:
        assert row["low"] <= row["likely"] <= row["high"]
