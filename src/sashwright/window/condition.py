"""What the survey found: faults part by part, readings, tests for lead and asbestos, what was decided.

Findings of the house and of the family are *typical*: they hold for every window that does not say
otherwise. A window adds its own, names the parts that are sound, or copies another window's.
"""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field, model_validator

from sashwright.knowledge.work_tables import Severity
from sashwright.window.names import Date, Key, Number, PartName, Text
from sashwright.window.partial import Model
from sashwright.window.quantities import Area, Length, Percent

Photos = Annotated[tuple[Text, ...], Field(max_length=50)]
"""Names of photographs."""


class Found(Model):
    """One fault on one part, or on all parts whose names begin alike (``lower.cord``)."""

    on: PartName
    fault: Key
    """A row of the fault table."""
    severity: Severity | None = None
    """The fault's usual one where not given."""
    length: Annotated[float, Length(0, 1200)] | None = None
    count: Annotated[int, Field(ge=1, le=500)] | None = None
    area: Annotated[float, Area(0, 50)] | None = None
    """How far it goes, as the fault is measured; the whole part where nothing is given."""
    moisture: Annotated[float, Percent(0, 150)] | None = None
    """By the meter, at the fault."""
    probe: Annotated[float, Length(0, 12)] | None = None
    """How deep an awl goes in."""
    note: Text = ""
    photos: Photos = ()

    @model_validator(mode="after")
    def _one_extent(self) -> Found:
        given = [name for name in ("length", "count", "area") if getattr(self, name) is not None]
        if len(given) > 1:
            raise ValueError(
                f"found {' and '.join(given)}, expected one measure of how far it goes"
            )
        return self


class HazardTest(Model):
    """A test for lead in the paint or asbestos in the putty."""

    result: Literal["not tested", "present", "absent"] = "not tested"
    by: Text = ""
    """Who tested, and how."""
    on: Date | None = None
    note: Text = ""


class Typical(Model):
    """What holds as a rule for the windows of a family, or of the house."""

    found: tuple[Found, ...] = Field(default=(), max_length=200)
    lead: HazardTest = HazardTest()
    asbestos: HazardTest = HazardTest()


class Condition(Typical):
    """What was found on one window."""

    like: Number | None = None
    """The window whose own findings hold here too; readings, notes and photographs do not come along."""
    as_typical: bool = True
    """Whether the findings of family and house hold for what is not said otherwise."""
    sound: tuple[PartName, ...] = Field(default=(), max_length=100)
    """Parts that were looked at and are sound, whatever is typical."""
    photos: Photos = ()
    """Of the whole window."""
    on: Date | None = None
    """The day of the survey."""
    by: Text = ""
    """Who surveyed it."""


class Decision(Model):
    """Which alternative was chosen for a window."""

    whole: ClassVar[bool] = True

    alternative: Key
    """A row of the scope table."""
    by: Text = ""
    on: Date | None = None
    note: Text = ""


class Spent(Model):
    """Hours that one task took at one window."""

    whole: ClassVar[bool] = True

    task: Key
    """A row of the task table."""
    hours: Annotated[float, Field(gt=0, le=1000)]
    """Of all hands together."""
    quantity: Annotated[float, Field(gt=0, le=10_000)] | None = None
    """In the unit of the task; as the treatment counts it where not given."""
    on: Date | None = None
    by: Text = ""
