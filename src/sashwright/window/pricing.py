"""What the specification says of a job's price: the shop's rates, shares, allowances and options.

Whatever is not given comes from the tables ``rate``, ``access``, ``material`` and ``task``, which a shop
writes over in its own file. Sums of money are exact decimals.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, ClassVar, Literal

from pydantic import Field, StringConstraints

from sashwright.window.names import Date, Key, Number, Text
from sashwright.window.partial import Model
from sashwright.window.quantities import Percent

Money = Annotated[Decimal, Field(ge=0, max_digits=12, decimal_places=2)]
"""In the currency of the job, to the cent; written as text, ``"412.50"``."""
Change = Annotated[Decimal, Field(max_digits=12, decimal_places=2)]
"""Money that may be taken off as well."""
Price = Annotated[Decimal, Field(ge=0, max_digits=12, decimal_places=4)]
"""For one unit of a material."""
Share = Annotated[float, Percent(0, 90)]


class Allowance(Model):
    """A sum set aside for what cannot be measured yet, for one window or for the house."""

    whole: ClassVar[bool] = True

    name: Text
    amount: Money
    window: Number | None = None
    """The house as a whole where not given."""


class Option(Model):
    """Something the client may add or leave out: another alternative at some windows, or a sum."""

    whole: ClassVar[bool] = True

    key: Key
    name: Text
    alternative: Key | None = None
    """A row of the scope table, in place of what is else done at its windows."""
    windows: tuple[Number, ...] = Field(default=(), max_length=1000)
    """All where none is named."""
    amount: Change | None = None
    """A sum to add, or to take off if below zero."""
    ticked: bool = False


class Accepted(Model):
    """The price that the client agreed to."""

    whole: ClassVar[bool] = True

    total: Money
    currency: Annotated[str, Field(min_length=1, max_length=8)] = "USD"
    ticked: tuple[Key, ...] = Field(default=(), max_length=100)
    """Options that were taken."""
    on: Date
    by: Text = ""
    """Who agreed to it."""
    note: Text = ""
    edition: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{12}$")]
    """Stands for every line of the price as it was."""


class Pricing(Model):
    """How the job is priced. Shares are percentages."""

    currency: Annotated[str, Field(min_length=1, max_length=8)] = "USD"
    rates: dict[Key, Money] = {}
    """Charged for one hour, by the skills of the rate table."""
    materials: dict[Key, Price] = {}
    """For one unit, by the rows of the material table."""
    access: Literal["by storey", "ladder", "scaffold", "inside"] = "by storey"
    """How the outside is reached: as each storey asks, or all one way; or all work is done from inside."""
    overhead: Share | None = None
    """On all direct costs."""
    margin: Share | None = None
    """Of the price before tax."""
    tax: Share | None = None
    tax_on: Literal["all", "materials"] = "materials"
    """What is taxed: materials at what they cost, or the whole price."""
    quote: Literal["range", "firm"] = "range"
    """How a proposal gives the price: as expected with its range, or as one sum that stands."""
    allowances: tuple[Allowance, ...] = Field(default=(), max_length=200)
    options: tuple[Option, ...] = Field(default=(), max_length=100)
    accepted: Accepted | None = None
    """What was agreed to; the price may have changed since."""
