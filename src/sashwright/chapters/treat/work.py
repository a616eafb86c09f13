"""Tasks with their amounts: what findings and scopes ask for, put together so that nothing counts twice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from sashwright.chapters.treat.rules import DRYING, Judged, share_of
from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.work_tables import Scope, Task
from sashwright.units import INCH
from sashwright.window.components import Of, Piece, outside_area, pieces_of
from sashwright.window.layout import WindowLayout
from sashwright.window.surveyed import Surveyed

SIZES: Mapping[str, float] = {
    "piece": 1.0,
    "foot": 12 * INCH,
    "metre": 1.0,
    "square foot": (12 * INCH) ** 2,
    "square metre": 1.0,
}
"""What one unit of a task is in SI."""
OUT = "sash-out"
"""Taking a sash out: the lower one goes before the upper can."""
GLAZED = ("lite", "storm lite")
SASH: tuple[Of, Of] = ("upper", "lower")


@dataclass(frozen=True, slots=True)
class Work:
    """One task at one window, or at one sash of it."""

    task: Task
    of: Of | None
    """Which sash; None for the window or its frame."""
    quantity: float
    """In the unit of the task."""
    times: int
    """How often its fixed hours come."""
    on: tuple[str, ...] = ()
    """Parts."""
    because: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()

    @property
    def charged(self) -> float:
        """The amount, or the least that is charged."""
        return max(self.quantity, self.task.least)

    def hours(self, which: str = "hours") -> float:
        """Man-hours: ``hours_low``, ``hours`` or ``hours_high``."""
        each: float = getattr(self.task, which)
        return self.task.fixed_hours * self.times + each * self.charged


@dataclass
class _Sum:
    """Gathers what asks for one task at one place."""

    task: Task
    of: Of | None
    parts: dict[str, float] = field(default_factory=dict)
    loose: float = 0.0
    times: int = 0
    on: list[str] = field(default_factory=list)
    because: list[str] = field(default_factory=list)
    sources: list[str] = field(default_factory=list)

    def why(self, because: str, source: str, on: Sequence[str] = ()) -> None:
        for kept, new in ((self.because, [because]), (self.sources, [source]), (self.on, on)):
            kept += [text for text in new if text and text not in kept]


class Planner:
    """Gathers the work of one alternative at one window."""

    def __init__(self, layout: WindowLayout, knowledge: Knowledge) -> None:
        self.layout = layout
        self.knowledge = knowledge
        self._sums: dict[tuple[str, Of | None, int], _Sum] = {}

    @cached_property
    def pieces(self) -> Mapping[str, Piece]:
        return pieces_of(self.layout)

    def task(self, key: str) -> Task:
        row: Task = self.knowledge.find("task", key)
        return row

    # --- what findings ask for ---

    def repair(self, number: int, judged: Judged) -> None:
        """Add the tasks of a finding's rule."""
        rule = judged.rule
        if rule is None:
            return
        for key in rule.tasks:
            self._for_finding(number, self.task(key), judged, rule.reason, rule.source)
        if judged.damp:
            reads = f"the meter reads {judged.surveyed.found.moisture:g} %"
            self._for_finding(number, self.task(DRYING), judged, reads, "common practice")

    def _for_finding(
        self, number: int, task: Task, judged: Judged, because: str, source: str
    ) -> None:
        found = judged.surveyed
        pieces = _panes(found.pieces, self.pieces)
        for of in dict.fromkeys(piece.of for piece in pieces):
            mine = [piece for piece in pieces if piece.of == of]
            on = [found.found.on]
            if task.per in ("sash", "window"):
                place = None if task.per == "window" or of == "frame" else of
                self._once(task, place).why(because, source, on)
                continue
            total = self._sum(task, of, number if task.per == "finding" else 0)
            total.why(because, source, on)
            share = _share_of_pieces(found, pieces)
            if task.per == "part" and share >= 1.0:
                for piece in mine:
                    total.parts[piece.name] = _amount(task, found, piece)
            else:
                amount = sum(_amount(task, found, piece) for piece in mine)
                total.loose += amount * share
                counted = found.fault.measured == "count"
                total.times += max(round(len(mine) * share), 1) if counted else 1

    # --- what scopes and other tasks ask for ---

    def whole(self, key: str, because: str, source: str) -> None:
        """Add a task that a whole window asks for, at each of its sash or parts."""
        task = self.task(key)
        if task.per == "window":
            self._once(task, None).why(because, source)
        elif task.per == "sash":
            for of in SASH:
                self._once(task, of).why(because, source)
        else:
            for piece in self.pieces.values():
                if piece.kind in task.to and piece.of in SASH:
                    total = self._sum(task, piece.of, 0)
                    total.parts[piece.name] = _size(task, piece)
                    total.why(because, source)

    def _once(self, task: Task, of: Of | None) -> _Sum:
        """A task that is done once to a sash or a window, by the size of that."""
        total = self._sum(task, of, 0)
        total.parts["whole"] = self._whole_size(task, of)
        return total

    def _whole_size(self, task: Task, of: Of | None) -> float:
        if task.unit == "piece":
            return 1.0
        length = task.unit in ("foot", "metre")
        if of is not None:
            name = "screen.cloth" if of == "screen" else f"{of}.sash"
            piece = self.pieces[name]
            size = piece.length if length else piece.area
        elif length:
            size = 2 * (self.layout.window.width + self.layout.window.height)
        elif task.where == "outside":
            size = outside_area(self.layout)
        else:
            size = self.layout.window.width * self.layout.window.height
        return size / SIZES[task.unit]

    def _sum(self, task: Task, of: Of | None, number: int) -> _Sum:
        # The frame's work is the window's.
        place = None if of == "frame" or task.per == "window" else of
        return self._sums.setdefault((task.key, place, number), _Sum(task, place))

    # --- all together ---

    def work(self) -> list[Work]:
        """Everything, with what it needs, without what falls away, in the order of work."""
        self._add_needs()
        done = {(total.task.key, total.of) for total in self._sums.values()}
        kept = [total for total in self._sums.values() if not _falls_away(total, done)]
        found = [self._finished(total) for total in kept]
        return sorted(found, key=lambda work: (work.task.order, work.of != "upper", work.of or ""))

    def _add_needs(self) -> None:
        waiting = list(self._sums.values())
        while waiting:
            total = waiting.pop()
            for key in total.task.needs:
                task = self.task(key)
                if task.per == "sash" and total.of not in SASH:
                    # Pulleys and strips are reached with the sash out; the frame's own wood is not.
                    reached = total.of is None and total.task.where == "inside"
                    places: Sequence[Of | None] = SASH if reached else ()
                else:
                    places = (total.of if task.per == "sash" else None,)
                if key == OUT and places == ("upper",):
                    places = SASH
                for of in places:
                    new = (task.key, of, 0) not in self._sums
                    needed = self._once(task, of)
                    if new:
                        needed.why(f"needed for: {total.task.name.lower()}", total.task.source)
                        waiting.append(needed)

    def _finished(self, total: _Sum) -> Work:
        task = total.task
        quantity = sum(total.parts.values()) + total.loose
        times = len(total.parts) + total.times
        everything = [p for p in self.pieces.values() if p.kind in task.to and p.of == total.of]
        if everything:
            # Named and unnamed parts may be the same ones.
            quantity = min(quantity, sum(_size(task, piece) for piece in everything))
            times = min(times, len(everything))
        return Work(
            task,
            total.of,
            quantity,
            times,
            tuple(total.on),
            tuple(total.because),
            tuple(total.sources),
        )


