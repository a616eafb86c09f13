"""An order to a supplier."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field

from sashwright.window.names import Date, Number, Text
from sashwright.window.partial import Model


class OrderLine(Model):
    """One thing ordered."""

    whole: ClassVar[bool] = True

    item: Text
    """What it is, by the key that lists of the same job use for it."""
    says: Text
    quantity: Annotated[float, Field(gt=0, le=1_000_000)]
    unit: Text
    windows: tuple[Number, ...] = Field(default=(), max_length=1000)
    received: Annotated[float, Field(ge=0, le=1_000_000)] = 0
    received_on: Date | None = None
    """The last day on which any of it came."""


class OrderForm(Model):
    """What is ordered from one kind of supplier, and what came."""

    supplies: Text = ""
    """The kind of supplier: glass, lumber, hardware."""
    supplier: Text = ""
    lines: Annotated[tuple[OrderLine, ...], Field(max_length=2000)] = ()
    sent_on: Date | None = None
    wanted_on: Date | None = None
    cancelled_on: Date | None = None
    """From then on only what came counts."""
    note: Text = ""
