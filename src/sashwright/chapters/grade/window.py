"""One window put to the question: what each part bears, what the site asks, what that comes to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.grade.glass import glass_of, lites_of
from sashwright.chapters.grade.meeting import Pair, pair_of
from sashwright.chapters.grade.members import Beam, bars_of, of_beam
from sashwright.chapters.grade.post import posts_of
from sashwright.chapters.grade.pressure import Ground, Pressure, pressures_on, worst_of
from sashwright.chapters.grade.rating import (
    needed_grade,
    pressures_of,
    water_grade,
    wind_class,
    wind_grade,
)
from sashwright.chapters.grade.resistance import Resistance, least
from sashwright.chapters.grade.safety_work import FORCES, force_values
from sashwright.chapters.grade.storm import Storm, storm_of
from sashwright.chapters.grade.water import Dam, dams_of
from sashwright.chapters.seal.limits import RATED_LIMIT
from sashwright.chapters.seal.window import AT_75, Sealed
from sashwright.physics.beams import DEFLECTION_RATIO
from sashwright.physics.wind import effective_area
from sashwright.window.layout import Which
from sashwright.window.resolve import Placed

SASH: tuple[Which, Which] = ("upper", "lower")


@dataclass(frozen=True)
class Graded:
    """A window and all that follows from it and from its site."""

    placed: Placed
    ground: Ground
    sealed: Sealed
    hung: WindowAnswer

    # --- what the site asks ---

    @cached_property
    def area(self) -> float:
        """Effective wind area of the whole window [m2]."""
        window = self.placed.window
        short, long = sorted((window.width, window.height))
        return float(effective_area(long, short))

    @cached_property
    def zones(self) -> tuple[Pressure, ...]:
        """Design pressure on the whole window in each zone that it may stand in, the worst first."""
        return pressures_on(self.ground, self.placed.window, self.area)

    @cached_property
    def pressure(self) -> Pressure | None:
        return worst_of(self.zones)

    def load_on(self, part: Resistance) -> float | None:
        """Design pressure on a part, by its own area [Pa]; None where no wind speed is known."""
        asked = worst_of(pressures_on(self.ground, self.placed.window, part.area))
        if asked is None:
            return None
        return abs(asked.outward) if part.outward_only else asked.greatest

    def utilisation_of(self, part: Resistance) -> float | None:
        load = self.load_on(part)
        return None if load is None else load / part.capacity

    # --- what it bears ---

    @cached_property
    def bars(self) -> dict[Which, tuple[list[Beam], list[Beam]]]:
        return {
            which: bars_of(self.placed.layout.sash(which), self.placed.knowledge) for which in SASH
        }

    @cached_property
    def pair(self) -> Pair:
        layout, knowledge = self.placed.layout, self.placed.knowledge
        return pair_of(layout, self.bars["upper"][0], self.bars["lower"][0], knowledge)

    @cached_property
    def glass(self) -> tuple[Resistance, ...]:
        """Every lite of both sash; none of a sash that is not glazed with glass."""
        placed = self.placed
        return tuple(
            each
            for which in SASH
            for each in glass_of(
                which,
                placed.sash(which).pieces.panes,
                placed.layout.sash(which).spec.glazing,
                placed.knowledge,
            )
        )

    @cached_property
    def unglazed(self) -> tuple[Which, ...]:
        """Sash whose panes are no glass, so that nothing is said of them."""
        judged = {each.on.partition(".")[0] for each in self.glass}
        return tuple(which for which in SASH if which not in judged)

    @cached_property
    def wood(self) -> tuple[Resistance, ...]:
        """Bars, meeting rails and mullions; of cross bars, which are drawn as one, the weakest."""
        found: list[Resistance] = []
        for uprights, crosses in self.bars.values():
            for bar in uprights:
                found += of_beam(bar)
            if crosses:
                strong, stiff = zip(*(of_beam(bar) for bar in crosses), strict=True)
                found += [min(row, key=lambda each: each.capacity) for row in (strong, stiff)]
        found += self.pair.resistances(together=self.pair.together)
        return (*found, *posts_of(self.placed))

    @property
    def parts(self) -> tuple[Resistance, ...]:
        """Of the window itself, without a storm sash."""
        return (*self.glass, *self.wood)

    @cached_property
    def storm(self) -> Storm | None:
        return storm_of(self.placed, self.sealed)

    @cached_property
    def governing(self) -> Resistance:
        """The part that gives way first: by its own load where that is known."""
        return max(self.parts, key=lambda part: self.utilisation_of(part) or 1 / part.capacity)

    @cached_property
    def weakest(self) -> Resistance:
        return min(self.parts, key=lambda part: part.capacity)

    @property
    def breaking(self) -> Resistance:
        """The part that breaks first, whatever bends."""
        return min(
            (part for part in self.parts if part.kind != "stiffness"),
            key=lambda part: part.capacity,
        )

    @property
    def bending(self) -> Resistance:
        """The member that bends most for its span."""
        return min(
            (part for part in self.parts if part.kind == "stiffness"),
            key=lambda part: part.capacity,
        )

    @cached_property
    def breaks_under_load(self) -> bool:
        """Whether the design wind is more than some part bears unbroken."""
        used = (self.utilisation_of(part) for part in self.parts if part.kind != "stiffness")
        return any(share is not None and share > 1.0 for share in used)

    @cached_property
    def utilisation(self) -> float | None:
        return self.utilisation_of(self.governing)

    # --- water, air, force ---

    @cached_property
    def dams(self) -> tuple[Dam, Dam]:
        return dams_of(self.placed.layout, self.sealed)

    @property
    def dam(self) -> Dam:
        """The lowest."""
        return min(self.dams, key=lambda dam: dam.held)

    @property
    def air_per_area(self) -> float:
        """As found, without the joint of frame and wall, at 75 Pa [m3/(s m2)]."""
        return float(self.sealed.alone.unit[0, AT_75]) / self.sealed.cracks.area

    @property
    def air_met(self) -> bool:
        return self.air_per_area <= RATED_LIMIT

    @cached_property
    def forces(self) -> dict[str, Any]:
        return force_values(self.hung)

    @property
    def hardest(self) -> float | None:
        """Greatest force to move a sash [N]; None where none is hung."""
        found = [row["force_n"] for row in self.forces.values() if row["force_n"] is not None]
        return max(found, default=None)

    @property
    def force_met(self) -> bool:
        return self.hardest is None or self.hardest <= FORCES["R"]

    # --- what that comes to ---

    @property
    def wind_grade(self) -> int | None:
        return wind_grade(self.weakest.capacity)

    @property
    def water_grade(self) -> int | None:
        return water_grade(self.dam.held)

    @property
    def needed(self) -> int | None:
        """Least performance grade that covers the site's pressure."""
        return None if self.pressure is None else needed_grade(self.pressure.greatest)

    @property
    def water_asked(self) -> float:
        """Water test of the grade that the site needs, else of the least grade there is [Pa]."""
        return pressures_of(self.needed or 15).water

    @cached_property
    def lacking(self) -> tuple[str, ...]:
        """What keeps the window from any performance grade at all."""
        met = {
            "wind": self.wind_grade is not None,
            "water": self.water_grade is not None,
            "air": self.air_met,
            "force": self.force_met,
        }
        return tuple(name for name, yes in met.items() if not yes)

    @cached_property
    def grade(self) -> int | None:
        """Performance grade by these figures; None where one of the four reaches none."""
        if self.lacking or self.wind_grade is None or self.water_grade is None:
            return None
        return min(self.wind_grade, self.water_grade)

    @property
    def governs(self) -> str:
        if self.lacking:
            return self.lacking[0]
        wind, water = self.wind_grade or 0, self.water_grade or 0
        return "wind" if wind <= water else "water"

    @property
    def wind_class(self) -> str | None:
        """Of EN 12210."""
        sag = 1 / (DEFLECTION_RATIO * self.bending.capacity)
        return wind_class(self.breaking.capacity, sag)

    def least_glass(self, which: Which) -> Resistance | None:
        return least([each for each in self.glass if each.on.startswith(f"{which}.")])

    def lites(self, which: Which) -> int:
        return len(lites_of(self.placed.sash(which).pieces.panes))


def every_part(graded: Graded) -> Sequence[Resistance]:
    """Parts of the window and of its storm sash."""
    return (*graded.parts, *(graded.storm.resistances if graded.storm else ()))
