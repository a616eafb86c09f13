"""The one shape of every answer: values, findings, working."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

Level = Literal["ok", "note", "caution", "fail"]
LEVELS: tuple[Level, ...] = ("ok", "note", "caution", "fail")


def mm(metres: float) -> float:
    """A length as values give it: millimetres, to a thousandth."""
    return round(float(metres) * 1000, 3)


@dataclass(frozen=True, slots=True)
class Finding:
    """A judgement: on what part, what it says in one sentence, the reason, and the rule's source."""

    level: Level
    on: str
    says: str
    because: str
    source: str

    def to_dict(self) -> dict[str, str]:
        return {
            "level": self.level,
            "on": self.on,
            "says": self.says,
            "because": self.because,
            "source": self.source,
        }


@dataclass(frozen=True, slots=True)
class Step:
    """One line of working: anybody can redo it by hand."""

    step: str
    formula: str
    inputs: Mapping[str, Any]
    result: Any
    unit: str
    source: str

    def to_dict(self) -> dict[str, Any]:
        return {
            "step": self.step,
            "formula": self.formula,
            "inputs": dict(self.inputs),
            "result": self.result,
            "unit": self.unit,
            "source": self.source,
        }


@dataclass(frozen=True, slots=True)
class WindowAnswer:
    """A chapter's answer for one window. Names of values carry their units."""

    number: str
    values: Mapping[str, Any]
    findings: Sequence[Finding] = ()
    working: Sequence[Step] = ()

    @property
    def worst(self) -> Level:
        return worst_of(self.findings)

    def to_dict(self) -> dict[str, Any]:
        return {
            "number": self.number,
            "values": dict(self.values),
            "findings": [finding.to_dict() for finding in self.findings],
            "working": [step.to_dict() for step in self.working],
        }


@dataclass(frozen=True, slots=True)
class Answer:
    """A chapter's answer for a house: window by window, and what holds for the whole."""

    chapter: str
    house: str
    windows: Sequence[WindowAnswer]
    values: Mapping[str, Any] = field(default_factory=dict)
    findings: Sequence[Finding] = ()
    working: Sequence[Step] = ()

    @property
    def worst(self) -> Level:
        found = [worst_of(self.findings), *(window.worst for window in self.windows)]
        return max(found, key=LEVELS.index)

    def to_dict(self) -> dict[str, Any]:
        return {
            "chapter": self.chapter,
            "house": self.house,
            "values": dict(self.values),
            "findings": [finding.to_dict() for finding in self.findings],
            "working": [step.to_dict() for step in self.working],
            "windows": [window.to_dict() for window in self.windows],
        }


def worst_of(findings: Sequence[Finding]) -> Level:
    """The gravest level among findings; ``ok`` when there are none."""
    return max((finding.level for finding in findings), key=LEVELS.index, default="ok")
