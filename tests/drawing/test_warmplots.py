"""The warmth of a window as pictures: lines where the field has their value, bars as the answer says."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.heat import heat
from sashwright.chapters.heat.flows import Field
from sashwright.chapters.heat.pictured import ORDER, Pictured, pictured
from sashwright.chapters.heat.say import BTU, BTU_HOUR
from sashwright.drawing import gapplot, isotherms, lossbars, wetplot
from sashwright.drawing.contours import contour
from sashwright.drawing.gapplot import gap_plot
from sashwright.drawing.isotherms import HUMIDITY, State, state_of
from sashwright.drawing.lossbars import loss_bars, losses_of
from sashwright.drawing.model import Drawing, Group, Line, Polygon, Polyline, Text, bounds_of, walk
from sashwright.drawing.paper import Lettering, extent, lettering_of, letters_box
from sashwright.drawing.svg import to_svg
from sashwright.drawing.wetplot import faces_of, wet_plot
from sashwright.record.outdoors import named
from sashwright.window.check import house_from
from sashwright.window.resolve import Placed, place_all
from tests.drawing.scenes import KNOWLEDGE, groups, parsed

SYSTEMS: tuple[units.System, ...] = ("us", "metric")
HOUSE = house_from(
    {
        "name": "12 Elm Street",
        "families": {"A": {"storm": "winter"}, "B": {}},
        "windows": [
            {"number": "1", "family": "A", "width": "32", "height": "62", "upper": "2x1"},
            {"number": "2", "family": "B", "width": "28", "height": "54"},
        ],
    },
    KNOWLEDGE,
)
PLACED: dict[str, Placed] = {each.window.number: each for each in place_all(HOUSE, KNOWLEDGE)}
COLD = State(-15.0, 20.0, 0.40, "as asked for")


@cache
def answered(where: str = "Portland, Maine") -> Answer:
    outdoors = named(where) if where else None
    year, place = (outdoors.year, outdoors.place) if outdoors else (None, None)
    return heat(HOUSE, KNOWLEDGE, year=year, place=place)


def window(number: str = "1") -> WindowAnswer:
    return next(each for each in answered().windows if each.number == number)


@cache
def sections(number: str = "1") -> dict[str, Pictured]:
    return pictured(PLACED[number])


PLOTS: dict[str, Callable[[units.System], Drawing]] = {
    "losses": lambda system: loss_bars(window(), system),
    "house": lambda system: loss_bars(answered(), system),
    "space": lambda system: gap_plot(window(), system),
    "wet": lambda _: wet_plot(window()),
    "alone": lambda _: wet_plot(window("2")),
}


def lettered(drawing: Drawing, scale: float = 1.0) -> Iterator[Lettering]:
    for item in walk(drawing.items):
        if isinstance(item, Text) and (letters := lettering_of(item, 1000 * scale)) is not None:
            yield letters


def apart(one: Lettering, other: Lettering, slack: float = 0.7) -> bool:
    a, b = letters_box(one), letters_box(other)
    return (
        a.right <= b.left or b.right <= a.left or a.top <= b.bottom + slack
        or b.top <= a.bottom + slack
    )  # fmt: skip


# --- lines through a mesh -------------------------------------------------------------------------


def mesh(count: int = 9) -> tuple[np.ndarray, np.ndarray]:
    """A square of triangles."""
    at = np.linspace(0.0, 1.0, count)
    nodes = np.array([(x, y) for y in at for x in at])
    square = [
        (row * count + column, row * count + column + 1, (row + 1) * count + column)
        for row in range(count - 1) for column in range(count - 1)
    ]  # fmt: skip
    other = [(b, c + 1, c) for _, b, c in square]
    return nodes, np.array([*square, *other])


def test_a_line_of_a_linear_field_is_straight_and_whole() -> None:
    nodes, triangles = mesh()
    lines = contour(nodes, triangles, nodes @ [3.0, 0.0] + nodes @ [0.0, 4.0], 3.3)
    assert len(lines) == 1
    assert lines[0] @ [3.0, 4.0] == pytest.approx(3.3)
    # From the lower edge at 1.1, which is outside, so from the right edge, to the left one.
    ends = sorted(lines[0][[0, -1]].tolist())
    assert ends[0] == pytest.approx([0.0, 0.825])
    assert ends[1] == pytest.approx([1.0, 0.075])


def test_a_line_round_a_hill_closes() -> None:
    nodes, triangles = mesh(33)
    height = -np.hypot(*(nodes - 0.5).T)
    (line,) = contour(nodes, triangles, height, -0.3)
    assert line[0] == pytest.approx(line[-1])
    length = np.hypot(*np.diff(line, axis=0).T).sum()
    assert length == pytest.approx(2 * math.pi * 0.3, rel=0.02)


def test_a_level_on_nodes_is_one_line_and_one_beyond_is_none() -> None:
    nodes, triangles = mesh(5)
    (line,) = contour(nodes, triangles, nodes[:, 0], 0.5)
    assert line[:, 0] == pytest.approx(0.5)
    assert contour(nodes, triangles, nodes[:, 0], 1.5) == []


# --- sections -------------------------------------------------------------------------------------


def test_sections_are_those_of_the_window_from_the_head_down() -> None:
    names = list(sections())
    assert names == [name for name in ORDER if name in names]
    assert {"head", "jamb_upper", "muntin_upper", "meeting", "jamb_lower", "sill"} == set(names)
    assert {each.flow.storm for each in sections().values()} == {"exterior"}
    assert {each.flow.storm for each in sections("2").values()} == {"none"}


@pytest.mark.parametrize("name", ["head", "jamb_lower", "muntin_upper", "meeting", "sill"])
def test_pieces_lie_where_the_field_has_them(name: str) -> None:
    section = sections()[name]
    field = section.flow.field
    corners = field.nodes[field.triangles]
    middles = corners.mean(axis=1)
    one, other = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    areas = np.abs(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0])
    for kind in ("wood", "glass", "metal"):
        of = np.array([material == kind for material in field.materials])
        shapes = [shapely.Polygon(piece.points) for piece in section.pieces if piece.kind == kind]
        if not of.any():
            continue
        whole = shapely.buffer(shapely.union_all(shapely.make_valid(shapes)), 2e-4)
        there = shapely.contains(whole, shapely.points(middles[of]))
        # What rounding leaves between pieces counts as wood in the field.
        assert (areas[of] @ there) / areas[of].sum() > 0.99, kind


def inside(field: Field, values: np.ndarray, at: tuple[float, float]) -> float:
    """A value within the triangle that holds a point, by its three corners."""
    a, b, c = np.moveaxis(field.nodes[field.triangles], 1, 0)
    ab, ac, ap = b - a, c - a, np.array(at) - a
    double = ab[:, 0] * ac[:, 1] - ab[:, 1] * ac[:, 0]
    v = (ap[:, 0] * ac[:, 1] - ap[:, 1] * ac[:, 0]) / double
    w = (ab[:, 0] * ap[:, 1] - ab[:, 1] * ap[:, 0]) / double
    found = int(np.argmax(np.min([1 - v - w, v, w], axis=0)))
    one, other, third = values[field.triangles[found]]
    return float(one * (1 - v - w)[found] + other * v[found] + third * w[found])


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", ["head", "jamb_lower", "muntin_upper", "meeting", "sill"])
def test_every_line_runs_where_the_field_has_its_warmth(name: str, system: units.System) -> None:
    section = sections()[name]
    drawn = isotherms.isotherms(section, COLD, system)
    field = section.flow.field
    warm = COLD.outdoor + field.factors * (COLD.room - COLD.outdoor)
    lines = [each for each in walk(drawn.items) if isinstance(each, Group)]
    seen = 0
    for group in lines:
        if group.classes != "isotherm":
            continue
        degrees = float(group.title.rstrip("°").replace("−", "-"))
        wanted = (degrees - 32) / 1.8 if system == "us" else degrees
        assert degrees % isotherms.STEPS[system] == 0
        for line in (item for item in group.items if isinstance(item, Polyline)):
            for x, y, _ in line.points[1:-1:3]:
                # Needless points are left out of a line, by some tenths of a millimetre.
                assert inside(field, warm, (x, y)) == pytest.approx(wanted, abs=0.5)
                seen += 1
    assert seen > 20


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", sections())
def test_a_section_is_lettered_clear_and_fits_a_phone(name: str, system: units.System) -> None:
    drawn = isotherms.isotherms(sections()[name], COLD, system)
    svg = to_svg(drawn)
    assert not re.search(r"nan|inf\b", svg)
    parsed(svg)
    assert extent(drawn, 1000 * drawn.scale).width <= 95.0
    letters = list(lettered(drawn, drawn.scale))
    for one, other in itertools.combinations(letters, 2):
        assert apart(one, other), (one.text, other.text)
    figures = [each for each in letters if re.fullmatch(r"−?\d+°", each.text)]
    assert len(figures) >= 4
    assert any("dew" in each.text for each in letters)


def test_the_red_line_is_the_dew_point_and_tells_wet_from_dry() -> None:
    # 20 °C and 40 %: Magnus's formula has 6.0 °C.
    assert COLD.dew_point == pytest.approx(6.0, abs=0.1)
    alone, storm = sections("2")["sill"], sections()["sill"]
    wet = isotherms.isotherms(alone, COLD)
    dry = isotherms.isotherms(storm, replace(COLD, humidity=0.20))
    assert "the edge is wet" in wet.description
    assert "stays dry" in dry.description
    assert isotherms.degrees(COLD.at(alone.flow.factor_glass), "us") in wet.description
    red = [i for i in walk(wet.items) if isinstance(i, Polyline) and i.pen == "pencil-bold"]
    assert red
    assert "Outdoors 5 °F, in the room 68 °F" in wet.description


def test_glass_is_shown_as_far_as_its_edge() -> None:
    for name, section in sections().items():
        pieces = groups(isotherms.isotherms(section, COLD))
        bounds = bounds_of([g for g in pieces if g.classes == "pieces"])
        shown = isotherms.BAR_SHOWN if section.flow.width < 0.05 else isotherms.GLASS_SHOWN
        low, high = (bounds.bottom, bounds.top) if section.upright else (bounds.left, bounds.right)
        for sight, towards in zip(section.sights, section.towards, strict=True):
            end = high if towards > 0 else low
            assert abs(end - sight) == pytest.approx(shown, abs=1e-6), name


def test_the_air_is_that_of_the_house_or_by_choice() -> None:
    values = window().values
    known = state_of(window())
    assert known.humidity == values["condensation"]["year"]["indoor_humidity_winter"]
    assert (known.outdoor, known.room) == (
        values["weathers"][0]["outdoor_c"], values["weathers"][0]["room_c"],
    )  # fmt: skip
    assert state_of(window(), 0.55).humidity == 0.55
    unknown = WindowAnswer("1", dict(values) | {"condensation": None})
    assert state_of(unknown).humidity == HUMIDITY


# --- plots ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", PLOTS)
def test_a_plot_is_sound_and_its_words_stand_clear(name: str, system: units.System) -> None:
    drawn = PLOTS[name](system)
    svg = to_svg(drawn)
    assert not re.search(r"nan|inf\b", svg)
    parsed(svg)
    assert len(drawn.description) > 60
    assert drawn.bounds.width <= 0.095
    letters = list(lettered(drawn))
    sheet = extent(drawn, 1000.0)
    for each in letters:
        box = letters_box(each)
        assert sheet.left <= box.left
        assert box.right <= sheet.right
        assert each.size >= 2.2
    for one, other in itertools.combinations(letters, 2):
        assert apart(one, other), (one.text, other.text)


def bars(group: Group) -> list[Polygon]:
    return [item for item in group.items if isinstance(item, Polygon)]


def width(bar: Polygon) -> float:
    xs = [x for x, _, _ in bar.points]
    return max(xs) - min(xs)


@pytest.mark.parametrize("system", SYSTEMS)
def test_bars_are_as_long_as_the_heat_and_air_has_its_own(system: units.System) -> None:
    way, per = ("na", BTU_HOUR) if system == "us" else ("en", 1.0)
    drawn = loss_bars(window(), system)
    rows = window().values["alternatives"]
    losses = list(losses_of(window(), system))
    most = max(each.reach for each in losses)
    metre = lossbars.WIDTH / (most * 1.02)
    for row in rows:
        (group,) = groups(drawn, state=row["key"])
        air, *conducted = bars(group)
        assert width(air) == pytest.approx(row["leak_w_k"] / per * metre, rel=1e-6)
        assert air.hatch == "metal"
        whole = sum(width(bar) for bar in conducted)
        assert whole == pytest.approx(row[f"loss_{way}_w_k"] / per * metre, rel=1e-6)
        # The storm that hangs there is marked.
        marks = [i for i in group.items if isinstance(i, Line) and i.pen == "pencil-bold"]
        assert bool(marks) == (row["key"] == window().values["as_found"])


def test_the_bars_of_a_house_are_its_totals() -> None:
    drawn = loss_bars(answered(), "metric")
    row = next(r for r in answered().values["totals"] if r["key"] == "storm-low-e")
    (loss,) = (each for each in losses_of(answered(), "metric") if each.key == "storm-low-e")
    assert loss.conducted == pytest.approx(row["loss_en_w_k"])
    assert (loss.air, loss.low, loss.high) == pytest.approx(
        (row["leak_w_k"], row["leak_low_w_k"], row["leak_high_w_k"])
    )
    assert f"{row['loss_en_w_k']:.1f} conducted" in drawn.description


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_curve_of_the_space_passes_through_its_marks(system: units.System) -> None:
    curve = window().values["curve"]
    drawn = gap_plot(window(), system)
    own, per = ("na", BTU) if system == "us" else ("en", 1.0)
    for way in ("na", "en"):
        (group,) = groups(drawn, convention=way)
        (line,) = (item for item in group.items if isinstance(item, Polyline))
        assert len(line.points) == len(curve["widths_mm"])
        assert line.pen == ("curve" if way == own else "hidden")
        ys = [y for _, y, _ in line.points]
        u = curve[f"u_{way}_w_m2k"]
        at_least, at_most = ys[u.index(min(u))], ys[u.index(max(u))]
        assert at_least == min(ys)
        assert at_most == max(ys)
    both = [mark for mark in curve["marks"] if "sash" in mark["name"]]
    assert len(groups(drawn, marker="own")) == len(both) == 2
    for mark in curve["marks"]:
        assert f"U {mark[f'u_{own}_w_m2k'] / per:.2f}" in drawn.description
    assert gapplot.TICKS[system][0][0] >= curve["widths_mm"][0]


def test_no_curve_where_no_storm_can_hang() -> None:
    none = WindowAnswer("9", {"curve": None})
    assert "No storm sash can hang" in gap_plot(none).description


def test_wet_bars_are_as_high_as_their_hours() -> None:
    year = window().values["condensation"]["year"]
    faces = faces_of(year)
    assert [face.key for face in faces] == ["glass", "edge", "storm"]
    assert faces[2].hours == tuple(year["storm_wet_h"])
    edges = [hours for part, hours in year["parts_wet_h"].items() if part != "glass"]
    assert faces[1].hours == tuple(max(month) for month in zip(*edges, strict=True))
    # Told apart without colour.
    assert len({(face.pen, face.hatch) for face in faces}) == 3
    drawn = wet_plot(window())
    top = max(max(max(face.hours) for face in faces) * 1.08, wetplot.LEAST)
    for face in faces:
        (group,) = groups(drawn, face=face.key)
        heights = [max(y for _, y, _ in bar.points) for bar in bars(group)]
        assert heights == pytest.approx(
            [hours / top * wetplot.HEIGHT for hours in face.hours if hours]
        )
    assert f"{sum(year['storm_wet_h']):.0f} hours" in drawn.description


def test_a_window_alone_has_no_bars_of_a_storm() -> None:
    drawn = wet_plot(window("2"))
    assert groups(drawn, face="edge")
    assert not groups(drawn, face="storm")


def test_without_weather_there_is_no_year_to_draw() -> None:
    dark = answered("").windows[0]
    assert "Nothing is known" in wet_plot(dark).description
    assert loss_bars(dark).description.count("conducted") == len(dark.values["alternatives"])
