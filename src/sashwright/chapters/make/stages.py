"""Where does every sash stand? Its stage, what is next and from when, what is late."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, Step, WindowAnswer
from sashwright.chapters.days import date_of, day_number, days_said, said
from sashwright.chapters.make.standing import LAST, May, Move, Standing, back_of, may_come, stand
from sashwright.chapters.make.tracks import SASH, Track, tracks_of
from sashwright.chapters.make.wanted import Wrong
from sashwright.chapters.season.marks import marks_of
from sashwright.knowledge.keeping_tables import STAGE_NAMES
from sashwright.knowledge.tables import Knowledge
from sashwright.window.spec import House, SashMeasured, Window

WAITING = "in the house"
"""Where a piece is whose work has not begun."""
PAINT_BELOW = 15.0
"""The meter's reading below which wood is painted [%]; common practice."""

Tracks = Mapping[str, Sequence[Track]]


def stages(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    *,
    moves: Sequence[Move] = (),
    today: str,
    tracks: tuple[Tracks, Wrong] | None = None,
) -> Answer:
    """The stage of every sash, storm and screen of a house (all windows, or those with ``numbers``).

    Parameters
    ----------
    moves
        What came to which stage, the oldest first.
    today
        The date that waits and delays are reckoned from.
    tracks
        The pieces and their ways, as :func:`tracks_of` gives them, where they are at hand.

    A window that contradicts itself is answered with what is wrong. Raises ``KeyError`` for a window that
    the house has not, ``ValueError`` for what is no date.
    """
    day = day_number(today)
    found, wrong = tracks_of(house, knowledge, numbers) if tracks is None else tracks
    marks = marks_of(house)
    by_number = {window.number: window for window in house.windows}
    wanted = list(by_number) if numbers is None else list(numbers)
    answers: list[WindowAnswer] = []
    for number in wanted:
        if number in wrong:
            answers.append(wrong[number])
            continue
        standings = [stand(track, moves) for track in found[number]]
        answers.append(_answer(by_number[number], marks[number], standings, day))
    values = _house_values(answers, today)
    return Answer("stages", house.name, answers, values, list(_house_findings(values)))


# --- one window -----------------------------------------------------------------------


def _answer(window: Window, mark: str, standings: Sequence[Standing], today: int) -> WindowAnswer:
    findings: list[Finding] = []
    working: list[Step] = []
    pieces: dict[str, Any] = {}
    for standing in standings:
        may = may_come(standing, today)
        pieces[standing.track.piece] = _values(standing, may, mark, today)
        findings += _findings(standing, _measured(window, standing.track), today)
        if standing.begun or standing.track.asked:
            working += _steps(standing, may)
    values = {"room": window.room, "wall": window.wall, "mark": mark, "pieces": pieces}
    return WindowAnswer(window.number, values, findings, working)


def _measured(window: Window, track: Track) -> SashMeasured | None:
    if track.piece not in SASH:
        return None
    return window.measured.upper if track.piece == "upper" else window.measured.lower


def _values(standing: Standing, may: Mapping[Any, May], mark: str, today: int) -> dict[str, Any]:
    track = standing.track
    next_stage = standing.to_come[0] if standing.to_come else None
    coming = None if next_stage is None else may[next_stage]
    rest = None if coming is None else coming.waits_for
    late_from = standing.late_from
    last = standing.moves[-1] if standing.moves else None
    return {
        "tag": track.tag,
        "name": track.name,
        "mark": mark,
        "asked": track.asked,
        "made": track.made,
        "stage": standing.stage,
        "since": None if standing.since is None else date_of(standing.since),
        "days": None if standing.since is None else today - standing.since,
        "who": "" if last is None else last.who,
        "reason": "" if last is None else last.reason,
        "next": next_stage,
        "next_from": None if coming is None else coming.date,
        "ready": coming is not None and coming.day <= today,
        "waits_for": None if rest is None else rest.name,
        "waits_days": 0 if coming is None else max(coming.day - today, 0),
        "late": late_from is not None and late_from <= today,
        "late_from": None if late_from is None else date_of(late_from),
        "way": [
            {
                "stage": stage,
                "reached": _date(standing.reached.get(stage)),
                "from": may[stage].date if stage in may else None,
                "passed_over": stage in standing.passed_over,
            }
            for stage in sorted({*track.stages, *standing.reached}, key=STAGE_NAMES.index)
        ],
        "back": list(back_of(standing)),
    }


