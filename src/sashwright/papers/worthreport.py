"""The keep-or-replace report for the owner: the answer, the ways, how sure it is, an appendix."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.drawing.worthplots import worth_plots
from sashwright.papers import worthwords
from sashwright.papers.figures import Picture, Pictures
from sashwright.papers.job import Job, row_of
from sashwright.papers.words import NO_WINDOWS
from sashwright.papers.worthappendix import appendix
from sashwright.record.outdoors import Outdoors
from sashwright.units import System

NO_WEATHER = (
    "No weather is known for this house, so its heat cannot be followed through a year: give the house a "
    "climate, such as 'Portland, Maine'."
)
HALF = 0.475
"""Of the page's breadth, for each of two plots."""


@dataclass(frozen=True)
class Asked:
    """The answer, and the one for windows that cannot stay as they are, at likely figures."""

    answer: Answer
    due: Answer

    @property
    def values(self) -> Mapping[str, Any]:
        return self.answer.values


def worth_report(
    job: Job, pictures: Pictures, outdoors: Outdoors | None, ask: Callable[[], Asked] | None = None
) -> dict[str, Any]:
    """All words of the report; always of the whole house, whatever windows are chosen.

    ``ask`` gives the answers of :func:`keeping_or_not` where somebody has asked already.
    """
    head = {"head": "Keep or replace", "title": worthwords.QUESTION, "says": "", "findings": []}
    if not job.house.windows:
        return head | {"says": NO_WINDOWS}
    if outdoors is None:
        return head | {"says": NO_WEATHER}
    asked = keeping_or_not(job, outdoors) if ask is None else ask()
    if not asked.values:
        return head | {
            "findings": [row_of(each) for each in asked.answer.findings],
            "says": "Nothing can be compared.",
        }
    return head | _report(job, pictures, asked) | {"appendix": appendix(job, asked.answer)}


def keeping_or_not(job: Job, outdoors: Outdoors) -> Asked:
    """What keeping and replacing come to: some seconds of work."""
    from sashwright.chapters.worth import chapter  # noqa: PLC0415 - slow to load

    house, knowledge, system = job.house, job.knowledge, job.words.system
    year = outdoors.year
    return Asked(
        chapter.worth(house, knowledge, system, year=year, draws=chapter.DRAWS),
        chapter.worth(house, knowledge, system, year=year, draws=0, repair_due=True),
    )


def _report(job: Job, pictures: Pictures, asked: Asked) -> dict[str, Any]:
    """Pages for the owner."""
    values, system = asked.values, job.words.system
    told = [each for each in asked.answer.findings[1:] if each.level in ("caution", "fail")]
    return {
        "answer": worthwords.answer_sentence(asked.answer.findings),
        "basis": worthwords.basis(values),
        "changes_title": "What would change it",
        "changes": [
            [each.what, each.share, f"{each.says}{' That turns it.' if each.turns else ''}"]
            for each in worthwords.changes(values, system)
        ],
        "due_title": "If they cannot stay as they are",
        "due": worthwords.answer_sentence(asked.due.findings),
        "findings": [row_of(each) for each in told],
        "ways_title": "The ways beside each other",
        "columns": list(worthwords.COLUMNS),
        "ways": [
            [row.best, _about(row), *row.cells[1:]] for row in worthwords.ways(values, system)
        ],
        "ways_note": _ways_note(values),
        "sure_title": "How sure that is",
        "pictures": _pictures(pictures, values, system),
        "studies_title": "Where published studies lie",
        "study_columns": ["Study", "Found", "Here", "Ours lies", "Source"],
        "studies": [
            [row.name, row.about, row.found, row.ours,
             row.lies if row.like else f"{row.lies}; other windows to begin with", row.source]
            for row in worthwords.studies(values)
        ],
        "carbon_title": "Paybacks, and carbon",
        "left_title": "What it leaves out",
        "left": list(worthwords.LEFT_OUT),
        "caution": worthwords.SCREENING,
    }  # fmt: skip


def _about(row: worthwords.WayRow) -> str:
    if row.base:
        return f"{row.name} (compared with)"
    return f"{row.name}, at {row.windows}" if row.windows else row.name


def _ways_note(values: Mapping[str, Any]) -> str:
    return (
        "Through the years: first cost, renewals, upkeep and all energy of the house, at their worth today; "
        "beside the base is what of it differs. Thrown away: through "
        f"{values['years']} years. Marked: what costs least."
    )


def _pictures(pictures: Pictures, values: Mapping[str, Any], system: System) -> dict[str, Picture]:
    # The table has all ways; bars of all of them would run over the page.
    drawn = worth_plots(values, system, every=False)
    captions = {
        "spent": "Money over the years",
        "cost": f"Cost through {values['years']} years",
        "payback": "Payback by the energy saved",
        "decides": "What decides between keeping and replacing",
        "carbon": "Carbon, and what is thrown away",
    }
    return {
        name: {**pictures.plot(f"worth-{name}", each, HALF), "caption": captions[name]}
        for name, each in drawn.items()
    }
