"""The maintenance plan: what is due now and why, then year by year, to be kept with the house."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.chapters.keep import keep
from sashwright.papers.cautions import KEEPING
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.words import NO_WINDOWS, capital, count, dated, shortened
from sashwright.record.outdoors import Outdoors

YEARS = 10
"""That are told in full; what comes round less often is told by its year."""
NUMBERS = 90
"""Letters of window numbers in a row."""

Row = Mapping[str, Any]


def keeping(job: Job, today: str, outdoors: Outdoors | None) -> Answer:
    """The upkeep of the windows, as nothing is known of visits and of work in the shop."""
    place, year = (outdoors.place, outdoors.year) if outdoors else (None, None)
    return keep(
        job.house, job.knowledge, job.numbers, job.words.system, today=today, place=place, year=year
    )  # fmt: skip


def keep_plan(job: Job, answer: Answer) -> dict[str, Any]:
    """All words of the plan."""
    head = {"head": "Maintenance", "title": "Maintenance plan", "caution": KEEPING}
    if not job.windows:
        return head | {"says": NO_WINDOWS}
    values = answer.values
    years: Sequence[Row] = values["years"]
    return head | {
        "says": "",
        "intro": _intro(job, values),
        "due_title": "Due now",
        "due_columns": ["", "What", "At windows", "Because"],
        "due": list(_due(values["due"])),
        "not_due": "Nothing is due.",
        "year_columns": ["", "From", "What", "At windows", "Done"],
        "years": [
            {"year": str(year["year"]), "rows": [_row(job, row) for row in year["rows"]]}
            for year in years[:YEARS]
            if year["rows"]
        ],
        "later_title": f"After {years[min(YEARS, len(years)) - 1]['year']}" if years else "",
        "later": _later(years[YEARS:]),
        "does_title": "What each is",
        "does": list(_does(years)),
        "changes_title": "Storms and screens",
        "changes": [_change(row) for row in values["changes"][:4]],
        "findings": [row_of(each) for each in gravest_first(answer.findings) if each.level != "ok"],
    }


def _intro(job: Job, values: Row) -> str:
    said = f"{count(len(job.windows), 'window')}, from {dated(values['today'])}."
    if values["next_look"]:
        said += f" Look them over next from {dated(values['next_look'])}."
    if values["unknown"]:
        said += (
            f" Of {count(values['unknown'], 'thing')} nobody knows when they were done last: the plan begins "
            "with a look."
        )
    return said


def _windows(job: Job, numbers: Sequence[str]) -> str:
    every = len(numbers) == len(job.windows) > 1
    return "all" if every else shortened(", ".join(numbers), NUMBERS)


def _due(rows: Sequence[Row]) -> Iterator[list[str]]:
    """Things due for the same reason together."""
    groups: dict[tuple[str, str], list[str]] = {}
    for row in rows:
        groups.setdefault((row["name"], row["because"]), []).append(row["number"])
    for (name, because), numbers in groups.items():
        yield [name, shortened(", ".join(dict.fromkeys(numbers)), NUMBERS), capital(because)]


def _row(job: Job, row: Row) -> list[str]:
    return [dated(row["from"]), row["name"], _windows(job, row["windows"])]


def _later(years: Sequence[Row]) -> list[list[str]]:
    """The years in which a thing is planned, where the plan is too far off to be told by windows."""
    found: dict[str, list[str]] = {}
    for year in years:
        for row in year["rows"]:
            found.setdefault(row["name"], []).append(str(year["year"]))
    return [
        [name, "every year" if len(told) == len(years) else ", ".join(told)]
        for name, told in found.items()
    ]


def _does(years: Sequence[Row]) -> Iterator[list[str]]:
    told = {row["name"]: row["does"] for year in years for row in year["rows"]}
    yield from ([name, does] for name, does in told.items())


def _change(row: Row) -> str:
    name = {"storms on": "Storms on, screens out", "screens on": "Screens in, storms out"}
    return f"{name.get(row['name'], row['name'])}: {dated(row['from'])} to {dated(row['by'])}."
