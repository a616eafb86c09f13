"""Does it fit into the weeks? The hours that are left, skill by skill, loaded forward from today."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sashwright.chapters.answer import Answer, Finding, Step
from sashwright.chapters.days import date_of, day_number, said, weekday
from sashwright.chapters.make.standing import LAST, Standing
from sashwright.chapters.make.tracks import OUT, Track, place_of, stages_of_task
from sashwright.chapters.treat.work import Work
from sashwright.knowledge.keeping_tables import StageName

WORKDAYS = 5
"""Monday to Friday."""
WEEK = 7
MOST_WEEKS = 260
"""Further ahead nothing is loaded: then the hours are too few for the work."""
Standings = Mapping[str, Sequence[Standing]]


@dataclass(frozen=True, slots=True)
class Operation:
    """What brings one piece to one stage: hours by skill, and the rest that follows."""

    stage: StageName
    hours: Mapping[str, float]


@dataclass(frozen=True)
class Chain:
    """The work that is left at one piece, in order."""

    label: str
    window: str
    standing: Standing | None
    """None for what is done at the window itself."""
    operations: tuple[Operation, ...]
    begun: int
    """How far it has come: what is furthest goes first."""


@dataclass
class Loaded:
    """Hours given out, by skill and day."""

    hours: Mapping[str, float]
    """In a week."""
    today: int
    used: dict[str, dict[int, float]] = field(default_factory=dict)

    def do(self, skill: str, hours: float, day: int) -> int | None:
        """Spend hours from a day on; the day on which the last is spent, or None where there are too few."""
        a_day = self.hours.get(skill, 0.0) / WORKDAYS
        if hours <= 0:
            return day
        if a_day <= 0:
            return None
        spent = self.used.setdefault(skill, {})
        left = hours
        for each in range(day, self.today + MOST_WEEKS * WEEK):
            if weekday(each) >= WORKDAYS:
                continue
            free = a_day - spent.get(each, 0.0)
            if free > 1e-9:
                taken = min(free, left)
                spent[each] = spent.get(each, 0.0) + taken
                left -= taken
            if left <= 1e-9:
                return each
        return None


def capacity(
    house_name: str,
    standings: Standings,
    hours: Mapping[str, float],
    *,
    today: str,
) -> Answer:
    """The weeks that the work still takes, of one house or of all.

    Parameters
    ----------
    standings
        The pieces of each window, by the window's name in the answer and in the order of the work: tasks of
        stages that lie behind a piece are done.
    hours
        What each skill has in a week.

    A piece goes on when its hands are free and its rest is over; of several waiting the furthest goes
    first. Tasks at the window itself, not at a sash, come when the window's sash are back. Hours are the
    likely ones of the task table, the same on each of five days a week.
    """
    day = day_number(today)
    chains = list(_chains(standings))
    loaded = Loaded(hours, day)
    ends: dict[str, int] = {}
    stuck: dict[str, list[Chain]] = {}
    for chain in sorted(chains, key=lambda each: (each.standing is None, -each.begun)):
        start = day if chain.standing else ends.get(chain.window, day)
        end = _load(chain, loaded, start, stuck)
        if end is not None:
            ends[chain.window] = max(ends.get(chain.window, day), end)
    values = _values(chains, loaded, ends, stuck, day)
    return Answer("capacity", house_name, [], values, list(_findings(values)), list(_steps(values)))


# --- what is left ---------------------------------------------------------------------


def _chains(standings: Standings) -> Iterator[Chain]:
    for name, mine in standings.items():
        for standing in mine:
            operations = tuple(_left(standing))
            if operations:
                begun = -1 if standing.stage is None else place_of(standing.stage)
                label = f"{name} {standing.track.name}"
                yield Chain(label, name, standing, operations, begun)
        if mine and not _all_back(mine):
            spent = _at_window(mine[0].track)
            if spent:
                yield Chain(f"{name} at the window", name, None, (Operation(LAST, spent),), -1)


def _all_back(standings: Iterable[Standing]) -> bool:
    """Whether all pieces that went to the shop hang again: then the window's own work is done too."""
    asked = [each for each in standings if each.track.asked]
    return bool(asked) and all(each.done for each in asked)


def _left(standing: Standing) -> Iterator[Operation]:
    """Operations at a piece for the stages that lie before it."""
    if standing.done or not standing.track.asked:
        return
    ahead = standing.to_come
    for stage in ahead:
        hours: dict[str, float] = {}
        for work in standing.track.work:
            if _leads_to(work, standing.track) == stage:
                skill = work.task.skill
                hours[skill] = hours.get(skill, 0.0) + work.hours()
        yield Operation(stage, hours)


def _leads_to(work: Work, track: Track) -> StageName:
    """The stage that a task brings a piece to: one of its way, the last for what fits none."""
    if work.task.key == OUT:
        return track.stages[0]
    wanted = stages_of_task(work.task)
    if track.made and not wanted:
        return "made"
    found = [stage for stage in track.stages if stage in wanted]
    return found[0] if found else LAST


