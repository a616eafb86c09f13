"""The cutting plans for the saw and the glass table: every board and sheet drawn, with a box to tick."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.drawing.cutplan import SCALE as BOARD_SCALE
from sashwright.drawing.cutplan import board_drawing
from sashwright.drawing.cutplan import long as bare
from sashwright.drawing.glasscut import SCALE as SHEET_SCALE
from sashwright.drawing.glasscut import sheet_drawing
from sashwright.papers.cautions import CUTTING
from sashwright.papers.figures import Picture, Pictures
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.words import count

NO_STOCK = "No plans are known: they need the shop's stock. Describe it on the shop's page, or give its file."
BOARD_ROOM = 0.174
"""The longest board's room in breadth, on both papers [m]."""
SHEET_ROOM = (0.082, 0.100)
"""Of one of two sheets side by side [m]."""


def cut_plans(job: Job, pictures: Pictures, plans: Answer | None) -> dict[str, Any]:
    """All words and pictures of the plans; always those given, whatever windows are chosen."""
    head: dict[str, Any] = {
        "head": "Cutting plans",
        "title": "Cutting plans",
        "says": "",
        "caution": CUTTING,
    }
    if plans is None:
        return head | {
            "says": NO_STOCK,
            "sums": [],
            "buy": [],
            "stacks": [],
            "panes": [],
            "findings": [],
        }
    values = plans.values
    told = [
        each for each in plans.findings if not each.on.startswith("buy.") and each.level != "ok"
    ]
    says = "" if values["boards"] or values["sheets"] else "Nothing is to be cut."
    return head | {
        "says": says,
        "columns": ["Of", "Pieces", "From", "To buy", "Yield", "Best is cheaper by at most"],
        "sums": [_sum(job, row) for row in (*values["lumber"], *values["glass"])],
        "buy_title": "To buy first",
        "buy": [*_buy(job, values)],
        "findings": [row_of(each) for each in gravest_first(told)],
        "boards_title": "Boards",
        "boards_note": (
            "In the order of sawing, long clear pieces first. Lengths to scale, widths drawn double; the "
            "marked end is on the left. Hatched: cut out. Keep: back to the rack."
        ),
        "stacks": _stacks(job, pictures, values["boards"]),
        "sheets_title": "Glass",
        "sheets_note": (
            "Break in the order of the numbers, each from edge to edge of the piece in hand; old panes and "
            "what is at hand first."
        ),
        "panes": _panes(job, pictures, values["sheets"]),
    }


def _sum(job: Job, row: Mapping[str, Any]) -> list[str]:
    if "species" in row:
        what = f"{job.name('wood', row['species'])} {row['quarters']}/4"
        stock = f"{count(row['boards'], 'board')}, {row['board_feet']:.1f} board feet"
    else:
        what, stock = job.name("glass", row["glass"]), count(row["sheets"], "sheet")
    gap = "unknown" if row["gap"] is None else "nothing" if row["proven"] else f"{row['gap']:.1%}"
    return [what, str(row["pieces"]), stock, str(row["bought"] or ""), f"{row['yield']:.0%}", gap]


def _buy(job: Job, values: Mapping[str, Any]) -> list[list[str]]:
    system, money = job.words.system, values["currency"]
    rows = []
    for row in values["buy_boards"]:
        what = f"{job.name('wood', row['species'])} {row['quarters']}/4"
        what += ", clear" if row["clear"] else ""
        size = f"{bare(row['width_m'], system)} by {bare(row['length_m'], system)}"
        rows.append([str(row["count"]), what, size, f"{money} {row['cost']:,.2f}"])
    for row in values["buy_sheets"]:
        size = f"{bare(row['width_m'], system)} by {bare(row['height_m'], system)}"
        cost = f"{money} {row['cost']:,.2f}"
        rows.append([str(row["count"]), job.name("glass", row["glass"]), size, cost])
    return rows


def _stacks(
    job: Job, pictures: Pictures, rows: Sequence[Mapping[str, Any]]
) -> list[dict[str, Any]]:
    longest = max((row["length_m"] for row in rows), default=1.0)
    scale = min(BOARD_SCALE, BOARD_ROOM / longest)
    found: dict[str, list[dict[str, Any]]] = {}
    for at, row in enumerate(rows):
        title = f"{job.name('wood', row['species'])} {row['quarters']}/4"
        drawn = board_drawing(row, job.words.system, scale)
        picture = pictures.as_drawn(f"board-{at}", drawn, "")
        clear = ", clear" if row["clear"] else ""
        size = f"{_size(job, row['width_m'], row['length_m'])}{clear}"
        found.setdefault(title, []).append(_piece(row, size, picture))
    return [{"title": title, "pieces": pieces} for title, pieces in found.items()]


def _panes(job: Job, pictures: Pictures, rows: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    wide = max((row["width_m"] for row in rows), default=1.0)
    high = max((row["height_m"] for row in rows), default=1.0)
    scale = min(SHEET_SCALE, SHEET_ROOM[0] / wide, SHEET_ROOM[1] / high)
    found: dict[str, list[dict[str, Any]]] = {}
    for at, row in enumerate(rows):
        drawn = sheet_drawing(row, job.words.system, scale)
        picture = pictures.as_drawn(f"sheet-{at}", drawn, "")
        size = _size(job, row["width_m"], row["height_m"])
        title = job.name("glass", row["glass"])
        found.setdefault(title, []).append(_piece(row, size, picture))
    return [{"title": title, "pieces": pieces} for title, pieces in found.items()]


def _size(job: Job, first: float, second: float) -> str:
    return f"{bare(first, job.words.system)} by {bare(second, job.words.system)}"


def _piece(row: Mapping[str, Any], size: str, picture: Picture) -> dict[str, Any]:
    where = "to be bought" if row["bought"] else row["place"]
    return {
        "order": str(row["order"]),
        "name": row["piece"],
        "about": ", ".join(filter(None, (size, where))),
        "picture": picture,
    }
