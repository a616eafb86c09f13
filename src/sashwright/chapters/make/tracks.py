"""The pieces of each window that go through the shop, the stages of each, and how long it rests at them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from sashwright.chapters.make.wanted import Wanted, Wrong, wanted_of
from sashwright.chapters.treat.work import Work
from sashwright.knowledge.keeping_tables import STAGE_NAMES, Stage, StageName
from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.work_tables import Task
from sashwright.window.resolve import Placed
from sashwright.window.spec import House

PieceName = Literal["upper", "lower", "storm", "screen"]
PIECES: tuple[PieceName, ...] = get_args(PieceName)
NAMES: Mapping[str, str] = {
    "upper": "upper sash", "lower": "lower sash", "storm": "storm sash", "screen": "screen",
}  # fmt: skip
SASH = ("upper", "lower")

_FULL: Mapping[str, tuple[StageName, ...]] = {
    "sash": (
        "removed", "stripped", "repaired", "dry", "primed", "glazed", "cured", "painted", "weighed",
        "hung",
    ),
    "storm": ("removed", "repaired", "dry", "primed", "glazed", "cured", "painted", "hung"),
    "screen": ("removed", "repaired", "dry", "painted", "hung"),
}  # fmt: skip
OLD = ("removed", "stripped", "repaired")
"""Stages of an old piece, which a new one has not: it begins with being made."""
MADE: Mapping[str, str] = {"new-sash": "sash", "storm-new": "storm", "screen-new": "screen"}
"""Tasks that make a piece new."""
OUT = "sash-out"
PRIMER = "primer"
REPAIRS = range(30, 45)
"""Places in the sequence of work (``order`` of the task table) of repairs to a sash."""
_BY_ORDER: tuple[tuple[range, tuple[StageName, ...]], ...] = (
    (range(20, 24), ("stripped",)),
    (REPAIRS, ("repaired", "dry")),
    (range(45, 50), ("glazed", "cured")),
    (range(50, 51), ("primed",)),
    (range(51, 55), ("painted",)),
)
"""The stages that a task at a sash, storm or screen leads to."""


def kind_of(piece: PieceName) -> str:
    """``sash`` for either sash, else the piece itself."""
    return "sash" if piece in SASH else piece


def full_list(piece: PieceName, *, made: bool = False) -> tuple[StageName, ...]:
    """Every stage of a piece, in order."""
    stages = _FULL[kind_of(piece)]
    if not made:
        return stages
    return ("made", *(stage for stage in stages if stage not in OLD))


def can_stand(piece: PieceName, stage: str) -> bool:
    """Whether a piece, old or new, has this stage."""
    return stage == "made" or stage in _FULL[kind_of(piece)]


def place_of(stage: StageName) -> int:
    """Place of a stage among all."""
    return STAGE_NAMES.index(stage)


@dataclass(frozen=True, eq=False)
class Track:
    """One piece of one window, and the way it goes."""

    placed: Placed
    piece: PieceName
    stages: tuple[StageName, ...]
    """Those that its work asks for; all of its list where no work is known."""
    asked: bool
    """Whether the work that was decided on, or is usual, sends it through the shop."""
    made: bool
    """Whether it is made new."""
    rests: tuple[Stage, ...]
    """Rows of the stage table that hold for it."""
    work: tuple[Work, ...] = ()
    """What is done to it."""
    window_work: tuple[Work, ...] = ()
    """What is done at its window besides, at no piece."""

    @property
    def number(self) -> str:
        return self.placed.window.number

    @property
    def name(self) -> str:
        return NAMES[self.piece]

    @property
    def tag(self) -> str:
        """What stands on its tag: ``104 upper sash``."""
        return f"{self.number} {self.name}"


def tracks_of(
    house: House, knowledge: Knowledge, numbers: Sequence[str] | None = None
) -> tuple[dict[str, list[Track]], Wrong]:
    """The pieces of each window, and windows that contradict themselves, with what is wrong.

    Raises ``KeyError`` for a window that the house has not.
    """
    windows, wrong = wanted_of(house, knowledge, numbers)
    return {each.number: list(_tracks(each)) for each in windows}, wrong


def _tracks(wanted: Wanted) -> Iterator[Track]:
    work = () if wanted.alternative is None else wanted.alternative.work
    there = pieces_there(wanted)
    besides = [each for each in work if _of(each) not in there]
    for piece in there:
        mine = [each for each in work if _of(each) == piece]
        yield _track(wanted.placed, piece, mine, besides)


def pieces_there(wanted: Wanted) -> list[PieceName]:
    """The pieces that a window has or is to have."""
    family = wanted.placed.family
    tasks = {each.task.key for each in (wanted.alternative.work if wanted.alternative else ())}
    storm = family.storm != "none" and family.storm_sash.kind == "wood sash"
    there = {
        "upper": True,
        "lower": True,
        "storm": storm or "storm-new" in tasks,
        "screen": family.screen.kind != "none" or "screen-new" in tasks,
    }
    return [piece for piece in PIECES if there[piece]]


def _of(work: Work) -> str | None:
    """The piece that a task is done to."""
    if work.task.key in MADE and MADE[work.task.key] != "sash":
        return MADE[work.task.key]
    return work.of


def _track(
    placed: Placed, piece: PieceName, work: Sequence[Work], besides: Sequence[Work]
) -> Track:
    keys = {each.task.key for each in work}
    if piece in SASH and any(each.task.key == MADE_AS["sash"] for each in besides):
        # A pair of new sash is one task of the window.
        keys.add(MADE_AS["sash"])
    made = MADE_AS[kind_of(piece)] in keys
    stages = _stages(placed, piece, work, made=made)
    asked = bool(stages)
    return Track(
        placed,
        piece,
        stages or full_list(piece),
        asked,
        made,
        tuple(_rests(placed, piece, keys)),
        tuple(work),
        tuple(besides),
    )


MADE_AS: Mapping[str, str] = {kind: task for task, kind in MADE.items()}


def _stages(
    placed: Placed, piece: PieceName, work: Sequence[Work], *, made: bool
) -> tuple[StageName, ...]:
    """The stages that its work asks for; none where it stays where it is."""
    if made:
        return _hung(placed, piece, full_list(piece, made=True))
    at = [each for each in work if each.task.per != "window" or kind_of(piece) != "sash"]
    keys = {each.task.key for each in at}
    if not at or (piece in SASH and OUT not in keys):
        return ()
    wanted: set[StageName] = {"removed", "hung", "weighed"}
    for each in at:
        wanted.update(stages_of_task(each.task))
        if any(amount.material == PRIMER for amount in each.task.amounts):
            wanted.add("primed")
    if "glazed" in wanted:
        # Putty that is left bare dries out and cracks.
        wanted.add("painted")
    return _hung(placed, piece, [stage for stage in full_list(piece) if stage in wanted])


def stages_of_task(task: Task) -> tuple[StageName, ...]:
    """The stages that a task at a piece leads to, by its place in the sequence of work; none for others."""
    return next((stages for orders, stages in _BY_ORDER if task.order in orders), ())


def _hung(placed: Placed, piece: PieceName, stages: Sequence[StageName]) -> tuple[StageName, ...]:
    """A sash without weights need not be weighed."""
    fixed = piece in SASH and not placed.layout.sash("upper" if piece == "upper" else "lower").hung
    return tuple(stage for stage in stages if not (fixed and stage == "weighed"))


def _rests(placed: Placed, piece: PieceName, tasks: set[str]) -> Iterator[Stage]:
    putty, coating = _finish(placed, piece)
    seen: set[tuple[str, str]] = set()
    for row in placed.knowledge.stage.values():
        fits = (
            (not row.putty or putty in row.putty)
            and (not row.coatings or coating in row.coatings)
            and (not row.tasks or tasks & set(row.tasks))
        )
        if fits and (row.after, row.what) not in seen:
            seen.add((row.after, row.what))
            yield row


def _finish(placed: Placed, piece: PieceName) -> tuple[str, str]:
    """Rows of putty and coating."""
    family, knowledge = placed.family, placed.knowledge
    if piece == "screen":
        return "", knowledge.find("coating", family.screen.coating).key
    if piece == "storm":
        spec = family.storm_sash
        putty, coating = spec.glazing.putty, spec.coating
    else:
        sash = placed.layout.sash("upper" if piece == "upper" else "lower").spec
        putty, coating = sash.glazing.putty, sash.coating
    return knowledge.find("putty", putty).key, knowledge.find("coating", coating).key
