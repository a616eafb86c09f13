"""The alternatives for one window beside each other: tasks, hours, class, and what else is quoted of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright.chapters.treat.rules import Judged, heaviest
from sashwright.chapters.treat.work import Work, plan
from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.work_tables import Class, Scope
from sashwright.window.layout import WindowLayout

HOURS = ("hours_low", "hours", "hours_high")
USUAL = "in-place"
"""What is done where nobody has decided; ``leave`` where nothing was found."""
NOTHING = "leave"


@dataclass(frozen=True, slots=True)
class Alternative:
    """One way to go with a window."""

    scope: Scope
    work: Sequence[Work]

    def hours(self, which: str = "hours") -> float:
        """Man-hours of all tasks."""
        return sum(work.hours(which) for work in self.work)

    @property
    def drying(self) -> float:
        """Days that things must dry, one after the other at the worst place [d]."""
        places = {work.of for work in self.work}
        return max((self._drying(of) for of in places), default=0.0)

    def _drying(self, of: Any) -> float:
        # The same task at several findings dries at one time.
        tasks = {work.task.key: work.task for work in self.work if work.of in (of, None)}
        return sum(task.dry_days for task in tasks.values())


def alternatives(
    layout: WindowLayout, judged: Sequence[Judged], knowledge: Knowledge, lead: str
) -> list[Alternative]:
    """All alternatives that fit a window: a storm is offered only where none hangs."""
    found = []
    for scope in knowledge.scope.values():
        if scope.only_without_storm == "yes" and layout.family.storm != "none":
            continue
        found.append(Alternative(scope, plan(layout, judged, scope, knowledge, lead)))
    return found


def chosen(
    layout: WindowLayout, ways: Sequence[Alternative], knowledge: Knowledge
) -> tuple[Alternative, bool]:
    """The alternative decided on, else the usual one; and whether somebody decided.

    A decision for what does not fit the window any more counts as none.
    """
    by_key = {way.scope.key: way for way in ways}
    decision = layout.window.decision
    if decision is not None:
        key = knowledge.find("scope", decision.alternative).key
        if key in by_key:
            return by_key[key], True
    usual = by_key[USUAL]
    return (usual if usual.work else by_key[NOTHING]), False


def class_of(judged: Sequence[Judged]) -> Class | None:
    """The class of repair that a window's findings come to; None where none was found."""
    return heaviest([each.rule for each in judged])


def beside_of(
    seal: Mapping[str, Any] | None = None,
    heat: Mapping[str, Any] | None = None,
    grade: Mapping[str, Any] | None = None,
    *,
    knowledge: Knowledge,
) -> dict[str, dict[str, Any]]:
    """What the other chapters' values of a window say of each alternative.

    Parameters
    ----------
    seal, heat, grade
        ``values`` of those chapters' answers for the window, where they are at hand.
    """
    found: dict[str, dict[str, Any]] = {}
    for scope in knowledge.scope.values():
        quoted = dict(_air(scope, seal)) if seal else {}
        quoted |= dict(_warmth(scope, heat)) if heat else {}
        if grade:
            quoted["performance_grade_as_found"] = grade["grade"]["performance_grade"]
            quoted["wind_used_as_found"] = grade["wind"]["utilisation"]
        found[scope.key] = quoted
    return found


def _air(scope: Scope, seal: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    storm = scope.glass == "storm" or bool(seal["storm"]["there"])
    for row in seal["scenarios"]:
        if row["name"] == scope.seal and row["storm"] is storm:
            for name in ("flow_75_m3_s", "flow_75_low_m3_s", "flow_75_high_m3_s"):
                yield name, row[name]
            return


def _warmth(scope: Scope, heat: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    rows = {row["key"]: row for row in heat["alternatives"]}
    row = rows.get(heat["as_found"])
    if scope.glass == "storm":
        row = rows.get("storm-low-e") or rows.get("storm") or row
    if row is not None:
        yield "heat_state", row["key"]
        yield "total_w_k", row["total_en_w_k"]
        yield "u_na_w_m2k", row["u_na_w_m2k"]
        yield "u_en_w_m2k", row["u_en_w_m2k"]
