"""Glazing at its centre: panes and gaps, heat through them, sun through them."""

from sashwright.physics.glazing.balance import Balance, detailed_balance
from sashwright.physics.glazing.conditions import (
    ISO_SUMMER,
    ISO_SUMMER_SUN,
    ISO_WINTER,
    NFRC_SUMMER,
    NFRC_SUN,
    NFRC_WINTER,
    Conditions,
)
from sashwright.physics.glazing.emissivity import corrected_emissivity
from sashwright.physics.glazing.en673 import en673_gap_resistances, en673_u
from sashwright.physics.glazing.gain import inward_fractions, solar_heat_gain
from sashwright.physics.glazing.hourly import Sunlit, hourly_gain
from sashwright.physics.glazing.layers import Gap, Pane
from sashwright.physics.glazing.optics import (
    CoatedPane,
    PlainPane,
    Through,
    at_angle,
    diffuse,
    plain_from_normal,
)

__all__ = [
    "ISO_SUMMER",
    "ISO_SUMMER_SUN",
    "ISO_WINTER",
    "NFRC_SUMMER",
    "NFRC_SUN",
    "NFRC_WINTER",
    "Balance",
    "CoatedPane",
    "Conditions",
    "Gap",
    "Pane",
    "PlainPane",
    "Sunlit",
    "Through",
    "at_angle",
    "corrected_emissivity",
    "detailed_balance",
    "diffuse",
    "en673_gap_resistances",
    "en673_u",
    "hourly_gain",
    "inward_fractions",
    "plain_from_normal",
    "solar_heat_gain",
]
