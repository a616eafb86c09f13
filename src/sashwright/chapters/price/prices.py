"""The shop's prices for a job: what the house says over what the tables say."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from sashwright.chapters.price.hours import Learned
from sashwright.chapters.price.money import exact
from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.work_tables import Access, Material, Rate, Task
from sashwright.window.pricing import Pricing
from sashwright.window.spec import Window

INSIDE = "inside"
HUNDRED = Decimal(100)


@dataclass(frozen=True)
class Prices:
    """Rates, shares, access and factors of hours, each with where it comes from."""

    pricing: Pricing
    knowledge: Knowledge
    learned: Mapping[str, Learned] = field(default_factory=dict)
    times: float = 1.0
    """All hours, what if they came to so many times the estimate."""

    def rate(self, skill: str) -> tuple[Decimal, str]:
        """What an hour of a skill is charged at. Raises ``KnowledgeError`` for one that no table has."""
        row: Rate = self.knowledge.find("rate", skill)
        if row.key in self.pricing.rates:
            return self.pricing.rates[row.key], "pricing of the house"
        return exact(row.value), f"{row.source} ({row.status})"

    def material(self, key: str) -> tuple[Material, Decimal, str]:
        """A material with the price of its unit."""
        row: Material = self.knowledge.find("material", key)
        if row.key in self.pricing.materials:
            return row, self.pricing.materials[row.key], "pricing of the house"
        return row, exact(row.price), f"{row.source} ({row.status})"

    def hours(self, kind: str) -> Rate | None:
        """The row of hours that come with every window or every house."""
        rows = self.knowledge.rate.values()
        return next((row for row in rows if row.kind == kind), None)

    def share(self, name: str) -> Decimal:
        """Overhead, margin or tax, as a share of 1."""
        given: float | None = getattr(self.pricing, name)
        if given is not None:
            return exact(given) / HUNDRED
        row: Rate = self.knowledge.find("rate", name)
        return exact(row.value)

    def access(self, window: Window) -> Access:
        """How the outside of a window is reached."""
        asked = self.pricing.access
        if asked != "by storey":
            row: Access = self.knowledge.find("access", asked)
            return row
        rows = [row for row in self.knowledge.access.values() if row.key != INSIDE]
        fit = [row for row in rows if row.storey <= max(window.storey, 0)]
        return max(fit, key=lambda row: row.storey)

    def factors(self, task: Task) -> tuple[float, float, float] | None:
        """Learned from finished work, times the table's likely hours; None where nothing is."""
        found = self.learned.get(task.key)
        return None if found is None else found.factors
