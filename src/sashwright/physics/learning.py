"""What finished work teaches about the next estimate: a conjugate Bayesian update in closed form.

The ratio of what was spent to what was estimated is taken as lognormal. With the logarithm normal, of
unknown mean and variance, the normal-inverse-gamma prior is conjugate: its four numbers are updated by
sums, and the next logarithm follows a Student t distribution (Gelman et al., Bayesian Data Analysis,
3rd ed., section 3.3; Murphy, Conjugate Bayesian analysis of the Gaussian distribution, 2007, section 3).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from scipy.special import stdtrit


@dataclass(frozen=True, slots=True)
class NormalInverseGamma:
    """Belief about a mean and a variance: variance ~ IG(alpha, beta), mean ~ N(mean, variance / kappa)."""

    mean: float
    kappa: float
    """How many observations the belief in the mean is worth."""
    alpha: float
    beta: float

    def __post_init__(self) -> None:
        if not (self.kappa > 0 and self.alpha > 0 and self.beta > 0):
            raise ValueError(
                f"found kappa {self.kappa:g}, alpha {self.alpha:g}, beta {self.beta:g}, "
                "expected all above zero"
            )

    def updated(self, values: Sequence[float]) -> NormalInverseGamma:
        """The belief after observations."""
        count = len(values)
        if not count:
            return self
        mean = math.fsum(values) / count
        squares = math.fsum((value - mean) ** 2 for value in values)
        kappa = self.kappa + count
        off = mean - self.mean
        return NormalInverseGamma(
            (self.kappa * self.mean + count * mean) / kappa,
            kappa,
            self.alpha + count / 2,
            self.beta + squares / 2 + self.kappa * count * off**2 / (2 * kappa),
        )

    @property
    def scale(self) -> float:
        """Of the next observation's Student t, which has 2 alpha degrees of freedom."""
        return math.sqrt(self.beta * (self.kappa + 1) / (self.alpha * self.kappa))

    def quantile(self, share: float) -> float:
        """Below which the next observation falls with probability ``share``."""
        return self.mean + self.scale * float(stdtrit(2 * self.alpha, share))


def log_ratios(pairs: Sequence[tuple[float, float]]) -> list[float]:
    """Logarithms of spent over estimated. Raises ``ValueError`` for one that is not above zero."""
    for spent, estimated in pairs:
        if not (spent > 0 and estimated > 0):
            raise ValueError(
                f"found {spent:g} spent of {estimated:g} estimated, expected above zero"
            )
    return [math.log(spent / estimated) for spent, estimated in pairs]
