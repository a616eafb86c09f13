"""How leaky a house is: each window in each of its states, and all the rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from sashwright.chapters.building.glass import Glazed
from sashwright.chapters.building.rooms import Plan
from sashwright.chapters.heat.builds import Key
from sashwright.chapters.heat.leak import USUAL, air_of
from sashwright.chapters.seal.house import EXPONENT, house_at_4
from sashwright.chapters.seal.window import AT_4
from sashwright.physics.leakage import REFERENCE_PRESSURE, coefficient_from_area
from sashwright.window.spec import House

BACKGROUND = 7.0e-4
"""Leakage area of an old house but for its windows, by heated floor, at 4 Pa [m2/m2]: a normalized leakage of
about 1, as houses from before 1940 have, less a third for windows; ASHRAE Handbook of Fundamentals, from
memory."""


@dataclass(frozen=True)
class Leaks:
    """Of a house, by its fan test or by its floor."""

    house: House
    plan: Plan
    windows: Sequence[Glazed]

    @cached_property
    def by_window(self) -> Mapping[str, Mapping[Key, float]]:
        """Flow of each window at 4 Pa in each of its states [m3/s]."""
        return {
            glazed.number: {
                key: air_of(build, glazed.whole.choices, glazed.sealed, USUAL).flow
                for key, build in glazed.builds.items()
            }
            for glazed in self.windows
        }

    @cached_property
    def exponent(self) -> float:
        test = self.house.air.before or self.house.air.after
        return test.exponent if test else EXPONENT

    @cached_property
    def background(self) -> float:
        """Flow at 4 Pa of the heated rooms but for their windows [m3/s]."""
        heated = {zone.key for zone in self.plan.zones if zone.heated}
        inside = [g for g in self.windows if g.zone in heated]
        whole = house_at_4(self.house.air, [g.sealed for g in inside])
        if whole is None:
            area = BACKGROUND * self.plan.heated_floor
            coefficient = float(coefficient_from_area(area, self.exponent))
            return coefficient * float(REFERENCE_PRESSURE**self.exponent)
        windows = sum(float(g.sealed.alone.whole[0, AT_4]) for g in inside)
        return max(whole - windows, 0.0)

    @property
    def tested(self) -> bool:
        """Whether a fan test says how leaky the house is."""
        return self.house.air.before is not None or self.house.air.after is not None
