"""What a change would bring in that contradicts itself.

Only new contradictions count: a house that the program now finds faulty, because a table or a rule
changed, can still be worked on, field by field.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from sashwright.knowledge.tables import Knowledge
from sashwright.window import spec
from sashwright.window.check import problems_of_whole, unknown_rows, window_problems
from sashwright.window.mouldings import with_own
from sashwright.window.problem import Problem
from sashwright.window.resolve import family_of


def problems_in(
    house: spec.House, windows: Collection[str], families: Collection[str], knowledge: Knowledge
) -> Iterator[Problem]:
    """What is wrong between the parts of a house, and in some of its windows and families.

    A family's windows are looked at with it. Windows are named by their numbers in the fields:
    ``windows.204.width``.
    """
    for problem in problems_of_whole(house, knowledge):
        yield _by_number(problem, house)
    knowledge = with_own(house, knowledge)
    for key in families:
        for problem in unknown_rows(house.families[key], knowledge):
            yield _under(f"families.{key}", problem)
    for window in house.windows:
        if window.family not in house.families:
            continue
        if window.number in windows or window.family in families:
            for problem in window_problems(window, family_of(house, window), knowledge):
                yield _under(f"windows.{window.number}", problem)


def _by_number(problem: Problem, house: spec.House) -> Problem:
    table, _, rest = problem.field.partition(".")
    if table != "windows":
        return problem
    index, _, field = rest.partition(".")
    return replace(problem, field=f"windows.{house.windows[int(index)].number}.{field}")


def _under(prefix: str, problem: Problem) -> Problem:
    return replace(problem, field=f"{prefix}.{problem.field}")
