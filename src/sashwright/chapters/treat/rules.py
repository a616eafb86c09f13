"""From a finding to its rule: the first row of the treatment table that fits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.work_tables import CLASSES, Class, Treatment
from sashwright.window.surveyed import Surveyed

DAMP = 18.0
"""Moisture from which wood is left to dry before it is worked on [%]; splices below 18 %, epoxy below 20 %,
paint below 15 %: common practice."""
DRYING = "dry-out"
"""The task of that."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A finding with its rule; None where no rule fits."""

    surveyed: Surveyed
    rule: Treatment | None
    share: float
    """Of the part, by length, area or pieces [-]."""

    @property
    def damp(self) -> bool:
        return (self.surveyed.found.moisture or 0.0) >= DAMP


def judge(found: Sequence[Surveyed], knowledge: Knowledge) -> list[Judged]:
    """The rule of each finding."""
    rows = list(knowledge.treatment.values())
    return [Judged(each, rule_of(each, rows), share_of(each)) for each in found]


def rule_of(each: Surveyed, rows: Sequence[Treatment]) -> Treatment | None:
    """The first of the rows that fits a finding."""
    return next((row for row in rows if _fits(each, row)), None)


def share_of(each: Surveyed) -> float:
    """Which share of its part is faulty; 1 where the survey does not say."""
    found, pieces = each.found, each.pieces
    whole: float
    given: float | None
    if each.fault.measured == "length":
        given, whole = found.length, sum(piece.length for piece in pieces)
    elif each.fault.measured == "area":
        given, whole = found.area, sum(piece.area for piece in pieces)
    elif each.fault.measured == "count":
        given, whole = found.count, float(len(pieces))
    else:
        return 1.0
    if given is None or whole <= 0:
        return 1.0
    return min(given / whole, 1.0)


def _measured(each: Surveyed) -> bool:
    return any(getattr(each.found, name) is not None for name in ("length", "area", "count"))


def _fits(each: Surveyed, row: Treatment) -> bool:
    found = each.found
    if each.fault.key not in row.faults:
        return False
    if row.on and not any(piece.kind in row.on for piece in each.pieces):
        return False
    if row.severity and each.severity not in row.severity:
        return False
    # A share that nobody measured is no reason to replace a part.
    if row.share_from is not None and not (_measured(each) and share_of(each) >= row.share_from):
        return False
    for asked, read in ((row.depth_from, found.probe), (row.moisture_from, found.moisture)):
        if asked is not None and (read is None or read < asked - 1e-9):
            return False
    return True


def heaviest(rules: Sequence[Treatment | None]) -> Class | None:
    """The heaviest class of repair among rules; None where there are none."""
    return max((rule.grade for rule in rules if rule), key=CLASSES.index, default=None)
