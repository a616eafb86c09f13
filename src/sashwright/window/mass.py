"""The mass of a sash, component by component, with its spread and its balance point."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sashwright.knowledge.tables import Knowledge
from sashwright.physics.wood import density
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.pieces import SashParts
from sashwright.window.spec import Sash

PUTTY_SPREAD = 0.25
HARDWARE_SPREAD = 0.15
PAINT_SPREAD = 0.40
MOISTURE_SPREAD = 0.02
"""Standard deviations: of putty, hardware and paint as shares of their mass, of the wood's moisture
content in points. From experience, not published; wood and glass spreads stand in their tables."""


@dataclass(frozen=True, slots=True)
class SashMass:
    """Mass of a sash by component [kg], its uncertainty, and its centre of gravity [m]."""

    wood: float
    glass: float
    putty: float
    hardware: float
    paint: float
    uncertainty: float
    """Half-width of the range that holds about 95 of 100 such sash [kg]."""
    wood_density: float
    centre: tuple[float, float, float]
    """x, y in the window's coordinates, z from the weather face of the sash."""

    @property
    def total(self) -> float:
        return self.wood + self.glass + self.putty + self.hardware + self.paint


def weigh(
    pieces: SashParts, sash: SashLayout, layout: WindowLayout, knowledge: Knowledge
) -> SashMass:
    """Mass of a sash of a window from its pieces, with the hardware that its family puts on it."""
    hardware = sum(
        knowledge.find("hardware", item.item).mass * item.count
        for item in layout.family.hardware
        if item.on == sash.which
    )
    return weigh_pieces(pieces, sash.spec, float(hardware), knowledge)


def weigh_pieces(pieces: SashParts, spec: Sash, hardware: float, knowledge: Knowledge) -> SashMass:
    """Mass of a sash from its pieces, at the wood's moisture content.

    The spread combines the variation of the species' density, the glass's thickness tolerance and the
    allowances for putty, hardware and paint, as independent, and is given at two standard deviations.
    """
    species = knowledge.find("wood", spec.wood)
    moisture = spec.moisture / 100
    rho = float(
        density(
            species.specific_gravity_green,
            moisture,
            species.shrinkage_volumetric,
            species.fibre_saturation,
        )
    )
    wood = pieces.wood.volume * rho
    rows = {key: knowledge.find("glass", key) for key in set(spec.glazing.panes)}
    glass = glass_variance = gx = gy = gz = 0.0
    for pane in pieces.panes:
        row = rows[pane.glass]
        per_volume = row.mass_per_area / row.thickness
        glass += pane.solid.volume * per_volume
        gx += pane.solid.x * per_volume
        gy += pane.solid.y * per_volume
        gz += pane.solid.z * per_volume
    for key, row in rows.items():
        share = sum(p.solid.volume for p in pieces.panes if p.glass == key)
        # Panes of one sheet share its error; a tolerance is the half-width of an even spread.
        glass_variance += (
            share * row.mass_per_area / row.thickness * row.thickness_tolerance / row.thickness
        ) ** 2 / 3
    putty_density = knowledge.find("putty", spec.glazing.putty).density
    putty = pieces.putty.volume * putty_density
    coating = knowledge.find("coating", spec.coating)
    paint = coating.mass_per_area_per_coat * spec.coats * pieces.painted_area
    variance = (
        (wood * species.density_variation) ** 2
        + (wood * MOISTURE_SPREAD / (1 + moisture)) ** 2
        + glass_variance
        + (putty * PUTTY_SPREAD) ** 2
        + (hardware * HARDWARE_SPREAD) ** 2
        + (paint * PAINT_SPREAD) ** 2
    )
    # Paint and hardware are taken to act at the centre of the rest.
    body = wood + glass + putty
    centre = (
        (pieces.wood.x * rho + gx + pieces.putty.x * putty_density) / body,
        (pieces.wood.y * rho + gy + pieces.putty.y * putty_density) / body,
        (pieces.wood.z * rho + gz + pieces.putty.z * putty_density) / body,
    )
    return SashMass(
        wood, glass, putty, float(hardware), float(paint), 2 * math.sqrt(variance), rho, centre
    )
