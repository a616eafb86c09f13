"""How good a cutting plan is: what it costs beside the least it could cost, and beside the plain way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Costs of a plan, in the money of the prices of what is cut."""

    cost: float
    bound: float | None
    """No plan of the same scheme costs less; None where what there is does not suffice."""
    first_fit_cost: float
    """Of first fit decreasing, the best of its variants."""
    exact: bool
    """Whether all sizes are whole steps of one grid; else they were rounded to the safe side."""
    bought: Mapping[str, int] = field(default_factory=dict)

    @property
    def gap(self) -> float | None:
        """What the plan may cost more than the best of its scheme, of its cost [-]."""
        if self.bound is None:
            return None
        return max(self.cost - self.bound, 0.0) / self.cost if self.cost else 0.0

    @property
    def proven(self) -> bool:
        """Whether no plan of the scheme is cheaper."""
        return self.gap is not None and self.gap < 1e-9

    @property
    def saved(self) -> float:
        """Against first fit decreasing, of its cost [-]."""
        return 1 - self.cost / self.first_fit_cost if self.first_fit_cost else 0.0
