"""Clearances, mean day and leakage as plots: to scale, in bounds, in words."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.fit import fit
from sashwright.chapters.seal import seal
from sashwright.chapters.season import season
from sashwright.drawing.axes import date_words, month_starts, short_date, thinned, wrapped
from sashwright.drawing.leakplot import CFM, leak_bars, scenario_bars
from sashwright.drawing.model import Drawing, Group, Line, Polygon, Polyline, Text, bounds_of, walk
from sashwright.drawing.paper import Lettering, lettering_of, letters_box, text_width
from sashwright.drawing.seasonplot import season_plot
from sashwright.drawing.svg import to_svg
from sashwright.drawing.yearplot import (
    HEIGHT,
    WIDTH,
    clearance_plot,
    clearances_plot,
    course_of,
)
from sashwright.record.outdoors import named
from tests.drawing.scenes import HOUSE, KNOWLEDGE, groups, parsed

SYSTEMS: tuple[units.System, ...] = ("us", "metric")
NUMBERS = ["101", "103", "106"]
TODAY = 230


@cache
def fitted() -> Answer:
    outdoors = named("Portland, Maine")
    return fit(HOUSE, KNOWLEDGE, outdoors.daily(HOUSE), NUMBERS, today=TODAY)


@cache
def sealed() -> Answer:
    outdoors = named("Portland, Maine")
    return seal(HOUSE, KNOWLEDGE, NUMBERS, year=outdoors.year, place=outdoors.place)


@cache
def seasonal(where: str = "Portland, Maine") -> Answer:
    outdoors = named(where)
    return season(HOUSE, KNOWLEDGE, NUMBERS, year=outdoors.year, place=outdoors.place)


PLOTS: dict[str, Callable[[units.System], Drawing]] = {
    "clearance": lambda system: clearance_plot(fitted().windows[0], "lower.sides", system),
    "meeting": lambda system: clearance_plot(fitted().windows[1], "meeting", system),
    "notch": lambda system: clearance_plot(fitted().windows[0], "notch", system),
    "all": lambda system: clearances_plot(fitted().windows[2], system),
    "leaks": lambda system: leak_bars(sealed().windows[0], system),
    "states": lambda system: scenario_bars(sealed().windows[0], system),
    "house": lambda system: scenario_bars(sealed(), system),
    "season": lambda system: season_plot(seasonal(), system, TODAY),
}


def texts(drawing: Drawing) -> list[str]:
    return [i.text for i in walk(drawing.items) if isinstance(i, Text)]


def lettered(drawing: Drawing) -> Iterator[Lettering]:
    """Every line of lettering at full size."""
    for item in walk(drawing.items):
        if isinstance(item, Text) and (letters := lettering_of(item, 1000)) is not None:
            yield letters


# --- every plot -----------------------------------------------------------------------------------


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", PLOTS)
def test_a_plot_is_sound_and_says_what_it_shows(name: str, system: units.System) -> None:
    drawn = PLOTS[name](system)
    svg = to_svg(drawn)
    assert not re.search(r"nan|inf\b", svg)
    parsed(svg)
    assert len(drawn.description) > 60
    assert all(math.isfinite(edge) for edge in drawn.bounds)
    # Nothing wider than a phone shows at a size that can be read.
    assert drawn.bounds.width <= 0.095


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", PLOTS)
def test_the_sheet_holds_all_lettering(name: str, system: units.System) -> None:
    drawn = PLOTS[name](system)
    box = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)".*?data-origin-x="([\d.]+)"', to_svg(drawn))
    assert box
    width, left = float(box[1]), float(box[3])
    for letters in lettered(drawn):
        bounds = letters_box(letters)
        assert -left <= bounds.left
        assert bounds.right <= width - left
        assert letters.size >= 2.2


@pytest.mark.parametrize("name", PLOTS)
def test_words_do_not_stand_on_each_other(name: str) -> None:
    for system in SYSTEMS:
        boxes = [(letters.text, letters_box(letters)) for letters in lettered(PLOTS[name](system))]
        for (one, a), (other, b) in itertools.combinations(boxes, 2):
            apart = (
                a.right <= b.left or b.right <= a.left or a.top <= b.bottom + 0.7
                or b.top <= a.bottom + 0.7
            )  # fmt: skip
            assert apart, f"{one!r} on {other!r}"


# --- clearances -----------------------------------------------------------------------------------


def test_a_clearance_is_to_scale_and_in_its_field() -> None:
    answer = fitted().windows[0]
    drawn = clearance_plot(answer, "lower.sides", "metric")
    (curve,) = [i for i in walk(drawn.items) if isinstance(i, Polyline) and i.pen == "curve"]
    xs, ys = [v.x for v in curve.points], [v.y for v in curve.points]
    assert (xs[0], xs[-1]) == pytest.approx((0.0, WIDTH))
    assert all(0 < y < HEIGHT for y in ys)
    values = answer.values["clearances"]["lower.sides"]
    (axes,) = [g for g in groups(drawn) if g.classes == "axes" and _numbers(g)][:1]
    marks = _numbers(axes)
    per_mm = (marks[1][1] - marks[0][1]) / (marks[1][0] - marks[0][0])
    moved = (values["greatest_mm"] - values["least_mm"]) * per_mm
    # The curve is rounded to a hundredth of a millimetre.
    assert max(ys) - min(ys) == pytest.approx(moved, abs=0.011 * per_mm)


def _numbers(axes: Group) -> list[tuple[float, float]]:
    """Figures of an upright scale with their heights."""
    items = [i for i in axes.items if isinstance(i, Text) and i.anchor == "end"]
    return [(float(i.text), i.at[1]) for i in items]


def test_the_band_holds_the_usual_course() -> None:
    drawn = clearance_plot(fitted().windows[0], "meeting")
    (band,) = [g for g in groups(drawn) if g.classes == "range"]
    (curve,) = [i for i in walk(drawn.items) if isinstance(i, Polyline) and i.pen == "curve"]
    shape = next(i for i in band.items if isinstance(i, Polygon)).points
    count = len(curve.points)
    high, low = shape[:count], list(reversed(shape[count:]))
    for above, at, below in zip(high, curve.points, low, strict=True):
        assert below.y - 1e-9 <= at.y <= above.y + 1e-9


def test_zones_are_named_and_hatched_not_only_coloured() -> None:
    drawn = clearance_plot(fitted().windows[0], "lower.sides")
    assert {"binds", "rattles", "today"} <= set(texts(drawn))
    zones = [g for g in groups(drawn) if g.classes.startswith("zone")]
    assert len(zones) == 2
    assert all(isinstance(g.items[0], Polygon) and g.items[0].hatch for g in zones)
    # A notch never rattles.
    assert "rattles" not in texts(clearance_plot(fitted().windows[0], "notch"))


def test_tightest_and_widest_day_are_told() -> None:
    answer = fitted().windows[0]
    values = answer.values["clearances"]["lower.faces"]
    drawn = clearance_plot(answer, "lower.faces")
    for word, key in (("tightest", "least"), ("widest", "greatest")):
        gap = units.format_length(values[f"{key}_mm"] / 1000, "us", 64)
        assert f"{word} {gap}, {short_date(values[f'{key}_day'])}" in texts(drawn)
        assert date_words(values[f"{key}_day"]) in drawn.description


def test_today_is_marked_only_where_it_is_known() -> None:
    answer = fitted().windows[0]
    (marker,) = groups(clearance_plot(answer, "rails"), marker="today")
    line = next(i for i in marker.items if isinstance(i, Line))
    assert line.start[0] == pytest.approx((TODAY - 1) / 364 * WIDTH)
    unknown = replace(answer, values={**answer.values, "today": None})
    assert "today" not in texts(clearance_plot(unknown, "rails"))


def test_a_binding_clearance_says_so() -> None:
    answer = fitted().windows[0]
    low = [-0.4] * 100 + [0.5] * 265
    curves = {"clearance_mm": {"rails": {"low": low, "usual": low, "high": low}}}
    place = {
        **answer.values["clearances"]["rails"], "least_mm": -0.4, "least_day": 1, "low_mm": -0.4,
        "greatest_mm": 0.5, "greatest_day": 200, "high_mm": 0.5, "binding_days": 100,
    }  # fmt: skip
    stuck = WindowAnswer("9", {"today": None, "clearances": {"rails": place}, "curves": curves})
    drawn = clearance_plot(stuck, "rails", "metric")
    assert "binds on 100 days" in drawn.description
    (curve,) = [i for i in walk(drawn.items) if isinstance(i, Polyline) and i.pen == "curve"]
    assert all(0 <= v.y <= HEIGHT for v in curve.points)
    small = [i for i in walk(clearances_plot(stuck).items) if isinstance(i, Text)]
    assert "binds" in [i.text for i in small if "pencil-note" in i.pen]


def test_every_clearance_has_its_small_field_to_one_scale() -> None:
    answer = fitted().windows[0]
    drawn = clearances_plot(answer, "metric")
    fields = [g for g in groups(drawn) if g.classes == "clearance"]
    assert len(fields) == len(answer.values["clearances"]) == 7
    for one, other in itertools.combinations(fields, 2):
        a, b = bounds_of([one]), bounds_of([other])
        assert a.right < b.left or b.right < a.left or a.top < b.bottom or b.top < a.bottom
    zeros = {_zero_above_foot(field) for field in fields}
    assert len(zeros) == 1


def _zero_above_foot(field: Group) -> float:
    zero = next(i for i in walk(field.items) if isinstance(i, Line) and i.pen == "axis")
    return round(zero.start[1] - bounds_of([field]).bottom, 6)


@pytest.mark.parametrize("values", [{}, {"clearances": {}, "curves": {}}])
def test_nothing_known_is_said(values: dict[str, Any]) -> None:
    empty = WindowAnswer("9", values)
    assert course_of(empty, "rails") is None
    for drawn in (clearance_plot(empty, "rails"), clearances_plot(empty), leak_bars(empty),
                  scenario_bars(empty)):  # fmt: skip
        assert texts(drawn)[0].startswith("Nothing is known")


# --- leakage --------------------------------------------------------------------------------------


def bars(drawing: Drawing) -> list[Group]:
    return [g for g in groups(drawing) if g.classes == "bar"]


def test_bars_are_as_long_as_their_flows_longest_first() -> None:
    answer = sealed().windows[0]
    paths = {path["path"]: path for path in answer.values["paths"]}
    drawn = bars(leak_bars(answer))
    lengths = []
    for group in drawn:
        bar = next(i for i in group.items if isinstance(i, Polygon))
        width = bounds_of([bar]).width
        lengths.append(width)
        name = dict(group.data)["path"]
        assert width / paths[name]["flow_75_m3_s"] == pytest.approx(
            lengths[0] / max(path["flow_75_m3_s"] for path in paths.values())
        )
        assert f"{100 * paths[name]['share']:.0f} %" in group.title
    assert lengths == sorted(lengths, reverse=True)
    assert len(drawn) == sum(path["flow_75_m3_s"] > 0 for path in paths.values())


def test_whiskers_span_the_range_of_the_tables() -> None:
    answer = sealed().windows[0]
    for group in bars(leak_bars(answer)):
        path = next(p for p in answer.values["paths"] if p["path"] == dict(group.data)["path"])
        bar = next(i for i in group.items if isinstance(i, Polygon))
        whisker = next(i for i in group.items if isinstance(i, Line))
        per_area = bounds_of([bar]).width / path["leakage_area_cm2"]
        ends = (whisker.start[0] / per_area, whisker.end[0] / per_area)
        assert ends == pytest.approx(
            (path["leakage_area_low_cm2"], path["leakage_area_high_cm2"]), rel=1e-6
        )


def test_what_a_storm_does_not_hold_is_hatched() -> None:
    answer = sealed().windows[0]
    hatched = {
        dict(group.data)["path"]
        for group in bars(leak_bars(answer))
        if any(isinstance(i, Polygon) and i.hatch for i in group.items)
    }
    free = {path["path"] for path in answer.values["paths"] if not path["behind_storm"]}
    assert hatched == free
    assert free


@pytest.mark.parametrize("whose", ["window", "house"])
def test_each_state_has_a_bar_bare_and_behind_a_storm(whose: str) -> None:
    answer = sealed() if whose == "house" else sealed().windows[0]
    rows = answer.values["totals" if whose == "house" else "scenarios"]
    drawn = scenario_bars(answer)
    shown = " ".join(group.title for group in bars(drawn))
    for row in rows:
        assert row["name"] in shown
        cfm = row["flow_75_m3_s"] / CFM
        assert (f"{cfm:.0f} cfm" if cfm >= 9.95 else f"{cfm:.1f} cfm") in shown
    for group in bars(drawn):
        lengths = [bounds_of([i]).width for i in group.items if isinstance(i, Polygon)]
        assert len(lengths) == 2
        # The storm's bar is drawn first, below.
        assert lengths[0] < lengths[1]


# --- the season -----------------------------------------------------------------------------------


def test_the_weeks_of_change_are_drawn_where_they_fall() -> None:
    answer = seasonal()
    known = answer.values["changeover"]
    drawn = season_plot(answer)
    changes = {g.title: g for g in groups(drawn) if g.classes == "change"}
    for name, key in (("storms go on", "storms_on"), ("screens go on", "screens_on")):
        box = bounds_of([changes[name]])
        first, last = known[f"{key}_from"]["day"], known[f"{key}_by"]["day"]
        assert box.width / (last - first) == pytest.approx(0.082 / 365)
        assert f"{short_date(first)} – {short_date(last)}" in texts(drawn)
        assert known[f"{key}_from"]["date"] in drawn.description
    assert {"storms", "screens", "today"} <= {*texts(drawn), *texts(season_plot(answer, "us", 9))}


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_mean_day_stays_in_its_field(system: units.System) -> None:
    for where in ("Portland, Maine", "Miami", "Fairbanks"):
        drawn = season_plot(seasonal(where), system)
        (curve,) = [i for i in walk(drawn.items) if isinstance(i, Polyline)]
        assert all(0 < v.y < 0.050 for v in curve.points)


def test_without_weather_it_says_so() -> None:
    drawn = season_plot(season(HOUSE, KNOWLEDGE, NUMBERS))
    assert texts(drawn) == ["No weather is known, so no week can be named."]


# --- axes -----------------------------------------------------------------------------------------


def test_days_have_their_dates() -> None:
    assert [date_words(day) for day in (1, 31, 32, 59, 60, 365)] == [
        "1 January", "31 January", "1 February", "28 February", "1 March", "31 December",
    ]  # fmt: skip
    assert short_date(227) == "15 Aug"
    assert month_starts()[-1] == 334


def test_thinning_keeps_the_ends_and_what_counts() -> None:
    assert thinned(10, 4, (3, 99)) == [0, 3, 4, 8, 9]


def test_lines_are_broken_at_words() -> None:
    lines = wrapped("play of both sash between head and sill", 2.5, 30)
    assert " ".join(lines) == "play of both sash between head and sill"
    assert all(text_width(line, 2.5) <= 30 for line in lines)
    assert wrapped("unbreakable", 2.5, 1) == ["unbreakable"]


def test_only_what_is_drawn_is_explained() -> None:
    whiskers = "Whiskers: the range of the tables."
    assert whiskers in texts(scenario_bars(sealed().windows[0]))
    # The totals of a house come without ranges.
    assert whiskers not in texts(scenario_bars(sealed()))
