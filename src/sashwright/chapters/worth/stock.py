"""A town's houses: one row of a table each, made into a plain house, and what is worth doing in it.

The house is a square of as many storeys as the row says, one room each, its windows all alike and spread
evenly over its four walls, which face the four quarters. Everything else is the worth chapter: the same
energy, money and carbon, at the likely figures and without draws.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sashwright.chapters.building import Building, Glazed, plan_of
from sashwright.chapters.heat.whole import Whole
from sashwright.chapters.seal.window import Factor, Sealed
from sashwright.chapters.worth.alternatives import Alternative
from sashwright.chapters.worth.carbon import carbon_payback
from sashwright.chapters.worth.columns import CONDITIONS, RowError, read
from sashwright.chapters.worth.home import Home
from sashwright.chapters.worth.model import Model
from sashwright.chapters.worth.values import KWH, finite
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.sunlight import OnPlane
from sashwright.window.heights import FOUNDATION_RISE, STOREY
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import DEFAULT_WALLS, House

WAYS = (
    "keep", "repair", "repair-strip-spring", "storm", "storm-low-e", "storm-stays", "inside",
    "repair-storm-low-e", "repair-inside-low-e", "unit", "new-sash", "replace-pvc", "replace-wood",
)  # fmt: skip
"""Alternatives that a table of houses is asked for."""
MOST_GLASS = 0.6
"""Of the walls that may be openings [-]: more is a slip in the table; judgement."""
CEILING = 2.4
"""Height of the rooms [m]; common practice."""
FIGURES: Mapping[str, str] = {
    "first_cost": "now",
    "heating_kwh": "heat needed in a year",
    "cooling_kwh": "heat to be taken out in a year",
    "energy_cost": "of a year at today's prices",
    "net_present_cost": "through the years",
    "energy_payback_years": "first cost over energy saved; empty for never",
    "carbon_a_year_kg": "of heating and cooling",
    "carbon_made_now_kg": "of what is made",
    "carbon_payback_years": "empty for never",
    "landfill_kg": "through the years",
}
"""What is said of each alternative."""
WORDS = ("cheapest", "cheapest_keep", "cheapest_replace")
ORDINARY = {"window_width_mm": 914.4, "window_height_mm": 1524.0, "windows": 1}
"""The window whose sections stand for all of a kind: 36 by 60 in."""
MOST_YEARS = 8
"""Climates whose year and sun are kept in memory."""

Weather = Callable[[str], HourlyYear]
"""The typical year of a place by its name; raises ``ValueError`` for one nobody knows."""


def result_columns() -> dict[str, type]:
    """Every column of the result with what its cells are, in order."""
    found: dict[str, type] = {"id": str, "heated_floor_m2": float, "window_area_m2": float}
    found |= dict.fromkeys(WORDS, str)
    found["replacing_costs_more"] = float
    for way in WAYS:
        found |= {f"{way}.{figure}": float for figure in FIGURES}
    return found


@dataclass(frozen=True, slots=True)
class Skipped:
    """A row that could not be answered, by its place in the table from 1, and why."""

    row: int
    id: str
    reason: str


@dataclass
class Stock:
    """Answers for row after row; what many houses share is worked out once and kept."""

    knowledge: Knowledge
    weather: Weather
    _flows: dict[tuple[str, str], dict[Any, Any]] = field(default_factory=dict)
    _years: dict[str, tuple[HourlyYear, dict[float, OnPlane]]] = field(default_factory=dict)

    def answer(self, raw: Mapping[str, Any]) -> dict[str, Any]:
        """The result of one row. Raises ``RowError``."""
        row = read(raw)
        try:
            model = Model(self._home(row), self.knowledge, draws=0, only=WAYS)
            return _result(row["id"], model)
        except (ValueError, ArithmeticError, RuntimeError, LookupError) as error:
            # Whatever one house cannot be, the others are still answered.
            raise RowError(str(error).replace("\n", "; ")) from None

    def answers(
        self, rows: Iterable[Mapping[str, Any]], first: int = 1
    ) -> tuple[list[dict[str, Any]], list[Skipped]]:
        """Results of many rows in their order, and those that were skipped; ``first`` numbers the first."""
        found, skipped = [], []
        for number, raw in enumerate(rows, start=first):
            try:
                found.append(self.answer(raw))
            except RowError as error:
                skipped.append(Skipped(number, str(raw.get("id") or ""), str(error)))
        return found, skipped

    # --- a row as a house

    def _home(self, row: Mapping[str, Any]) -> Home:
        house = house_of(row)
        year, planes = self._weather(row["climate"])
        ((_, placed),) = place_each(house, self.knowledge, [house.windows[0].number])
        if not isinstance(placed, Placed):
            raise placed
        whole = Whole(placed)
        whole.__dict__["_flows"] = self._sections(row)
        sealed = Sealed(placed, Factor())
        plan = plan_of(house)
        gains: dict[float, dict[Any, Any]] = {}
        windows = tuple(
            Glazed(
                window.number,
                plan.room_of[window.number],
                house.walls[window.wall].faces,
                whole,
                sealed,
                gains.setdefault(house.walls[window.wall].faces, {}),
            )
            for window in house.windows
        )
        home = Home(Building(house, self.knowledge, year, plan, windows, {}))
        home.__dict__["_planes"] = planes
        return home

    def _sections(self, row: Mapping[str, Any]) -> dict[Any, Any]:
        """What a window's sections conduct, of the ordinary size: they hang on its shapes, hardly on that."""
        kind = row["lites"], row["storm"]
        if kind not in self._flows:
            house = house_of({**row, **ORDINARY})
            ((_, placed),) = place_each(house, self.knowledge, ["1"])
            if not isinstance(placed, Placed):
                raise placed
            whole = Whole(placed)
            for build in whole.choices.builds.values():
                whole.part(build, "en")
            self._flows[kind] = whole.__dict__["_flows"]
        return self._flows[kind]

    def _weather(self, climate: str) -> tuple[HourlyYear, dict[float, OnPlane]]:
        if climate not in self._years:
            if len(self._years) >= MOST_YEARS:
                self._years.pop(next(iter(self._years)))
            self._years[climate] = self.weather(climate), {}
        return self._years[climate]


