"""What must hold for the heat of any house."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.physics.constants import AIR_HEAT
from sashwright.physics.house_heat import (
    DOWNWARD,
    LEVEL,
    UPWARD,
    Chain,
    Coupled,
    Course,
    Element,
    Factors,
    Film,
    Flows,
    Hours,
    House,
    Layer,
    Room,
    SunThrough,
    air,
    behind_face,
    between_faces,
    coupled,
    factors,
    five_nodes,
    flows,
    hours,
    layered,
    massless,
    sees_sky,
    simulate,
    sun_in_room,
)
from sashwright.physics.network import Crack, Hole, Link, Network, Opening, Zone

HOURS = 24 * 21


def random_house(rng: np.random.Generator, rooms: int = 3) -> House:
    """Walls, windows and partitions of all kinds; rooms in a row."""
    elements = []
    for room in range(rooms):
        for exposure in range(2):
            chain = five_nodes(rng.uniform(0.3, 3), rng.uniform(2e4, 3e5), "spread")
            elements.append(Element(rng.uniform(5, 30), chain, room, exposure=exposure))
        elements.append(Element(rng.uniform(1, 5), massless(0.15), room, exposure=0))
        floor = layered([Layer(0.5, 1.5, 1800, 1000), Layer(0.03, 0.13, 500, 1600)])
        elements.append(
            Element(12.0, floor, room, exposure=2, inside=DOWNWARD, sun_inside=bool(room % 2))
        )
        if room:
            chain = five_nodes(0.4, 5e4, "both")
            elements.append(
                Element(
                    10.0,
                    chain,
                    room,
                    other_room=room - 1,
                    outside=UPWARD,
                    sun_outside=bool(room == 1),
                )
            )
    sizes = rng.uniform(20, 80, rooms)
    return House(tuple(Room(v, 1e4 * v) for v in sizes), tuple(elements), 1.15)


def weather(rng: np.random.Generator, count: int = HOURS) -> tuple[np.ndarray, np.ndarray]:
    turn = 2 * np.pi * np.arange(count) / 24
    outdoors = 4 - 6 * np.cos(turn - 0.8) + rng.normal(0, 2, count)
    beyond = outdoors[:, None] + rng.uniform(-3, 12, (count, 3))
    beyond[:, 2] = 9.0
    return outdoors, beyond


def lived_in(f: Factors, rng: np.random.Generator, count: int = HOURS, **more: object) -> Hours:
    rooms = len(f.air_store)
    outdoors, beyond = weather(rng, count)
    given_ = {
        "convective": rng.uniform(0, 200, (count, rooms)),
        "radiant": rng.uniform(0, 200, (count, rooms)),
        "sun": rng.uniform(0, 500, (count, rooms)),
        "heat_to": 19.0,
        "cool_to": 26.0,
    }
    return hours(f, outdoors, beyond, **{**given_, **more})  # type: ignore[arg-type]


def some_flows(f: Factors, rng: np.random.Generator, count: int = HOURS) -> Flows:
    rooms = len(f.air_store)
    return flows(
        f,
        count,
        rng.uniform(0, 0.02, (count, rooms)),
        rng.uniform(0, 0.02, (count, rooms, rooms)),
    )


# --- against the same equations written out in full ---------------------------------------


class WrittenOut:
    """Air of all rooms, their stars, and the nodes of all elements, as one system; all rooms free."""

    def __init__(self, house: House, columns: int) -> None:
        self.house, self.rooms = house, len(house.rooms)
        sizes = [len(e.chain.capacities) for e in house.elements]
        self.first = (2 * self.rooms + np.concatenate([[0], np.cumsum(sizes)])).tolist()
        size = self.first[-1]
        self.capacity = np.zeros(size)
        self.base, self.outer = np.zeros((size, size)), np.zeros((size, columns))
        self.sunny = np.zeros((size, self.rooms))
        for z, room in enumerate(house.rooms):
            self.capacity[z] = AIR_HEAT * house.density * room.volume + room.capacity
        for e, element in enumerate(house.elements):
            self._add(element, self.first[e], self.first[e + 1] - 1)
        self._share_the_sun()

    def _join(self, a: int, b: int, conductance: float) -> None:
        for x, y in ((a, b), (b, a)):
            self.base[x, x] += conductance
            self.base[x, y] -= conductance

    def _add(self, element: Element, low: int, high: int) -> None:
        self.capacity[low : high + 1] = element.area * element.chain.capacities
        for i, resistance in enumerate(element.chain.resistances):
            self._join(low + i, low + i + 1, element.area / resistance)
        self._face(high, element.area, element.room, element.inside)
        if element.other_room is not None:
            self._face(low, element.area, element.other_room, element.outside)
        else:
            conductance = element.area * element.outside.total
            self.base[low, low] += conductance
            self.outer[low, element.exposure] += conductance

    def _face(self, node: int, area: float, room: int, film: Film) -> None:
        self._join(node, room, area * film.convection)
        self._join(node, self.rooms + room, area * film.radiation)

    def _share_the_sun(self) -> None:
        faces = [
            (self.first[e + 1] - 1, x.room, x.area, x.sun_inside)
            for e, x in enumerate(self.house.elements)
        ] + [
            (self.first[e], x.other_room, x.area, x.sun_outside)
            for e, x in enumerate(self.house.elements)
            if x.other_room is not None
        ]
        for room in range(self.rooms):
            own = [face for face in faces if face[1] == room]
            for node, _, area, marked in own:
                if marked or not any(face[3] for face in own):
                    self.sunny[node, room] = area
        self.sunny /= self.sunny.sum(axis=0)

    def course(self, during: Hours, moved: Flows, step: float) -> np.ndarray:
        """Air, (H, R), by implicit steps from 20 °C."""
        state, found, rooms = np.full(len(self.capacity), 20.0), [], self.rooms
        for h in range(len(during.outdoors)):
            matrix = self.base + np.diag(self.capacity / step)
            right = self.capacity / step * state
            right += self.outer @ during.beyond[h] + self.sunny @ during.sun[h]
            right[:rooms] += during.convective[h]
            right[rooms : 2 * rooms] += during.radiant[h]
            apart = moved.between[h] * (1 - np.eye(rooms))
            arriving = moved.fresh[h] + apart.sum(axis=0)
            matrix[:rooms, :rooms] += AIR_HEAT * (np.diag(arriving) - apart.T)
            right[:rooms] += AIR_HEAT * moved.fresh[h] * during.outdoors[h]
            state = np.linalg.solve(matrix, right)
            found.append(state[:rooms])
        return np.array(found)


@pytest.mark.parametrize("seed", range(4))
def test_the_same_as_all_equations_at_once(seed: int) -> None:
    rng = np.random.default_rng(seed)
    house = random_house(rng)
    f = factors([house], 1800.0)
    during = lived_in(f, rng, 60, heat_to=-np.inf, cool_to=np.inf)
    moved = some_flows(f, rng, 60)
    ours = simulate(f, during, moved, warm_up=0).air
    np.testing.assert_allclose(
        ours, WrittenOut(house, 3).course(during, moved, 1800.0), rtol=0, atol=1e-9
    )


# --- balances -----------------------------------------------------------------------------


def closing(house: House, during: Hours, course: Course) -> float:
    """What is missing in the worst hour, over all that flows in it [-]."""
    outside = [e for e, element in enumerate(house.elements) if element.exposure is not None]
    terms = [
        (during.convective + during.radiant + during.sun).sum(axis=1),
        course.power.sum(axis=1),
        -course.by_air.sum(axis=1),
        -course.outward[:, outside].sum(axis=1),
        -course.stored,
    ]
    return float((np.abs(sum(terms)) / sum(np.abs(t) for t in terms)).max())


@pytest.mark.parametrize("seed", range(4))
def test_energy_closes(seed: int) -> None:
    rng = np.random.default_rng(seed)
    house = random_house(rng)
    f = factors([house])
    during = lived_in(f, rng)
    assert closing(house, during, simulate(f, during, some_flows(f, rng))) < 1e-9


@pytest.mark.parametrize("seed", range(3))
def test_set_points_are_kept_and_heat_has_its_sign(seed: int) -> None:
    rng = np.random.default_rng(seed)
    f = factors([random_house(rng)])
    sun = 3000.0 * (rng.uniform(0, 1, (HOURS, 1)) > 0.7)
    course = simulate(f, lived_in(f, rng, sun=sun, cool_to=20.0), some_flows(f, rng))
    assert course.air.min() > 19 - 1e-9
    assert course.air.max() < 20 + 1e-9
    assert (course.heating > 0).any()
    assert (course.cooling > 0).any()
    np.testing.assert_allclose(course.air[course.heating > 1e-6], 19.0, atol=1e-9)
    np.testing.assert_allclose(course.air[course.cooling > 1e-6], 20.0, atol=1e-9)


def test_heating_on_and_off() -> None:
    """Set back at night: no heat while off, less over all, and warmer again in the day."""
    rng = np.random.default_rng(5)
    f = factors([random_house(rng)])
    moved = some_flows(f, rng)
    day = (np.arange(HOURS) % 24 >= 6) & (np.arange(HOURS) % 24 < 22)
    by_day = np.where(day, 19.0, -np.inf)[:, None]
    through, off = (
        simulate(f, lived_in(f, np.random.default_rng(6), heat_to=set_), moved)
        for set_ in (19.0, by_day)
    )
    assert off.power[~day].max() <= 0
    assert (off.air <= through.air + 1e-9).all()
    assert off.heating.sum() < through.heating.sum()
    assert off.air[~day].min() < 18
    assert off.air[day].min() == pytest.approx(19.0)


# --- what must be so --------------------------------------------------------------------------


@settings(max_examples=20, deadline=None)
@given(seed=st.integers(0, 10_000), more=st.floats(1.01, 5))
def test_more_insulation_never_raises_heating(seed: int, more: float) -> None:
    """Nothing but heating and weather colder than the set point: then it is true for all houses."""
    rng = np.random.default_rng(seed)
    house = random_house(rng)
    better = replace(
        house,
        elements=tuple(
            replace(e, chain=replace(e.chain, resistances=e.chain.resistances * more))
            if e.exposure is not None
            else e
            for e in house.elements
        ),
    )
    f, g = factors([house]), factors([better])
    outdoors, beyond = weather(rng)
    outdoors, beyond = np.minimum(outdoors, 18.0), np.minimum(beyond, 18.0)
    moved = some_flows(f, rng)
    before, after = (
        simulate(x, hours(x, outdoors, beyond, heat_to=19.0), moved).heating for x in (f, g)
    )
    assert after.sum() <= before.sum() * (1 + 1e-9)


@settings(max_examples=20, deadline=None)
@given(seed=st.integers(0, 10_000), warmer=st.floats(0.1, 10))
def test_warmer_outside_never_raises_heating(seed: int, warmer: float) -> None:
    rng = np.random.default_rng(seed)
    f = factors([random_house(rng)])
    during, moved = lived_in(f, rng), some_flows(f, rng)
    mild = during._replace(outdoors=during.outdoors + warmer, beyond=during.beyond + warmer)
    before, after = simulate(f, during, moved), simulate(f, mild, moved)
    assert (after.air >= before.air - 1e-9).all()
    assert (after.power <= before.power + 1e-6).all()


@pytest.mark.parametrize("seed", range(3))
def test_order_of_rooms_does_not_matter(seed: int) -> None:
    rng = np.random.default_rng(seed)
    house = random_house(rng, 4)
    f = factors([house])
    during, moved = lived_in(f, rng), some_flows(f, rng)
    order = rng.permutation(4)
    place = np.argsort(order)
    shuffled = House(
        tuple(house.rooms[z] for z in order),
        tuple(
            replace(
                e,
                room=int(place[e.room]),
                other_room=None if e.other_room is None else int(place[e.other_room]),
            )
            for e in house.elements
        ),
        house.density,
    )
    g = factors([shuffled])
    turned = during._replace(
        **{
            name: np.ascontiguousarray(getattr(during, name)[:, order])
            for name in ("convective", "radiant", "sun", "heat_to", "cool_to")
        }
    )
    moved_too = flows(g, HOURS, moved.fresh[:, order], moved.between[:, order][:, :, order])
    one, other = simulate(f, during, moved), simulate(g, turned, moved_too)
    np.testing.assert_allclose(other.air, one.air[:, order], rtol=0, atol=1e-9)
    np.testing.assert_allclose(other.power, one.power[:, order], rtol=1e-7, atol=1e-6)


def test_a_house_at_rest_stays() -> None:
    rng = np.random.default_rng(0)
    f = factors([random_house(rng)])
    still = np.full(50, 14.0)
    course = simulate(f, hours(f, still, np.full((50, 3), 14.0)), flows(f, 50, 0.05), start=14.0)
    np.testing.assert_allclose(course.air, 14.0, atol=1e-10)
    np.testing.assert_allclose(course.operative, 14.0, atol=1e-10)


def test_states_are_changed_hour_by_hour() -> None:
    """With storms on for the second half: the first is that of the bare house, the second loses less."""
    rng = np.random.default_rng(3)
    bare = random_house(rng)
    stormy = replace(
        bare,
        elements=tuple(
            replace(e, chain=massless(0.35)) if len(e.chain.capacities) == 2 else e
            for e in bare.elements
        ),
    )
    both, one, other = factors([bare, stormy]), factors([bare]), factors([stormy])
    moved, rest = some_flows(one, rng), np.random.default_rng(4)
    during = lived_in(both, rest)
    half = HOURS // 2
    switched = during._replace(state=(np.arange(HOURS) >= half).astype(np.int64))
    found = simulate(both, switched, moved, warm_up=0)
    first = simulate(one, during, moved, warm_up=0)
    np.testing.assert_array_equal(found.air[:half], first.air[:half])
    np.testing.assert_array_equal(found.power[:half], first.power[:half])
    last = simulate(other, during, moved, warm_up=0)
    assert found.heating[half:].sum() < first.heating[half:].sum()
    assert found.heating[-24:].sum() == pytest.approx(last.heating[-24:].sum(), rel=0.05)
    assert closing(bare, switched, found) < 1e-9


# --- with air that follows from warmth ----------------------------------------------------


def breathing(
    rng: np.random.Generator, count: int, warm_up: int = 100
) -> tuple[House, Coupled, Hours]:
    house = random_house(rng)
    f = factors([house])
    names = [f"room {z}" for z in range(3)]
    links: list[Link] = [Crack(start=n, end="north", coefficient=3e-3, height=1.0) for n in names]
    links += [
        Opening(start=n, end="south", width=0.8, bottom=0.8, top=2.2, grows="up") for n in names
    ]
    links += [
        Opening(start=a, end=b, width=0.8, bottom=0.0, top=2.0)
        for a, b in zip(names[1:], names[:-1], strict=True)
    ]
    links.append(Hole(start=names[2], end="north", area=0.1, height=6.0))
    network = Network([Zone(name=n) for n in names], ["north", "south"], links)
    during = lived_in(f, rng, count, heat_to=-np.inf, cool_to=np.inf)
    moved = air(
        network.arrays(),
        [0.0, 0.0, 0.0],
        count,
        wind=rng.uniform(-1, 1, (count, 2)) * 10 ** rng.uniform(-3, 1.3, (count, 1)),
        fraction=rng.choice([0.0, 0.05, 0.3, 1.0], (count, len(links))),
    )
    return house, coupled(f, during, moved, warm_up=warm_up), during


@pytest.mark.parametrize("seed", range(4))
def test_heat_and_air_agree_in_every_hour(seed: int) -> None:
    house, found, during = breathing(np.random.default_rng(seed), 500)
    assert found.off.max() <= 0.01
    assert closing(house, during, found.course) < 1e-9
    # No room gains air.
    moved = found.course.flows
    arriving = moved.fresh + moved.between.sum(axis=1)
    leaving = moved.between.sum(axis=2)
    outward = arriving - leaving
    # What leaves by the faces is what the links carry there.
    to_faces = found.forth[:, [0, 1, 2, 3, 4, 5, 8]]
    at = np.array([0, 1, 2, 0, 1, 2, 2])
    carried = np.stack([to_faces[:, at == z].sum(axis=1) for z in range(3)], axis=1)
    np.testing.assert_allclose(outward, carried, atol=1e-8)


def test_given_its_own_flows_the_course_is_the_same() -> None:
    rng = np.random.default_rng(9)
    house, found, during = breathing(rng, 300, 0)
    again = simulate(factors([house]), during, found.course.flows, warm_up=0)
    np.testing.assert_allclose(again.air, found.course.air, atol=1e-9)


# --- small parts --------------------------------------------------------------------------------


@given(
    resistance=st.floats(0.1, 10),
    capacity=st.floats(1e3, 1e6),
    mass=st.sampled_from(["inside", "outside", "both", "spread", "middle"]),
)
def test_five_nodes_keep_the_whole(resistance: float, capacity: float, mass: str) -> None:
    chain = five_nodes(resistance, capacity, mass)  # type: ignore[arg-type]
    assert chain.resistance == pytest.approx(resistance)
    assert chain.capacity == pytest.approx(capacity)
    assert len(chain.capacities) == 5


def test_layers_keep_the_whole() -> None:
    layers = [Layer(0.1, 0.51, 1400, 1000), Layer(0.06, 0.04, 12, 840), Layer(1.0, 0.04)]
    chain = layered(layers)
    assert chain.resistance == pytest.approx(sum(layer.resistance for layer in layers))
    assert chain.capacity == pytest.approx(sum(layer.capacity for layer in layers))


def test_between_faces_takes_the_films_off() -> None:
    element = Element(1.0, massless(between_faces(2.8)), 0, exposure=0)
    assert element.u == pytest.approx(2.8)
    with pytest.raises(ValueError, match=r"U: found 9.0 W/\(m2 K\), expected less"):
        between_faces(9.0)


def test_behind_a_face() -> None:
    """A flat black roof under 800 W/m2 and a sky 11 K colder, by hand: 20 + (800 - 45.54)/24.14."""
    assert float(behind_face(20.0, 800.0, absorptance=1.0, sky=sees_sky(0.0))) == pytest.approx(
        51.2535, abs=1e-3
    )
    assert sees_sky(90.0) == pytest.approx(0.5)


@given(glass=st.floats(0, 50), absorptance=st.floats(0.05, 0.95))
def test_the_sun_goes_somewhere(glass: float, absorptance: float) -> None:
    shares = sun_in_room(glass, 60.0, absorptance)
    assert shares.floor + shares.faces + shares.lost == pytest.approx(1.0)
    assert min(shares.floor, shares.faces, shares.lost) >= -1e-12


WALL = Element(10.0, massless(1.0), 0, exposure=0)


def test_what_cannot_be_is_refused() -> None:
    f = factors([House((Room(10.0),), (WALL,))])
    still = np.zeros(3)
    with pytest.raises(ValueError, match="found heating above cooling"):
        hours(f, still, still[:, None], heat_to=22.0, cool_to=21.0)
    with pytest.raises(ValueError, match=r"exposures: found shape \(3, 0\)"):
        hours(f, still, np.zeros((3, 0)))
    with pytest.raises(ValueError, match="radiant gains: found a value that is no number"):
        hours(f, still, still[:, None], radiant=np.nan)
    with pytest.raises(ValueError, match=r"sun: found shape \(2,\)"):
        hours(f, still, still[:, None], sun=[1.0, 2.0])
    with pytest.raises(ValueError, match="state: expected 0 to 0"):
        hours(f, still, still[:, None], state=1)
    with pytest.raises(ValueError, match="air flows: expected none below 0"):
        flows(f, 3, -0.1)
    with pytest.raises(ValueError, match=r"house: found rooms \[1\] without an element"):
        House((Room(10.0), Room(10.0)), (WALL,))
    with pytest.raises(ValueError, match="element 0: found room 4, expected 0 to 0"):
        House((Room(10.0),), (replace(WALL, room=4),))
    with pytest.raises(ValueError, match="expected either an exposure or another room"):
        replace(WALL, other_room=0)
    with pytest.raises(ValueError, match="state 1: found other rooms"):
        factors([House((Room(10.0),), (WALL,)), House((Room(11.0),), (WALL,))])
    with pytest.raises(ValueError, match="expected both above 0"):
        Film(0.0, LEVEL.radiation)
    with pytest.raises(ValueError, match="one resistance fewer"):
        Chain(np.ones(2), np.ones(2))
    with pytest.raises(ValueError, match="expected cosines from 0 to 1"):
        SunThrough(np.array([0.1, 1.0]), np.array([0.0, 0.7]), 0.6)
