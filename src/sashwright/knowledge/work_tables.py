"""The work on windows: what can be wrong, what is done about it, what that takes and what it costs.

A shop reads and changes these tables more than any others, so that their columns are words and plain
numbers; amounts of work are in the unit that the row names.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple, get_args

from sashwright.knowledge.rows import KnowledgeError, Row, si

Severity = Literal["slight", "moderate", "severe"]
SEVERITIES: tuple[Severity, ...] = get_args(Severity)

Component = Literal[
    "stile", "top rail", "meeting rail", "bottom rail", "muntin", "lite", "putty", "paint", "sash",
    "weatherstrip", "cord", "weight", "lock", "lift",
    "sill", "stool", "head", "pulley stile", "parting bead", "inside stop", "blind stop", "casing",
    "inside casing", "pulley", "pocket", "pocket cover", "frame",
    "storm member", "storm lite", "storm", "screen member", "screen cloth", "screen",
]  # fmt: skip
"""What a part of a window is, whatever its place."""

Extent = Literal["length", "count", "area", "whole"]
Class = Literal["routine maintenance", "stabilise and repair", "replace part"]
CLASSES: tuple[Class, ...] = get_args(Class)
"""The three classes of repair, the lightest first."""
Priority = Literal["A", "B", "C", "D"]
"""A hazard or water coming in: now; B within a year; C with the next round; D watch."""

Unit = Literal["piece", "foot", "metre", "square foot", "square metre"]
Per = Literal["finding", "part", "sash", "window"]
Where = Literal["shop", "inside", "outside"]
Disturbs = Literal["nothing", "paint", "putty"]


Supplier = Literal[
    "lumber", "glass", "hardware", "paint", "weights", "weatherstrip", "storm hardware", "other"
]
SUPPLIERS: tuple[Supplier, ...] = get_args(Supplier)
"""Kinds of supplier: hardware is cord, pulleys and locks; paint is putty, glue and epoxy as well."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault(Row):
    """What can be wrong with a part.

    ``on`` are the kinds of part it can be on, ``measured`` is how one says how far it goes,
    ``severities`` how bad it can be, ``usual`` how bad it is where nobody says.
    """

    on: tuple[Component, ...]
    measured: Extent
    severities: tuple[Severity, ...]
    usual: Severity

    def __post_init__(self) -> None:
        if self.usual not in self.severities:
            raise KnowledgeError(
                f"found the usual severity {self.usual}, expected one of {', '.join(self.severities)}"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Treatment(Row):
    """A rule: what is done about a fault. Of the rules that fit a finding the first one holds.

    A column left empty asks nothing. ``share`` is that of the part which is faulty: of its length, area or
    pieces. ``depth`` is how deep the awl goes, and ``moisture`` what the meter reads, in percent; a rule
    that asks for a reading does not fit where there is none. ``reason`` is said to the owner.
    """

    faults: tuple[str, ...]
    on: tuple[Component, ...] = ()
    severity: tuple[Severity, ...] = ()
    share_from: float | None = None
    depth_from: float | None = si("m", default=None)
    moisture_from: float | None = None
    tasks: tuple[str, ...]
    grade: Class
    priority: Priority
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Task(Row):
    """A piece of work, by its ``unit``: man-hours of all hands together, low, likely and high.

    ``fixed_hours`` come once for each time it is done, whatever its size; ``least`` is the smallest amount
    charged. ``per`` tells what it is done once for, ``to`` which parts it is done to where a whole window
    asks for it. ``needs`` are tasks without which it cannot be done; it falls away where one of ``within``
    is done to the same sash or window. ``materials`` are rows of the material table with the amount for one
    unit, such as ``putty 0.06``. ``order`` is its place in the sequence of work, ``dry_days`` how long
    it must be left before the next.
    """

    unit: Unit
    per: Per
    to: tuple[Component, ...] = ()
    hours_low: float
    hours: float
    hours_high: float
    fixed_hours: float = 0.0
    least: float = 0.0
    crew: int = 1
    skill: str
    where: Where
    disturbs: Disturbs = "nothing"
    dry_days: float = 0.0
    needs: tuple[str, ...] = ()
    within: tuple[str, ...] = ()
    materials: tuple[str, ...] = ()
    order: int

    def __post_init__(self) -> None:
        if not 0 <= self.hours_low <= self.hours <= self.hours_high:
            raise KnowledgeError(
                f"found {self.hours_low:g}, {self.hours:g}, {self.hours_high:g} hours, expected low, "
                "likely and high in rising order"
            )
        if self.crew < 1:
            raise KnowledgeError(f"found a crew of {self.crew}, expected at least 1")
        _ = self.amounts

    @property
    def amounts(self) -> tuple[Amount, ...]:
        """Materials for one unit of it."""
        return tuple(_amount(text) for text in self.materials)


class Amount(NamedTuple):
    """Some of a material."""

    material: str
    amount: float


def _amount(text: str) -> Amount:
    key, _, number = text.strip().rpartition(" ")
    try:
        amount = float(number)
    except ValueError:
        amount = math.nan
    if not key or not 0 < amount < math.inf:
        raise KnowledgeError(
            f"found the material {text!r}, expected its key and an amount, such as 'putty 0.06'"
        )
    return Amount(key.strip(), amount)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope(Row):
    """An alternative: how far one goes with a window.

    ``repairs`` tells which findings are seen to: all of them, or those of the frame, storm and screen where
    the old sash go, or none. ``tasks`` are done besides, whatever was found. ``seal`` and ``glass`` name the
    states of air and glass that it comes to, for what is quoted beside it.
    """

    repairs: Literal["all", "frame", "none"]
    tasks: tuple[str, ...] = ()
    only_without_storm: Literal["no", "yes"] = "no"
    sash: Literal["kept", "new"]
    seal: str
    glass: Literal["as found", "storm"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Material(Row):
    """What is bought, by the ``unit``; ``waste`` is what is cut off or left over, as a share more.

    ``supplier`` is the kind of supplier that has it.
    """

    unit: str
    price: float
    waste: float
    supplier: Supplier = "other"

    def __post_init__(self) -> None:
        if self.waste > 2:
            raise KnowledgeError(f"found a waste of {self.waste:g}, expected at most 2")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate(Row):
    """What is charged for an hour of a skill, hours that every job takes, and shares of the price."""

    kind: Literal["an hour", "hours for a window", "hours for a house", "share"]
    value: float
    skill: str = ""
    """Of hours: who spends them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Access(Row):
    """How the outside of a window is reached: ``hours`` of work out there count so many times.

    ``each`` is a sum for one window. It holds from ``storey`` up.
    """

    storey: int
    hours_low: float
    hours: float
    hours_high: float
    each: float

    def __post_init__(self) -> None:
        if not 0 < self.hours_low <= self.hours <= self.hours_high:
            raise KnowledgeError(
                f"found hours times {self.hours_low:g}, {self.hours:g}, {self.hours_high:g}, expected low, "
                "likely and high in rising order"
            )
