"""Small houses to ask the chapters about: lengths as a shop writes them, bare numbers in inches."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sashwright.chapters.answer import Finding, WindowAnswer
from sashwright.chapters.hang import hang
from sashwright.chapters.parts import parts
from sashwright.knowledge.load import load
from sashwright.knowledge.tables import Knowledge
from sashwright.window.check import house_from
from sashwright.window.spec import House

INCH = 0.0254
POUND = 0.45359237
KNOWLEDGE = load()
Document = Mapping[str, Any]

PLAIN = {"width": "32", "height": "66"}
"""A one-over-one window, 32 by 66 in, all else as the specification has it where nothing is said."""


def house_of(family: Document, *windows: Document, **house: Any) -> House:
    """A valid house of one family; windows are numbered 1, 2, 3 where they say no number."""
    numbered = [{"number": str(n), "family": "A", **w} for n, w in enumerate(windows, start=1)]
    document = {"name": "12 Elm Street", "families": {"A": family}, "windows": numbered, **house}
    return house_from(document, KNOWLEDGE)


def hung(
    family: Document, window: Document = PLAIN, knowledge: Knowledge = KNOWLEDGE
) -> WindowAnswer:
    """The hang chapter's answer for one window."""
    (answer,) = hang(house_of(family, window), knowledge).windows
    return answer


def taken_apart(family: Document, window: Document = PLAIN) -> WindowAnswer:
    """The parts chapter's answer for one window."""
    (answer,) = parts(house_of(family, window), KNOWLEDGE).windows
    return answer


def findings(answer: WindowAnswer, level: str, on: str = "") -> list[Finding]:
    """Findings of one level; ``on`` narrows them to one part of the window."""
    return [f for f in answer.findings if f.level == level and f.on.startswith(on)]


def only(answer: WindowAnswer, level: str, on: str, says: str) -> Finding:
    """The one finding on a part that says this; fails when there is none, or more than one."""
    (found,) = [f for f in findings(answer, level, on) if says in f.says]
    return found
