"""The mass of a sash: from the scale where it was weighed, else from its pieces."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sashwright.chapters.answer import Finding, Step
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.window.layout import Which
from sashwright.window.mass import SashMass
from sashwright.window.resolve import Placed, SashFacts

WOOD_HANDBOOK = "USDA Forest Products Laboratory, Wood Handbook (FPL-GTR-190, 2010), ch. 4"


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a sash's mass."""

    which: Which
    facts: SashFacts
    mass: float
    source: Literal["weighed", "computed"]
    state: str

    @property
    def computed(self) -> SashMass:
        return self.facts.mass


def know(placed: Placed, which: Which) -> Known:
    """Mass of one sash; a reading from the scale always beats the computed one."""
    facts = placed.sash(which)
    measured = placed.window.measured
    reading = measured.upper if which == "upper" else measured.lower
    if reading.mass is None:
        return Known(which, facts, facts.mass.total, "computed", "finished")
    return Known(which, facts, reading.mass, "weighed", reading.state)


def mass_findings(known: Known, words: Words) -> Iterator[Finding]:
    """Whether the reading can be trusted for choosing weights."""
    on = f"{known.which}.sash"
    computed = known.computed
    if known.source == "computed":
        yield Finding(
            "note",
            on,
            f"The {known.which} sash has not been weighed; weigh it, finished, before cutting weights.",
            f"computed {words.mass(computed.total)}, give or take {words.mass(computed.uncertainty)}",
            "common practice: F. E. Kidder, Building Construction and Superintendence, sec. 239",
        )
        return
    missing = {
        "finished": 0.0,
        "before painting": computed.paint,
        "before reglazing": computed.paint + computed.putty,
    }[known.state]
    if missing:
        yield Finding(
            "caution",
            on,
            f"The {known.which} sash was weighed {known.state}: weigh it again when it is finished.",
            f"paint{' and new putty' if known.state == 'before reglazing' else ''} may still add about "
            f"{words.mass(missing)}, half of it to each weight",
            "common practice: weigh the sash glazed, puttied and painted",
        )
    off = known.mass - computed.total
    if abs(off) > computed.uncertainty:
        yield Finding(
            "caution",
            on,
            f"The scale and the sizes disagree on the {known.which} sash: weighed "
            f"{words.mass(known.mass)}, computed {words.mass(computed.total)}. The scale is used; "
            "check the glass, the wood and the reading.",
            f"they lie {words.mass(abs(off))} apart, more than the computed range of "
            f"{words.mass(computed.uncertainty)} either way",
            "a measured value beats a computed one; range from the spread of wood and glass",
        )


def mass_steps(known: Known, knowledge: Knowledge) -> Iterator[Step]:
    """How the mass comes about, component by component."""
    which, computed, pieces = known.which, known.computed, known.facts.pieces
    spec = known.facts.layout.spec
    species = knowledge.find("wood", spec.wood)
    yield Step(
        f"density of the {which} sash's wood",
        "1000 Gb / (1 - S0 (1 - M/fsp)) x (1 + M)",
        {
            "Gb": species.specific_gravity_green,
            "S0": species.shrinkage_volumetric,
            "M": spec.moisture / 100,
            "fsp": species.fibre_saturation,
        },
        computed.wood_density,
        "kg/m3",
        f"{WOOD_HANDBOOK}, eq. 4-7 and 4-9; {species.source}",
    )
    yield Step(
        f"wood of the {which} sash",
        "volume of all its pieces x density",
        {"volume_m3": pieces.wood.volume, "density_kg_m3": computed.wood_density},
        computed.wood,
        "kg",
        "geometry of the section",
    )
    panes = {key: knowledge.find("glass", key) for key in spec.glazing.panes}
    yield Step(
        f"glass of the {which} sash",
        "area of each pane x its mass per area, summed",
        {
            "area_of_one_layer_m2": pieces.glass_area,
            **{f"{key}_kg_m2": row.mass_per_area for key, row in panes.items()},
        },
        computed.glass,
        "kg",
        "; ".join(row.source for row in panes.values()),
    )
    putty = knowledge.find("putty", spec.glazing.putty)
    yield Step(
        f"putty of the {which} sash",
        "(bed + edge + bevelled front) x density",
        {"volume_m3": pieces.putty.volume, "density_kg_m3": putty.density},
        computed.putty,
        "kg",
        putty.source,
    )
    coating = knowledge.find("coating", spec.coating)
    yield Step(
        f"paint of the {which} sash",
        "area of both faces x coats x mass of a dry coat",
        {
            "area_m2": pieces.painted_area,
            "coats": spec.coats,
            "coat_kg_m2": coating.mass_per_area_per_coat,
        },
        computed.paint,
        "kg",
        coating.source,
    )
    yield Step(
        f"computed mass of the {which} sash",
        "wood + glass + putty + hardware + paint",
        {
            "wood_kg": computed.wood,
            "glass_kg": computed.glass,
            "putty_kg": computed.putty,
            "hardware_kg": computed.hardware,
            "paint_kg": computed.paint,
        },
        computed.total,
        "kg",
        f"sum; range at two standard deviations: {computed.uncertainty:.2f} kg",
    )
    if known.source == "weighed":
        yield Step(
            f"mass of the {which} sash",
            "as weighed",
            {"computed_kg": computed.total},
            known.mass,
            "kg",
            "the scale",
        )
