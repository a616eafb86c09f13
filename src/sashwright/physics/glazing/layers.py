"""What glazing is built of, from outdoors to the room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sashwright.physics.gases import GasName

GLASS_CONDUCTIVITY = 1.0
"""Of soda-lime glass [W/(m K)]; EN 673:2011."""
BARE_EMISSIVITY = 0.84
"""Hemispherical, of uncoated glass [-]; ASHRAE Fundamentals, fenestration."""
EN_BARE_EMISSIVITY = 0.837
"""The same in EN 673:2011 [-]."""


@dataclass(frozen=True, slots=True)
class Pane:
    """A sheet of glass or plastic, opaque to longwave radiation.

    ``thickness`` [m]; ``conductivity`` [W/(m K)]; hemispherical longwave emissivity of the face towards
    outdoors and of that towards the room [-].
    """

    thickness: float
    conductivity: float = GLASS_CONDUCTIVITY
    emissivity_outside: float = BARE_EMISSIVITY
    emissivity_inside: float = BARE_EMISSIVITY

    def __post_init__(self) -> None:
        if self.thickness <= 0 or self.conductivity <= 0:
            raise ValueError(
                f"found a pane of {self.thickness} m and {self.conductivity} W/(m K), "
                "expected both above 0"
            )
        if not all(0 <= e <= 1 for e in (self.emissivity_outside, self.emissivity_inside)):
            raise ValueError("found an emissivity outside 0 to 1")


@dataclass(frozen=True, slots=True)
class Gap:
    """A closed space between two panes: ``width`` [m], ``gas``, and the gas's ``share`` of the volume [-].

    What is not the gas is air. A storm sash makes one too, as long as no wind blows through.
    """

    width: float
    gas: GasName = "air"
    share: float = 1.0

    def __post_init__(self) -> None:
        if self.width <= 0:
            raise ValueError(f"found a gap of {self.width} m, expected more than 0")
        if not 0 < self.share <= 1:
            raise ValueError(f"found {self.share} of the gap filled, expected more than 0, up to 1")


def check_stack(panes: Sequence[Pane], gaps: Sequence[Gap]) -> None:
    """Raise ``ValueError`` unless there is a pane, and a gap between each two."""
    if len(panes) < 1 or len(gaps) != len(panes) - 1:
        raise ValueError(
            f"found {len(panes)} panes and {len(gaps)} gaps, expected one gap fewer than panes"
        )
