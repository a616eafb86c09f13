"""Keep or replace as pictures: lines, bars and dots stand where the answer's figures are."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import pytest

from sashwright.chapters.worth.say import amount, years
from sashwright.drawing.axes import Field
from sashwright.drawing.carbonplot import BAR as TIP_BAR
from sashwright.drawing.carbonplot import LEFT, carbon_plot
from sashwright.drawing.costplot import CHOSEN, cost_plot
from sashwright.drawing.fates import SHORT, beside, leading, scaled
from sashwright.drawing.model import (
    Arc,
    Callouts,
    Drawing,
    Group,
    Item,
    Line,
    Polygon,
    Polyline,
    Text,
    bounds_of,
    walk,
)
from sashwright.drawing.overyears import HEIGHT, WIDTH, crossing
from sashwright.drawing.paper import extent
from sashwright.drawing.rangebars import YEARS, cost_bars, payback_bars
from sashwright.drawing.svg import to_svg
from sashwright.drawing.tornado import tornado
from tests.drawing.scenes import parsed
from tests.worthhouse import weighed

PHONE = 94.0
"""Widest that a plot may be [mm]: on a phone its letters are still nine dots high."""


def values(*, due: bool = False) -> Any:
    return weighed(due=due).values


@cache
def drawn(name: str, *, due: bool = False) -> Drawing:
    v = values(due=due)
    ways, base, best = v["alternatives"], v["base"], v["cheapest"]
    plots: dict[str, Callable[[], Drawing]] = {
        "spent": lambda: cost_plot(
            ways, base=base, chosen=best, ranges=v["more_by_year"], discount=v["discount"]
        ),
        "cost": lambda: cost_bars(ways, base=base, chosen=best),
        "payback": lambda: payback_bars(ways, base=base, chosen=best, studies=v["studies"]),
        "decides": lambda: tornado(v["inputs"], v["margin"]),
        "carbon": lambda: carbon_plot(ways, base=base, chosen=best),
    }
    return plots[name]()


ALL = ("spent", "cost", "payback", "decides", "carbon")


def groups(drawing: Drawing, classes: str) -> list[Group]:
    return [
        item for item in walk(drawing.items) if isinstance(item, Group) and item.classes == classes
    ]


def inside(item: Item, kind: type[Any]) -> list[Any]:
    return [each for each in walk([item]) if isinstance(each, kind)]


def names(drawing: Drawing) -> dict[str, tuple[float, float]]:
    (column,) = (item for item in walk(drawing.items) if isinstance(item, Callouts))
    return {name: point for point, name in column.notes}


@pytest.mark.parametrize("due", [False, True])
@pytest.mark.parametrize("name", ALL)
def test_every_plot_is_sound_and_fits_a_phone(name: str, due: bool) -> None:
    drawing = drawn(name, due=due)
    assert extent(drawing, 1000.0).width < PHONE
    root = parsed(to_svg(drawing, id_prefix=name))
    assert float(root.get("viewBox", "").split()[2]) < PHONE
    assert len(drawing.description) > 100
    assert "nan" not in drawing.description.lower()
    assert "−" not in drawing.description


# --- what is drawn ------------------------------------------------------------------------


def test_of_ways_much_alike_the_one_that_costs_least_is_drawn() -> None:
    ways, base = values()["alternatives"], values()["base"]
    shown = {row["key"] for row in leading(ways, base)}
    assert base in shown
    assert {row["key"] for row in ways if row["group"] == "replace"} <= shown
    strips = [row for row in ways if row["key"].startswith("repair") and row["glass"] == "as found"]
    best = min(strips, key=lambda row: row["net_present_cost"])
    assert {row["key"] for row in strips} & shown == {best["key"]}
    assert [row["key"] for row in ways if row["key"] in shown] == [
        row["key"] for row in leading(ways, base)
    ]


def test_every_way_has_a_short_name_and_no_two_the_same() -> None:
    assert {row["key"] for row in values()["alternatives"]} <= set(SHORT)
    assert len(set(SHORT.values())) == len(SHORT)


# --- over the years -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("course", "found"),
    [((4.0, 2.0, -2.0, -3.0), 1.5), ((0.0, -1.0), None), ((3.0, 2.0, 1.0), None),
     ((1.0, -1.0, 2.0, -2.0), 0.5), ((-1.0, 1.0, -1.0), None)],
)  # fmt: skip
def test_crossings_are_found_between_years(course: Any, found: float | None) -> None:
    assert crossing(course) == (None if found is None else pytest.approx(found))


def courses(name: str) -> Iterator[tuple[Any, Polyline]]:
    """Rows in the plot, each with its line."""
    v = values()
    rows = [row for row in leading(v["alternatives"], v["base"]) if row["key"] != v["base"]]
    lines = [inside(group, Polyline)[0] for group in groups(drawn(name), "course")]
    return zip(rows, lines, strict=True)


def test_lines_of_money_end_where_the_answer_does() -> None:
    v = values()
    zero = v["alternatives"][0]
    ends = {}
    for row, line in courses("spent"):
        ends[row["key"]] = line.points[-1].y
        assert len(line.points) == v["years"] + 1
        assert line.pen == (CHOSEN if row["key"] == v["cheapest"] else line.pen)
        assert names(drawn("spent"))[SHORT[row["key"]]] == pytest.approx(line.points[-1][:2])
    nought = names(drawn("spent"))["As found"][1]
    costs = {
        row["key"]: row["net_present_cost"] - zero["net_present_cost"]
        for row, _ in courses("spent")
    }
    # One scale for all: heights over the line of nothing changed are in the ratio of the differences.
    ratios = [(ends[key] - nought) / cost for key, cost in costs.items()]
    assert ratios == pytest.approx([ratios[0]] * len(ratios), rel=1e-6)


def test_a_course_falls_to_zero_at_the_discounted_payback() -> None:
    """Before anything is renewed, what has been spent more is what the discounted payback counts."""
    cheap = weighed(0, costs=(("storm-wood", 90.0), ("storm-paint", 1.0))).values
    (row,) = (each for each in cheap["alternatives"] if each["key"] == "storm")
    found = crossing(beside(row["cost_by_year"], cheap["alternatives"][0]["cost_by_year"]))
    assert found is not None
    assert 2 < found < 25
    assert found == pytest.approx(row["discounted_payback_years"], abs=0.1)
    drawing = cost_plot([cheap["alternatives"][0], row], base=cheap["base"])
    (dot,) = groups(drawing, "payback")
    field = Field(0.0, 0.0, WIDTH, HEIGHT, (0.0, cheap["years"]), (0.0, 1.0))
    centre = inside(dot, Arc)[0].centre
    assert centre[0] == pytest.approx(field.x(found), abs=1e-9)
    assert centre[1] == pytest.approx(names(drawing)["As found"][1])


def test_the_band_holds_the_middle_of_the_draws() -> None:
    v = values()
    assert len(groups(drawn("spent"), "range")) == 2
    for found in v["more_by_year"].values():
        assert all(
            low <= middle <= high
            for low, middle, high in zip(found["low"], found["middle"], found["high"], strict=True)
        )
        assert len(found["low"]) == v["years"] + 1


def test_a_renewed_window_makes_a_step() -> None:
    (line,) = (line for row, line in courses("spent") if row["key"] == "replace-pvc")
    life = 25
    rise = [b.y - a.y for a, b in zip(line.points, line.points[1:], strict=False)]
    assert max(range(len(rise)), key=rise.__getitem__) == life - 1


def test_carbon_begins_with_what_is_made_and_ends_with_the_total() -> None:
    zero = values()["alternatives"][0]
    for row, line in courses("carbon"):
        nought = names(drawn("carbon"))["As found"][1]
        first, last = line.points[0].y - nought, line.points[-1].y - nought
        made = row["carbon_made_now_kg"] - zero["carbon_made_now_kg"]
        total = row["carbon_total_kg"] - zero["carbon_total_kg"]
        assert first / last == pytest.approx(made / total, rel=1e-6)


def test_bars_of_what_is_thrown_away_are_as_long_as_its_mass() -> None:
    v = values()
    rows = {row["name"]: row["landfill_kg"] for row in leading(v["alternatives"], v["base"])}
    lengths = {}
    for group in groups(drawn("carbon"), "bar"):
        (bar,) = inside(group, Polygon)
        box = bounds_of([bar])
        assert box.left == pytest.approx(LEFT)
        assert box.height == pytest.approx(TIP_BAR)
        lengths[group.title.partition(":")[0]] = box.width
    most = max(rows.values())
    longest = max(lengths.values())
    for name, mass in rows.items():
        assert lengths[name] / longest == pytest.approx(mass / most, abs=1e-9)


# --- bars ---------------------------------------------------------------------------------


def by_name(drawing: Drawing) -> dict[str, Group]:
    return {group.title.partition(":")[0]: group for group in groups(drawing, "bar")}


def marks(drawing: Drawing) -> list[tuple[float, float]]:
    """Figures of the axis with where they stand."""
    (axes,) = groups(drawing, "axes")
    found = []
    for item in axes.items:
        if (
            isinstance(item, Text)
            and item.text.replace(",", "").lstrip("−").replace(".", "").isdigit()
        ):
            found.append((float(item.text.replace(",", "").replace("−", "-")), item.at[0]))
    return found


def on_axis(drawing: Drawing, value: float, *, logged: bool = False) -> float:
    known = [(math.log10(v) if logged else v, x) for v, x in marks(drawing)]
    (v1, x1), (v2, x2) = known[0], known[-1]
    at = math.log10(value) if logged else value
    return x1 + (at - v1) / (v2 - v1) * (x2 - x1)


def test_bars_of_cost_go_from_low_to_high() -> None:
    rows = [row for row in values()["alternatives"] if row["key"] != values()["base"]]
    most = max(
        abs(end)
        for row in rows
        for end in (*row["ranges"]["net_savings"].values(), row["net_savings"])
    )
    divide, _ = scaled(most)
    for row in rows:
        group = by_name(drawn("cost"))[row["name"]]
        (bar,) = inside(group, Polygon)
        box, found = bounds_of([bar]), row["ranges"]["net_savings"]
        ends = [on_axis(drawn("cost"), -found[end] / divide) for end in ("high", "low")]
        assert [box.left, box.right] == pytest.approx(ends, abs=1e-6)
        stroke = next(
            line
            for line in inside(group, Line)
            if line.start[0] == line.end[0] and line.start[0] > 0
        )
        assert stroke.start[0] == pytest.approx(
            on_axis(drawn("cost"), -row["net_savings"] / divide), abs=1e-6
        )
        assert bool(bar.hatch) == (row["group"] == "replace")
        assert amount(abs(row["net_savings"]), "USD") in group.title


def test_bars_of_payback_stand_on_steps_of_ratios_and_studies_beside_them() -> None:
    v = values()
    bars = by_name(drawn("payback"))
    for row in leading(v["alternatives"], v["base"]):
        if row["key"] == v["base"] or row["energy_payback_years"] is None:
            continue
        assert years(row["energy_payback_years"]) in bars[row["name"]].title
        low = row["ranges"]["energy_payback_years"]["low"]
        if YEARS[0] < low < YEARS[1]:
            (bar,) = inside(bars[row["name"]], Polygon)
            assert bounds_of([bar]).left == pytest.approx(
                on_axis(drawn("payback"), low, logged=True), abs=1e-6
            )
    for study in v["studies"]:
        assert (study["study"] in bars) == (study["unit"] == "years")
    (span,) = (each for each in v["studies"] if each["study"].startswith("The trade"))
    box = bounds_of(inside(bars[span["study"]], Polygon))
    ends = [on_axis(drawn("payback"), span[end], logged=True) for end in ("low", "high")]
    assert [box.left, box.right] == pytest.approx(ends, abs=1e-6)


def test_what_never_pays_back_runs_off_with_an_arrow() -> None:
    never = {
        **values()["alternatives"][1],
        "energy_payback_years": None,
        "ranges": {"energy_payback_years": {"low": 80.0, "middle": None, "high": None}},
    }
    drawing = payback_bars([values()["alternatives"][0], never], base=values()["base"])
    (group,) = groups(drawing, "bar")
    assert "never (80 to never)" in group.title
    assert sum(line.pen == "cut" for line in inside(group, Line)) == 3


def test_the_inputs_that_matter_most_come_first_and_lie_about_the_middle() -> None:
    v = values()
    bars = groups(drawn("decides"), "bar")
    assert [group.title.partition(":")[0] for group in bars] == [
        row["words"] for row in v["inputs"][: len(bars)]
    ]
    middle = on_axis(drawn("decides"), v["margin"]["middle"] / scaled(50_000)[0])
    for group, row in zip(bars, v["inputs"], strict=False):
        low, high = inside(group, Polygon)
        assert (low.hatch, high.hatch) == (None, "metal")
        for bar, end in ((low, row["margin_at_low"]), (high, row["margin_at_high"])):
            box = bounds_of([bar])
            at = on_axis(drawn("decides"), end / 1000)
            if box.width > 0.0003:
                assert {round(box.left, 5), round(box.right, 5)} == {round(at, 5), round(middle, 5)}


def test_nothing_to_compare_is_said() -> None:
    alone = values()["alternatives"][:1]
    base = values()["base"]
    for drawing in (
        cost_plot(alone, base=base), cost_bars(alone, base=base), payback_bars(alone, base=base),
        carbon_plot(alone, base=base), tornado([], {"likely": 1.0}),
    ):  # fmt: skip
        assert "othing" in drawing.description


# --- words --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "currency", "said"),
    [(28_670, "USD", "$28,700"), (-312, "USD", "-$310"), (42.4, "GBP", "£42"), (-0.2, "USD", "$0"),
     (1_234_567, "CHF", "CHF 1,230,000")],
)  # fmt: skip
def test_amounts_are_said_to_the_figures_that_are_known(
    value: float, currency: str, said: str
) -> None:
    assert amount(value, currency) == said


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (8.44, "8.4 years"),
        (147.6, "148 years"),
        (2671.0, "over 1000 years"),
        (math.inf, "never"),
        (None, "never"),
    ],
)
def test_years_are_said(value: float | None, said: str) -> None:
    assert years(value) == said
