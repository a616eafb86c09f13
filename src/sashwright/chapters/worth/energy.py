"""What a house needs for heating and cooling with its windows in some state, hour by hour through a year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.building import Glazed, WindowState
from sashwright.chapters.heat.builds import Key
from sashwright.chapters.heat.leak import USUAL, air_of, flow_with
from sashwright.chapters.seal.flows import Guess
from sashwright.chapters.worth.alternatives import Alternative
from sashwright.chapters.worth.home import Home
from sashwright.physics.hourly_year import HOURS
from sashwright.physics.house_heat import (
    GAINS_TO_AIR,
    factors,
    flows,
    hours,
    simulate,
    sun_in_room,
)
from sashwright.physics.house_heat.elements import House as Thermal
from sashwright.physics.leakage import REFERENCE_PRESSURE

Array = NDArray[np.float64]

GUESSES: tuple[Guess, ...] = ("low", "likely", "high")
HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class Range:
    """A likely figure and the ends of its range."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, eq=False)
class Standing:
    """All windows of the heated rooms, in winter and in summer, and what else the year needs to know.

    ``u`` is the mean conductance of the windows [W/(m2 K)], ``at_4`` what they pass at 4 Pa [m3/s];
    the others of the house, such as an attic's, come by their own ``cold_u``. ``sun`` is what enters the
    heated rooms in each hour, ``cold_sun`` the others [W].
    """

    u_winter: float
    u_summer: float
    winter_at_4: Range
    summer_at_4: Range
    found_at_4: Range
    """In winter with the joints as found and the same glass: work never leaves more."""
    cold_u: float
    sun: Array
    cold_sun: Array


@dataclass(frozen=True, slots=True)
class Need:
    """Heat to be given to and taken from the rooms in a year [J]."""

    heating: float
    cooling: float


