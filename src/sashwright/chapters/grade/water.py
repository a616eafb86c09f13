"""Rain against the shut window: how high it must climb at the sill and between the meeting rails.

Statics of standing water. A joint that lets air rush through carries drops far higher, so at a joint that
is not tight only what slopes outward is counted, and no upright step.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from sashwright.chapters.answer import Step
from sashwright.chapters.seal.window import Sealed
from sashwright.physics.water import held_pressure, sill_upstand
from sashwright.window.layout import WindowLayout
from sashwright.window.outlines.frame_edges import FrameEdges

Where = Literal["sill", "meeting rail"]

TIGHT_JOINTS = frozenset({"joint-tight", "joint-painted-shut"})
"""Rows of the leakage table that hold water at an upright step without a weatherstrip; judgement."""

NAMES: Mapping[Where, str] = {"sill": "the sill", "meeting rail": "the meeting rails"}
ON: Mapping[Where, str] = {"sill": "frame.sill", "meeting rail": "lower.meeting_rail"}
WATER_SOURCE = "hydrostatics: p = rho g h; AAMA/WDMA/CSA 101/I.S.2/A440 tests by ASTM E547 and E331"


@dataclass(frozen=True, slots=True)
class Dam:
    """What keeps water out at one joint: rise of its slope and of its upright step [m]."""

    where: Where
    rise: float
    step: float
    tight: bool

    @property
    def upstand(self) -> float:
        return self.rise + (self.step if self.tight else 0.0)

    @property
    def held(self) -> float:
        """Pressure that it holds back [Pa]."""
        return held_pressure(self.upstand)

    @property
    def held_tight(self) -> float:
        """The same once the joint is tight [Pa]."""
        return held_pressure(self.rise + self.step)

    def short_of(self, pressure: float) -> float:
        """How much higher it has to be to hold a pressure [m]; 0 where it does."""
        return max(pressure / held_pressure(1.0) - self.upstand, 0.0)


def dams_of(layout: WindowLayout, sealed: Sealed) -> tuple[Dam, Dam]:
    """The dam under the lower sash, and the one between the meeting rails.

    Under the sash water climbs the sill's slope over the thickness of the sash, then up its face to the
    stool's top. Between check rails it climbs their closing faces; plain rails have a step only.
    """
    edges = FrameEdges(layout)
    climb = sill_upstand(layout.lower.thickness, slope=layout.family.frame.sill_slope)
    lip = max(edges.stool_top - edges.sill_height(layout.lower.thickness), 0.0)
    overlap = max(min(layout.lower.top - layout.upper.bottom, layout.lower.spec.meeting_rail), 0.0)
    check = layout.family.meeting.style == "check"
    rows = {leak.place.name: leak.row for leak in sealed.found}

    def tight(where: Where) -> bool:
        row = rows[where]
        return row.strip != "none" or row.key in TIGHT_JOINTS

    return (
        Dam("sill", climb, lip, tight("sill")),
        Dam(
            "meeting rail",
            overlap if check else 0.0,
            0.0 if check else overlap,
            tight("meeting rail"),
        ),
    )


def water_steps(dams: tuple[Dam, ...]) -> list[Step]:
    return [
        Step(
            f"pressure that water holds at {NAMES[dam.where]}",
            "rho g (rise" + (" + step)" if dam.tight else ")"),
            {"rise_m": dam.rise, "step_m": dam.step, "tight": dam.tight},
            dam.held,
            "Pa",
            WATER_SOURCE,
        )
        for dam in dams
    ]