def _falls_away(total: _Sum, done: set[tuple[str, Of | None]]) -> bool:
    return any((key, of) in done for key in total.task.within for of in {total.of, None})


def _panes(pieces: Sequence[Piece], every: Mapping[str, Piece]) -> Sequence[Piece]:
    """The panes that putty stands for; other parts as they are."""
    found: list[Piece] = []
    for piece in pieces:
        if piece.kind == "putty":
            found += [p for p in every.values() if p.kind == "lite" and p.of == piece.of]
        else:
            found.append(piece)
    return found


def _share_of_pieces(found: Surveyed, pieces: Sequence[Piece]) -> float:
    """Which share of several like parts a count means."""
    count = found.found.count
    if found.fault.measured != "count" or count is None or len(pieces) < 2:
        return 1.0
    return min(count / len(pieces), 1.0)


def _amount(task: Task, found: Surveyed, piece: Piece) -> float:
    """How much of a task a finding asks for at one of its parts."""
    given = found.found
    parts = len(found.pieces)
    if task.unit == "piece":
        # Several joints of one part, or one of each of several parts.
        several = found.fault.measured == "count" and parts == 1 and piece.kind not in GLAZED
        return float(given.count or 1) if several else 1.0
    if task.unit in ("foot", "metre") and given.length is not None and task.per == "finding":
        return given.length / parts / SIZES[task.unit]
    if task.unit.startswith("square") and given.area is not None:
        return given.area / parts / SIZES[task.unit]
    if task.unit.startswith("square") and given.length is not None:
        return _size(task, piece) * share_of(found)
    return _size(task, piece)


def _size(task: Task, piece: Piece) -> float:
    """A whole part, in the unit of a task."""
    if task.unit == "piece":
        return 1.0
    size = piece.length if task.unit in ("foot", "metre") else piece.area
    return size / SIZES[task.unit]


def plan(
    layout: WindowLayout, judged: Sequence[Judged], scope: Scope, knowledge: Knowledge, lead: str
) -> list[Work]:
    """All work of one alternative at one window.

    ``lead`` says why lead is reckoned with; empty where it is not. Raises ``KnowledgeError`` for a task
    that no table has.
    """
    planner = Planner(layout, knowledge)
    for number, each in enumerate(seen_to(judged, scope), 1):
        planner.repair(number, each)
    for key in scope.tasks:
        planner.whole(key, scope.name.lower(), scope.source)
    work = planner.work()
    if lead and any(each.task.disturbs == "paint" for each in work):
        planner.whole("lead-care", lead, "40 CFR 745 subpart E; common practice")
        work = planner.work()
    return work


def seen_to(judged: Sequence[Judged], scope: Scope) -> Iterator[Judged]:
    """The findings that an alternative sees to."""
    if scope.repairs == "none":
        return
    for each in judged:
        gone = all(piece.of in SASH for piece in each.surveyed.pieces)
        # With new sash only what is wrong with the old ones falls away, not their hardware.
        kept = {piece.kind for piece in each.surveyed.pieces} & {"weight", "lock", "lift"}
        if scope.repairs == "all" or not gone or kept:
            yield each
