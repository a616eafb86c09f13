"""Where a piece stands, from when it may go on, and whether a step that is asked for is a good one."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sashwright.chapters.days import date_of, day_number, days_said, said
from sashwright.chapters.make.tracks import Track, can_stand, place_of
from sashwright.knowledge.keeping_tables import Stage, StageName

LAST: StageName = "hung"


@dataclass(frozen=True, slots=True)
class Move:
    """A piece that came to a stage, on a day such as ``2026-08-15``."""

    number: str
    piece: str
    stage: StageName
    on: str
    reason: str = ""
    who: str = ""


@dataclass(frozen=True, slots=True)
class May:
    """The first day on which a piece may be at a stage, and what it waits for."""

    stage: StageName
    day: int
    """Counted from 1970-01-01."""
    waits_for: Stage | None
    """The row of the stage table that holds it up longest; None where nothing does."""
    from_day: int | None = None
    """When that rest began."""

    @property
    def date(self) -> str:
        return date_of(self.day)


@dataclass(frozen=True)
class Standing:
    """One piece, where it stands now."""

    track: Track
    stage: StageName | None
    """None while it is still in its frame, or not begun."""
    since: int | None
    """The day it came there."""
    reached: Mapping[StageName, int]
    """The day of each stage that it came to and has not gone back behind."""
    moves: tuple[Move, ...] = ()

    @property
    def begun(self) -> bool:
        return self.stage is not None

    @property
    def done(self) -> bool:
        return self.stage == LAST

    @property
    def to_come(self) -> list[StageName]:
        """Stages of its way that still lie before it."""
        if self.stage is None:
            return list(self.track.stages)
        here = place_of(self.stage)
        return [stage for stage in self.track.stages if place_of(stage) > here]

    @property
    def passed_over(self) -> list[StageName]:
        """Stages of its way that lie behind it and were never noted."""
        if self.stage is None:
            return []
        here = place_of(self.stage)
        return [
            stage
            for stage in self.track.stages
            if place_of(stage) < here and stage not in self.reached
        ]

    @property
    def late_days(self) -> float | None:
        """How long such a piece stays at this stage at most, as a rule."""
        known = [
            row.late_days
            for row in self.track.rests
            if row.after == self.stage and row.late_days is not None
        ]
        return max(known, default=None)

    @property
    def late_from(self) -> int | None:
        """The day from which it is late; None where it cannot be."""
        days = self.late_days
        if self.since is None or days is None or self.done:
            return None
        return self.since + math.floor(days) + 1


def stand(track: Track, moves: Iterable[Move]) -> Standing:
    """Where a piece stands after its moves, the oldest first."""
    mine = [move for move in moves if move.piece == track.piece and move.number == track.number]
    reached: dict[StageName, int] = {}
    for move in mine:
        here = place_of(move.stage)
        reached = {stage: day for stage, day in reached.items() if place_of(stage) < here}
        reached[move.stage] = day_number(move.on)
    last = mine[-1] if mine else None
    return Standing(
        track,
        last.stage if last else None,
        day_number(last.on) if last else None,
        reached,
        tuple(mine),
    )


# --- from when ------------------------------------------------------------------------


def may_come(standing: Standing, today: int, also: StageName | None = None) -> dict[StageName, May]:
    """From which day a piece may be at each stage before it, if all before it is done at the first chance.

    ``also`` is a stage off its way, to be counted in.
    """
    wanted = [*standing.to_come]
    if also is not None and also not in wanted and _is_ahead(standing, also):
        wanted = sorted([*wanted, also], key=place_of)
    known = dict(standing.reached)
    found: dict[StageName, May] = {}
    before = max([today, *known.values()])
    for stage in wanted:
        may = _may(standing, stage, wanted, known, before)
        found[stage] = may
        known[stage] = before = may.day
    return found


def _is_ahead(standing: Standing, stage: StageName) -> bool:
    return standing.stage is None or place_of(stage) > place_of(standing.stage)


def _may(
    standing: Standing,
    stage: StageName,
    wanted: Sequence[StageName],
    known: Mapping[StageName, int],
    before: int,
) -> May:
    may = May(stage, before, None)
    for row in standing.track.rests:
        if _behind(standing, row.before) or _holds_up(row, wanted) != stage:
            continue
        began = _began(standing, row.after, known)
        if began is None:
            continue
        day = began + math.ceil(row.least_days - 1e-9)
        if day > may.day:
            may = May(stage, day, row, began)
    return may


def _behind(standing: Standing, stage: StageName) -> bool:
    """Whether it stands there or beyond: then whoever went on did so with a reason, or in time."""
    return standing.stage is not None and place_of(stage) <= place_of(standing.stage)


def _holds_up(row: Stage, wanted: Sequence[StageName]) -> StageName | None:
    """The first stage of those to come that a rest holds up: where its own is left out, the next."""
    first = place_of(row.before)
    return next((stage for stage in wanted if place_of(stage) >= first), None)


def _began(standing: Standing, after: StageName, known: Mapping[StageName, int]) -> int | None:
    """When a rest began; where nobody noted it, it may have been as late as the stage that passed it over."""
    if after in known:
        return known[after]
    return standing.since if after in standing.passed_over else None


# --- is it a good step ----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is said to a step: it is fine, it takes a reason, or it cannot be."""

    kind: Literal["fine", "reason", "refused"]
    says: str = ""
    because: str = ""
    may: str | None = None
    """The date from which it needs no reason, where it only comes too early."""
    notes: tuple[str, ...] = ()


