"""Where each sash, storm and screen stands: what came to which stage, kept one by one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import get_args

from django.contrib.auth.models import User
from django.db.models import QuerySet
from django.utils import timezone

from sashwright.chapters.make.standing import Move, Verdict, judge, stand
from sashwright.chapters.make.tracks import NAMES, Track, tracks_of
from sashwright.knowledge.keeping_tables import StageName
from sashwright.record.edit import editing
from sashwright.record.errors import NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.record.models import Change, Revision, StageChange
from sashwright.record.people import name_of
from sashwright.record.rows import find_house, find_row
from sashwright.record.windows import load_for_window
from sashwright.window.problem import Problem

_LONGEST = 300
_KNOWN = frozenset(get_args(StageName))


Mark = tuple[int, datetime] | None


@dataclass(frozen=True, slots=True)
class StageRow:
    """A piece that came to a stage; ``change`` is what to undo."""

    id: int
    number: str
    piece: str
    stage: str
    reason: str
    who: str
    when: datetime
    change: int

    @property
    def move(self) -> Move:
        """As the chapter takes it, on the date of the shop."""
        on = timezone.localtime(self.when).date().isoformat()
        return Move(self.number, self.piece, _known(self.stage), on, self.reason, self.who)


class NotAllowed(Refused):
    """A step that cannot be, or that takes a reason; ``verdict`` says which, and from when it would not."""

    def __init__(self, verdict: Verdict) -> None:
        self.verdict = verdict
        asks = verdict.kind == "reason"
        expected = "a reason for it" if asks else "another stage, or a later day"
        super().__init__([Problem("reason" if asks else "stage", verdict.says, expected)])

    def __str__(self) -> str:
        if self.verdict.kind == "reason":
            return f"{self.verdict.says} Say why, or leave it ({self.verdict.because})."
        return f"{self.verdict.says} ({self.verdict.because})"


def set_stage(
    slug: str,
    number: str,
    piece: str,
    stage: str,
    who: User,
    reason: str = "",
    *,
    at: datetime | None = None,
) -> Change:
    """Note that a piece of a window has come to a stage; answer the change.

    Parameters
    ----------
    piece
        ``upper``, ``lower``, ``storm`` or ``screen``.
    reason
        Needed to go back, or to go on before a rest is over.
    at
        When it was, where it is noted later; now where not given.

    Raises ``NotThere``, and ``NotAllowed`` for a step without the reason it takes, to a stage that the
    piece has not, or before it came where it stands.
    """
    track = _track(slug, number, piece)
    reason = " ".join(reason.split())[:_LONGEST]
    now = timezone.now()
    when = now if at is None else at
    if when > now:
        raise NotAllowed(Verdict("refused", "That time has not come yet.", "the clock"))
    with editing(slug, who) as edit:
        row = edit.window(number)
        moves = [each.move for each in _rows(_found().filter(window=row))]
        standing = stand(track, moves)
        verdict = judge(standing, stage, timezone.localtime(when).date().isoformat())
        if verdict.kind == "refused" or (verdict.kind == "reason" and not reason):
            raise NotAllowed(verdict)
        # A reason that nobody asked for is no reason.
        kept = reason if verdict.kind == "reason" else ""
        told = f": {kept}" if kept else ""
        change = edit.finish_something(f"window {number}: {NAMES[piece]} {stage}{told}")
        StageChange.objects.create(
            window=row, change=change, piece=piece, stage=stage, reason=kept, who=who, at=when
        )
        return change


def _track(slug: str, number: str, piece: str) -> Track:
    """A piece with its way. Raises ``NotThere`` where the window has none such."""
    tracks, wrong = tracks_of(load_for_window(slug, number), knowledge(), [number])
    if number in wrong:
        raise NotThere(f"The sizes of window {number} contradict each other: put them right first.")
    for track in tracks[number]:
        if track.piece == piece:
            return track
    raise NotThere(f"Window {number} has no {NAMES.get(piece, piece)}.")


def stages(slug: str, number: str | None = None) -> list[StageRow]:
    """What came to which stage at one window or in the whole house, the oldest first; undone ones left out.

    Raises ``NotThere``.
    """
    house = find_house(slug)
    found = _found().filter(window__house=house)
    if number is not None:
        found = found.filter(window=find_row(house, "window", number).pk)
    return _rows(found)


def moves_of(slug: str) -> list[Move]:
    """The same as the chapters take them. Raises ``NotThere``."""
    return [row.move for row in stages(slug)]


def houses_in_work() -> list[str]:
    """Slugs of the houses of which any piece was ever noted at a stage, by name of the slug."""
    rows = StageChange.objects.filter(change__undone=False, window__house__gone=False)
    return sorted(set(rows.values_list("window__house__slug", flat=True)))


def contents_mark(slug: str) -> Mark:
    """Changes with anything that the house says, and not with the stages of its sash. Raises ``NotThere``."""
    rows = Revision.objects.filter(change__house=find_house(slug)).order_by("-pk")
    return rows.values_list("pk", "change__at").first()


def _found() -> QuerySet[StageChange]:
    rows = StageChange.objects.filter(change__undone=False, window__gone=False)
    return rows.select_related("window", "who").order_by("at", "pk")


def _rows(found: Iterable[StageChange]) -> list[StageRow]:
    return [
        StageRow(
            row.pk, row.window.number, row.piece, row.stage, row.reason, name_of(row.who), row.at,
            row.change_id,
        )
        for row in found
        # An older or newer program may have noted a stage that this one does not know.
        if row.stage in _KNOWN
    ]  # fmt: skip


def _known(stage: str) -> StageName:
    return stage  # type: ignore[return-value]
