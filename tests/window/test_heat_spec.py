"""What the specification says of gas, coatings, inside panels and coverings: read, written, read again."""

from __future__ import annotations

import io
import tomllib
from typing import Any

import pytest

from sashwright.knowledge.load import load
from sashwright.record.housefile import write_house
from sashwright.window.check import house_from
from sashwright.window.spec import Family, House, InsideStorm

KNOWLEDGE = load()
INCH = 0.0254
FAMILY: dict[str, Any] = {
    "sash": {
        "rabbet_depth": "3/4",
        "thickness": "1 3/4",
        "glazing": {
            "panes": ["float-3mm", "float-3mm"],
            "gaps": ["1/4"],
            "gas": "argon",
            "gas_share": "85 %",
            "coatings": ["none", "none", "soft-coat"],
        },
    },
    "storm_sash": {"glazing": {"coatings": ["none", "hard-coat"]}},
    "inside_storm": {"kind": "panel", "pane": "acrylic-3-16", "distance": "2 1/4"},
    "covering": "shutters",
}


def house(family: dict[str, Any], **window: Any) -> House:
    windows = [{"number": "1", "family": "A", "width": "32", "height": "66", **window}]
    return house_from({"name": "one", "families": {"A": family}, "windows": windows}, KNOWLEDGE)


def test_read_as_written() -> None:
    family = house(FAMILY).families["A"]
    glazing = family.sash.glazing
    assert (glazing.gas, glazing.gas_share) == ("argon", 85.0)
    assert glazing.coatings == ("none", "none", "soft-coat")
    assert family.inside_storm.distance == pytest.approx(2.25 * INCH)
    assert family.covering == "shutters"


def test_nothing_said_changes_nothing() -> None:
    plain = Family()
    assert plain.inside_storm == InsideStorm()
    assert plain.inside_storm.kind == plain.covering == "none"
    assert plain.sash.glazing.coatings == plain.storm_sash.glazing.coatings == ()
    assert plain.sash.glazing.gas == "air"


def test_a_file_brings_all_of_it_back() -> None:
    first = house(FAMILY)
    written = io.BytesIO()
    write_house(first, written)
    again = house_from(tomllib.loads(written.getvalue().decode()), KNOWLEDGE)
    assert again == first


def test_a_window_may_differ_from_its_family() -> None:
    from sashwright.window.resolve import place

    changed = house(FAMILY, changes={"covering": "none", "inside_storm": {"distance": "3"}})
    family = place(changed, "1", KNOWLEDGE).family
    assert family.covering == "none"
    assert family.inside_storm.distance == pytest.approx(3 * INCH)
    assert family.inside_storm.pane == "acrylic-3-16"