def judge(standing: Standing, stage: str, on: str) -> Verdict:
    """Whether a piece may come to a stage on a day.

    Back, or before a rest is over, only with a reason: the record says what was done, and why. To a stage
    that it has not, to the one where it stands, or before it came there: not at all.
    """
    track, day = standing.track, day_number(on)
    what = f"The {track.name} of {track.number}"
    if not can_stand(track.piece, stage):
        return Verdict("refused", f"{what} has no stage {stage!r}.", "the list of its stages")
    name: StageName = stage  # type: ignore[assignment]
    if standing.stage == name:
        return Verdict("refused", f"{what} stands at {name!r} already.", "the last that was noted")
    if standing.since is not None and day < standing.since:
        came = said(date_of(standing.since))
        return Verdict(
            "refused",
            f"{what} came to {standing.stage!r} on {came}, after that day.",
            "time goes on",
        )
    if standing.stage is not None and place_of(name) < place_of(standing.stage):
        return Verdict(
            "reason", f"{what} would go back from {standing.stage!r} to {name!r}.",
            "a stage is only gone back on for a reason",
        )  # fmt: skip
    return _forward(standing, name, day, what)


def _forward(standing: Standing, name: StageName, day: int, what: str) -> Verdict:
    may = may_come(standing, day, name)[name]
    passed = [stage for stage in standing.to_come if place_of(stage) < place_of(name)]
    notes = (f"Passed over: {', '.join(passed)}.",) if passed else ()
    if may.day <= day:
        return Verdict("fine", notes=notes)
    rest = may.waits_for or _longest(standing, day, name)
    why = f"{rest.name.lower()}: {days_said(math.ceil(rest.least_days))}" if rest else "its rests"
    return Verdict("reason", f"{what} may be {name!r} from {said(may.date)}.", why, may.date, notes)


def _longest(standing: Standing, day: int, name: StageName) -> Stage | None:
    """The longest rest among those on the way to a stage."""
    rests = [
        may.waits_for
        for stage, may in may_come(standing, day, name).items()
        if place_of(stage) <= place_of(name) and may.waits_for is not None
    ]
    return max(rests, key=lambda row: row.least_days, default=None)


def back_of(standing: Standing) -> Iterator[StageName]:
    """Stages that it could go back to, the nearest first."""
    if standing.stage is None:
        return
    here = place_of(standing.stage)
    stages = {*standing.track.stages, *standing.reached}
    yield from sorted((s for s in stages if place_of(s) < here), key=place_of, reverse=True)
