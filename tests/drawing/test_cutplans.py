"""Boards under the saw and sheets on the glass table: to scale, every mark readable, every break numbered."""

from __future__ import annotations

import time
from collections.abc import Mapping
from functools import cache
from typing import Any
from xml.etree import ElementTree

import pytest

from benchmarks.houses import house_of
from sashwright.chapters.answer import Answer
from sashwright.chapters.make.binplan import bin_plan
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cutlist import cut_list
from sashwright.chapters.make.plans import cutting_plans
from sashwright.drawing import cutplan, glasscut
from sashwright.drawing.binplot import bin_plot
from sashwright.drawing.cutplan import ACROSS, board_drawing
from sashwright.drawing.glasscut import sheet_drawing
from sashwright.drawing.model import Group, Polygon, Text, walk
from sashwright.drawing.paper import lettering_of, letters_box
from sashwright.drawing.svg import to_svg
from sashwright.knowledge.load import load
from sashwright.record.housefile import parse_document
from sashwright.window.shop import Shop
from sashwright.window.shop_check import shop_from


@cache
def demo_shop() -> Shop:
    from importlib import resources

    data = (resources.files("sashwright.record.demo") / "shop.toml").read_bytes()
    return shop_from(parse_document(data, "shop.toml"), load())


@cache
def planned() -> Answer:
    house = house_of(8)
    listed = cut_list(house, load(), scope=("sash", "storm"))
    return cutting_plans(listed, demo_shop(), load(), Budget(0.0, time.monotonic))


def boards() -> list[Mapping[str, Any]]:
    return list(planned().values["boards"])


def sheets() -> list[Mapping[str, Any]]:
    return list(planned().values["sheets"])


def test_a_board_is_drawn_to_scale() -> None:
    for row in boards():
        drawn = board_drawing(row)
        assert drawn.bounds.right == pytest.approx(row["length_m"])
        assert drawn.bounds.top == pytest.approx(row["width_m"] * ACROSS)
        parts = [item for item in walk(drawn.items) if isinstance(item, Polygon)]
        wood = [p for p in parts if p.pen.startswith("wood")]
        cuts = [cut for strip in row["strips"] for cut in strip["cuts"]]
        assert len(wood) == len(cuts)
        for part, cut in zip(wood, cuts, strict=True):
            xs = [point.x for point in part.points]
            assert (min(xs), max(xs)) == pytest.approx((cut["from_m"], cut["to_m"]))
        knots = [p for p in parts if p.hatch == "metal"]
        assert len(knots) == len(row["defects_m"])


def test_every_part_has_its_mark_within_it_or_in_the_key() -> None:
    k = 1000 * cutplan.SCALE
    marked = keyed = 0
    for row in boards():
        drawn = board_drawing(row)
        (key_group,) = [g for g in drawn.items if isinstance(g, Group) and g.classes == "key"]
        key = " ".join(item.text for item in key_group.items if isinstance(item, Text))
        for group in drawn.items:
            if not isinstance(group, Group) or group.classes != "cutpart":
                continue
            box = next(i for i in group.items if isinstance(i, Polygon))
            (text,) = [i for i in group.items if isinstance(i, Text)]
            mark = group.title.partition("-")[0] + "-" + group.title.partition("-")[2].split(" ")[0]
            if len(text.text) == 1:
                keyed += 1
                assert f"{text.text}: {mark}" in key
                continue
            marked += 1
            assert text.text.startswith(mark)
            assert "  " in text.text or mark in key
            assert text.size >= cutplan.LEAST
            letters = lettering_of(text, k)
            assert letters is not None
            inside = letters_box(letters)
            xs, ys = [p.x * k for p in box.points], [p.y * k for p in box.points]
            assert min(xs) - 0.1 <= inside.left
            assert inside.right <= max(xs) + 0.1
            assert min(ys) - 0.5 <= inside.bottom
            assert inside.top <= max(ys) + 0.5
    assert marked > 40
    assert keyed <= 0.1 * marked


def test_a_sheet_shows_its_breaks_in_order() -> None:
    for row in sheets():
        drawn = sheet_drawing(row)
        assert drawn.bounds.right == pytest.approx(row["width_m"])
        assert drawn.bounds.top == pytest.approx(row["height_m"])
        numbers = [
            int(item.text)
            for item in walk(drawn.items)
            if isinstance(item, Text) and item.text.isdigit() and item.pen.startswith("pencil-note")
        ]
        assert numbers == list(range(1, len(row["breaks"]) + 1))
        glass = [
            item
            for item in walk(drawn.items)
            if isinstance(item, Polygon) and item.pen.startswith("glass")
        ]
        assert len(glass) == len(row["lites"])


def test_pictures_are_svg_and_say_what_they_show() -> None:
    for drawn in (board_drawing(boards()[0]), sheet_drawing(sheets()[0], "metric")):
        root = ElementTree.fromstring(to_svg(drawn))
        assert root.tag.endswith("svg")
    says = board_drawing(boards()[0]).description
    for strip in boards()[0]["strips"]:
        for cut in strip["cuts"]:
            assert cut["label"] in says
    assert glasscut.SCALE < 1


def test_the_bin_shows_every_weight_by_its_number() -> None:
    answer = bin_plan(house_of(6), load(), demo_shop(), Budget(1.0, time.monotonic))
    drawn = bin_plot([{"number": w.number, "values": w.values} for w in answer.windows])
    texts = [item.text for item in walk(drawn.items) if isinstance(item, Text)]
    for window in answer.windows:
        assert window.number in texts
        for values in filter(None, window.values.values()):
            for side in ("left", "right"):
                if values[side] is not None:
                    assert values[side]["number"] in texts
    assert texts.count("buy") + texts.count("none") == answer.values["bought"]
    iron = [i for i in walk(drawn.items) if isinstance(i, Polygon) and i.pen.startswith("metal")]
    assert len(iron) == answer.values["used"]
