"""The worked example of docs/methods/fit.md says what the chapter says."""

from __future__ import annotations

from pathlib import Path

import pytest

from sashwright.chapters.answer import Step, WindowAnswer
from sashwright.chapters.fit import fit
from sashwright.chapters.fit.course import STILL_AIR, coat_resistance, sorption_chord
from sashwright.physics.daily import TYPICAL_SUN
from sashwright.window.boards import Coat
from tests.chapters.daily_climates import greensboro
from tests.chapters.houses import KNOWLEDGE, PLAIN, house_of
from tests.chapters.test_fit_advice import SNUG

PAGE = (Path(__file__).parents[2] / "docs" / "methods" / "fit.md").read_text(encoding="utf-8")
EXAMPLE = PAGE.partition("## A worked example")[2].partition("## Checks")[0]


@pytest.fixture(scope="module")
def answer() -> WindowAnswer:
    house = house_of(SNUG, {**PLAIN, "wall": "north"})
    (found,) = fit(house, KNOWLEDGE, greensboro()).windows
    return found


def step(answer: WindowAnswer, starts: str) -> Step:
    return next(step for step in answer.working if step.step.startswith(starts))


def test_air_and_moisture_of_the_example(answer: WindowAnswer) -> None:
    for face in ("weather", "room"):
        found = step(answer, f"what the {face} face of the lower sash settles at, 14 September")
        assert f"{found.inputs['face_c']:.1f} °C" in EXAMPLE
        assert f"{100 * found.inputs['humidity_on_the_face']:.0f} %" in EXAMPLE
        assert f"{100 * found.result:.1f} %" in EXAMPLE
    lag = step(answer, "how many days the lower sash lags").result
    assert f"about {lag:.0f} days" in EXAMPLE
    lower, frame = answer.values["moisture"]["lower"], answer.values["moisture"]["frame"]
    assert f"{lower['greatest_pct']:.1f} %, the most of the year" in EXAMPLE
    assert f"least {lower['least_pct']:.1f} % on\n   19 February" in EXAMPLE
    on_the_day = answer.values["curves"]["moisture_pct"]["frame"]["usual"]
    assert f"The pulley stile is at {on_the_day[lower['greatest_day'] - 1]:.1f} %" in EXAMPLE
    assert frame["greatest_pct"] > 14


def test_clearance_of_the_example(answer: WindowAnswer) -> None:
    sides = answer.values["clearances"]["lower.sides"]
    inputs = step(answer, "lower sash to each pulley stile, 14 September").inputs
    for name in ("lower.stile, width", "pulley stile, thickness"):
        mover = inputs[name]
        points = 100 * (mover["moisture_to"] - mover["moisture_from"])
        closed = 1000 * mover["size_m"] * mover["per_percent"] * points
        size = f"{1000 * mover['size_m']:.1f}"
        assert f"{size} mm × {mover['per_percent']} × {points:.2f} = {closed:.3f} mm" in EXAMPLE
    assert f"= −{-sides['least_mm']:.3f} mm" in EXAMPLE
    assert f"It sticks, on {sides['binding_days']} days" in EXAMPLE
    assert (
        f"it is −{-sides['low_mm']:.3f} mm; {sides['wanted_least_mm']:.3f} mm is wanted" in EXAMPLE
    )
    assert f"plane {sides['relief_mm']:.3f} mm off each stile" in EXAMPLE
    (says,) = [f.says for f in answer.findings if f.on == "lower.sides" and f.level == "fail"]
    assert '3/64" off each stile' in says


def test_constants_of_the_page() -> None:
    coatings = {
        "alkyd house primer": "oil-primer",
        "oil-based house paint": "oil-paint",
        "spar varnish": "varnish",
        "acrylic house paint": "acrylic-paint",
        "paintable water repellent": "water-repellent",
        "acrylic house primer": "acrylic-primer",
        "linseed oil": "oil",
    }
    for name, key in coatings.items():
        resistance = coat_resistance(Coat(key, 1, "painted"), KNOWLEDGE) / 1e9
        assert f"| {name} | {resistance:g} |" in PAGE
    assert f"{sorption_chord():.2f} between 30 and 90 %" in PAGE
    assert f"{STILL_AIR / 1e7:g} × 10⁷" in PAGE
    north, east, south, west = TYPICAL_SUN[::2]
    assert f"({north:.0f} W/m² north, {east:.0f} east, {south:.0f} south, {west:.0f} west)" in PAGE
