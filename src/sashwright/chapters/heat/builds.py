"""What a window can be: as it is found, and the ways of making it warmer, glass by glass."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from sashwright.chapters.heat.flows import InteriorStorm, StormPlace
from sashwright.chapters.heat.geometry import SIDES
from sashwright.chapters.heat.glass import (
    BARE,
    Stack,
    layer_of,
    panel,
    recoated,
    stack_of,
)
from sashwright.chapters.season.pieces import air_spaces
from sashwright.knowledge.tables import KnowledgeError
from sashwright.window.contradictions import glass_thickness, glass_to_room_face
from sashwright.window.layout import Which
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed
from sashwright.window.spec import Glazing

Key = Literal[
    "prime", "storm", "storm-low-e", "storm-clear", "inside", "inside-low-e", "storm-and-inside",
    "unit", "new",
]  # fmt: skip
Wood = Literal["prime", "exterior", "interior", "both", "new"]
"""Whose wood surrounds the glass: of the prime alone, with that of a storm or panel, of a new window."""

LOW_E = "hard-coat"
"""The coating of low-emissivity storms: it bears open air."""
STORM_GLASS = "float-3mm"
"""Of a low-emissivity inside panel."""
LEAST_INSIDE = 0.025
"""Clear of the lower sash's room face, for a panel that is only thought of [m]; judgement."""
UNIT = Glazing(
    panes=("float-3mm", "float-3mm"),
    gaps=(0.006,),
    gas="argon",
    coatings=(BARE, BARE, "soft-coat", BARE),
)
"""The thin insulated unit that might go into an old rabbet: 12 mm in all; judgement."""
NEW = UNIT.model_copy(update={"gaps": (0.0127,)})
"""Glass of a new window: 1/2 in of argon, soft coat; what windows are commonly sold with today."""


@dataclass(frozen=True)
class Build:
    """One state of a window."""

    key: Key
    name: str
    what: str
    stacks: Mapping[Which, Stack]
    wood: Wood
    there: bool = False
    """Whether the record says that it is so, or hangs so in winter."""