@dataclass(frozen=True, eq=False)
class Follower:
    """Follows a home through its year. What windows do is worked out once for each way they can stand."""

    home: Home
    # By the window's own parts, which windows that are alike may share.
    _leaks: dict[tuple[int, str, Key], Range] = field(default_factory=dict)
    _us: dict[tuple[int, Key], float] = field(default_factory=dict)

    # --- windows

    def leak(self, glazed: Glazed, joints: str, key: Key) -> Range:
        """Of one window at 4 Pa with its joints and its glass in some state [m3/s]."""
        asked = id(glazed.sealed), joints, key
        if asked not in self._leaks:
            self._leaks[asked] = _leak(glazed, joints, key)
        return self._leaks[asked]

    def u(self, glazed: Glazed, key: Key) -> float:
        """Of one window with its glass in some state [W/(m2 K)]."""
        asked = id(glazed.whole), key
        if asked not in self._us:
            self._us[asked] = glazed.u(WindowState(key))
        return self._us[asked]

    def _mean_u(self, pairs: Sequence[tuple[Glazed, Key]]) -> float:
        area = sum(glazed.area for glazed, _ in pairs)
        if area == 0:
            return 0.0
        return sum(self.u(glazed, key) * glazed.area for glazed, key in pairs) / area

    def standing(self, alternative: Alternative) -> Standing:
        heated = [s for s, warm in zip(alternative.windows, self.home.warm, strict=True) if warm]
        cold = [s for s, warm in zip(alternative.windows, self.home.warm, strict=True) if not warm]
        home = self.home
        sun = [np.zeros(HOURS), np.zeros(HOURS)]
        for each, warm in zip(alternative.windows, home.warm, strict=True):
            on = home.on(each.glazed.faces)
            through = np.where(
                home.winter,
                each.glazed.sun(WindowState(each.winter), on),
                each.glazed.sun(WindowState(each.summer), on),
            )
            sun[0 if warm else 1] += through
        return Standing(
            self._mean_u([(s.glazed, s.winter) for s in heated]),
            self._mean_u([(s.glazed, s.summer) for s in heated]),
            _total([self.leak(s.glazed, s.joints, s.winter) for s in heated]),
            _total([self.leak(s.glazed, s.joints, s.summer) for s in heated]),
            _total([self.leak(s.glazed, "as found", s.winter) for s in heated]),
            self._mean_u([(s.glazed, s.winter) for s in cold]),
            sun[0],
            sun[1],
        )

    @cached_property
    def alone(self) -> Range:
        """Windows of the heated rooms as found with nothing before them, as fan tests see them [m3/s]."""
        pairs = zip(self.home.windows, self.home.warm, strict=True)
        return _total([self.leak(glazed, "as found", "prime") for glazed, warm in pairs if warm])

    @cached_property
    def areas(self) -> tuple[float, float]:
        """Of all windows of the heated rooms, and of the others [m2]."""
        pairs = list(zip(self.home.windows, self.home.warm, strict=True))
        return (
            sum(glazed.area for glazed, warm in pairs if warm),
            sum(glazed.area for glazed, warm in pairs if not warm),
        )

    # --- the year

    def need(
        self,
        standing: Standing,
        *,
        leak: float | None = None,
        summer_leak: float | None = None,
        rest: float | None = None,
        u: float = 1.0,
        sun: float = 1.0,
        warmer: float = 0.0,
    ) -> Need:
        """A year with the windows so.

        ``leak`` and ``summer_leak`` stand in for the likely flow of the windows at 4 Pa, ``rest`` for that of
        the rest of the house [m3/s]; ``u`` and ``sun`` are factors on conductance and sun, ``warmer`` is
        added to the weather [K].
        """
        home = self.home
        outdoors = home.year.temperature + warmer
        winter = standing.winter_at_4.likely if leak is None else leak
        summer = standing.summer_at_4.likely if summer_leak is None else summer_leak
        other = home.rest_at_4 if rest is None else rest
        f = factors([self._thermal(standing, u, True), self._thermal(standing, u, False)])
        two = len(home.rooms) == 2
        at_4 = np.where(home.winter, other + winter, other + summer)
        fresh = np.zeros((HOURS, len(home.rooms)))
        per_4 = home.exchange.at_one / REFERENCE_PRESSURE**home.exchange.exponent
        fresh[:, 0] = at_4 * per_4 * home.density
        gained = np.column_stack([standing.sun, standing.cold_sun][: len(home.rooms)]) * sun
        shares = sun_in_room(self._glass, self._faces)
        inside = np.array([home.gains, 0.0][: len(home.rooms)])
        no_heat = [home.house.heated_to, -np.inf] if two else [home.house.heated_to]
        during = hours(
            f,
            outdoors,
            home.beyond + warmer,
            convective=GAINS_TO_AIR * inside,
            radiant=(1 - GAINS_TO_AIR) * inside + shares.faces * gained,
            sun=shares.floor * gained,
            heat_to=no_heat,
            cool_to=[self.cool_to, np.inf][: len(home.rooms)],
            state=np.where(home.winter, 0, 1),
        )
        course = simulate(f, during, flows(f, HOURS, fresh), start=home.house.heated_to)
        return Need(
            float(course.heating[:, 0].sum() * HOUR), float(course.cooling[:, 0].sum() * HOUR)
        )

    @property
    def cools(self) -> bool:
        """Whether anything cools the house."""
        return self.home.house.running.cooling is not None and self.home.house.cooled_to is not None

    @property
    def cool_to(self) -> float:
        if not self.cools or self.home.house.cooled_to is None:
            return float(np.inf)
        return max(self.home.house.cooled_to, self.home.house.heated_to)

    @cached_property
    def _faces(self) -> float:
        """Of all faces of the heated rooms [m2]."""
        walls = sum(e.area for e in self.home.elements if e.room == 0)
        walls += sum(e.area for e in self.home.elements if e.other_room == 0)
        return walls + self.areas[0]

    @cached_property
    def _glass(self) -> float:
        """Of the heated rooms' windows as they stand alone [m2]."""
        pairs = zip(self.home.windows, self.home.warm, strict=True)
        return sum(sum(glazed.glass("prime").values()) for glazed, warm in pairs if warm)

    def _thermal(self, standing: Standing, u: float, winter: bool) -> Thermal:
        conductance = (standing.u_winter if winter else standing.u_summer) * u
        heated, cold = self.areas
        elements = list(self.home.elements)
        if heated > 0:
            elements.append(self.home.window_element(heated, conductance, 0))
        if cold > 0 and len(self.home.rooms) == 2:
            elements.append(self.home.window_element(cold, standing.cold_u * u, 1))
        return Thermal(self.home.rooms, tuple(elements), self.home.density)


def _total(ranges: Sequence[Range]) -> Range:
    return Range(
        sum(r.low for r in ranges), sum(r.likely for r in ranges), sum(r.high for r in ranges)
    )


def _leak(glazed: Glazed, joints: str, key: Key) -> Range:
    build, choices, sealed = glazed.builds[key], glazed.whole.choices, glazed.sealed
    if build.wood == "new":
        air = air_of(build, choices, sealed, USUAL)
        return Range(air.low, air.flow, air.high)
    state = joints if joints in sealed.names else "repaired" if joints != "as found" else joints
    leaks = sealed.states[state]
    low, likely, high = (
        flow_with(build, choices, sealed, leaks, REFERENCE_PRESSURE, guess) for guess in GUESSES
    )
    return Range(low, likely, high)
