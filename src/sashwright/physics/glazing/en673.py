"""Thermal transmittance of glazing by EN 673: fixed films, fixed temperatures, a closed form.

Formulas, films and gas table: BS EN 673:2011 as restated in public code. The standard was written for
sealed units; above a width of some 50 mm it is carried beyond what it was made for.
"""

from __future__ import annotations

from collections.abc import Sequence

from sashwright.physics.constants import GRAVITY
from sashwright.physics.gases import en673_properties
from sashwright.physics.glazing.layers import EN_BARE_EMISSIVITY, Gap, Pane, check_stack

OUTSIDE_FILM = 25.0
"""Outer surface coefficient [W/(m2 K)]."""
INSIDE_CONVECTION, INSIDE_RADIATION = 3.6, 4.1
"""The two parts of the inner surface coefficient, bare glass [W/(m2 K)]."""
DIFFERENCE = 15.0
"""Between the outermost and innermost faces that bound a gas [K]."""
MEAN = 283.0
"""Temperature of the gas and of the radiation in the gaps [K]."""

_STEFAN_BOLTZMANN = 5.67e-8  # with the digits of the standard, which its tabulated values have
_ENOUGH = 1e-10
_ROUNDS = 200


def en673_u(panes: Sequence[Pane], gaps: Sequence[Gap] = ()) -> float:
    r"""Thermal transmittance U of upright glazing at the centre, by EN 673:2011 [W/(m2 K)].

    .. math::
        1/U = 1/h_e + \sum d_j/\lambda_j + \sum 1/h_{s,k} + 1/h_i,\quad
        h_i = 3.6 + 4.1 \varepsilon / 0.837

    Parameters
    ----------
    panes, gaps : sequence
        From outdoors to the room, one gap fewer than panes. Emissivities are corrected ones (EN 12898);
        bare glass has 0.837.

    Raises
    ------
    ValueError
        If the numbers of panes and gaps do not fit.
    """
    check_stack(panes, gaps)
    glass = sum(pane.thickness / pane.conductivity for pane in panes)
    inside = INSIDE_CONVECTION + INSIDE_RADIATION * panes[-1].emissivity_inside / EN_BARE_EMISSIVITY
    return 1 / (1 / OUTSIDE_FILM + glass + sum(en673_gap_resistances(panes, gaps)) + 1 / inside)


def en673_gap_resistances(panes: Sequence[Pane], gaps: Sequence[Gap]) -> list[float]:
    """Resistance of each gap [m2 K/W]; several share the 15 K in proportion to their resistances."""
    check_stack(panes, gaps)
    differences = [DIFFERENCE / max(1, len(gaps))] * len(gaps)
    resistances: list[float] = []
    for _ in range(_ROUNDS):
        resistances = [
            1 / (_radiation(panes[k], panes[k + 1]) + _convection(gap, differences[k]))
            for k, gap in enumerate(gaps)
        ]
        whole = sum(resistances)
        shares = [DIFFERENCE * one / whole for one in resistances]
        if all(abs(new - old) < _ENOUGH for new, old in zip(shares, differences, strict=True)):
            break
        differences = shares
    return resistances


def _radiation(outer: Pane, inner: Pane) -> float:
    """h_r = 4 sigma T^3 / (1/e1 + 1/e2 - 1) [W/(m2 K)]."""
    if min(outer.emissivity_inside, inner.emissivity_outside) <= 0:
        return 0.0
    exchange = 1 / outer.emissivity_inside + 1 / inner.emissivity_outside - 1
    return 4 * _STEFAN_BOLTZMANN * MEAN**3 / exchange


def _convection(gap: Gap, difference: float) -> float:
    """h_g = Nu lambda / s with Nu = max(1, 0.035 (Gr Pr)^0.38), upright [W/(m2 K)]."""
    gas = en673_properties(gap.gas, gap.share)
    grashof = GRAVITY * gap.width**3 * difference * gas.density**2 / (MEAN * gas.viscosity**2)
    prandtl = gas.viscosity * gas.specific_heat / gas.conductivity
    nusselt = max(1.0, 0.035 * float(grashof * prandtl) ** 0.38)
    return float(nusselt * gas.conductivity / gap.width)
