"""Condensation of one window: where, when, why, and what helps."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import numpy as np
import pytest

from sashwright.chapters.answer import Finding
from sashwright.chapters.fit import household_of
from sashwright.chapters.heat.condensation import (
    Condensation,
    Glazing,
    Shared,
    Sheets,
    condensation,
    sheets_of,
    weather_of,
)
from sashwright.chapters.heat.condensation_air import (
    Case,
    exchange_table,
    prime_openings,
    readings,
    storm_openings,
)
from sashwright.chapters.heat.condensation_cases import as_found, tightened, vented
from sashwright.chapters.heat.condensation_findings import LONG
from sashwright.chapters.heat.condensation_weather import foot_of
from sashwright.chapters.heat.glass import stack_of
from sashwright.chapters.heat.wet import behind_metal
from sashwright.chapters.seal.window import Factor as LeakFactor
from sashwright.chapters.seal.window import Sealed, factor_of
from sashwright.chapters.weather import year_of
from sashwright.chapters.words import Words
from sashwright.knowledge.climate_load import gazetteer
from sashwright.physics.glazing import Gap, Pane
from sashwright.physics.hourly_year import HOURS, HourlyYear
from sashwright.physics.indoor import IndoorClimate, indoor_climate
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.physics.vapour_air import space_exchange
from sashwright.window.resolve import place
from sashwright.window.spec import House
from tests.chapters.houses import KNOWLEDGE, PLAIN, Document, house_of

COLD_TOWN = "Burlington, VT"
FACTORS = {"glass edge": 0.40, "muntin": 0.45, "sash corner": 0.52}
BEHIND = {"glass edge": 0.60, "muntin": 0.65, "sash corner": 0.68}
STORM: Document = {"storm": "winter"}
JOINTS = ("upper_sides", "lower_sides", "head", "meeting_rail", "sill")
TIGHT: Document = {"seals": dict.fromkeys(JOINTS, "joint-tight")}
GLAZING = Glazing(
    Sheets((Pane(0.003),), (), 0.6, (0.06,)),
    Sheets((Pane(0.0024), Pane(0.003)), (Gap(0.075),), 0.6, (0.06, 0.05)),
)


@cache
def year() -> HourlyYear:
    return year_of(gazetteer().find(COLD_TOWN))


def house(family: Document, window: Document = PLAIN, **rest: Any) -> House:
    return house_of(family, window, **rest)


def sealed(there: House) -> Sealed:
    placed = place(there, "1", KNOWLEDGE)
    return Sealed(placed, factor_of(placed, LeakFactor()))


def shared(there: House, humidity: float | None = None) -> Shared:
    """A winter of Vermont; indoors as the house is kept, or at one humidity while it is heated."""
    weather = year()
    indoor = indoor_climate(
        weather.temperature, saturation_pressure(weather.dew_point), household_of(there)
    )
    if humidity is not None:
        indoor = IndoorClimate(indoor.temperature, np.full(HOURS, humidity))
    return Shared(weather_of(there, weather, indoor))


def asked(
    family: Document, window: Document = PLAIN, humidity: float | None = None, **rest: Any
) -> Condensation:
    there = house(family, window, **rest)
    return condensation(
        sealed(there),
        there,
        GLAZING,
        shared(there, humidity),
        factors=FACTORS,
        storm_factors=BEHIND,
    )


def option(found: Condensation, key: str) -> dict[str, Any]:
    return next(row for row in found.values["year"]["options"] if row["key"] == key)


def findings(found: Condensation, on: str) -> list[Finding]:
    return [each for each in found.findings if each.on == on]


# --- without weather ------------------------------------------------------------------


def test_without_weather_only_the_humidity_at_start() -> None:
    there = house(STORM)
    found = condensation(sealed(there), there, GLAZING)
    assert found.values["year"] is None
    assert found.values["design_outdoor_c"] == -18.0
    (note,) = findings(found, "condensation")
    assert note.level == "note"
    assert "No climate" in note.says
    # No fallback for what the caller does not give.
    assert set(found.values["starts"]["humidity"]) == {"glass"}
    json.dumps(found.values)


def test_curve_rises_with_warmth_outdoors_and_behind_a_storm() -> None:
    there = house(STORM)
    found = condensation(
        sealed(there), there, GLAZING, factors=FACTORS, storm_factors=BEHIND, design=-10.0
    )
    starts = found.values["starts"]
    assert starts["outdoor_c"] == [-20, -15, -10, -5, 0, 5, 10]
    for part, curve in starts["humidity"].items():
        assert np.all(np.diff(curve) > 0), part
        assert np.all(np.array(starts["humidity_behind_storm"][part]) > curve), part
    assert np.all(np.diff(starts["humidity_behind_storm"]["storm"]) > 0)
    assert starts["at_design"]["glass"] == pytest.approx(starts["humidity"]["glass"][2])


def test_unknown_part_is_refused() -> None:
    there = house(STORM)
    with pytest.raises(ValueError, match="found stool, expected some of glass"):
        condensation(sealed(there), there, GLAZING, factors={"stool": 0.5})
    with pytest.raises(ValueError, match="expected more than the 1"):
        Glazing(GLAZING.prime, GLAZING.prime)


# --- through the year -----------------------------------------------------------------


def test_values_hold_together() -> None:
    found = asked(STORM, humidity=0.40)
    values = found.values["year"]
    json.dumps(found.values)
    assert values["wet_hours"] == values["room_wet_hours"] + values["storm_wet_hours"]
    assert sum(values["storm_wet_h"]) == values["storm_wet_hours"]
    assert sum(values["room_wet_h"]) == values["room_wet_hours"]
    assert set(values["parts_wet_h"]) == {"glass", "glass edge", "muntin", "sash corner"}
    # The colder face is wet longer; the union is no shorter than any part.
    hours = {part: sum(months) for part, months in values["parts_wet_h"].items()}
    assert hours["glass edge"] >= hours["muntin"] >= hours["sash corner"]
    assert max(hours.values()) <= values["room_wet_hours"]
    # No storm hangs from May to October.
    assert sum(values["storm_wet_h"][4:10]) == 0
    for row in values["options"]:
        assert row["fewer_hours"] == values["wet_hours"] - row["wet_hours"]
    assert [row["wet_hours"] for row in values["options"]] == sorted(
        row["wet_hours"] for row in values["options"]
    )
    assert found.steps


def test_trade_rule_inside_tight_outside_vented() -> None:
    """Ground floor of a house of two storeys: each step inside, each hole outside leaves less water."""
    air = {"air": {"storeys": 2}}
    found = asked(STORM, humidity=0.35, **air)
    now = found.values["year"]["storm_wet_hours"]
    assert now > LONG
    keys = [row["key"] for row in found.values["year"]["options"]]
    for key in keys:
        row = option(found, key)
        if key.startswith("tighten"):
            assert row["storm_wet_hours"] <= now, key
            assert row["room_air_share"] < found.values["year"]["room_air_share"], key
    for key in ("two weep holes", "holes at both ends", "wider foot"):
        assert option(found, key)["storm_wet_hours"] <= now, key
    everything = option(found, "tighten all")
    assert everything["storm_wet_hours"] < 0.8 * now
    # What is done to the air behind the storm leaves the room side as it was.
    room = found.values["year"]["room_wet_hours"]
    assert all(
        option(found, key)["room_wet_hours"] == room for key in keys if key.startswith("tight")
    )
    tight = asked({**STORM, **TIGHT}, humidity=0.35, **air)
    assert tight.values["year"]["storm_wet_hours"] < now


def test_upstairs_is_wetter_than_downstairs() -> None:
    """Warm air leaves a house at the top: there the storm meets room air, below outdoor air."""
    low = asked(STORM, {**PLAIN, "storey": 1}, 0.35, air={"storeys": 2})
    high = asked(STORM, {**PLAIN, "storey": 2}, 0.35, air={"storeys": 2})
    assert high.values["year"]["room_air_share"] > low.values["year"]["room_air_share"] + 0.2
    assert high.values["year"]["storm_wet_hours"] > low.values["year"]["storm_wet_hours"]


def test_upstairs_a_tight_prime_lets_less_water_through() -> None:
    """It dries more slowly too, so that hours alone would not show what is gained."""
    found = asked(STORM, {**PLAIN, "storey": 3}, air={"storeys": 3})
    now, tight = found.values["year"], option(found, "tighten all")
    assert tight["storm_water_settled_kg_m2"] < 0.8 * now["storm_water_settled_kg_m2"]
    assert any("of the water would settle" in each.says for each in found.findings)
    # Every step lets less water settle, wherever the window is.
    for row in now["options"]:
        if row["key"].startswith("tighten"):
            assert row["storm_water_settled_kg_m2"] < now["storm_water_settled_kg_m2"], row["key"]


def test_drier_air_helps_both_faces() -> None:
    damp, drier = asked(STORM, humidity=0.45), asked(STORM, humidity=0.40)
    row = option(damp, "drier air")
    assert row["room_wet_hours"] == drier.values["year"]["room_wet_hours"]
    assert row["storm_wet_hours"] == drier.values["year"]["storm_wet_hours"]
    assert row["wet_hours"] < damp.values["year"]["wet_hours"]


def test_storm_off_is_a_window_that_has_none() -> None:
    off = option(asked(STORM, humidity=0.35), "storm off")
    bare = asked({}, humidity=0.35)
    assert off["storm_wet_hours"] == 0
    assert off["room_wet_hours"] == bare.values["year"]["room_wet_hours"]
    on = option(bare, "storm on")
    assert on["room_wet_hours"] < off["room_wet_hours"]
    assert on["storm_wet_hours"] == asked(STORM, humidity=0.35).values["year"]["storm_wet_hours"]


def test_findings_say_what_is_wet_and_what_helps() -> None:
    found = asked(STORM, {**PLAIN, "storey": 2}, 0.40, air={"storeys": 2})
    storm, rule, *_ = findings(found, "condensation.storm")
    assert storm.level == "caution"
    assert "inside tight, outside vented" in rule.source
    advice = findings(found, "condensation")
    assert advice[0].says.startswith(("What helps most: ", "No single step"))
    assert not any("leave the storm off" in each.says for each in found.findings)
    dry = asked(STORM, humidity=0.05)
    assert {each.level for each in dry.findings} == {"note", "ok"}
    assert dry.values["year"]["wet_hours"] == 0


def test_metric_words() -> None:
    there = house(STORM)
    found = condensation(sealed(there), there, GLAZING, words=Words("metric"))
    assert "-18 °C" in found.findings[0].says.replace("−", "-")


# --- the air, without short cuts ------------------------------------------------------


def test_grid_of_flows_stands_close_to_each_hour_by_itself() -> None:
    """Means over the winter within 0.6 %, single hours within 3 % of the flow that is usual."""
    there = house(STORM)
    window, weather = sealed(there), shared(there).weather
    cases = [as_found(window), *tightened(window), *vented(window)]
    hours = np.arange(0, 24 * 90, 7)
    wall, foot, warmth = there.walls["north"], foot_of(window.placed), 0.42
    weights = readings(weather, wall, foot, hours)
    table = exchange_table(window, cases, warmth)
    room, out = weather.indoor.temperature[hours], weather.year.temperature[hours]
    exact = [np.zeros((len(hours), len(cases))) for _ in range(2)]
    for swing in (1, -1):
        pressure = weather.pressure(wall, foot)[hours] + swing * weather.gusts()[hours]
        flows = space_exchange(
            prime_openings(window, cases),
            storm_openings(window, cases),
            pressure,
            (room, out + warmth * (room - out), out),
        )
        exact = [sum_ + 1.2 * flow / 2 for sum_, flow in zip(exact, flows, strict=True)]
    usual = (exact[0] + exact[1]).mean(axis=0)
    for ours, theirs in zip(table, exact, strict=True):
        read = np.asarray(weights @ ours)
        assert np.abs((read - theirs).mean(axis=0) / usual).max() < 0.006
        assert np.abs((read - theirs) / usual).max() < 0.03


def test_cases_close_what_they_say() -> None:
    window = sealed(house(STORM))
    cases: list[Case] = [as_found(window), *tightened(window)]
    sums = prime_openings(window, cases).coefficient.sum(axis=0)
    assert (sums[1:] < sums[0]).all()
    keys = [case.key for case in cases]
    assert sums[keys.index("tighten all")] == sums.min()
    # Joints of the storm add up to the seal chapter's storm.
    whole = storm_openings(window, cases).coefficient[:, 0].sum()
    assert whole == pytest.approx(window.storm.likely.sum(), rel=1e-12)


def test_sheets_from_the_specification() -> None:
    there = house(STORM)
    family = there.families["A"]
    prime = stack_of(family.sash.glazing, KNOWLEDGE)
    both = prime.outside(stack_of(family.storm_sash.glazing, KNOWLEDGE), 0.075)
    sheets = sheets_of(both, 0.6)
    assert len(sheets.panes) == 2
    assert sheets.gaps[0].width == 0.075
    assert 0.03 < min(sheets.absorbs) < max(sheets.absorbs) < 0.15


def test_behind_metal_what_the_storm_adds_stands_before_every_face() -> None:
    """Layers in series: glass that lets 5.8 through alone and 2.9 behind a storm, and wood of 2.0."""
    film, glass, wood = 0.13, 5.8, 2.0
    alone = {"glass edge": 1 - film * glass, "sash corner": 1 - film * wood}
    behind = behind_metal(alone, 5.8, 2.9)
    assert behind["glass edge"] == pytest.approx(1 - film * 2.9)
    assert behind["sash corner"] == pytest.approx(1 - film / (1 / wood + 1 / 2.9 - 1 / 5.8))
    assert behind_metal(alone, 5.8, 5.8) == pytest.approx(alone)
