"""Safety flags: escape, falls, safety glass, glass over people, force to move, lead and asbestos.

They are screening figures: the local code, the authority and a licensed professional decide. Each finding
names its section and what can be done without giving up the old sash.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from sashwright.chapters.answer import Finding, Step, WindowAnswer
from sashwright.chapters.grade.safety_codes import Code
from sashwright.chapters.grade.safety_escape import (
    escape_findings,
    escape_steps,
    escape_values,
    way_out,
)
from sashwright.chapters.grade.safety_fall import fall_findings, fall_values, falls
from sashwright.chapters.grade.safety_glass import glass_findings, glass_values, judge_panes
from sashwright.chapters.grade.safety_work import (
    force_findings,
    force_values,
    house_paint_findings,
    overhead_findings,
)
from sashwright.chapters.hang import hang_window
from sashwright.chapters.words import Words
from sashwright.window.resolve import Placed
from sashwright.window.spec import House


class Flags(NamedTuple):
    """Part of an answer: values by subject, findings, working."""

    values: Mapping[str, Any]
    findings: Sequence[Finding]
    steps: Sequence[Step]


def code_of(house: House) -> Code:
    """The code asked where nobody names one: the American houses' for a house in inches, else England's."""
    return "IRC" if house.units == "us" else "England"


def safety(
    placed: Placed,
    house: House,
    words: Words,
    hung: WindowAnswer | None = None,
    code: Code | None = None,
) -> Flags:
    """Flags of one window.

    Parameters
    ----------
    placed, house
        The window laid out, and the house it belongs to.
    words
        Of the sentences.
    hung : WindowAnswer, optional
        The hang chapter's answer for the window; worked out here where it is not at hand.
    code : {"IRC", "IBC", "England"}, optional
        Whose rules; as ``code_of`` where not given.

    Raises ``KnowledgeError`` for a glass, pulley or cord that the tables lack.
    """
    code = code or code_of(house)
    hung = hung or hang_window(placed, words.system)
    bedroom = placed.window.use.bedroom
    out, drops, panes = way_out(placed, code), falls(placed, code), judge_panes(placed, code)
    forces = force_values(hung)
    values = {
        "code": code,
        "escape": escape_values(out, bedroom),
        "fall": fall_values(drops),
        "glass": glass_values(panes, code),
        "force": forces,
    }
    findings = [
        *escape_findings(out, placed, code, words),
        *fall_findings(drops, placed, code, words),
        *glass_findings(panes, placed, code, words),
        *overhead_findings(placed),
        *force_findings(forces, hung, bedroom, words),
    ]
    return Flags(values, findings, list(escape_steps(out, placed)))


def house_safety(house: House, code: Code | None = None) -> Flags:
    """Flags that hold for the whole house, once: lead in its paint, asbestos in its putty."""
    code = code or code_of(house)
    findings = list(house_paint_findings(house.built, code))
    return Flags({"code": code, "built": house.built}, findings, [])
