"""A visit to look after a house's windows."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field

from sashwright.window.names import Date, Number, Text
from sashwright.window.partial import Model


class Done(Model):
    """What was done, or found, at one window, or at all."""

    whole: ClassVar[bool] = True

    window: Number | None = None
    what: Text
    note: Text = ""


class VisitForm(Model):
    """Who came, when, and what they did and found."""

    on: Date | None = None
    by: Text = ""
    done: Annotated[tuple[Done, ...], Field(max_length=2000)] = ()
    note: Text = ""
