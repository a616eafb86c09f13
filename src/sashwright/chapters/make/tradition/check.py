"""A proposal as the chapters see it: one list of findings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sashwright.chapters.answer import Answer, Finding, Step, WindowAnswer
from sashwright.chapters.fit import fit_window
from sashwright.chapters.grade import grade_window
from sashwright.chapters.heat import heat_window
from sashwright.chapters.make.tradition.propose import Proposal
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.daily import DailyClimate
from sashwright.units import System
from sashwright.window.fabric import Fabric
from sashwright.window.resolve import place
from sashwright.window.spec import House

BRICK = "wall-brick-9"
"""The wall of a house that is there for one window in masonry: a row of the fabric table."""


def house_of(proposal: Proposal, name: str = "A new window", system: System = "us") -> House:
    """A house of nothing but this window and its family."""
    masonry = proposal.opening.kind == "masonry"
    return House(
        name=name,
        units=system,
        fabric=Fabric(wall=BRICK) if masonry else Fabric(),
        families={proposal.window.family: proposal.family},
        windows=(proposal.window,),
    )


def with_new(house: House, proposal: Proposal) -> House:
    """The house with the window and its family in it. Raises ``ValueError`` for a name that is taken."""
    window = proposal.window
    if window.family in house.families:
        raise ValueError(
            f"Found the family {window.family!r} in the house, expected a name no family has."
        )
    if any(each.number == window.number for each in house.windows):
        raise ValueError(
            f"Found the window {window.number!r} in the house, expected a number no window has."
        )
    return house.model_copy(
        update={
            "families": {**house.families, window.family: proposal.family},
            "windows": (*house.windows, window),
        }
    )


def check_new(
    proposal: Proposal,
    knowledge: Knowledge,
    house: House | None = None,
    *,
    climate: DailyClimate | None = None,
    heat: bool = False,
    system: System | None = None,
) -> Answer:
    """The proposal's own findings, then what each chapter says of it.

    Parameters
    ----------
    house
        Where it is to stand, for wind, escape and the walls; a house of its own where not given. A family or
        window of the same name there stands aside.
    climate
        Air outside and inside, day by day, for its fit through the year; left out where not given.
    heat
        Whether to work out its heat as well, which takes some seconds.
    system
        Of the sentences; the house's own where not given.

    Returns
    -------
    Answer
        Of one window. Its values are the proposal's, and under ``chapters`` those of ``hang``, ``grade`` and,
        as far as asked, ``fit`` and ``heat``. Each finding's ``on`` is a part of the window.
    """
    where = with_new(_without(house, proposal), proposal) if house else house_of(proposal)
    system = system or where.units
    placed = place(where, proposal.window.number, knowledge)
    answers = {"hang": proposal.hung}
    answers["grade"] = grade_window(placed, where, system, hung=proposal.hung)
    if climate is not None:
        wall = where.walls[proposal.window.wall]
        answers["fit"] = fit_window(placed, climate, wall, system)
    if heat:
        answers["heat"] = heat_window(placed, system, room=where.heated_to)
    own = proposal.answer
    chapters: Mapping[str, Any] = {name: dict(each.values) for name, each in answers.items()}
    return Answer(
        "new-window",
        where.name,
        [
            WindowAnswer(
                own.number,
                {**own.values, "chapters": chapters},
                [*own.findings, *_all(answers)],
                [*own.working, *_steps(answers)],
            )
        ],
    )


def _without(house: House, proposal: Proposal) -> House:
    window = proposal.window
    return house.model_copy(
        update={
            "families": {k: f for k, f in house.families.items() if k != window.family},
            "windows": tuple(w for w in house.windows if w.number != window.number),
        }
    )


def _all(answers: Mapping[str, WindowAnswer]) -> Iterator[Finding]:
    """Every finding once: grade repeats some of hang's words."""
    seen: set[str] = set()
    for answer in answers.values():
        for finding in answer.findings:
            if finding.says not in seen:
                seen.add(finding.says)
                yield finding


def _steps(answers: Mapping[str, WindowAnswer]) -> Iterator[Step]:
    for answer in answers.values():
        yield from answer.working
