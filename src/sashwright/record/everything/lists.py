"""The lists of an export, row by row: readings, stages, orders, visits, captions, and the history."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from django.utils import timezone

from sashwright.record.errors import NotThere
from sashwright.record.merge import differences
from sashwright.record.models import Change, House, Revision
from sashwright.record.orders import orders
from sashwright.record.people import name_of
from sashwright.record.photographs import photographs
from sashwright.record.picturefiles import file_of
from sashwright.record.readings import readings
from sashwright.record.stages import stages
from sashwright.record.visits import visits

Cell = str | int | float | None
Rows = Iterator[Sequence[Cell]]
_BATCH = 200


def _at(when: datetime | None) -> str:
    return "" if when is None else timezone.localtime(when).isoformat(timespec="seconds")


READINGS = ("house", "window", "sash", "kind", "value_kg", "state", "who", "when", "note")


def reading_rows(slug: str) -> Rows:
    for row in readings(slug):
        yield (
            slug, row.number, row.which, row.kind, row.value_kg, row.state, row.who, _at(row.when), row.note,
        )  # fmt: skip


STAGES = ("house", "window", "piece", "stage", "reason", "who", "when")


def stage_rows(slug: str) -> Rows:
    for row in stages(slug):
        yield slug, row.number, row.piece, row.stage, row.reason, row.who, _at(row.when)


ORDERS = (
    "house", "order", "supplies", "supplier", "status", "sent_on", "wanted_on", "cancelled_on", "note",
    "item", "says", "quantity", "unit", "windows", "received", "received_on",
)  # fmt: skip


def order_rows(slug: str) -> Rows:
    """A row for each line of each order."""
    for row in orders(slug):
        form = row.form
        for line in row.lines:
            yield (
                slug, row.key, form.supplies, form.supplier, row.status, form.sent_on, form.wanted_on,
                form.cancelled_on, form.note, line.item, line.says, line.quantity, line.unit,
                "; ".join(line.windows), line.received, line.received_on,
            )  # fmt: skip


VISITS = ("house", "visit", "on", "by", "note", "window", "what", "what_note")


def visit_rows(slug: str) -> Rows:
    """A row for each thing done, or one for a visit that only noted something."""
    for row in visits(slug):
        head = (slug, row.key, row.form.on, row.form.by, row.form.note)
        for done in row.done:
            yield (*head, done.window, done.what, done.note)
        if not row.done:
            yield (*head, None, "", "")


CAPTIONS = (
    "house", "file", "key", "window", "part", "note", "taken", "brought_in", "width_px", "height_px",
    "bytes", "sha256", "marks", "measured",
)  # fmt: skip


def caption_rows(slug: str, names: Mapping[str, str]) -> Rows:
    """A row for each photograph; ``names`` are those of their files, by key."""
    for row in photographs(slug):
        marks = [mark.model_dump(mode="json") for mark in row.marks]
        yield (
            slug, names.get(row.key, ""), row.key, row.window, row.component, row.note, _at(row.taken_at),
            _at(row.at), row.width, row.height, row.size, row.digest,
            json.dumps(marks, ensure_ascii=False) if marks else "",
            "; ".join(measure.says for measure in row.measures),
        )  # fmt: skip


def picture_names(slug: str) -> Iterator[tuple[str, str, str]]:
    """Key, digest and file name of each photograph whose file is there."""
    for row in photographs(slug):
        try:
            path, _ = file_of(row.digest, "original")
        except NotThere:
            continue
        shows = row.window or "house"
        yield row.key, row.digest, f"photographs/{slug}/{shows}-{row.key}{path.suffix}"


HISTORY = (
    "house", "change", "when", "who", "says", "undone", "undoes", "kind", "name", "version", "did", "fields",
)  # fmt: skip


def history_rows(slug: str) -> Rows:
    """A row for each thing that each change touched, the oldest first; ``fields`` are JSON."""
    house = House.objects.get(slug=slug)
    found = Change.objects.filter(house=house).select_related("who").order_by("pk")
    for change in found.iterator(_BATCH):
        head = (
            slug, change.pk, _at(change.at), name_of(change.who), change.says,
            "yes" if change.undone else "no", change.undoes_id,
        )  # fmt: skip
        touched = False
        for revision in Revision.objects.filter(change=change).order_by("pk").iterator(_BATCH):
            touched = True
            yield (*head, *_revision(revision))
        if not touched:
            yield (*head, "", "", None, "", "")


def _revision(revision: Revision) -> Sequence[Cell]:
    before, after = revision.state_before, revision.state_after
    did = "added" if before is None else "removed" if after is None else "changed"
    changed: dict[str, Any] = {
        each.path: [each.before, each.after]
        for each in differences(before.document if before else {}, after.document if after else {})
    }
    told = json.dumps(changed, ensure_ascii=False)
    return revision.kind, revision.key, revision.version, did, told


LISTS: Mapping[str, tuple[Sequence[str], Callable[[str], Rows]]] = {
    "readings.csv": (READINGS, reading_rows),
    "stages.csv": (STAGES, stage_rows),
    "orders.csv": (ORDERS, order_rows),
    "visits.csv": (VISITS, visit_rows),
    "history.csv": (HISTORY, history_rows),
}
"""Each list by the name of its file: the heads, and the rows of a house."""
