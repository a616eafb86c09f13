"""The changeover list: storms out and screens in, in walking order, with boxes to tick."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.chapters.fit.calendar import day_of_date
from sashwright.chapters.season import season
from sashwright.drawing.seasonplot import season_plot
from sashwright.papers.cautions import CHANGING
from sashwright.papers.figures import Pictures
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.words import NO_WINDOWS, NONE, capital, count
from sashwright.record.outdoors import Outdoors

NO_WEATHER = (
    "No weather is known for this house, so the weeks of the change cannot be told: give the house a "
    "climate, such as 'Portland, Maine'."
)
NOTHING = "Nothing changes with the seasons here: no storm sash comes down and no screen goes in."
BREADTH = 0.58
"""Of the page, for the plot of the year."""

REACHES = {"ground": "from the ground", "steps": "stepladder", "ladder": "ladder"}


def changeover_list(
    job: Job, pictures: Pictures, outdoors: Outdoors | None, today: datetime.date
) -> dict[str, Any]:
    """All words of the list."""
    head = {"head": "Changeover", "title": "Storms and screens", "empty": NO_WINDOWS}
    if not job.windows:
        return head | {"storeys": [], "nothing": NO_WINDOWS, "weeks": []}
    place, year = (outdoors.place, outdoors.year) if outdoors else (None, None)
    numbers = [window.number for window in job.windows]
    answer = season(job.house, job.knowledge, numbers, job.words.system, place=place, year=year)
    day = day_of_date(today.isoformat()) + 1
    return head | {
        "weeks": weeks(answer) or [NO_WEATHER],
        "picture": None
        if outdoors is None
        else pictures.plot("season", season_plot(answer, job.words.system, day), BREADTH),
        "columns": [
            "Mark", "Window, room", "Storm", "Screen", "Reach", "People", "Minutes",
            "Storm out", "Screen in",
        ],
        "storeys": _storeys(job, answer),
        "nothing": NOTHING,
        "total": _total(job, answer),
        "care_title": "Before, while and after",
        "care": _care(answer),
        "findings": [row_of(finding) for finding in gravest_first(_told(answer))],
        "caution": CHANGING,
    }  # fmt: skip


def _told(answer: Answer) -> list[Any]:
    """Findings that the weeks above do not say already."""
    return [finding for finding in answer.findings if finding.level != "ok"]


def weeks(answer: Answer) -> list[str]:
    """When each change falls, in sentences."""
    known = answer.values["changeover"]
    if known is None:
        return []
    said = []
    for name, key in (
        ("Storms on, screens out", "storms_on"),
        ("Storms out, screens in", "screens_on"),
    ):
        first, last = known[f"{key}_from"], known[f"{key}_by"]
        if first and last:
            said.append(
                f"{name}: between {first['date']} (week {first['week']}) and {last['date']} "
                f"(week {last['week']})."
            )
    return said or [finding.says for finding in answer.findings if finding.on == "changeover"]


def _storeys(job: Job, answer: Answer) -> list[dict[str, Any]]:
    """The walk, storey by storey."""
    masses = {window.number: window.values for window in answer.windows}
    storeys: dict[int, list[dict[str, Any]]] = {}
    for swap in answer.values["swaps"]:
        if swap["number"] in masses:
            storeys.setdefault(swap["storey"], []).append(_row(job, swap, masses[swap["number"]]))
    return [{"name": f"Storey {storey}", "rows": rows} for storey, rows in storeys.items()]


def _row(job: Job, swap: Mapping[str, Any], values: Mapping[str, Any]) -> dict[str, Any]:
    def mass(piece: str) -> str:
        return job.words.mass(values[piece]["mass_kg"]) if swap[piece] and values[piece] else NONE

    return {
        "mark": swap["mark"] or swap["number"],
        "number": swap["number"],
        "room": swap["room"],
        "wall": swap["wall"],
        "storm": mass("storm"),
        "screen": mass("screen"),
        "reach": REACHES[swap["reach"]],
        "people": str(swap["people"]),
        "minutes": f"{swap['minutes']:g}",
        "storm_out": bool(swap["storm"]),
        "screen_in": bool(swap["screen"]),
    }


def _total(job: Job, answer: Answer) -> str:
    """Time and rack, of the windows on the list."""
    asked = {window.number for window in job.windows}
    swaps = [swap for swap in answer.values["swaps"] if swap["number"] in asked]
    crew = job.house.changeover.crew
    hours = sum(swap["person_minutes"] for swap in swaps) / 60 / crew
    said = f"{count(len(swaps), 'opening')}: about {hours:.1f} hours for a crew of {crew}, one way."
    rack = answer.values["rack"]
    if len(asked) == len(job.house.windows) and rack["length_mm"]:
        length = job.words.run(rack["length_mm"])
        said += f" They take {length} of rack, on edge."
    return said


def _care(answer: Answer) -> list[dict[str, Any]]:
    """What to look after, under when to do it."""
    when: dict[str, list[str]] = {}
    for row in answer.values["care"]:
        when.setdefault(row["when"], []).append(row["says"])
    return [{"when": capital(name), "says": says} for name, says in when.items()]
