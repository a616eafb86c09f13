"""What goes over the wire, and what it is called there."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Literal

from ninja import Schema
from pydantic import AfterValidator, Field, StringConstraints

from sashwright.record.errors import Conflict, Refused, Stored


def _no_nul(text: str) -> str:
    # No database keeps it, and no name holds it.
    if "\x00" in text:
        raise ValueError("found a character of no meaning (NUL), expected text")
    return text


Slug = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9_-]{1,80}$")]
Number = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9.-]{0,15}$")]
Plain = Annotated[str, StringConstraints(max_length=4000), AfterValidator(_no_nul)]
Version = Annotated[int, Field(ge=0, le=2**31 - 1)]


class Person(Schema):
    """Whom the token acts for."""

    name: str
    role: str


class House(Schema):
    """A house in the list."""

    slug: str
    name: str
    place: str
    windows: int
    families: int
    changed_at: datetime
    changed_by: str


class Kept(Schema):
    """A house, family or window as it is kept: its document, in the units of the house, and its version."""

    kind: str
    key: str
    version: int
    document: dict[str, Any]
    merged: bool = Field(
        False, description="Whether somebody else's change to other fields was kept beside yours."
    )

    @staticmethod
    def of(stored: Stored) -> Kept:
        return Kept(
            kind=stored.kind, key=stored.key, version=stored.version,
            document=stored.document, merged=stored.merged,
        )  # fmt: skip


class Fields(Schema):
    """Fields to change, by dotted paths; null takes a value away."""

    base_version: Version = Field(description="The version that the change was made from.")
    fields: dict[Plain, Any] = Field(max_length=200)


class ReadingIn(Schema):
    """What the scale says of a sash with its glass in."""

    sash: Literal["upper", "lower"]
    mass: Plain | float = Field(
        description="Such as '18 lb 6 oz' or '8.3 kg'; a bare number is in the units of the house.",
        examples=["18 lb 6 oz"],
    )
    state: Literal["finished", "before painting", "before reglazing"] = "finished"
    note: Plain = ""


class Reading(Schema):
    """A reading as it is kept."""

    id: int
    number: str
    which: str
    kind: str
    value_kg: float
    state: str
    who: str
    when: datetime
    note: str


class StageIn(Schema):
    """A piece that came to another stage."""

    piece: Annotated[str, StringConstraints(max_length=32), AfterValidator(_no_nul)]
    stage: Annotated[str, StringConstraints(max_length=32), AfterValidator(_no_nul)]
    reason: Annotated[str, StringConstraints(max_length=300), AfterValidator(_no_nul)] = ""


class Stage(Schema):
    """Where a piece came to, by whom and when."""

    number: str
    piece: str
    stage: str
    reason: str
    who: str
    when: datetime


class Change(Schema):
    """One act of one person in a house."""

    id: int
    when: datetime
    who: str
    says: str
    undone: bool


class Problem(Schema):
    """What is wrong: where, what was found and what was expected."""

    field: str
    found: str
    expected: str


class Trouble(Schema):
    """Why nothing was done, in one sentence."""

    error: str
    problems: list[Problem] = []

    @staticmethod
    def of(refused: Refused) -> Trouble:
        problems = [
            Problem(field=p.field, found=p.found, expected=p.expected) for p in refused.problems
        ]
        return Trouble(error=str(refused), problems=problems)


class Dispute(Schema):
    """A field that somebody else changed meanwhile."""

    field: str
    base: Any
    mine: Any
    theirs: Any


class Conflicting(Schema):
    """Both changed the same fields: what is kept now, who changed it, and both values of each."""

    error: str
    who: str
    when: datetime
    kept: Kept
    fields: list[Dispute]

    @staticmethod
    def of(conflict: Conflict) -> Conflicting:
        disputes = [
            Dispute(field=field.path, base=field.base, mine=field.mine, theirs=field.theirs)
            for field in conflict.fields
        ]
        return Conflicting(
            error=str(conflict), who=conflict.who, when=conflict.when,
            kept=Kept.of(conflict.theirs), fields=disputes,
        )  # fmt: skip
