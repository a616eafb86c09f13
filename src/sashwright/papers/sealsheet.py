"""The leakage sheet: the house in each state, what to fix first, and each window path by path."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.seal import seal
from sashwright.drawing.leakplot import leak_bars, scenario_bars
from sashwright.papers.cautions import TIGHTENING
from sashwright.papers.figures import Pictures
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.words import NO_WINDOWS, NONE, capital, count
from sashwright.record.outdoors import Outdoors
from sashwright.window.spec import Window

NO_WEATHER = (
    "No weather is known for this house, so the air that it exchanges through the year cannot be told: "
    "give the house a climate, such as 'Portland, Maine'."
)
HALF = 0.475
"""Of the page's breadth, for each of two plots."""
FIRST_FEW = 8
"""Steps of the house that are listed."""


def seal_sheet(job: Job, pictures: Pictures, outdoors: Outdoors | None) -> dict[str, Any]:
    """All words of the leakage sheet."""
    head = {"head": "Air that gets by", "title": "Air that gets by", "empty": NO_WINDOWS}
    head["caution"] = TIGHTENING
    if not job.windows:
        return head | {"windows": []}
    place, year = (outdoors.place, outdoors.year) if outdoors else (None, None)
    numbers = [window.number for window in job.windows]
    answer = seal(job.house, job.knowledge, numbers, job.words.system, year=year, place=place)
    return head | {
        "intro": _intro(answer),
        "picture": pictures.plot("seal-house", scenario_bars(answer, job.words.system), HALF),
        "columns": ["State", "At 75 Pa", "Behind storms", "Through the year", "Heating season"],
        "rows": list(_states(job, answer)),
        "weather": _weather(answer, outdoors),
        "first_title": "What to fix first",
        "first_columns": ["Step", "Windows", "Saves at 75 Pa", "Share"],
        "first": list(_first(job, answer)),
        "findings": [row_of(finding) for finding in gravest_first(answer.findings)],
        "windows_title": "Window by window",
        "windows": [
            _window(job, pictures, window, found)
            for window, found in zip(job.windows, answer.windows, strict=True)
        ],
    }


def _intro(answer: Answer) -> str:
    known = answer.values["windows"]
    return (
        f"{count(known, 'window')} of the house together, at 75 Pa, the head of a wind of 25 mph or "
        "40 km/h. Ranges are wide: joints differ, and only a fan test tells of one window. Flows of states "
        "without a test can be compared with each other better than with a limit."
    )


def _states(job: Job, answer: Answer) -> Iterator[dict[str, str]]:
    """Each state of the whole house: bare, behind storms, and what air it exchanges."""
    totals = answer.values["totals"]
    storms = {row["name"]: row for row in totals if row["storm"]}
    exchange = answer.values["air_exchange"]
    air = (
        {row["name"]: row for row in exchange["scenarios"] if not row["storm"]} if exchange else {}
    )
    flow = job.words.flow
    for row in totals:
        name = row["name"]
        if row["storm"]:
            continue
        yield {
            "name": capital(name),
            "bare": flow(row["flow_75_m3_s"]),
            "storm": flow(storms[name]["flow_75_m3_s"]) if name in storms else NONE,
            "year": flow(air[name]["mean_m3_s"]) if name in air else NONE,
            "heating": flow(air[name]["heating_mean_m3_s"]) if name in air else NONE,
        }


def _weather(answer: Answer, outdoors: Outdoors | None) -> str:
    exchange = answer.values["air_exchange"]
    if outdoors is None or exchange is None:
        return NO_WEATHER
    whose = "house" if exchange["of"] == "house" else "windows alone"
    return (
        f"Through the year: mean flow of air that wind and warmth drive through the {whose}, without "
        f"storms, in the weather of {outdoors.place.full_name}."
    )


def _first(job: Job, answer: Answer) -> Iterator[dict[str, str]]:
    """The same step at all windows together, the one that saves most first."""
    saves: dict[str, list[float]] = {}
    found = 0.0
    for window in answer.windows:
        if not window.values:
            continue
        found += float(window.values["as_found"]["flow_75_m3_s"])
        for step in window.values["steps"]:
            saves.setdefault(step["does"], []).append(float(step["saves_75_m3_s"]))
    most = sorted(saves.items(), key=lambda item: -sum(item[1]))
    for does, each in most[:FIRST_FEW]:
        yield {
            "does": capital(does),
            "windows": str(len(each)),
            "saves": job.words.flow(sum(each)),
            "share": f"{100 * sum(each) / found:.0f} %",
        }


def _window(job: Job, pictures: Pictures, window: Window, answer: WindowAnswer) -> dict[str, Any]:
    values = answer.values
    base = {
        "number": window.number,
        "room": window.room,
        "where": f"{window.wall}, storey {window.storey}",
    }
    if not values:
        return base | {
            "says": [], "findings": [row_of(finding) for finding in answer.findings], "picture": None,
        }  # fmt: skip
    plot = leak_bars(answer, job.words.system)
    return base | {
        "says": list(_says(job, values)),
        "findings": [],
        "picture": pictures.plot(f"{window.number}-seal", plot, HALF),
    }


def _says(job: Job, values: Mapping[str, Any]) -> Iterator[str]:
    """The window's total, and its best step."""
    found = values["as_found"]
    flow = job.words.flow
    yield (
        f"As found {flow(found['flow_75_m3_s'])} ({flow(found['flow_75_low_m3_s'])} to "
        f"{flow(found['flow_75_high_m3_s'])})."
    )
    if values["steps"]:
        step = values["steps"][0]
        yield (
            f"First {step['does']}: saves {flow(step['saves_75_m3_s'])}, "
            f"{100 * step['saves_share']:.0f} %."
        )
