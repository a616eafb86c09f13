"""The cutting list on paper: wood stack by stack, glass, and what it all comes to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sashwright.papers import cutwords
from sashwright.papers.cautions import CUTTING
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.words import NO_WINDOWS, NONE, count

NOTHING = "Nothing is to be cut: no window here gets new wood or glass."


def cutting_list(job: Job) -> dict[str, Any]:
    """All words of the list."""
    head = {"head": "Cutting list", "title": "Cutting list", "caution": CUTTING}
    if not job.windows:
        return head | {"says": NO_WINDOWS}
    answer, words = job.cutting, job.words
    values = answer.values
    panes = list(cutwords.panes_of(answer))
    wood = cutwords.stacks(cutwords.parts_of(answer))
    if not wood and not panes:
        return head | {"says": NOTHING}
    return head | {
        "says": "",
        "intro": f"{cutwords.units_made(values)}; finished and rough sizes in {words.length_unit}, length × "
        "width × thickness. To saw: length × width.",
        "columns": ["", "Mark", "Part", "No.", "To saw", "Finished", "Joints and notes"],
        "stacks": [
            {
                "title": stack.title,
                "amount": cutwords.lumber(words, stack.board_feet, stack.rough_m3),
                "rows": [_part(job, row) for row in stack.rows],
            }
            for stack in wood
        ],
        "glass_title": "Glass",
        "glass_columns": ["", "Mark", "Glass", "No.", "To cut", "Lites, shape"],
        "glass": [_pane(job, row) for row in panes],
        "sums_title": "All together",
        "sums": list(_sums(job)),
        "findings": [row_of(each) for each in gravest_first(answer.findings) if each.level != "ok"],
    }


def _part(job: Job, row: cutwords.Row) -> list[str]:
    return [
        row["mark"], row["name"], str(row["count"]), cutwords.rough(job.words, row),
        cutwords.finished(job.words, row), cutwords.remarks(job.words, row),
    ]  # fmt: skip


def _pane(job: Job, row: cutwords.Row) -> list[str]:
    told = (", ".join(row["lites"]), cutwords.shape(job.words, row))
    return [
        row["mark"], cutwords.glass_kind(row), str(row["count"]), cutwords.cut_size(job.words, row),
        "; ".join(text for text in told if text) or NONE,
    ]  # fmt: skip


def _sums(job: Job) -> Iterator[list[str]]:
    values, words = job.cutting.values, job.words
    yield ["Pieces of wood", count(values["pieces"], "piece"), ""]
    for maker in (
        cutwords.wood_sums,
        cutwords.moulding_sums,
        cutwords.glass_sums,
        cutwords.other_sums,
    ):
        for each in maker(words, values):
            yield [each.what, each.amount, each.note]
