"""When each thing was done last: by a visit, by the work in the shop, or as the survey found it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sashwright.chapters.keep.upkeep import row_of
from sashwright.chapters.make.standing import Move, Standing, stand
from sashwright.chapters.make.tracks import Track
from sashwright.knowledge.keeping_tables import Upkeep
from sashwright.knowledge.tables import Knowledge
from sashwright.window.resolve import Placed
from sashwright.window.spec import House, Window
from sashwright.window.surveyed import Surveyed, surveyed

From = Literal["visit", "shop", "hours", "looked", "survey", "fault", "nothing"]
LOOKS = frozenset({"inspect", "sill", "survey"})
"""What a survey does itself."""
SAID: Mapping[str, str] = {
    "visit": "done on a visit",
    "shop": "done in the shop",
    "hours": "hours were written down for it",
    "looked": "the survey looked",
    "survey": "sound at the survey; when it was done last is not known",
    "fault": "found faulty",
    "nothing": "nobody has looked yet",
}


@dataclass(frozen=True, slots=True)
class Visited:
    """Something done on a visit, on a day; at all windows where none is named."""

    on: str
    what: str
    """A row of the upkeep table, or one's own words."""
    window: str | None = None


@dataclass(frozen=True, slots=True)
class Clock:
    """Since when a thing's life runs."""

    start: str | None
    """The day; None where nothing is known."""
    known_by: From
    half: bool = False
    """Whether its age on that day is not known, so that half of its life is reckoned as gone."""
    faults: tuple[str, ...] = ()
    """What was found wrong with it since."""


@dataclass(frozen=True)
class Past:
    """All that is known of one window's past."""

    window: Window
    found: Sequence[Surveyed]
    visits: Sequence[Visited]
    standings: Sequence[Standing]
    knowledge: Knowledge

    def clock(self, row: Upkeep) -> Clock:
        """When it was done last, the latest that is known."""
        done = [*self._visited(row), *self._hours(row), *self._shop(row)]
        start, by = max(done, default=("", "nothing"))
        surveyed_on = self.window.condition.on
        faults = self._faults(row)
        if faults and (surveyed_on is None or surveyed_on >= start) and (not start or surveyed_on):
            return Clock(surveyed_on, "fault", faults=faults)
        if start:
            return Clock(start, by)  # type: ignore[arg-type]
        if surveyed_on is None:
            return Clock(None, "nothing")
        if row.what in LOOKS:
            return Clock(surveyed_on, "looked")
        return Clock(surveyed_on, "survey", half=True)

    def _visited(self, row: Upkeep) -> list[tuple[str, str]]:
        return [
            (each.on, "visit")
            for each in self.visits
            if each.window in (None, self.window.number)
            and (known := row_of(each.what, self.knowledge)) is not None
            and known.what == row.what
        ]

    def _hours(self, row: Upkeep) -> list[tuple[str, str]]:
        spent = self.window.spent
        return [(each.on, "hours") for each in spent if each.on and each.task in row.tasks]

    def _shop(self, row: Upkeep) -> list[tuple[str, str]]:
        """The day on which the last piece hung again whose work does this."""
        doing = [
            each for each in self.standings if any(w.task.key in row.tasks for w in each.track.work)
        ]
        if not doing or not all(each.done for each in doing):
            return []
        return [(max(each.moves[-1].on for each in doing), "shop")]

    def _faults(self, row: Upkeep) -> tuple[str, ...]:
        return tuple(
            f"{each.fault.name.lower()} on {each.found.on}"
            for each in self.found
            if each.fault.key in row.faults and _meant(row, each)
        )


def _meant(row: Upkeep, found: Surveyed) -> bool:
    """Whether a finding is on what the row keeps up."""
    outside = {"storm", "screen"}
    on = {row.on} if row.on in outside else {"upper", "lower", "frame"}
    return any(
        piece.of in on and (not row.kinds or piece.kind in row.kinds) for piece in found.pieces
    )


def past_of(
    placed: Placed,
    house: House,
    tracks: Iterable[Track],
    visits: Sequence[Visited],
    moves: Sequence[Move],
) -> Past:
    """Raises ``KnowledgeError`` for a fault that no table has."""
    found = surveyed(placed.layout, house, placed.knowledge)
    standings = [stand(track, moves) for track in tracks]
    return Past(placed.window, found, visits, standings, placed.knowledge)
