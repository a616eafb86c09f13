"""What to order for the job, a list for each kind of supplier: glass, lumber, hardware, paint and so on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.chapters.make.needs import needs_of
from sashwright.chapters.make.orders import orders
from sashwright.chapters.words import Words as Sentences
from sashwright.papers.cautions import ORDERING
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.orderwords import amount
from sashwright.papers.words import NO_WINDOWS, NONE, shortened

NUMBERS = 60
"""Letters of window numbers in a row."""

Line = Mapping[str, Any]


def ordering(job: Job) -> Answer:
    """What the windows need, as nothing lies in stock and nothing is on order."""
    needs = needs_of(job.house, job.knowledge, job.numbers, Sentences(job.words.system))
    return orders(job.house, job.knowledge, job.numbers, job.words.system, needs=needs)


def order_lists(job: Job, answer: Answer | None = None) -> dict[str, Any]:
    """All words of the lists; of an answer that knows stock and orders where there is one."""
    head = {"head": "Orders", "title": "What to order", "caution": ORDERING}
    if not job.windows:
        return head | {"says": NO_WINDOWS}
    answer = answer or ordering(job)
    kinds = answer.values["kinds"].values()
    return head | {
        "says": "",
        "columns": ["", "To order", "What", "Needed", "At hand, coming", "For windows", "Came"],
        "lists": [
            {"title": kind["name"], "rows": [_row(job, line) for line in kind["lines"]]}
            for kind in kinds
        ],
        "nothing": ""
        if kinds
        else "Nothing to order: the alternatives taken ask for nothing to be bought.",
        "findings": [
            row_of(each)
            for each in gravest_first(answer.findings)
            if each.level in ("caution", "fail")
        ],
    }


def _row(job: Job, line: Line) -> list[str]:
    words, unit = job.words, line["unit"]
    there = (("in stock", "in_stock"), ("ordered", "on_order"), ("came", "received"))
    told = [f"{amount(words, line[key], unit)} {name}" for name, key in there if line[key]]
    numbers: Sequence[str] = line["windows"]
    return [
        amount(words, line["to_order"], unit) if line["to_order"] else "nothing",
        line["says"],
        amount(words, line["need"], unit),
        "; ".join(told) or NONE,
        shortened(", ".join(numbers), NUMBERS) if numbers else NONE,
    ]