def _date(day: int | None) -> str | None:
    return None if day is None else date_of(day)


def _findings(standing: Standing, measured: SashMeasured | None, today: int) -> Iterator[Finding]:
    track, late_from = standing.track, standing.late_from
    if late_from is not None and late_from <= today and standing.since is not None:
        yield Finding(
            "caution",
            track.piece,
            f"The {track.name} has stood at {standing.stage!r} for {days_said(today - standing.since)}.",
            f"{standing.late_days:g} days are usual at the most",
            "stage table",
        )
    if standing.passed_over and not standing.done:
        yield Finding(
            "note",
            track.piece,
            f"Nobody noted the {track.name} as {', '.join(standing.passed_over)}.",
            "what was not noted counts as done when the next stage was",
            "the stages that were noted",
        )
    last = standing.moves[-1] if standing.moves else None
    if last is not None and last.reason:
        yield Finding(
            "note", track.piece, f"The {track.name} is {last.stage!r} for a reason: {last.reason}",
            "back, or before its rest was over", "the stages that were noted",
        )  # fmt: skip
    if measured is None:
        return
    if standing.stage in ("repaired", "dry") and (measured.moisture or 0.0) >= PAINT_BELOW:
        yield Finding(
            "caution",
            track.piece,
            f"The {track.name} was read at {measured.moisture:g} %: too damp for primer.",
            f"painted below {PAINT_BELOW:g} %",
            "common practice",
        )
    if standing.stage == "weighed" and measured.mass is None:
        yield Finding(
            "caution",
            track.piece,
            f"The {track.name} is noted as weighed, but what the scale said is not in the record.",
            "the weights follow from the scale",
            "the record",
        )


def _steps(standing: Standing, may: Mapping[Any, May]) -> Iterator[Step]:
    for each in may.values():
        row = each.waits_for
        if row is not None and each.from_day is not None:
            yield Step(
                f"{standing.track.name} {each.stage} from",
                "the day the rest began + its days",
                {
                    "began": date_of(each.from_day),
                    "rest": row.name,
                    "days": math.ceil(row.least_days - 1e-9),
                },
                each.date,
                "date",
                f"{row.source} ({row.status})",
            )


# --- the house ------------------------------------------------------------------------


def _house_values(answers: Sequence[WindowAnswer], today: str) -> dict[str, Any]:
    columns: dict[str, list[dict[str, Any]]] = {name: [] for name in (WAITING, *STAGE_NAMES)}
    for answer in answers:
        for piece, row in answer.values.get("pieces", {}).items():
            if row["stage"] is not None or row["asked"]:
                place = {"number": answer.number, "piece": piece}
                columns[row["stage"] or WAITING].append(place)
    every = [
        {"number": answer.number, "piece": piece, **row}
        for answer in answers
        for piece, row in answer.values.get("pieces", {}).items()
        if row["stage"] is not None
    ]
    return {
        "today": today,
        "columns": columns,
        "counts": {name: len(rows) for name, rows in columns.items()},
        "in_work": sum(row["stage"] != LAST for row in every),
        "late": [_brief(row) for row in every if row["late"]],
        "ready": [_brief(row) for row in every if row["ready"]],
        "waiting": [_brief(row) for row in every if row["next"] and not row["ready"]],
    }


def _brief(row: Mapping[str, Any]) -> dict[str, Any]:
    names = ("number", "piece", "tag", "stage", "next", "next_from", "waits_for", "late_from")
    return {name: row[name] for name in names}


def _house_findings(values: Mapping[str, Any]) -> Iterator[Finding]:
    late, waiting = values["late"], values["waiting"]
    if late:
        tags = ", ".join(row["tag"] for row in late)
        yield Finding(
            "caution",
            "house",
            f"Late: {tags}.",
            "longer at their stage than is usual",
            "stage table",
        )
    if waiting:
        first = min(waiting, key=lambda row: str(row["next_from"]))
        yield Finding(
            "note",
            "house",
            f"Resting: {len(waiting)}; the first to go on is {first['tag']}, on "
            f"{said(first['next_from'])}.",
            "the rests of the stage table",
            "stage table",
        )
