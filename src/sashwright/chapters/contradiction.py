"""The answer for a window that cannot be laid out: what contradicts what."""

from __future__ import annotations

from sashwright.chapters.answer import Finding, WindowAnswer
from sashwright.knowledge.tables import KnowledgeError
from sashwright.window.problem import LayoutError


def contradicted(number: str, error: LayoutError | KnowledgeError) -> WindowAnswer:
    """Every problem as a failing finding, in place of values."""
    if isinstance(error, LayoutError):
        findings = [
            Finding(
                "fail",
                problem.field,
                f"{problem.field}: found {problem.found}, expected {problem.expected}.",
                "sizes that contradict each other cannot be made",
                "geometry of the window",
            )
            for problem in error.problems
        ]
    else:
        findings = [Finding("fail", "window", str(error), "a row that no table has", "knowledge")]
    return WindowAnswer(number, {}, findings)
