"""What each window needs: its class, alternatives beside each other, tasks; and all windows of a house."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.heat.say import CONVENTIONS, u_words
from sashwright.chapters.words import Words, counted
from sashwright.drawing.thumbnail import Stamp
from sashwright.knowledge.work_tables import CLASSES
from sashwright.papers.gradewords import MEANS
from sashwright.web.answers.say import NONE, capital, percent
from sashwright.window.components import part_words

Values = Mapping[str, Any]
NOT_YET = "not worked out"
STAMPS: Mapping[str | None, Stamp] = {
    None: Stamp("", "nothing found"),
    CLASSES[0]: Stamp("M", CLASSES[0], "warm-1", "slight"),
    CLASSES[1]: Stamp("S", CLASSES[1], "warm-3", "moderate"),
    CLASSES[2]: Stamp("R", CLASSES[2], "warm-4", "severe"),
}
"""Letters and hatches of the classes of repair, for drawings."""
PRIORITIES = {"A": "now", "B": "within a year", "C": "with the next round", "D": "watch"}


@dataclass(frozen=True, slots=True)
class Task:
    """A task of an alternative."""

    name: str
    at: str
    amount: str
    hours: str
    who: str
    where: str
    because: str
    source: str


@dataclass(frozen=True, slots=True)
class Way:
    """One alternative in the same lines as all others."""

    key: str
    name: str
    chosen: bool
    lines: tuple[tuple[str, str, str], ...]
    """What, the figure, and what is said beside it."""
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True)
class Reason:
    """A finding with what is done about it."""

    part: str
    found: str
    does: str
    reason: str
    grade: str
    priority: str
    source: str


@dataclass(frozen=True, slots=True)
class Needs:
    """All that the page shows of what a window needs."""

    stamp: Stamp
    grade: str
    priority: str
    reasons: tuple[Reason, ...]
    ways: tuple[Way, ...]
    chosen: Way
    decided: bool
    decision: Values | None


def needs_shown(
    answer: WindowAnswer, task_names: Mapping[str, str], system: units.System
) -> Needs | None:
    """What a window needs; None where its sizes contradict each other."""
    values = answer.values
    if not values:
        return None
    ways = tuple(_way(each, values["chosen"], system) for each in values["alternatives"])
    decision = values["decision"]
    return Needs(
        STAMPS[values["class"]],
        values["class"] or "nothing found",
        priority_words(values["priority"]),
        tuple(_reasons(values["condition"], task_names)),
        ways,
        next(way for way in ways if way.chosen),
        decision is not None and decision["alternative"] == values["chosen"],
        decision,
    )


def priority_words(priority: str | None) -> str:
    """``A: now``."""
    return "" if priority is None else f"{priority}: {PRIORITIES[priority]}"


def _reasons(found: Sequence[Values], task_names: Mapping[str, str]) -> Iterator[Reason]:
    for each in sorted(found, key=lambda one: one["priority"] or "Z"):
        does = [task_names.get(key, key).lower() for key in each["tasks"]]
        yield Reason(
            part_words(each["on"]),
            f"{each['name'].lower()}, {each['severity']}",
            capital(", ".join(does)) or "No rule: decide by hand",
            capital(each["reason"] or ""),
            each["class"] or NONE,
            priority_words(each["priority"]),
            each["source"] or "",
        )


# --- alternatives ---------------------------------------------------------------------


def hours_words(row: Values) -> str:
    """``4.5 h (3.2 to 7.1)``."""
    if row["hours_low"] == row["hours_high"]:
        return f"{row['hours']:.1f} h"
    return f"{row['hours']:.1f} h ({row['hours_low']:.1f} to {row['hours_high']:.1f})"


def money_words(row: Values, currency: str) -> str:
    """``USD 1,226 (754 to 2,024)``, without cents."""
    low, likely, high = (Decimal(row[name]) for name in ("low", "likely", "high"))
    if low == high:
        return f"{currency} {likely:,.0f}"
    return f"{currency} {likely:,.0f} ({low:,.0f} to {high:,.0f})"


def _way(each: Values, chosen: str, system: units.System) -> Way:
    drying = f"dries {each['drying_days']:.0f} days" if each["drying_days"] else ""
    quoted = each["beside"]
    return Way(
        each["key"],
        each["name"],
        each["key"] == chosen,
        (
            ("Heat", *_heat(quoted, system)),
            ("Air", *_air(quoted, system)),
            ("Grade", *_grade(quoted)),
            ("Money", *_money(quoted)),
            ("Work", hours_words(each), drying),
        ),
        tuple(_task(task) for task in each["tasks"]),
    )


def _heat(quoted: Values, system: units.System) -> tuple[str, str]:
    u = quoted.get(f"u_{CONVENTIONS[system]}_w_m2k")
    if u is None:
        return NOT_YET, ""
    state = quoted["heat_state"]
    behind = {"prime": "nothing before it", "storm": "storm before it"}.get(state, str(state))
    return u_words(u, system).replace("m2", "m²"), behind


def _air(quoted: Values, system: units.System) -> tuple[str, str]:
    if "flow_75_m3_s" not in quoted:
        return NOT_YET, ""
    flow = Words(system).flow
    low, high = flow(quoted["flow_75_low_m3_s"]), flow(quoted["flow_75_high_m3_s"])
    return flow(quoted["flow_75_m3_s"]), f"{low} to {high}, at 75 Pa"


def _grade(quoted: Values) -> tuple[str, str]:
    if "performance_grade" not in quoted:
        return NOT_YET, ""
    used = quoted["wind_used"]
    wind = "" if used is None else f"wind uses {percent(used)} of it; "
    if quoted["performance_grade"] is None:
        lacks = " and ".join(MEANS[name] for name in quoted["grade_lacks"])
        return "none", f"{wind}{lacks} short"
    governs = MEANS[quoted["grade_governs"]]
    return f"PG {quoted['performance_grade']}", f"{wind}{governs} decides"


def _money(quoted: Values) -> tuple[str, str]:
    price, worth = quoted.get("price"), quoted.get("worth")
    if price is None:
        return NOT_YET, ""
    said = f"worth through the years: {NOT_YET}"
    if worth is not None:
        saved = worth["net_savings"]
        more = "saves" if saved >= 0 else "costs"
        said = (
            f"done at all windows {more} {worth['currency']} {abs(saved):,.0f} through "
            f"{worth['years']} years"
        )
    return money_words(price, price["currency"]), said


def _task(task: Values) -> Task:
    return Task(
        task["name"],
        {"upper": "upper sash", "lower": "lower sash"}.get(
            task["of"] or "", task["of"] or "window"
        ),
        counted(task["charged"], task["unit"]),
        hours_words(task),
        task["skill"].replace("-", " "),
        task["where"],
        capital("; ".join(task["because"])),
        f"{task['source']}. Hours: {task['hours_source']}",
    )


# --- the house ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Row:
    """One window among those of the house."""

    number: str
    stamp: Stamp
    grade: str
    priority: str
    reasons: str
    chosen: str
    hours: str
    others: tuple[tuple[str, str], ...]
    """What else could be done, with its hours."""
    decided: str


def rows_shown(answer: Answer) -> list[Row]:
    """The windows of a house, the most urgent first."""
    known = [each for each in answer.windows if each.values]
    return [_row(each) for each in sorted(known, key=_urgent)]


def _urgent(answer: WindowAnswer) -> tuple[str, int]:
    values = answer.values
    return values["priority"] or "Z", -(values["class_number"] or 0)


def _row(answer: WindowAnswer) -> Row:
    values = answer.values
    chosen = next(way for way in values["alternatives"] if way["key"] == values["chosen"])
    found = sorted(values["condition"], key=lambda each: each["priority"] or "Z")
    said = [f"{part_words(each['on']).lower()}: {each['name'].lower()}" for each in found]
    more = f"; {len(said) - 2} more" if len(said) > 2 else ""
    decision = values["decision"]
    who = "" if decision is None else " ".join(filter(None, (decision["by"], decision["on"])))
    return Row(
        answer.number,
        STAMPS[values["class"]],
        values["class"] or "nothing found",
        priority_words(values["priority"]),
        capital("; ".join(said[:2]) + more) or NONE,
        chosen["name"],
        hours_words(chosen) if chosen["hours"] else NONE,
        tuple(
            (way["name"], f"{way['hours']:.0f} h")
            for way in values["alternatives"]
            if way["key"] not in (values["chosen"], "leave") and way["hours"]
        ),
        who or ("decided" if decision is not None else ""),
    )