@dataclass(frozen=True)
class Choices:
    """Everything that one window can be."""

    placed: Placed

    @cached_property
    def prime(self) -> dict[Which, Stack]:
        """Glass of both sash."""
        knowledge = self.placed.knowledge
        return {
            which: stack_of(self.placed.layout.sash(which).spec.glazing, knowledge)
            for which in SIDES
        }

    @cached_property
    def spaces(self) -> dict[Which, float] | None:
        """Between the storm's glass and each sash's [m]; None where no storm can hang."""
        try:
            spaces = air_spaces(self.placed)
        except (LayoutError, KnowledgeError):
            return None
        return spaces if min(spaces.values()) > 0 else None

    @cached_property
    def storm_glass(self) -> Stack:
        return stack_of(self.placed.family.storm_sash.glazing, self.placed.knowledge)

    @property
    def has_storm(self) -> bool:
        return self.placed.family.storm != "none" and self.spaces is not None

    @property
    def has_panel(self) -> bool:
        return self.placed.family.inside_storm.kind != "none"

    @property
    def panel_distance(self) -> float:
        """From the lower sash's glass to the panel [m]; moved off the wood where it is only thought of."""
        distance = self.placed.family.inside_storm.distance
        if self.has_panel:
            return distance
        wood = glass_to_room_face(self.placed.layout.lower.spec)
        return max(distance, wood + LEAST_INSIDE)

    @cached_property
    def panel_spaces(self) -> dict[Which, float]:
        """Between each sash's glass and the panel [m]."""
        lower, upper = (_glass_face(self.placed, which) for which in ("lower", "upper"))
        return {"lower": self.panel_distance, "upper": self.panel_distance + lower - upper}

    @cached_property
    def panel_glass(self) -> Stack:
        spec = self.placed.family.inside_storm
        return panel(spec.pane, spec.coatings, self.placed.knowledge)

    @cached_property
    def interior(self) -> InteriorStorm:
        """The panel as the sections want it."""
        pane = self.panel_glass.layers[0].pane
        wood = glass_to_room_face(self.placed.layout.lower.spec)
        return InteriorStorm(
            self.panel_distance - wood,
            pane.thickness,
            pane.conductivity,
            pane.emissivity_outside,
            pane.emissivity_inside,
        )

    # --- stacks

    def behind(self, storm: Stack) -> dict[Which, Stack]:
        """Both sash with a storm before them."""
        spaces = self.spaces or {}
        return {which: self.prime[which].outside(storm, spaces[which]) for which in SIDES}

    def before(
        self, inside: Stack, stacks: Mapping[Which, Stack] | None = None
    ) -> dict[Which, Stack]:
        """Both sash with a panel behind them."""
        base = stacks or self.prime
        return {which: base[which].inside(inside, self.panel_spaces[which]) for which in SIDES}

    @cached_property
    def builds(self) -> dict[Key, Build]:
        """All states that can be, the prime window alone first."""
        return {build.key: build for build in self._builds()}

    @property
    def as_found(self) -> Key:
        """What stands there in winter, with all that the record says hangs then."""
        if self.has_storm and self.has_panel:
            return "storm-and-inside"
        return "storm" if self.has_storm else "inside" if self.has_panel else "prime"

    def _builds(self) -> Iterator[Build]:
        knowledge = self.placed.knowledge
        yield Build(
            "prime", "The window alone", f"{_glass_words(self.prime, self.placed)}, nothing before it",
            self.prime, "prime", there=True,
        )  # fmt: skip
        if self.spaces is not None:
            yield from self._storms()
        own = self.has_panel
        pane = self.placed.knowledge.find("glass", self.placed.family.inside_storm.pane)
        yield Build(
            "inside",
            "With the inside storm" if own else "With an inside storm",
            f"a panel on the room side: {pane.name.lower()}",
            self.before(self.panel_glass),
            "interior",
            there=own,
        )
        coated = Stack((layer_of(STORM_GLASS, (LOW_E, BARE), knowledge),))
        yield Build(
            "inside-low-e",
            "With an inside storm, low-e",
            "a glass panel on the room side, hard coat towards the sash",
            self.before(coated),
            "interior",
        )
        if self.has_storm and own:
            yield Build(
                "storm-and-inside",
                "With storm outside and inside",
                "both as the record has them",
                self.before(self.panel_glass, self.behind(self.storm_glass)),
                "both",
                there=True,
            )
        if any(len(stack.layers) == 1 for stack in self.prime.values()):
            unit = stack_of(UNIT, knowledge)
            yield Build(
                "unit",
                "With insulated glass in the old sash",
                "3 mm glass, 6 mm of argon, 3 mm glass with a soft coat, in the old rabbets",
                {which: unit if len(self.prime[which].layers) == 1 else self.prime[which]
                 for which in SIDES},
                "prime",
            )  # fmt: skip
        new = stack_of(NEW, knowledge)
        yield Build(
            "new",
            "A new window in its place",
            "a window with insulated glass that just meets the code, in the sash opening",
            dict.fromkeys(SIDES, new),
            "new",
        )

    def _storms(self) -> Iterator[Build]:
        own, there = self.storm_glass, self.has_storm
        combination = self.placed.family.storm_sash.kind == "combination"
        what = "tracked storm window" if combination else "wood storm sash"
        coated = any(c != BARE for layer in own.layers for c in layer.coatings)
        yield Build(
            "storm",
            "With the storm sash" if there else "With a storm sash",
            f"{what}, {'low-e' if coated else 'clear'} glass",
            self.behind(own),
            "exterior",
            there=there,
        )
        knowledge = self.placed.knowledge
        if coated:
            bare = Stack(
                tuple(layer_of(layer.glass, (BARE, BARE), knowledge) for layer in own.layers),
                own.spaces,
            )
            yield Build(
                "storm-clear", "With a clear storm sash", f"{what}, clear glass",
                self.behind(bare), "exterior",
            )  # fmt: skip
        else:
            inner = 2 * len(own.layers) - 1
            yield Build(
                "storm-low-e",
                "With a low-e storm sash",
                f"{what}, hard coat of emissivity 0.15 towards the space",
                self.behind(recoated(own, inner, LOW_E, knowledge)),
                "exterior",
            )

    def unit_fits(self) -> bool:
        """Whether the thin unit, bedded like the glass that is there, leaves room for putty."""
        for which in SIDES:
            spec = self.placed.layout.sash(which).spec
            if len(spec.glazing.panes) > 1:
                continue
            unit = spec.model_copy(
                update={"glazing": replace_glazing(spec.glazing)}
            )  # fmt: skip
            deep = glass_thickness(unit, self.placed.knowledge) + spec.glazing.bed
            if spec.rabbet_depth - deep < LEAST_PUTTY:
                return False
        return True


LEAST_PUTTY = 0.006
"""Depth of rabbet left before the thin unit, for a putty front that holds [m]: 1/4 in; common practice."""


def replace_glazing(glazing: Glazing) -> Glazing:
    """The bedding of a sash with the thin unit's panes."""
    return glazing.model_copy(
        update={name: getattr(UNIT, name) for name in ("panes", "gaps", "gas", "coatings")}
    )


def storm_place(wood: Wood) -> StormPlace:
    """Which sections stand for a build's wood."""
    if wood == "exterior":
        return "exterior"
    return "interior" if wood in ("interior", "both") else "none"


def _glass_face(placed: Placed, which: Which) -> float:
    """Depth z of the inner face of a sash's glass [m]."""
    sash = placed.layout.sash(which)
    return sash.face + sash.spec.rabbet_depth - sash.spec.glazing.bed


def _glass_words(stacks: Mapping[Which, Stack], placed: Placed) -> str:
    """Glass of the sash in words, once where both are alike."""
    said = []
    for which in ("lower", "upper"):
        stack: Stack = stacks[which]
        name = placed.knowledge.find("glass", stack.layers[0].glass).name
        words = name if len(stack.layers) == 1 else f"{len(stack.layers)} panes"
        if words not in said:
            said.append(words)
    return " and ".join(said)
