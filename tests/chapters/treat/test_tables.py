"""The tables of faults, rules, tasks and scopes fit together, and no finding is left without a rule."""

from __future__ import annotations

import itertools

import pytest

from sashwright.chapters.treat.rules import DRYING, rule_of
from sashwright.chapters.treat.work import OUT
from sashwright.knowledge.load import load
from sashwright.knowledge.tables import KnowledgeError
from sashwright.knowledge.work_tables import Task
from sashwright.window.components import Piece
from sashwright.window.condition import Found
from sashwright.window.surveyed import Surveyed

KNOWLEDGE = load()
RULES = list(KNOWLEDGE.treatment.values())


def test_every_fault_on_every_part_at_every_severity_has_a_rule() -> None:
    missing = []
    for fault in KNOWLEDGE.fault.values():
        for kind, severity in itertools.product(fault.on, fault.severities):
            found = Found(on="sill", fault=fault.key, severity=severity)
            piece = Piece("x", kind, "frame", 1.0, 1.0)
            if rule_of(Surveyed(found, fault, [piece], "own"), RULES) is None:
                missing.append((fault.key, kind, severity))
    assert missing == []


def test_every_rule_can_come_first_for_something() -> None:
    reached = set()
    for fault in KNOWLEDGE.fault.values():
        for kind, severity, length, probe in itertools.product(
            fault.on, fault.severities, (None, 0.1, 0.9), (None, 0.5 * 0.0254, 0.03)
        ):
            found = Found.model_construct(
                on="sill", fault=fault.key, severity=severity, length=length, probe=probe,
                count=None, area=None, moisture=None, note="", photos=(),
            )  # fmt: skip
            piece = Piece("x", kind, "frame", 1.0, 1.0)
            rule = rule_of(Surveyed(found, fault, [piece], "own"), RULES)
            reached.add(rule.key if rule else None)
    assert {rule.key for rule in RULES} - reached == set()


def test_rows_name_rows_that_exist() -> None:
    tasks, faults = set(KNOWLEDGE.task), set(KNOWLEDGE.fault)
    for rule in RULES:
        assert set(rule.tasks) <= tasks, rule.key
        assert set(rule.faults) <= faults, rule.key
    for scope in KNOWLEDGE.scope.values():
        assert set(scope.tasks) <= tasks, scope.key
    hours = {key for key, row in KNOWLEDGE.rate.items() if row.kind == "an hour"}
    for task in KNOWLEDGE.task.values():
        assert {*task.needs, *task.within} <= tasks, task.key
        assert {amount.material for amount in task.amounts} <= set(KNOWLEDGE.material), task.key
        assert task.skill in hours, task.key
    assert {DRYING, OUT} <= tasks
    for row in KNOWLEDGE.rate.values():
        assert not row.skill or row.skill in hours


def test_every_task_is_used() -> None:
    used = {task for rule in RULES for task in rule.tasks} | {DRYING, "lead-care"}
    used |= {task for scope in KNOWLEDGE.scope.values() for task in scope.tasks}
    used |= {need for task in KNOWLEDGE.task.values() for need in task.needs}
    assert set(KNOWLEDGE.task) - used == set()


def test_bad_rows_are_refused() -> None:
    row = KNOWLEDGE.task["cord"]
    plain = {name: getattr(row, name) for name in type(row).__slots__}
    more = {"source": row.source, "key": "x", "name": "x", "status": "shop"}
    with pytest.raises(KnowledgeError, match="rising order"):
        Task(**{**plain, **more, "hours_low": 3.0})
    with pytest.raises(KnowledgeError, match="its key and an amount"):
        Task(**{**plain, **more, "materials": ("putty",)})
