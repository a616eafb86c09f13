r"""Air through open windows and doors, in closed form.

Bernoulli with a discharge coefficient: air of density ρ passes an opening of area A under a pressure
difference Δp at

.. math:: \dot m = C_d A \sqrt{2 \rho\, \Delta p},

and through a tall opening each height for itself. Densities are those of dry air at the temperatures
given, not their usual linear stand-in; the air that enters is the outdoors', the air that leaves the room's.
Numbers and arrays alike, temperatures in °C. What many openings of many rooms do together is for
:mod:`sashwright.physics.network`.
"""

from sashwright.physics.openings.orifices import (
    SQUARE_ON,
    cross_flow,
    orifice_flow,
    series_area,
    wind_flow,
)
from sashwright.physics.openings.shared import (
    USUAL_DISCHARGE,
)
from sashwright.physics.openings.stack import (
    StackFlow,
    neutral_level,
    stack_flow,
)
from sashwright.physics.openings.tall import (
    TwoWayFlow,
    mixing_discharge,
    two_way_flow,
)
from sashwright.physics.openings.window import (
    Airing,
    sash_window_flow,
    single_sided_flow,
)

__all__ = [
    "SQUARE_ON",
    "USUAL_DISCHARGE",
    "Airing",
    "StackFlow",
    "TwoWayFlow",
    "cross_flow",
    "mixing_discharge",
    "neutral_level",
    "orifice_flow",
    "sash_window_flow",
    "series_area",
    "single_sided_flow",
    "stack_flow",
    "two_way_flow",
    "wind_flow",
]
