"""What every row of every table carries, and what a bad one raises."""

from __future__ import annotations

from dataclasses import MISSING, dataclass, field
from typing import Any, Literal

Status = Literal["published", "common practice", "from memory", "shop"]


class KnowledgeError(ValueError):
    """A table or row that is missing or wrong; the message says what was found and expected."""


def si(unit: str, default: Any = MISSING) -> Any:
    """A field with a dimension; the loader insists that its column names a unit of that kind."""
    return field(default=default, metadata={"unit": unit})


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What every row of every table carries.

    ``status`` tells how far to trust it: ``published`` was read in the named source, ``common
    practice`` is a habit of the trade, ``from memory`` wants a second source, ``shop`` is the
    shop's own figure. ``aliases`` are other words for the same thing, good for looking it up.
    """

    key: str
    name: str
    source: str
    status: Status
    note: str = ""
    aliases: tuple[str, ...] = ()