def house_of(row: Mapping[str, Any]) -> House:
    """The plain house of a checked row."""
    storeys = row["storeys"]
    side = math.sqrt(row["floor_area_m2"] / storeys)
    width, height = row["window_width_mm"] / 1000, row["window_height_mm"] / 1000
    walls = list(DEFAULT_WALLS)
    openings, faces = row["windows"] * width * height, 4 * side * CEILING * storeys
    if openings > MOST_GLASS * faces:
        raise RowError(
            f"windows: found {openings:.0f} m2 of openings in {faces:.0f} m2 of walls, expected at most "
            f"{MOST_GLASS:.0%} of them"
        )
    state = CONDITIONS[row["condition"]]
    joints = dict.fromkeys(("upper_sides", "lower_sides", "head", "meeting_rail", "sill"), state)
    storm: dict[str, dict[str, tuple[str, ...]]] = {"glazing": {"panes": ("single-strength",)}}
    if row["storm"] == "low-e":
        storm["glazing"]["coatings"] = ("none", "hard-coat")
    running = {
        "heating": row["heating"],
        "cooling": row["cooling"],
        "heating_price": row["heating_price"],
        "electricity_price": row["electricity_price"],
        "discount": row["discount_pct"],
        "fuel_rise": row["fuel_rise_pct"],
        "years": row["years"],
    }
    volume = row["floor_area_m2"] * CEILING
    air: dict[str, Any] = {"volume": volume, "storeys": storeys}
    if row["air_changes_50"] is not None:
        air["before"] = {"air_changes": row["air_changes_50"]}
    return House.model_validate(
        {
            "name": row["id"],
            "units": "metric",
            "climate": row["climate"],
            "heated_to": row["heated_to_c"],
            "cooled_to": None if row["cooling"] is None else row["cooled_to_c"],
            "air": air | {"eaves": FOUNDATION_RISE + STOREY * storeys},
            "fabric": {name: row[name] for name in ("wall", "ceiling", "floor")},
            "running": {key: value for key, value in running.items() if value is not None},
            "rooms": {
                _room(storey): {"storey": storey, "width": side, "depth": side, "height": CEILING}
                for storey in range(1, storeys + 1)
            },
            "families": {
                "A": {
                    "sash": {"lites": row["lites"]},
                    "storm": "none" if row["storm"] == "none" else "winter",
                    "storm_sash": storm,
                    "seals": joints,
                }
            },
            "windows": [
                {
                    "number": str(at + 1),
                    "family": "A",
                    "room": _room(1 + at // len(walls) % storeys),
                    "wall": walls[at % len(walls)],
                    "storey": 1 + at // len(walls) % storeys,
                    "width": width,
                    "height": height,
                }
                for at in range(row["windows"])
            ],
        }
    )


def _room(storey: int) -> str:
    return f"storey-{storey}"


# --- results --------------------------------------------------------------------------


def _result(name: str, model: Model) -> dict[str, Any]:
    keep, replace = model.cheapest(replaces=False).key, model.cheapest(replaces=True).key
    found: dict[str, Any] = {
        "id": name,
        "heated_floor_m2": model.home.building.plan.heated_floor,
        "window_area_m2": sum(model.follower.areas),
        "cheapest": model.cheapest().key,
        "cheapest_keep": keep,
        "cheapest_replace": replace,
        "replacing_costs_more": model.cost(replace) - model.cost(keep),
    }
    known = {each.key: each for each in model.alternatives}
    for way in WAYS:
        figures = _figures(model, known[way]) if way in known else dict.fromkeys(FIGURES)
        found |= {f"{way}.{figure}": value for figure, value in figures.items()}
    return found


def _figures(model: Model, each: Alternative) -> dict[str, float | None]:
    need, likely, carbon = model.needs[each.key], model.likely[each.key], model.carbon[each.key]
    values = (
        float(likely.first_cost[0]),
        need.heating / KWH,
        need.cooling / KWH,
        float(likely.energy_cost[0]),
        float(likely.money.present_cost[0]),
        finite(float(likely.money.energy_payback[0])),
        carbon.a_year,
        carbon.made_now,
        finite(carbon_payback(model.carbon[model.base.key], carbon)),
        carbon.landfill,
    )
    return dict(zip(FIGURES, values, strict=True))


def stock(
    rows: Sequence[Mapping[str, Any]], knowledge: Knowledge, weather: Weather
) -> tuple[list[dict[str, Any]], list[Skipped]]:
    """One house or a table of thousands: results in the order of the rows, and rows that were skipped.

    Parameters
    ----------
    rows : sequence of mapping
        Cells by the names of :data:`~sashwright.chapters.worth.columns.COLUMNS`; numbers or texts.
    knowledge : Knowledge
        The tables.
    weather : callable
        The year of a place by its name.
    """
    return Stock(knowledge, weather).answers(rows)
