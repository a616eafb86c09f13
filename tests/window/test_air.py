"""Fan tests and volumes in the specification: read as written, written so that they read back the same."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.units import System
from sashwright.window.air import Air, AirTest, FanTest
from sashwright.window.spec import Family, House

CFM = 0.3048**3 / 60


def read(model: type[Any], document: dict[str, Any], system: System = "us") -> Any:
    return model.model_validate(document, context={"system": system})


@pytest.mark.parametrize(
    ("written", "system", "flow"),
    [
        ("2400 cfm", "us", 2400 * CFM),
        (2400, "us", 2400 * CFM),
        ("1130 L/s", "us", 1.130),
        (3600, "metric", 1.0),
        ("1.5 m3/s", "metric", 1.5),
    ],
)
def test_flows_as_people_write_them(written: Any, system: System, flow: float) -> None:
    assert read(FanTest, {"flow": written}, system).flow == pytest.approx(flow, rel=1e-12)


def test_volumes_as_people_write_them() -> None:
    assert read(Air, {"volume": "12000 ft3"}).volume == pytest.approx(339.802, abs=5e-4)
    assert read(Air, {"volume": 12000}).volume == read(Air, {"volume": "12000 cu ft"}).volume
    assert read(Air, {"volume": 340}, "metric").volume == 340.0
    assert read(Air, {"volume": "340 m³"}).volume == 340.0


@given(st.floats(0.001, 50), st.floats(10, 100_000), st.sampled_from(["us", "metric"]))
def test_written_and_read_back_it_is_the_very_same(
    flow: float, volume: float, system: System
) -> None:
    air = Air(volume=volume, before=FanTest(flow=flow))
    written = air.model_dump(mode="json", context={"system": system})
    again = read(Air, json.loads(json.dumps(written)), system)
    assert again == air


def test_us_figures_stay_readable() -> None:
    air = read(Air, {"volume": "12000 ft3", "before": {"flow": "2400 cfm"}})
    written = air.model_dump(mode="json", context={"system": "us"})
    assert (written["volume"], written["before"]["flow"]) == ("12000 ft3", "2400 cfm")


@pytest.mark.parametrize(
    ("model", "document", "says"),
    [
        (FanTest, {"flow": "lots"}, "expected an air flow such as"),
        (FanTest, {"flow": "100 m3/s"}, "found 1e.05 L/s, expected"),
        (AirTest, {}, "Field required"),
        (AirTest, {"flow": "20 cfm", "pressure": 0}, "greater than 0"),
        (Air, {"volume": "two rooms"}, "expected a volume such as"),
        (Air, {"volume": True}, "expected a volume such as"),
        (Air, {"shielding": "some"}, "'none', 'light', 'moderate', 'heavy' or 'very heavy'"),
    ],
)
def test_what_cannot_be_is_refused(model: type[Any], document: dict[str, Any], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        read(model, document)


def test_defaults_are_those_of_a_usual_old_house() -> None:
    house = House(name="usual")
    assert house.air.before is None
    assert house.changeover.warm > house.changeover.cool
    assert Family().storm == "none"
    assert Family().screen.kind == "none"
    # The defaults of a storm are inches as the shop writes them.
    storm = Family().model_dump(mode="json", context={"system": "us"})["storm_sash"]
    assert (storm["thickness"], storm["stile"]) == ("1 1/8 in", "2 1/4 in")
