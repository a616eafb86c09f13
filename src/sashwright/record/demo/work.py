"""The demo house's job in progress: invented, and dated back from the day on which it is brought in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any

from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone

from sashwright.chapters.make.tracks import stages_of_task
from sashwright.chapters.price import price
from sashwright.chapters.price.accepted import agreed
from sashwright.knowledge.tables import Knowledge
from sashwright.record import orders, store
from sashwright.record.jobs import jobs_elsewhere
from sashwright.record.needed import missing_lines, needed
from sashwright.record.visits import add_visit, visits

DECIDED = 61
ACCEPTED = 58
VISITED = 140
"""How many days ago the windows were decided on, the price was agreed to, and somebody looked round."""

WAYS: Mapping[str, tuple[str, str]] = {
    "102": ("shop", "Together with its neighbour."),
    "104": ("shop", "The rail needs the bench."),
    "105": ("shop", "Goes out with its twin."),
    "203": ("in-place", ""),
    "208": ("in-place", ""),
    "209": ("shop", "Down to the wood, inside and out."),
}
"""What is done at windows on which the survey left it open, and why."""

Moves = tuple[tuple[int, str], ...]
MOVES: Mapping[tuple[str, str], Moves] = {
    ("101", "upper"): (
        (50, "removed"), (48, "stripped"), (46, "primed"), (44, "glazed"), (37, "cured"),
        (35, "painted"), (29, "weighed"), (27, "hung"),
    ),
    ("101", "lower"): (
        (50, "removed"), (48, "stripped"), (47, "repaired"), (45, "dry"), (44, "primed"),
        (43, "glazed"), (36, "cured"), (35, "painted"), (29, "weighed"), (27, "hung"),
    ),
    ("101", "storm"): (
        (28, "removed"), (26, "repaired"), (23, "dry"), (20, "primed"), (16, "glazed"),
        (9, "cured"), (2, "painted"),
    ),
    ("102", "upper"): ((12, "removed"), (9, "stripped"), (6, "primed"), (3, "glazed")),
    ("102", "lower"): (
        (23, "removed"), (21, "stripped"), (19, "primed"), (17, "glazed"), (10, "cured"),
        (8, "painted"), (2, "weighed"),
    ),
    ("102", "storm"): (
        (21, "removed"), (19, "repaired"), (17, "dry"), (14, "primed"), (12, "glazed"),
        (5, "cured"),
    ),
    ("104", "upper"): (
        (17, "removed"), (14, "stripped"), (11, "primed"), (8, "glazed"), (2, "primed"),
    ),
    ("104", "lower"): ((30, "removed"), (28, "stripped"), (9, "repaired"), (6, "dry")),
    ("105", "upper"): ((10, "removed"), (6, "stripped")),
    ("105", "lower"): ((35, "removed"), (33, "stripped"), (18, "repaired")),
    ("208", "upper"): ((5, "removed"), (2, "glazed")),
    ("208", "lower"): ((5, "removed"),),
    ("209", "upper"): ((13, "removed"), (7, "stripped"), (4, "primed")),
    ("209", "lower"): ((13, "removed"),),
}  # fmt: skip
"""How many days ago each piece came to which stage."""

WHY: Mapping[tuple[str, str, str], str] = {
    ("104", "upper", "primed"): "The new putty lifted at one muntin: raked out, primed again.",
}
"""The last time that a piece came to a stage it had passed, and why."""
OTHERWISE = "The shop's own rests are longer than the demo house's."
"""Where a shop has changed the stage table."""


@dataclass(frozen=True, slots=True)
class Ordered:
    """An order to one kind of supplier, with its dates as days ago; below zero they are to come."""

    supplies: str
    supplier: str
    sent: int
    wanted: int
    came: int | None = None
    lines: int | None = None
    """How many of its lines came, the first ones; None for all."""


ORDERS = (
    Ordered("hardware", "Marrow Cove Hardware", 55, 34, came=36),
    Ordered("paint", "Ropewalk Paints", 26, 15, came=22, lines=2),
    Ordered("weights", "Marrow Cove Hardware", 1, -13),
)
"""The chain was there before the front windows were hung; the weights wait for the scale."""

LOOKED = (
    {"what": "inspect", "note": "With the owner; nothing new but a squeak."},
    {"what": "pulleys", "window": "206", "note": "The left one squeaked."},
    {"what": "wash", "window": "201"},
    {"what": "wash", "window": "202"},
)
"""What was done on the visit."""

MORNING = time(9, 10)
AFTERNOON = time(15, 40)
"""When pieces change their place: out of the house early, on from the bench late."""


def bring_in(slug: str, who: User, knowledge: Knowledge) -> None:
    """Bring the job into the record, all of it or nothing, unless any of it is there.

    Raises ``NotThere`` for a house that is not in the record.
    """
    if store.stages(slug) or orders.orders(slug) or visits(slug):
        return
    today = timezone.localdate()
    with transaction.atomic():
        _decide(slug, who, knowledge, today)
        _visit(slug, who, today)
        _accept(slug, who, knowledge, today)
        _order(slug, who, today)
        _move(slug, who, today)


def days_ago(today: date, days: int) -> str:
    """A date counted back."""
    return (today - timedelta(days=days)).isoformat()


def _visit(slug: str, who: User, today: date) -> None:
    on = days_ago(today, VISITED)
    note = "Looked round while the job was being planned."
    add_visit(slug, on, LOOKED, who, by="the installer", note=note)


def _decide(slug: str, who: User, knowledge: Knowledge, today: date) -> None:
    """Decide on the windows, and have hours that were spent fall on the days of the work."""
    owner, on = store.load_house(slug).owner, days_ago(today, DECIDED)
    for number in sorted({*WAYS, *(number for number, _ in MOVES)}):
        kept = store.stored(slug, "window", number)
        fields: dict[str, Any] = {}
        if number in WAYS:
            alternative, note = WAYS[number]
            fields["decision"] = {
                "alternative": alternative, "by": owner, "on": on, "note": note,
            }  # fmt: skip
        spent = kept.document.get("spent")
        if spent:
            moves = MOVES[number, "lower"]
            fields["spent"] = [_on_its_day(each, moves, knowledge, today) for each in spent]
        if fields:
            store.save_fields(slug, "window", number, fields, kept.version, who)


def _on_its_day(
    spent: Mapping[str, Any], moves: Moves, knowledge: Knowledge, today: date
) -> dict[str, Any]:
    """Hours of a task on the day its piece came to the stage that the task leads to, else on the first."""
    task = knowledge.task.get(spent["task"])
    stages = () if task is None else stages_of_task(task)
    days = next((days for days, stage in moves if stage in stages), moves[0][0])
    return {**spent, "on": days_ago(today, days)}


def _accept(slug: str, who: User, knowledge: Knowledge, today: date) -> None:
    """The owner agrees to the price as it comes to with these decisions, and to no option."""
    house = store.load_house(slug)
    answer = price(house, knowledge, jobs=jobs_elsewhere(slug), ticked=())
    accepted = agreed(answer, (), on=days_ago(today, ACCEPTED), by=house.owner)
    version = store.stored(slug, "house").version
    store.save_fields(slug, "house", "", {"pricing.accepted": accepted}, version, who)


def _order(slug: str, who: User, today: date) -> None:
    """Order what the job misses, and take in what came of it."""
    answer = needed(slug)
    for each in ORDERS:
        lines = missing_lines(answer, each.supplies)
        # A shop with a fuller store needs less.
        if not lines:
            continue
        row = orders.create_order(slug, each.supplies, lines, who, supplier=each.supplier)
        on, by = days_ago(today, each.sent), days_ago(today, each.wanted)
        orders.send_order(slug, row.key, row.version, who, on=on, wanted_on=by)
        if each.came is not None:
            row = orders.order(slug, row.key)
            came = {line.item: line.quantity for line in row.lines[: each.lines]}
            on = days_ago(today, each.came)
            orders.receive(slug, row.key, row.version, who, on=on, came=came)


def _move(slug: str, who: User, today: date) -> None:
    """All pieces go their ways side by side, day by day."""
    for days, number, piece, stage, reason in steps():
        hour = MORNING if stage == "removed" else AFTERNOON
        at = timezone.make_aware(datetime.combine(today - timedelta(days=days), hour))
        store.set_stage(slug, number, piece, stage, who, reason, at=at)


def steps() -> Sequence[tuple[int, str, str, str, str]]:
    """Every move: days ago, window, piece, stage and reason, the oldest first."""
    found = [
        (days, number, piece, stage, WHY.get((number, piece, stage), OTHERWISE))
        for (number, piece), moves in MOVES.items()
        for days, stage in moves
    ]
    return sorted(found, key=lambda step: -step[0])
