"""Effort as a plot."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.drawing.curve import HEIGHT, WIDTH, effort_plot
from sashwright.drawing.model import Drawing, Polyline, Text, walk
from sashwright.units import POUND_FORCE
from tests.drawing.scenes import groups, hung, polygons


def values(raise_n: list[float], lower_n: list[float]) -> dict[str, Any]:
    lift = [100.0 * i for i in range(len(raise_n))]
    return {"effort_curve": {"lift_mm": lift, "raise_n": raise_n, "lower_n": lower_n}}


def curves(drawing: Drawing, pen: str = "curve") -> list[Polyline]:
    return [i for i in walk(drawing.items) if isinstance(i, Polyline) and i.pen == pen]


def texts(drawing: Drawing) -> list[str]:
    return [i.text for i in walk(drawing.items) if isinstance(i, Text)]


def test_curves_run_over_the_whole_field_and_inside_it() -> None:
    drawn = effort_plot(hung("102"), "lower")
    up, down = curves(drawn)
    for curve in (up, down):
        assert (curve.points[0].x, curve.points[-1].x) == pytest.approx((0.0, WIDTH))
        assert all(0 <= v.y <= HEIGHT for v in curve.points)
    assert all(a.y > b.y for a, b in zip(up.points, down.points, strict=True))


def test_forces_are_to_scale() -> None:
    drawn = effort_plot(values([10, 20], [5, 5]), "lower", "metric")
    up, down = curves(drawn)
    per_newton = (up.points[1].y - up.points[0].y) / 10
    # To lower it is a push down, drawn below zero.
    assert (up.points[0].y - down.points[0].y) / per_newton == pytest.approx(15)


def test_pounds_for_the_us_and_newtons_elsewhere() -> None:
    answer = values([POUND_FORCE] * 2, [2 * POUND_FORCE] * 2)
    assert "push, lb" in texts(effort_plot(answer, "lower"))
    assert "1.0 lb to 1.0 lb to raise" in effort_plot(answer, "lower").description
    assert "push, N" in texts(effort_plot(answer, "lower", "metric"))


def test_a_sash_that_stays_is_said_to_stay() -> None:
    drawn = effort_plot(values([10, 12], [8, 7]), "lower")
    assert "stays put" in texts(drawn)
    assert not curves(drawn, "pencil-bold")
    assert len(list(polygons(drawn.items, "band"))) == 1


def test_where_it_creeps_is_red() -> None:
    drawn = effort_plot(values([10, 10, 10, 10], [5, -1, -2, -3]), "lower", "metric")
    (red,) = curves(drawn, "pencil-bold")
    assert len(red.points) == 3
    assert "creeps by itself" in texts(drawn)
    assert "does not stay" in drawn.description


def test_the_marker_says_how_far_it_goes() -> None:
    drawn = effort_plot(values([10, 12, 11], [8, 7, 7]), "upper")
    (marker,) = groups(drawn, marker="upper")
    data = dict(marker.data)
    assert float(data["width-mm"]) == pytest.approx(WIDTH * 1000)
    assert float(data["travel-mm"]) == 200


@pytest.mark.parametrize(
    "answer",
    [
        WindowAnswer("1", {"upper": None}),
        WindowAnswer("1", {}),
        WindowAnswer("1", {"upper": {"effort_curve": None}}),
        values([], []),
        values([1.0], [1.0]),
    ],
)
def test_nothing_known_is_said(answer: Any) -> None:
    assert texts(effort_plot(answer, "upper")) == ["upper sash: no effort to show"]


@pytest.mark.parametrize("force", [1e-7, 0.003, 1.0, 4000.0])
def test_axes_have_a_handful_of_round_marks(force: float) -> None:
    drawn = effort_plot(values([force, 2 * force], [force, force]), "lower", "metric")
    (axes,) = [g for g in groups(drawn) if g.classes == "axes"]
    marks = [i for i in axes.items if isinstance(i, Text) and i.anchor == "end"]
    assert 3 <= len(marks) <= 12
