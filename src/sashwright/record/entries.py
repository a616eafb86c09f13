"""What a device writes down while it has no connection: one entry for each thing that was done."""

from __future__ import annotations

from typing import Annotated, Any, Literal
from uuid import UUID

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, TypeAdapter, ValidationError

from sashwright.record.errors import Refused
from sashwright.record.state import Document
from sashwright.window.check import problems_of
from sashwright.window.names import PartName, Text

Fields = Annotated[dict[str, Any], Field(max_length=200)]
"""Values by dotted paths."""


class Form(BaseModel):
    """Nothing passes that is not expected."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Which(Form):
    """A window, which keeps being the same when it gets another number: one of the record by its identity, or
    one that the device has made, by the key of that entry."""

    id: int | None = None
    made: UUID | None = None


class Common(Form):
    """What every entry says."""

    key: UUID
    """Made by the device: the same key, the same entry."""
    who: int
    """Who wrote it down: a device may pass from hand to hand."""
    house: Annotated[str, Field(max_length=80)]
    at: AwareDatetime
    """By the clock of the device."""


class AddWindow(Common):
    """A window that was not there yet."""

    kind: Literal["add-window"]
    document: Document


class SetFields(Common):
    """Fields of a window changed, from what stood in version ``base`` with ``was`` laid over it."""

    kind: Literal["set-fields"]
    window: Which
    fields: Fields
    base: int = 0
    """Of a window made on the device, none: the version in which it came in."""
    was: Fields = {}
    """What the device had changed before since that version."""


class Weighed(Common):
    """What the scale said; a bare number in the unit of the house."""

    kind: Literal["reading"]
    window: Which
    which: Literal["upper", "lower"]
    mass: Annotated[str, Field(max_length=40)]
    state: Annotated[str, Field(max_length=32)] = "finished"
    note: Text = ""


class Finding(Common):
    """A fault found on a part, or one taken away that was put down before."""

    kind: Literal["finding"]
    window: Which
    found: Document
    act: Literal["add", "remove"] = "add"


class Sound(Common):
    """A part that was looked at and is sound."""

    kind: Literal["sound"]
    window: Which
    on: PartName


class Rest(Common):
    """What was not said of a window is as typical, or sound."""

    kind: Literal["rest"]
    window: Which
    act: Literal["as-typical", "all-sound"]


class Photo(Common):
    """A photograph; its file comes with it."""

    kind: Literal["photo"]
    window: Which | None = None
    component: Annotated[str, Field(max_length=64)] = ""
    note: Text = ""


class Undo(Common):
    """An entry taken back that has been sent."""

    kind: Literal["undo"]
    of: UUID


Entry = AddWindow | SetFields | Weighed | Finding | Sound | Rest | Photo | Undo
AtWindow = SetFields | Weighed | Finding | Sound | Rest | Photo

_ENTRY: TypeAdapter[Entry] = TypeAdapter(Annotated[Entry, Field(discriminator="kind")])


def read_entry(given: Any) -> Entry:
    """An entry as a device sent it. Raises ``Refused``."""
    try:
        return _ENTRY.validate_python(given)
    except ValidationError as error:
        raise Refused(problems_of(error)) from None
