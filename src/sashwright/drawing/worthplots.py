"""All pictures of keeping or replacing, for the page and for the report."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sashwright import units
from sashwright.drawing.carbonplot import carbon_plot
from sashwright.drawing.costplot import cost_plot
from sashwright.drawing.fates import leading
from sashwright.drawing.model import Drawing
from sashwright.drawing.rangebars import cost_bars, payback_bars
from sashwright.drawing.tornado import tornado


def worth_plots(
    values: Mapping[str, Any], system: units.System, *, every: bool = True
) -> dict[str, Drawing]:
    """Money over the years, ranges of cost and of payback, what decides, carbon.

    ``values`` are the worth chapter's. Without ``every`` the bars of cost are of the leading ways only,
    where a table beside them has all.
    """
    ways, base, best = values["alternatives"], values["base"], values["cheapest"]
    currency = values["currency"]
    return {
        "spent": cost_plot(
            ways,
            base=base,
            chosen=best,
            ranges=values["more_by_year"],
            currency=currency,
            discount=values["discount"],
        ),
        "cost": cost_bars(
            ways if every else leading(ways, base), base=base, chosen=best, currency=currency
        ),
        "payback": payback_bars(ways, base=base, chosen=best, studies=values["studies"]),
        "decides": tornado(values["inputs"], values["margin"], currency=currency, system=system),
        "carbon": carbon_plot(ways, base=base, chosen=best, system=system),
    }
