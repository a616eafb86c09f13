"""The wind on a window as pictures: gauges as full as the answer says, arrows and walls to scale."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.grade import grade
from sashwright.drawing.loadplot import below, load_plot, loads_of, percent
from sashwright.drawing.model import (
    Callouts,
    Drawing,
    Group,
    Line,
    Polygon,
    Text,
    bounds_of,
    flattened,
    walk,
)
from sashwright.drawing.paper import Lettering, extent, lettering_of, letters_box
from sashwright.drawing.pressureplot import ARROWS, LONGEST, pressure_plot
from sashwright.drawing.svg import to_svg
from sashwright.window.check import house_from
from sashwright.window.resolve import Placed, place_all
from sashwright.window.spec import House
from tests.drawing.scenes import KNOWLEDGE, parsed

SYSTEMS: tuple[units.System, ...] = ("us", "metric")
SITE = {"wind_speed": "120 mph", "exposure": "C", "confirmed_by": "the building department"}
WALLS = {"south": {"faces": "S", "length": "36'"}, "east": {"faces": "E", "length": "28'"}}
WINDOWS: list[dict[str, Any]] = [
    {"number": "1", "family": "A", "wall": "south", "width": "34", "height": "66", "upper": "3x2",
     "along": "18'"},
    {"number": "2", "family": "A", "wall": "south", "width": "40", "height": "80", "along": "2'-6\"",
     "head": {"shape": "full arch"}, "upper": "2x1"},
    {"number": "3", "family": "A", "wall": "east", "width": "30", "height": "60"},
    {"number": "4", "family": "A", "wall": "south", "width": "30", "height": "60", "beside": "1",
     "along": "21'"},
]  # fmt: skip
EUROPE = {
    "units": "metric",
    "site": {"standard": "EN 1991-1-4", "wind_speed": "24 m/s"},
    "walls": {"south": {"faces": "S", "length": "8 m"}, "east": {"faces": "E", "length": "10 m"}},
}


@cache
def house(kind: str = "us") -> House:
    gale = {"site": {**SITE, "wind_speed": "190 mph"}}
    more = {"us": {"site": SITE}, "en": EUROPE, "calm": {}, "gale": gale}[kind]
    windows = [
        {**row, "width": f"{row['width']} in", "height": f"{row['height']} in"} for row in WINDOWS
    ]
    families = {"A": {"storm": "winter", "sash": {"glazing": {"panes": ["single-strength"]}}}}
    return house_from(
        {"name": "Wind", "walls": WALLS, "families": families, "windows": windows, **more},
        KNOWLEDGE,
    )


@cache
def graded(kind: str = "us") -> Answer:
    return grade(house(kind), KNOWLEDGE, None, "metric" if kind == "en" else "us")


@cache
def placed(number: str, kind: str = "us") -> Placed:
    return next(p for p in place_all(house(kind), KNOWLEDGE) if p.window.number == number)


def found(number: str, kind: str = "us") -> WindowAnswer:
    return next(each for each in graded(kind).windows if each.number == number)


def loads(number: str, kind: str = "us", system: units.System = "us") -> Drawing:
    return load_plot(placed(number, kind), found(number, kind), system)


def site(number: str, kind: str = "us", system: units.System = "us") -> Drawing:
    wall = house(kind).walls.get(placed(number, kind).window.wall)
    values = graded(kind).values["site"]
    return pressure_plot(placed(number, kind), found(number, kind), values, wall, system)


def parts_of(drawing: Drawing, name: str) -> list[Group]:
    return [
        item
        for item in walk(drawing.items)
        if isinstance(item, Group) and ("part", name) in item.data
    ]


ALL = list(itertools.product(["1", "2", "3", "4"], ["us", "en", "calm"]))


@pytest.mark.parametrize(("number", "kind"), ALL)
@pytest.mark.parametrize("system", SYSTEMS)
def test_both_pictures_are_sound(number: str, kind: str, system: units.System) -> None:
    for drawing in (loads(number, kind, system), site(number, kind, system)):
        svg = to_svg(drawing)
        assert not re.search(r"nan|inf\b", svg)
        parsed(svg)
        assert len(drawing.description) > 60


def lettered(drawing: Drawing, k: float) -> Iterator[Lettering]:
    for item in walk(drawing.items):
        if isinstance(item, Text) and (letters := lettering_of(item, k)) is not None:
            yield letters


@pytest.mark.parametrize(("number", "kind"), ALL)
def test_words_have_room_and_do_not_stand_on_each_other(number: str, kind: str) -> None:
    # The site as on a page and as small as on paper; the window as small as on a phone.
    for drawing, k in (
        (site(number, kind), 1000),
        (site(number, kind), 700),
        (loads(number, kind), 30),
    ):
        sheet = extent(drawing, k)
        boxes = [letters_box(letters) for letters in lettered(drawing, k)]
        for box in boxes:
            assert sheet.left <= box.left
            assert box.right <= sheet.right
        for a, b in itertools.combinations(boxes, 2):
            assert (
                a.right <= b.left or b.right <= a.left or a.top <= b.bottom + 0.7
                or b.top <= a.bottom + 0.7
            )  # fmt: skip


# --- what the wind uses ---------------------------------------------------------------------------


def gauge(drawing: Drawing, on: str) -> tuple[Polygon, list[Polygon]]:
    """The part as the elevation has it, and what the gauge put over it."""
    base, over = parts_of(drawing, on)[0], parts_of(drawing, on)[-1]
    outline = next(i for i in base.items if isinstance(i, Polygon) and "edge" in i.pen.split())
    if ".lite." in on:
        outline = next(i for i in base.items if isinstance(i, Polygon) and "glass" in i.pen)
    return outline, [item for item in over.items if isinstance(item, Polygon)]


def spread(polygon: Polygon, axis: int) -> float:
    along = [point[axis] for point in flattened(polygon.points)]
    return max(along) - min(along)


@pytest.mark.parametrize("number", ["1", "2", "3"])
def test_every_part_is_filled_as_far_as_it_is_used(number: str) -> None:
    drawing = loads(number)
    told = {load.on: load.share for load in loads_of(found(number), "us")}
    seen = 0
    for on, share in told.items():
        if ".lite." in on or "upright_bar" in on:
            if not parts_of(drawing, on):
                continue
            outline, over = gauge(drawing, on)
            assert spread(over[0], 1) == pytest.approx(
                min(share, 1.0) * spread(outline, 1), rel=1e-6
            )
            seen += 1
    assert seen >= 2
    rail = parts_of(drawing, "upper.meeting_rail")
    outline = next(item for item in rail[0].items if isinstance(item, Polygon))
    fill = next(item for item in rail[-1].items if isinstance(item, Polygon))
    share = min(told["upper.meeting_rail"], 1.0)
    assert spread(fill, 0) == pytest.approx(share * spread(outline, 0), rel=1e-6)


def test_shares_and_figures_are_the_answers() -> None:
    number = "1"
    values = found(number).values
    worst: dict[str, float] = {}
    for row in values["utilisation"]:
        worst[row["on"]] = max(worst.get(row["on"], 0.0), row["utilisation"])
    drawing = loads(number)
    assert {load.on: load.share for load in loads_of(found(number), "us")} == worst
    texts = [item.text for item in walk(drawing.items) if isinstance(item, Text)]
    lites = {on: share for on, share in worst.items() if re.match(r"(upper|lower)\.lite", on)}
    assert sorted(t for t in texts if t.endswith(" %")) == sorted(map(percent, lites.values()))
    notes = next(item for item in walk(drawing.items) if isinstance(item, Callouts)).notes
    bar = percent(worst["upper.upright_bar.1"])
    assert any(note == f"upright bar {bar}, sags" for _, note in notes)
    assert any(note.startswith("mullion ") for _, note in notes)
    storm = max(share for on, share in worst.items() if on.startswith("storm."))
    assert any(f"Storm sash, not drawn: stile {percent(storm)}" in text for text in texts)
    assert values["wind"]["governs_name"] in drawing.description


def test_the_pencil_rings_what_gives_way_first_and_what_is_too_weak() -> None:
    weak = 0
    for number, kind in (("1", "us"), ("2", "us"), ("3", "us"), ("2", "gale"), ("3", "gale")):
        drawing, values = loads(number, kind), found(number, kind).values
        used: dict[str, float] = {}
        for row in values["utilisation"]:
            used[row["on"]] = max(used.get(row["on"], 0.0), row["utilisation"])
        ringed = {
            dict(item.data)["part"]
            for item in walk(drawing.items)
            if isinstance(item, Group)
            for piece in item.items
            if isinstance(piece, Polygon) and piece.pen.startswith("pencil")
        }
        assert values["wind"]["governs"] in ringed
        over = {on for on, share in used.items() if share > 1.0 and parts_of(drawing, on)}
        assert over <= ringed
        # Nothing else but the equals of the first.
        first = used[values["wind"]["governs"]]
        assert all(used[on] > 1.0 or math.isclose(used[on], first) for on in ringed)
        weak += sum(1 for on in over if 1.0 < used[on] < 0.8 * first)
    assert weak > 0


def test_without_a_wind_speed_figures_tell_what_each_part_bears() -> None:
    drawing, values = loads("3", "calm"), found("3", "calm").values
    told = loads_of(found("3", "calm"), "us")
    assert all(load.figure.endswith("psf") for load in told)
    weakest = min(row["capacity_pa"] for row in values["utilisation"])
    assert max(load.share for load in told) == pytest.approx(1.0)
    by = {load.on: load.share for load in told}
    for row in values["utilisation"]:
        assert by[row["on"]] >= weakest / row["capacity_pa"] - 1e-12
    assert "Pressure that each part bears" in drawing.description


def test_an_outline_is_cut_at_a_level() -> None:
    triangle = [(0.0, 0.0), (2.0, 0.0), (1.0, 2.0)]
    cut = below(triangle, "y", 1.0)
    assert sorted(cut) == [(0.0, 0.0), (0.5, 1.0), (1.5, 1.0), (2.0, 0.0)]
    assert below(triangle, "y", 5.0) == triangle
    assert below(triangle, "x", -1.0) == []


# --- what the site asks ---------------------------------------------------------------------------


def test_arrows_are_as_long_as_the_pressures() -> None:
    for number, kind in (("1", "us"), ("2", "us"), ("2", "en")):
        pressure = found(number, kind).values["pressure"]
        rows = [
            item
            for item in walk(site(number, kind).items)
            if isinstance(item, Group) and item.classes == "load"
        ]
        inward, outward = (
            max(abs(line.end[0] - line.start[0]) for line in arrows(row)) for row in rows
        )
        # The heads of both are as long, and no part of the lines.
        head = 0.0022
        assert (inward + head) / (outward + head) == pytest.approx(
            pressure["inward_pa"] / -pressure["outward_pa"], rel=1e-6
        )
        assert max(inward, outward) + head == pytest.approx(LONGEST)
        # One points to the right, into the room; the other to the left.
        assert all(line.end[0] > line.start[0] for line in arrows(rows[0]))
        assert all(line.end[0] < line.start[0] for line in arrows(rows[1]))
        assert len(arrows(rows[0])) == ARROWS


def arrows(row: Group) -> list[Line]:
    return [item for item in row.items if isinstance(item, Line) and item.pen == "curve"]


def test_the_window_stands_in_its_place_on_the_wall() -> None:
    drawing = site("1")
    glass = next(i for i in walk(drawing.items) if isinstance(i, Polygon) and i.pen == "glass")
    wall = next(i for i in walk(drawing.items) if isinstance(i, Polygon) and i.pen == "frame")
    left, bottom, right, _ = bounds_of((wall,))
    at = bounds_of((glass,))
    per = (right - left) / (36 * 0.3048)
    assert ((at.left + at.right) / 2 - left) / per == pytest.approx(18 * 0.3048)
    assert at.width / per == pytest.approx(34 * 0.0254)
    assert at.height / per == pytest.approx(66 * 0.0254)
    # The foundation and the usual sill of a ground floor, where nobody measured.
    assert 0.6 < (at.bottom - bottom) / per < 2.0
    strips = [
        bounds_of((item,))
        for item in walk(drawing.items)
        if isinstance(item, Polygon) and item.hatch == "metal"
    ]
    reach = found("1").values["pressure"]["reaches_m"]["5"]
    assert [strip.width / per for strip in strips] == pytest.approx([reach, reach])
    assert strips[0].left == pytest.approx(left)
    assert strips[1].right == pytest.approx(right)


def test_zones_have_their_names() -> None:
    def names(drawing: Drawing) -> list[str]:
        return [item.text for item in walk(drawing.items) if isinstance(item, Text)]

    assert names(site("1"))[:3] == ["5", "5", "zone 4"]
    assert "zone 5 of the south wall" in site("2").description
    assert "A" in names(site("1", "en"))
    unknown = site("3")
    assert "in zone 4 or 5 of the east wall" in unknown.description
    assert any("place on the wall is not known" in text for text in names(unknown))
    ghost = [i for i in walk(unknown.items) if isinstance(i, Polygon) and i.pen == "ghost"]
    assert len(ghost) == 1
    assert not [i for i in walk(site("1").items) if isinstance(i, Polygon) and i.pen == "ghost"]


def test_a_speed_nobody_confirmed_is_called_a_placeholder() -> None:
    def said(drawing: Drawing) -> str:
        return " ".join(item.text for item in walk(drawing.items) if isinstance(item, Text))

    assert "placeholder" in said(site("1", "en"))
    assert "placeholder" not in said(site("1"))
    assert "No design wind speed is given" in said(site("1", "calm"))
    assert "nothing is asked" in site("1", "calm").description
