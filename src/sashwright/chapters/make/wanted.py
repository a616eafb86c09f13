"""What is to be made at each window: by the alternative taken there, or by an explicit choice."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.make.cut import Unit
from sashwright.chapters.price.job import Subject, subject_of, taken_with
from sashwright.chapters.treat.alternatives import Alternative
from sashwright.chapters.treat.rules import Judged
from sashwright.chapters.treat.work import seen_to
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House

Asked = Literal["sash", "storm", "screen", "frame"]
ASKED: tuple[Asked, ...] = get_args(Asked)
UNITS_OF: Mapping[str, tuple[Unit, ...]] = {
    "sash": ("upper sash", "lower sash"),
    "storm": ("storm",),
    "screen": ("screen",),
    "frame": ("frame",),
}
TASKS: Mapping[str, Asked] = {"new-sash": "sash", "storm-new": "storm", "screen-new": "screen"}
"""Tasks that a whole unit is made for."""
STRIPS = "strip-new"


@dataclass(frozen=True)
class Wanted:
    """What one window asks of the shop."""

    placed: Placed
    units: tuple[Unit, ...]
    alternative: Alternative | None
    """The one taken; None where nothing is done, or where the units were asked for."""
    decided: bool
    """Whether somebody decided on it."""
    repairs: Sequence[Judged] = ()
    """Findings that new wood or glass may answer."""

    @property
    def number(self) -> str:
        return self.placed.window.number

    @property
    def strips(self) -> bool:
        """Whether weatherstrip is fitted."""
        return self.alternative is not None and any(
            work.task.key == STRIPS for work in self.alternative.work
        )


Wrong = Mapping[str, WindowAnswer]
"""Windows that contradict themselves, with what is wrong."""


def wanted_of(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    scope: Collection[Asked] | None = None,
) -> tuple[list[Wanted], Wrong]:
    """Every window with what is to be made there.

    Raises ``KeyError`` for a window that the house has not, ``ValueError`` for a unit that nobody makes.
    """
    units = None if scope is None else units_of(scope)
    found: dict[str, Placed] = {}
    subjects: dict[str, Subject] = {}
    wrong: dict[str, WindowAnswer] = {}
    for window, placed in place_each(house, knowledge, numbers):
        if not isinstance(placed, Placed):
            wrong[window.number] = contradicted(window.number, placed)
            continue
        found[window.number] = placed
        if units is None:
            try:
                subjects[window.number] = subject_of(placed, house)
            except KnowledgeError as error:
                wrong[window.number] = contradicted(window.number, error)
    if units is not None:
        return [Wanted(placed, units, None, decided=False) for placed in found.values()], wrong
    taken = _taken(house, subjects, knowledge)
    return [_by_work(subject, taken.get(number)) for number, subject in subjects.items()], wrong


def units_of(scope: Collection[str]) -> tuple[Unit, ...]:
    """The units of an explicit choice. Raises ``ValueError`` for one that nobody makes."""
    for name in scope:
        if name not in UNITS_OF:
            raise ValueError(f"Found {name!r}, expected one of {', '.join(UNITS_OF)}.")
    return tuple(unit for name in ASKED if name in scope for unit in UNITS_OF[name])


def _taken(house: House, subjects: Mapping[str, Subject], knowledge: Knowledge) -> dict[str, str]:
    """Alternative by window as it is priced: those asked for, with the options that are ticked."""
    taken = {number: subject.usual for number, subject in subjects.items() if subject.asked}
    for option in house.pricing.options:
        if option.ticked:
            taken = taken_with(option, subjects, taken, knowledge)
    return taken


def _by_work(subject: Subject, key: str | None) -> Wanted:
    way = None if key is None else subject.way(key)
    if way is None:
        return Wanted(subject.placed, (), None, subject.decided)
    tasks = {work.task.key for work in way.work}
    asked = {unit for task, unit in TASKS.items() if task in tasks}
    repairs = list(seen_to(subject.judged, way.scope))
    return Wanted(subject.placed, units_of(asked), way, subject.decided, repairs)
