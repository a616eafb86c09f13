"""The tables of the traditions: whole, and pointing at rows that exist."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

import pytest

from sashwright.knowledge.load import load
from sashwright.knowledge.tables import KnowledgeError
from sashwright.knowledge.tradition_tables import SizeName

KNOWLEDGE = load()
KEYS = tuple(KNOWLEDGE.tradition)


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("size", get_args(SizeName))
def test_each_tradition_has_each_size_once(key: str, size: str) -> None:
    rows = [
        row.key
        for row in KNOWLEDGE.tradition_size.values()
        if row.size == size and key in row.traditions
    ]
    assert len(rows) == 1


@pytest.mark.parametrize("key", KEYS)
def test_each_tradition_has_patterns_for_narrow_and_for_wide(key: str) -> None:
    rows = [row for row in KNOWLEDGE.tradition_lites.values() if key in row.traditions]
    assert any(row.standing == "usual" for row in rows)
    # From 24 to 40 in every width has a pattern that was usual for it or known in it.
    for inches in range(24, 41):
        width = inches * 0.0254
        assert any(row.width_low <= width <= row.width_high for row in rows), inches


def test_rows_name_rows_that_exist() -> None:
    for row in KNOWLEDGE.tradition.values():
        for table, key in (("moulding", row.moulding), ("wood", row.wood), ("bias", row.bias)):
            assert KNOWLEDGE.find(table, key).key == key
        assert all(KNOWLEDGE.find("glass", pane).key == pane for pane in row.panes)
    for part in (*KNOWLEDGE.tradition_size.values(), *KNOWLEDGE.tradition_lites.values()):
        assert set(part.traditions) <= set(KEYS), part.key


def test_figures_out_of_order_are_refused() -> None:
    size = KNOWLEDGE.tradition_size["muntin-federal"]
    with pytest.raises(KnowledgeError, match="the low, the usual and the high size"):
        replace(size, low=size.high, usual=size.low)
    lites = next(iter(KNOWLEDGE.tradition_lites.values()))
    with pytest.raises(KnowledgeError, match="wide by high"):
        replace(lites, upper="six")
    with pytest.raises(KnowledgeError, match="ratios"):
        replace(lites, ratio_low=2.0, ratio_usual=1.0)
    with pytest.raises(KnowledgeError, match="lower one first"):
        replace(lites, width_low=lites.width_high)
    tradition = KNOWLEDGE.tradition["federal"]
    with pytest.raises(KnowledgeError, match="earlier one first"):
        replace(tradition, from_year=1900, to_year=1850)
