"""The ventilation card for the kitchen door: what to open when, season by season, on one page."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.drawing.airplan import air_plan
from sashwright.papers.cautions import AIRING
from sashwright.papers.figures import Picture, Pictures
from sashwright.papers.job import Job
from sashwright.papers.words import MONTHS, NO_WINDOWS, capital, listed
from sashwright.record.outdoors import Outdoors
from sashwright.units import INCH

NO_WEATHER = (
    "No weather is known for this house, so nothing can be said of how to open it: give the house a "
    "climate, such as 'Portland, Maine'."
)
PLAN_ROOM = (88.0, 66.0)
"""For the plan of one storey, lettering included [mm]."""
PLAN_WIDTH = 54.0
"""Of the house itself in it [mm]."""
STOREYS = 2
"""That the card has room for; the most opened ones."""


def ventilation_card(
    job: Job, pictures: Pictures, outdoors: Outdoors | None, ask: Callable[[], Answer] | None = None
) -> dict[str, Any]:
    """All words of the card; always of the whole house, whatever windows are chosen.

    ``ask`` gives the answer of :func:`airing` where somebody has asked already.
    """
    head: dict[str, Any] = {
        "head": "Ventilation card",
        "title": "Which windows to open, and when",
        "house": job.house.name,
        "says": "",
        "seasons": [],
        "plans": [],
        "caution": AIRING,
    }
    if not job.house.windows:
        return head | {"says": NO_WINDOWS}
    if outdoors is None:
        return head | {"says": NO_WEATHER}
    answer = airing(job, outdoors) if ask is None else ask()
    if "card" not in answer.values:
        return head | {"says": " ".join(finding.says for finding in answer.findings)}
    seasons = list(_seasons(job, answer))
    return head | {
        "columns": ["When", "Upper sash down", "Lower sash up"],
        "shut": "All windows shut.",
        "seasons": seasons,
        "plans": list(_plans(job, pictures, answer)),
    }


def airing(job: Job, outdoors: Outdoors) -> Answer:
    """How the house is to be opened: some seconds of work."""
    from sashwright.chapters.breathe import breathe, chapter  # noqa: PLC0415 - slow to load

    return breathe(
        job.house,
        job.knowledge,
        job.words.system,
        year=outdoors.year,
        seconds=chapter.SECONDS,
    )


def _seasons(job: Job, answer: Answer) -> Iterator[dict[str, Any]]:
    """Season by season; those in which all stays shut as one, with what holds for them."""
    months = {each["name"]: each["month_numbers"] for each in answer.values["seasons"]}
    shut: dict[str, Any] | None = None
    for card in answer.values["card"]:
        numbers = months[card["season"]]
        if any(part["positions"] for part in card["parts"]):
            yield _season(card["months"], card["always"], list(_rows(job, card["parts"])))
        elif shut is None:
            shut = {"months": list(numbers), "always": card["always"]}
        else:
            shut["months"] += numbers
    if shut is not None:
        names = [MONTHS[number - 1] for number in sorted(set(shut["months"]))]
        yield _season(listed(names), shut["always"], [])


def _season(title: str, always: Sequence[str], rows: Sequence[Any]) -> dict[str, Any]:
    return {"title": title, "always": always, "rows": rows}


def _rows(job: Job, parts: Sequence[Mapping[str, Any]]) -> Iterator[dict[str, Any]]:
    """Parts of the day; those that follow on each other and are alike as one."""
    run: list[Mapping[str, Any]] = []
    for part in [*parts, None]:
        if part is not None and (not run or _moves(part) == _moves(run[-1])):
            run.append(part)
            continue
        names = [each["part"] for each in run]
        hours = f"{job.words.hour(run[0]['from_hour'])} to {job.words.hour(run[-1]['to_hour'])}"
        yield {
            "when": "All day and night" if len(run) == len(parts) else capital(listed(names)),
            "hours": "" if len(run) == len(parts) else hours,
            "upper": _sash(job, run[0], "upper"),
            "lower": _sash(job, run[0], "lower"),
        }
        run = [part] if part is not None else []


def _moves(part: Mapping[str, Any]) -> set[tuple[str, str, float]]:
    return {(row["window"], row["sash"], round(row["open_m"], 3)) for row in part["positions"]}


def _sash(job: Job, part: Mapping[str, Any], which: str) -> list[dict[str, Any]]:
    """How far, and the windows room by room, the widest first."""
    rooms = {window.number: window.room for window in job.house.windows}
    found: dict[str, dict[str, list[str]]] = {}
    rows = [row for row in part["positions"] if row["sash"] == which]
    for row in sorted(rows, key=lambda row: -row["open_m"]):
        far = "all the way" if row["all_the_way"] else far_words(row["open_m"], job)
        by_room = found.setdefault(far, {})
        by_room.setdefault(rooms.get(row["window"], ""), []).append(row["window"])
    return [
        {
            "far": far,
            "rooms": sorted(
                ({"room": room, "numbers": sorted(each)} for room, each in by_room.items()),
                key=lambda row: row["numbers"],
            ),
        }
        for far, by_room in found.items()
    ]


def far_words(metres: float, job: Job) -> str:
    """How far a sash goes: to an inch or a centimetre, as hands do it."""
    if job.words.system == "us":
        return f"{metres / INCH:.0f} in"
    return f"{100 * metres:.0f} cm"


def _plans(job: Job, pictures: Pictures, answer: Answer) -> Iterator[Picture]:
    """Where the windows are: the storeys in which most of them are opened."""
    storeys = {key: room.storey for key, room in job.house.rooms.items()}
    rooms = {window.number: window.room for window in job.house.windows}
    opened = {
        row["window"]
        for season in answer.values["card"]
        for part in season["parts"]
        for row in part["positions"]
    }
    counts: dict[int, int] = {}
    for number in opened:
        storey = storeys.get(rooms.get(number, ""))
        if storey is not None:
            counts[storey] = counts.get(storey, 0) + 1
    most = sorted(counts, key=lambda storey: -counts[storey])[:STOREYS]
    for storey in sorted(most):
        plan = air_plan(job.house, storey, None, job.words.system, width=PLAN_WIDTH)
        yield pictures.within(f"card-storey-{storey}", plan, PLAN_ROOM, "")
