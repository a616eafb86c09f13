"""What does each window need? Findings, their rules and tasks, the alternatives, and what was decided."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Step, WindowAnswer, mm
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.grade.safety import house_safety
from sashwright.chapters.treat.alternatives import (
    HOURS,
    Alternative,
    alternatives,
    chosen,
    class_of,
)
from sashwright.chapters.treat.cautions import cautions, lead_reason
from sashwright.chapters.treat.findings import number_of, window_findings
from sashwright.chapters.treat.rules import Judged, judge
from sashwright.chapters.treat.work import Work
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.knowledge.work_tables import CLASSES
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House
from sashwright.window.surveyed import hazard, said_anything, surveyed

Beside = Mapping[str, Mapping[str, Mapping[str, Any]]]
"""By window and alternative: values of other chapters to show with it."""


def treat(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    *,
    beside: Beside | None = None,
) -> Answer:
    """What the windows of a house need (all, or those with ``numbers``).

    A window that contradicts itself is answered with what is wrong; it never raises for one. ``beside``
    has values of other chapters to quote with each alternative, as ``alternatives.beside_of`` gives them.
    """
    words = Words(system or house.units)
    answers = []
    for window, placed in place_each(house, knowledge, numbers):
        if not isinstance(placed, Placed):
            answers.append(contradicted(window.number, placed))
            continue
        try:
            quoted = (beside or {}).get(window.number)
            answers.append(treat_window(placed, house, words.system, beside=quoted))
        except KnowledgeError as error:
            answers.append(contradicted(window.number, error))
    return Answer(
        "treat", house.name, answers, _totals(answers), list(house_safety(house).findings)
    )


def treat_window(
    placed: Placed,
    house: House,
    system: units.System = "us",
    *,
    beside: Mapping[str, Mapping[str, Any]] | None = None,
) -> WindowAnswer:
    """The same for one window. Raises ``KnowledgeError`` for a row that the tables lack."""
    layout, knowledge, words = placed.layout, placed.knowledge, Words(system)
    judged = judge(surveyed(layout, house, knowledge), knowledge)
    lead = lead_reason(layout, house)
    ways = alternatives(layout, judged, knowledge, lead)
    taken, decided = chosen(layout, ways, knowledge)
    condition, decision = placed.window.condition, placed.window.decision
    values = {
        "survey": {
            "on": condition.on,
            "by": condition.by,
            "photos": list(condition.photos),
            "own": said_anything(condition),
            "like": condition.like,
        },
        "lead": {**hazard(layout, house, "lead").model_dump(mode="json"), "reckoned": lead or None},
        "asbestos": hazard(layout, house, "asbestos").model_dump(mode="json"),
        "condition": [_found(each) for each in judged],
        "class": class_of(judged),
        "class_number": number_of(class_of(judged)),
        "priority": _priority(judged),
        "alternatives": [_alternative(way, beside) for way in ways],
        "chosen": taken.scope.key,
        "decision": None if decision is None else decision.model_dump(mode="json"),
    }
    findings = [
        *window_findings(placed, judged, taken, decided, words),
        *cautions(layout, house, judged, taken.work),
    ]
    return WindowAnswer(placed.window.number, values, findings, list(_steps(judged, taken)))


def _priority(judged: Sequence[Judged]) -> str | None:
    return min((each.rule.priority for each in judged if each.rule), default=None)


def _found(each: Judged) -> dict[str, Any]:
    found, rule = each.surveyed.found, each.rule
    return {
        "on": found.on,
        "parts": [piece.name for piece in each.surveyed.pieces],
        "fault": each.surveyed.fault.key,
        "name": each.surveyed.fault.name,
        "severity": each.surveyed.severity,
        "length_mm": None if found.length is None else mm(found.length),
        "count": found.count,
        "area_m2": found.area,
        "share": each.share,
        "moisture_pct": found.moisture,
        "probe_mm": None if found.probe is None else mm(found.probe),
        "note": found.note,
        "photos": list(found.photos),
        "from": each.surveyed.source,
        "rule": None if rule is None else rule.key,
        "class": None if rule is None else rule.grade,
        "priority": None if rule is None else rule.priority,
        "tasks": [] if rule is None else list(rule.tasks),
        "reason": None if rule is None else rule.reason,
        "source": None if rule is None else f"{rule.source} ({rule.status})",
    }


def _alternative(
    way: Alternative, beside: Mapping[str, Mapping[str, Any]] | None
) -> dict[str, Any]:
    scope = way.scope
    return {
        "key": scope.key,
        "name": scope.name,
        "sash": scope.sash,
        "source": f"{scope.source} ({scope.status})",
        "tasks": [_task(work) for work in way.work],
        **{which: way.hours(which) for which in HOURS},
        "drying_days": way.drying,
        "crew": max((work.task.crew for work in way.work), default=0),
        "beside": dict((beside or {}).get(scope.key, {})),
    }


def _task(work: Work) -> dict[str, Any]:
    task = work.task
    return {
        "task": task.key,
        "name": task.name,
        "of": work.of,
        "on": list(work.on),
        "quantity": work.quantity,
        "charged": work.charged,
        "unit": task.unit,
        "times": work.times,
        **{which: work.hours(which) for which in HOURS},
        "crew": task.crew,
        "skill": task.skill,
        "where": task.where,
        "drying_days": task.dry_days,
        "because": list(work.because),
        "source": "; ".join(work.sources),
        "hours_source": f"{task.source} ({task.status})",
    }


def _totals(answers: Sequence[WindowAnswer]) -> dict[str, Any]:
    good = [answer.values for answer in answers if answer.values]
    taken = [
        next(way for way in values["alternatives"] if way["key"] == values["chosen"])
        for values in good
    ]
    tasks: Counter[str] = Counter()
    for way in taken:
        for task in way["tasks"]:
            tasks[task["name"]] += 1
    return {
        "windows": len(answers),
        "surveyed": sum(values["survey"]["own"] for values in good),
        "classes": {name: sum(values["class"] == name for values in good) for name in CLASSES},
        "priorities": {name: sum(values["priority"] == name for values in good) for name in "ABCD"},
        "chosen": dict(Counter(values["chosen"] for values in good)),
        **{which: sum(way[which] for way in taken) for which in HOURS},
        "tasks": dict(tasks.most_common()),
    }


# --- working ----------------------------------------------------------------------


def _steps(judged: Sequence[Judged], taken: Alternative) -> Iterator[Step]:
    for each in judged:
        if each.rule is None:
            continue
        found = each.surveyed.found
        yield Step(
            f"rule for {each.surveyed.fault.key} on {found.on}",
            "first row of the treatment table that fits fault, part, severity, share, depth",
            {"severity": each.surveyed.severity, "share": each.share, "from": each.surveyed.source},
            each.rule.key,
            "",
            f"{each.rule.source} ({each.rule.status})",
        )
    for work in taken.work:
        yield Step(
            f"hours: {work.task.name.lower()}{f', {work.of}' if work.of else ''}",
            "fixed hours x times + hours for a unit x amount",
            {
                "fixed_h": work.task.fixed_hours,
                "times": work.times,
                "each_h": work.task.hours,
                "amount": work.charged,
                "unit": work.task.unit,
            },
            work.hours(),
            "h",
            f"{work.task.source} ({work.task.status})",
        )
    yield Step(
        f"hours of: {taken.scope.name.lower()}",
        "sum of its tasks",
        {"low": taken.hours("hours_low"), "high": taken.hours("hours_high")},
        taken.hours(),
        "h",
        "task table",
    )