def _at_window(track: Track) -> dict[str, float]:
    """Hours at the window itself, but for tasks whose hours were written down: those are done."""
    done = {each.task for each in track.placed.window.spent}
    hours: dict[str, float] = {}
    for each in track.window_work:
        if each.task.key not in done:
            hours[each.task.skill] = hours.get(each.task.skill, 0.0) + each.hours()
    return hours


# --- loading --------------------------------------------------------------------------


def _load(
    chain: Chain,
    loaded: Loaded,
    start: int,
    stuck: dict[str, list[Chain]],
) -> int | None:
    """Load what is left at a piece; the day it is done, or None where somebody's hours are too few."""
    done: dict[StageName, int] = dict(chain.standing.reached) if chain.standing else {}
    day = start
    for operation in chain.operations:
        day = max(day, _rested(chain, operation.stage, done))
        finished = day
        for skill, hours in operation.hours.items():
            end = loaded.do(skill, hours, day)
            if end is None:
                stuck.setdefault(skill, []).append(chain)
                return None
            finished = max(finished, end)
        done[operation.stage] = day = finished
    return day


def _rested(chain: Chain, stage: StageName, done: Mapping[StageName, int]) -> int:
    """The first day on which a piece may come to a stage, by the rests of what was done before."""
    if chain.standing is None:
        return 0
    days = [
        done[row.after] + math.ceil(row.least_days - 1e-9)
        for row in chain.standing.track.rests
        if row.after in done and place_of(row.before) <= place_of(stage)
    ]
    return max(days, default=0)


# --- the answer -----------------------------------------------------------------------


def _values(
    chains: Sequence[Chain],
    loaded: Loaded,
    ends: Mapping[str, int],
    stuck: Mapping[str, Sequence[Chain]],
    today: int,
) -> dict[str, Any]:
    need: dict[str, float] = {}
    for chain in chains:
        for operation in chain.operations:
            for skill, hours in operation.hours.items():
                need[skill] = need.get(skill, 0.0) + hours
    monday = today - weekday(today)
    last = max(ends.values(), default=today)
    weeks = [
        {
            "from": date_of(start),
            "skills": {
                skill: {
                    "hours": round(_in_week(loaded.used.get(skill, {}), start), 2),
                    "of": round(_open(loaded.hours.get(skill, 0.0), start, today), 2),
                }
                for skill in need
            },
        }
        for start in range(monday, last + 1, WEEK)
    ]
    late = {chain.window for short in stuck.values() for chain in short}
    return {
        "today": date_of(today),
        "need_hours": {skill: round(hours, 2) for skill, hours in need.items()},
        "hours_a_week": {skill: loaded.hours.get(skill, 0.0) for skill in need},
        "weeks": weeks,
        "ends": {name: date_of(day) for name, day in ends.items() if name not in late},
        "finish": date_of(last) if ends and not stuck else None,
        "governs": _governs(need, loaded.hours),
        "stuck": {skill: [chain.label for chain in short] for skill, short in stuck.items()},
    }


def _in_week(used: Mapping[int, float], start: int) -> float:
    return sum(hours for day, hours in used.items() if start <= day < start + WEEK)


def _open(hours: float, start: int, today: int) -> float:
    """Hours of a skill that a week still has: of the first only its days from today."""
    days = sum(1 for day in range(start, start + WORKDAYS) if day >= today)
    return hours * days / WORKDAYS


def _governs(need: Mapping[str, float], hours: Mapping[str, float]) -> str | None:
    """The skill whose hours take the most weeks."""
    weeks = {s: each / hours[s] if hours.get(s) else math.inf for s, each in need.items() if each}
    return max(weeks, key=lambda skill: weeks[skill], default=None)


def _findings(values: Mapping[str, Any]) -> Iterator[Finding]:
    for skill, labels in values["stuck"].items():
        yield Finding(
            "fail",
            skill,
            f"Nobody has the hours for {len(labels)} piece{'' if len(labels) == 1 else 's'}: "
            f"{values['need_hours'][skill]:g} h of a {skill} are wanted.",
            f"{values['hours_a_week'][skill]:g} h a week are given for a {skill}",
            "hours of the shop",
        )
    if values["finish"] is not None:
        yield Finding(
            "note",
            "shop",
            f"With these hours the last is hung about {said(values['finish'])}; the {values['governs']} "
            "has the least to spare.",
            "likely hours, loaded forward with the rests; nothing else comes between",
            "task table, stage table, hours of the shop",
        )


def _steps(values: Mapping[str, Any]) -> Iterator[Step]:
    for skill, hours in values["need_hours"].items():
        week = values["hours_a_week"][skill]
        yield Step(
            f"weeks of a {skill}",
            "hours that are left / hours in a week",
            {"hours": hours, "hours_a_week": week},
            round(hours / week, 2) if week else None,
            "weeks",
            "task table; hours of the shop",
        )
