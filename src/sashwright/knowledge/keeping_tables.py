"""What takes its time: rests between the stages of the work, and how often a window is seen to afterwards."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from sashwright.knowledge.rows import KnowledgeError, Row

StageName = Literal[
    "removed", "stripped", "made", "repaired", "dry", "primed", "glazed", "cured", "painted",
    "weighed", "hung",
]  # fmt: skip
STAGE_NAMES: tuple[StageName, ...] = get_args(StageName)
"""Every stage that a sash, storm or screen can come to, in their order."""

Rests = Literal[
    "stay", "wood", "stripper", "glue", "filler", "consolidant", "primer", "putty", "handling",
    "paint",
]  # fmt: skip
Yes = Literal["no", "yes"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage(Row):
    """How long a piece rests at a stage.

    What was done at the stage ``after`` keeps it from the stage ``before`` for ``least_days``;
    ``late_days`` is how long it stays there at most as a rule. Of the rows for one stage that have the
    same ``what`` the first that fits holds; of different ones the longest time counts. ``putty`` and
    ``coatings`` are rows of those tables, ``tasks`` rows of the task table; left empty they ask nothing.
    """

    after: StageName
    before: StageName
    what: Rests
    putty: tuple[str, ...] = ()
    coatings: tuple[str, ...] = ()
    tasks: tuple[str, ...] = ()
    least_days: float
    late_days: float | None = None

    def __post_init__(self) -> None:
        if STAGE_NAMES.index(self.before) <= STAGE_NAMES.index(self.after):
            raise KnowledgeError(
                f"found the stage {self.before!r} before which it rests, expected one after "
                f"{self.after!r}"
            )
        if self.late_days is not None and self.late_days < self.least_days:
            raise KnowledgeError(
                f"found late after {self.late_days:g} days, expected no fewer than the least, "
                f"{self.least_days:g}"
            )


Kept = Literal["window", "sash", "storm", "screen"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Upkeep(Row):
    """What is done to a window every so often.

    ``life`` names the row of the measure table whose life it takes; else the ``years`` are given. Of the
    rows that have the same ``what`` the first that fits a window holds: ``coatings``, ``cords`` (kinds of
    the suspension table) and ``has`` (a storm, a screen, weatherstrip, an insulated unit) must be the
    window's; left empty they ask nothing. Where ``weathers`` sun and rain shorten it, where ``covered`` a
    storm sash spares it. A finding with one of ``faults`` makes it due. ``tasks`` of a finished job do it
    too. ``month`` is when in the year.
    """

    what: str
    on: Kept
    does: str
    """What to do, as the list says it."""
    life: str = ""
    years_low: float | None = None
    years: float | None = None
    years_high: float | None = None
    coatings: tuple[str, ...] = ()
    cords: tuple[str, ...] = ()
    has: Literal["", "storm", "screen", "strip", "unit", "hung"] = ""
    weathers: Yes = "no"
    covered: Yes = "no"
    faults: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    """Kinds of part that such a finding must be on; any where none is named."""
    tasks: tuple[str, ...] = ()
    month: int

    def __post_init__(self) -> None:
        if not 1 <= self.month <= 12:
            raise KnowledgeError(f"found the month {self.month}, expected 1 to 12")
        given = (self.years_low, self.years, self.years_high)
        if self.has == "strip" and not self.life and given == (None, None, None):
            # Its life is that of the strip itself.
            return
        if bool(self.life) == any(each is not None for each in given):
            raise KnowledgeError("found no life, or two, expected a row of measure or the years")
        if not self.life and not (
            self.years_low is not None
            and self.years is not None
            and self.years_high is not None
            and 0 < self.years_low <= self.years <= self.years_high
        ):
            raise KnowledgeError(
                f"found {self.years_low}, {self.years}, {self.years_high} years, expected low, likely "
                "and high in rising order, above 0"
            )
