"""Hours learned from finished work, and how far the estimates were from it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright.chapters.treat.alternatives import Alternative
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.knowledge.work_tables import Task
from sashwright.physics.learning import NormalInverseGamma, log_ratios
from sashwright.window.condition import Spent

PRIOR = NormalInverseGamma(0.0, 2.0, 2.0, 0.12)
"""Before any job: the table is right, as sure as two finished windows make it, and single jobs are spread
by about a third (variance of the logarithm beta / (alpha - 1) = 0.12); judgement."""
LOW, HIGH = 0.1, 0.9
"""Quantiles of the next job that are quoted as low and high."""


@dataclass(frozen=True, slots=True)
class Done:
    """One finished task at one window: man-hours spent and estimated by the table."""

    task: str
    window: str
    spent: float
    estimated: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Learned:
    """What the finished jobs say of one task."""

    task: str
    count: int
    belief: NormalInverseGamma

    @property
    def factors(self) -> tuple[float, float, float]:
        """Times the table's likely hours: low, likely (the median), high of the next job."""
        middle = math.exp(self.belief.mean)
        return math.exp(self.belief.quantile(LOW)), middle, math.exp(self.belief.quantile(HIGH))


def learn(jobs: Sequence[Done]) -> dict[str, Learned]:
    """Beliefs by task, from all finished work."""
    by_task: dict[str, list[tuple[float, float]]] = {}
    for job in jobs:
        by_task.setdefault(job.task, []).append((job.spent, job.estimated))
    return {
        task: Learned(task, len(pairs), PRIOR.updated(log_ratios(pairs)))
        for task, pairs in by_task.items()
    }


def done_of(
    number: str, spent: Sequence[Spent], ways: Sequence[Alternative], knowledge: Knowledge
) -> Iterator[Done | str]:
    """The finished tasks of a window against the table; a sentence for one that cannot be compared.

    The amount is the one given with the hours, else what the treatment counts in the first of the
    alternatives that has the task.
    """
    for entry in spent:
        try:
            task: Task = knowledge.find("task", entry.task)
        except KnowledgeError as error:
            yield f"Window {number}: {error}"
            continue
        hours = _estimated(task, entry, ways)
        if hours is None or hours[1] <= 0:
            yield (
                f"Window {number}: {entry.hours:g} hours of {task.key} teach nothing, for nobody says how "
                "much it was: give its quantity."
            )
        else:
            yield Done(task.key, number, entry.hours, hours[1], hours[0], hours[2])


def _estimated(
    task: Task, entry: Spent, ways: Sequence[Alternative]
) -> tuple[float, float, float] | None:
    if entry.quantity is not None:
        times = max(round(entry.quantity), 1) if task.unit == "piece" else 1
        fixed, charged = task.fixed_hours * times, max(entry.quantity, task.least)
        return (
            fixed + task.hours_low * charged,
            fixed + task.hours * charged,
            fixed + task.hours_high * charged,
        )
    for way in ways:
        mine = [work for work in way.work if work.task.key == task.key]
        if mine:
            low, likely, high = (
                sum(work.hours(which) for work in mine)
                for which in ("hours_low", "hours", "hours_high")
            )
            return low, likely, high
    return None


# --- how far the estimates were off -----------------------------------------------


def record(jobs: Sequence[Done]) -> dict[str, Any] | None:
    """How estimates compared with the truth, by the table and, each job left out in turn, as learned."""
    if not jobs:
        return None
    ratios = log_ratios([(job.spent, job.estimated) for job in jobs])
    later = [ratio - _without(jobs, place) for place, ratio in enumerate(ratios)]
    return {
        "jobs": len(jobs),
        "spent_h": math.fsum(job.spent for job in jobs),
        "estimated_h": math.fsum(job.estimated for job in jobs),
        "bias_share": math.exp(math.fsum(ratios) / len(ratios)) - 1,
        "error_share": math.exp(_size(ratios)) - 1,
        "error_learned_share": math.exp(_size(later)) - 1,
        "within_range_share": sum(job.low <= job.spent <= job.high for job in jobs) / len(jobs),
    }


def _size(errors: Sequence[float]) -> float:
    return math.sqrt(math.fsum(error**2 for error in errors) / len(errors))


def _without(jobs: Sequence[Done], place: int) -> float:
    """What the other jobs would have had us expect for one, as a logarithm."""
    rest = [
        (other.spent, other.estimated)
        for index, other in enumerate(jobs)
        if index != place and other.task == jobs[place].task
    ]
    return PRIOR.updated(log_ratios(rest)).mean


def learned_values(found: Mapping[str, Learned]) -> list[dict[str, Any]]:
    """Each task's factors, the surest first."""
    rows = []
    for each in sorted(found.values(), key=lambda item: (-item.count, item.task)):
        low, likely, high = each.factors
        rows.append(
            {
                "task": each.task,
                "jobs": each.count,
                "factor_low": low,
                "factor": likely,
                "factor_high": high,
                "mean": each.belief.mean,
                "kappa": each.belief.kappa,
                "alpha": each.belief.alpha,
                "beta": each.belief.beta,
            }
        )
    return rows
