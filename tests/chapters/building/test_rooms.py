"""Rooms as zones: as drawn, and as assumed where nobody drew them; walls, floors and ceilings from them."""

from __future__ import annotations

import pytest

from sashwright.chapters.building import BuildingError, building, plan_of
from sashwright.chapters.building.envelope import areas
from tests.chapters.cottage import FAMILY, HIGH, LOW, cottage, made, usual, year_in
from tests.chapters.houses import KNOWLEDGE, house_of

FOOT = 0.3048


def test_zones_are_the_rooms_and_a_roof_space_over_them() -> None:
    plan = usual().plan
    assert [zone.key for zone in plan.zones] == ["kitchen", "parlor", "bedroom", "roof space"]
    assert [zone.heated for zone in plan.zones] == [True, True, True, False]
    assert plan.heated_volume == pytest.approx((144 + 144 + 288) * 8 * FOOT**3)
    # Sills 20 in and 130 in higher over the ground than over the floor.
    assert plan.zone("kitchen").floor == pytest.approx(20 * 0.0254)
    assert plan.zone("bedroom").floor == pytest.approx(130 * 0.0254)


def test_outside_walls_less_their_windows_are_the_perimeter() -> None:
    found = usual()
    walls = areas(found.opaque)["wall"]
    windows = sum(each.area for each in found.windows)
    assert walls + windows == pytest.approx(2 * 72 * 8 * FOOT**2)
    assert areas(found.opaque)["ceiling"] == pytest.approx(288 * FOOT**2)
    assert areas(found.opaque)["floor"] == pytest.approx(288 * FOOT**2)
    assert areas(found.opaque)["partition"] == pytest.approx(12 * 8 * FOOT**2)


def test_walls_look_where_the_plan_says() -> None:
    kitchen = usual().plan.zone("kitchen")
    # The front faces south; seen from before it the kitchen is on the left, which is west.
    assert {edge.faces for edge in kitchen.edges} == {180.0, 270.0, 0.0}


def test_a_house_without_a_plan_is_assumed_and_says_so() -> None:
    house = house_of(
        FAMILY, {**LOW, "room": "kitchen"}, {**HIGH, "room": "chamber", "wall": "south"},
        air={"volume": "8000 ft3"},
    )  # fmt: skip
    plan = plan_of(house)
    assert [zone.key for zone in plan.zones] == [
        "kitchen", "hall of storey 1", "chamber", "hall of storey 2", "roof space",
    ]  # fmt: skip
    assert "no plan of its rooms" in plan.assumed[0]
    assert plan.heated_volume == pytest.approx(8000 * FOOT**3)
    assert plan.zone("chamber").use == "night"
    assert {frozenset(door.between) for door in plan.doors} == {
        frozenset({"hall of storey 1", "kitchen"}),
        frozenset({"hall of storey 2", "chamber"}),
        frozenset({"hall of storey 1", "hall of storey 2"}),
    }


def test_an_attic_of_the_record_is_not_heated_and_has_no_second_roof() -> None:
    attic = {
        "attic": {"storey": 3, "width": "24'", "depth": "12'", "heated": False, "use": "passing"}
    }
    rooms = {**cottage().model_dump()["rooms"]}
    assert set(rooms) == {"kitchen", "parlor", "bedroom"}
    from tests.chapters.cottage import ROOMS

    found = made(rooms={**ROOMS, **attic})
    assert [zone.key for zone in found.zones][-1] == "attic"
    assert areas(found.opaque)["roof"] > 288 * FOOT**2


def test_a_window_outside_every_room_is_left_out_and_told() -> None:
    found = made(
        LOW | {"room": "kitchen", "wall": "south"}, LOW | {"room": "porch", "wall": "south"}
    )
    assert [each.number for each in found.windows] == ["1"]
    assert "2 stand in no room" in found.plan.assumed[0]


def test_a_house_without_windows_cannot_be_followed() -> None:
    with pytest.raises(BuildingError, match="no window"):
        building(house_of(FAMILY), KNOWLEDGE, year_in("Sacramento, CA"))
