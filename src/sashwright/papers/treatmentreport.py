"""The treatment report: window by window what is done and with what, who decided, what else was weighed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.papers.cautions import TREATING
from sashwright.papers.conditionwindow import class_words
from sashwright.papers.figures import Pictures
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.money import money
from sashwright.papers.photos import Photo, album, of_window
from sashwright.papers.sheet import facts
from sashwright.papers.words import NO_WINDOWS, NONE, capital, count, dated, day_of, listed
from sashwright.units import System
from sashwright.window.components import part_words
from sashwright.window.condition import Spent
from sashwright.window.spec import Window

UNITS = {
    "piece": "", "foot": "ft", "metre": "m", "square foot": "ft²", "square metre": "m²",
    "board foot": "board ft", "litre": "L",
}  # fmt: skip
"""Units of amounts as tables write them."""
METRIC = {"foot": ("metre", 0.3048), "square foot": ("square metre", 0.3048**2)}
"""What a reader of millimetres is told in place of feet."""


def treatment_report(job: Job, pictures: Pictures, photographs: Sequence[Photo]) -> dict[str, Any]:
    """All words of the report."""
    head = {
        "head": "Treatment",
        "title": "Treatment report",
        "name": job.house.name,
        "caution": TREATING,
    }
    if not job.windows:
        return head | {"says": NO_WINDOWS}
    worked = [window for window in job.windows if _worked(job, window)]
    others = [window.number for window in job.windows if window not in worked]
    return head | {
        "says": _intro(job),
        "findings": [
            row_of(each) for each in gravest_first(job.treating.findings) if each.level != "ok"
        ],
        "task_columns": ["Task", "At", "Amount", "With", "Done"],
        "way_columns": ["Also weighed", "Hours", "Price"],
        "windows": [_window(job, pictures, window, photographs) for window in worked],
        "others": f"Looked after, nothing more, at {listed(others)}." if others else "",
    }


def _worked(job: Job, window: Window) -> bool:
    """Whether there is more to say of a window than that it is looked after."""
    answer = job.treated(window)
    return not answer.values or bool(
        job.priced(window).values.get("alternative") or window.spent or answer.values["decision"]
    )


def _intro(job: Job) -> str:
    decided = sum(window.decision is not None for window in job.windows)
    spent = sum(bool(window.spent) for window in job.windows)
    said = f"{count(len(job.windows), 'window')}; {decided} decided."
    if spent:
        said += f" Work has begun at {spent}: what is done bears its date, the rest a box to tick."
    return said


def _window(
    job: Job, pictures: Pictures, window: Window, photographs: Sequence[Photo]
) -> dict[str, Any]:
    answer = job.treated(window)
    values = answer.values
    ways = {way["key"]: way for way in values.get("alternatives", ())}
    taken = ways.get(values.get("chosen", ""))
    before, after = before_and_after(window, of_window(photographs, window))
    cautions = [each for each in answer.findings if each.level in ("caution", "fail")]
    return {
        "head": f"Treatment, window {window.number}",
        "number": window.number,
        "room": window.room,
        **facts(job, window),
        "class": class_words(values),
        "chosen": "" if taken is None else taken["name"],
        "decided": _decided(window) if values else "",
        "tasks": list(_tasks(job, window, taken)) if taken else [],
        "total": "" if taken is None else _total(window, taken),
        "ways": list(_ways(job, window, ways)),
        "cautions": [
            row_of(each) for each in gravest_first(cautions) if not values or _told(each.on)
        ],
        "before_word": "Before",
        "before": album(pictures, before),
        "after_word": "After",
        "after": album(pictures, after),
    }


def _told(on: str) -> bool:
    """Whether a caution is about the work rather than a finding of the survey."""
    return on in ("cord", "glass", "lower.sash")


def _decided(window: Window) -> str:
    decision = window.decision
    if decision is None:
        return "Not decided yet; this is what is usual."
    said = [
        "Decided",
        f"by {decision.by}" if decision.by else "",
        f"on {dated(decision.on)}" if decision.on else "",
    ]
    note = f" {decision.note}" if decision.note else ""
    return f"{' '.join(part for part in said if part)}.{note}"


# --- tasks ------------------------------------------------------------------------


def _tasks(job: Job, window: Window, taken: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    spent = {each.task: each for each in window.spent}
    for task in taken["tasks"]:
        yield {
            "name": task["name"],
            "at": _at(task),
            "amount": amount(task["quantity"], task["unit"], job.words.system),
            "with": _materials(job, task),
            "because": "; ".join(task["because"]),
            "done": _done(spent[task["task"]]) if task["task"] in spent else "",
        }
    named = {task["task"] for task in taken["tasks"]}
    for each in window.spent:
        if each.task not in named:
            yield {
                "name": job.name("task", each.task), "at": "", "amount": "", "with": "",
                "because": "done beyond what was planned", "done": _done(each),
            }  # fmt: skip


def _at(task: Mapping[str, Any]) -> str:
    if task["on"]:
        return listed([part_words(name).lower() for name in task["on"]])
    return f"{task['of']} sash" if task["of"] in ("upper", "lower") else ""


def amount(quantity: float, unit: str, system: System) -> str:
    """``3``, ``0.75 ft``, ``1.1 m²``: to three figures; whole pieces rounded up."""
    if unit == "piece":
        return f"{math.ceil(quantity - 1e-9)}"
    shown, factor = METRIC.get(unit, (unit, 1.0)) if system == "metric" else (unit, 1.0)
    return f"{quantity * factor:.3g} {UNITS.get(shown, shown)}"


def _materials(job: Job, task: Mapping[str, Any]) -> str:
    """What a task takes, without waste."""
    row = job.knowledge.find("task", task["task"])
    said = []
    for key, each in row.amounts:
        material = job.knowledge.find("material", key)
        said.append(f"{material.name.lower()} {_taken(job, each * task['charged'], material.unit)}")
    return capital("; ".join(said))


def _taken(job: Job, quantity: float, unit: str) -> str:
    """So much of a material, to two figures."""
    return amount(float(f"{quantity:.2g}"), unit, job.words.system)


def _done(spent: Spent) -> str:
    said = [dated(spent.on) if spent.on else "done", f"by {spent.by}" if spent.by else ""]
    return f"{', '.join(part for part in said if part)}; {spent.hours:g} h"


def _total(window: Window, taken: Mapping[str, Any]) -> str:
    said = f"About {taken['hours']:.1f} man-hours, {taken['hours_low']:.1f} to {taken['hours_high']:.1f}"
    if taken["drying_days"]:
        said += f"; {taken['drying_days']:g} days of drying"
    spent = sum(each.hours for each in window.spent)
    return f"{said}; {spent:g} h spent so far." if spent else f"{said}."


def _ways(job: Job, window: Window, ways: Mapping[str, Mapping[str, Any]]) -> Iterator[list[str]]:
    """The alternatives that were not taken."""
    values, chosen = job.priced(window).values, job.treated(window).values.get("chosen")
    prices = {way["key"]: way["likely"] for way in values.get("alternatives", ())}
    for key, way in ways.items():
        if key != chosen:
            hours = f"{way['hours']:.1f}"
            cost = money(prices[key], values["currency"]) if key in prices else NONE
            yield [way["name"], hours, cost]


# --- photographs ------------------------------------------------------------------


def before_and_after(
    window: Window, photographs: Sequence[Photo]
) -> tuple[list[Photo], list[Photo]]:
    """Photographs parted by the last day on which work was written down; all come before where none was.

    What has no date counts as before.
    """
    last = max(filter(None, (day_of(each.on) for each in window.spent)), default=None)
    after = [p for p in photographs if last is not None and p.taken is not None and p.taken >= last]
    return [photo for photo in photographs if photo not in after], after
