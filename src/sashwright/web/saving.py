"""Saves one field of a house, a family or a window, and tells what came of it."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from django.contrib.auth.models import User
from django.http import HttpResponse, QueryDict
from django.utils import timezone
from pydantic import BaseModel

from sashwright import units
from sashwright.record import store
from sashwright.record.errors import Conflict, Refused, Stored
from sashwright.web import edit, fields
from sashwright.web.fields import Field, FieldError
from sashwright.web.forms import id_of, plain_path
from sashwright.window.problem import Problem
from sashwright.window.spec import Family, House, Window

Kind = Literal["house", "family", "window"]

MODELS: Mapping[Kind, type[BaseModel]] = {"house": House, "family": Family, "window": Window}
CHANGED = "Somebody else changed this meanwhile: this is what it says now."
STATUS = {"saved": 200, "unchanged": 200, "refused": 422, "conflict": 409}


@dataclass(frozen=True)
class Desk:
    """The document that a page edits, for whom, in which units."""

    slug: str
    kind: Kind
    key: str
    system: units.System
    who: User


@dataclass(frozen=True)
class Outcome:
    """What came of saving a field."""

    status: Literal["saved", "unchanged", "refused", "conflict"]
    item: Field
    stored: Stored
    says: str = ""
    conflict: Conflict | None = None
    typed: Sequence[str] = field(default=())

    @property
    def merged(self) -> bool:
        return self.status == "saved" and self.stored.merged

    @property
    def at(self) -> str:
        return f"{timezone.localtime():%H:%M}"


def change_posted(desk: Desk, item: Field, posted: QueryDict) -> Outcome:
    """As ``change_field``, of a form as it was posted."""
    typed = posted.getlist(item.path)
    return change_field(desk, item, typed, base_of(posted), posted.dict())


def change_field(
    desk: Desk, item: Field, typed: Sequence[str], base: int, posted: Mapping[str, Any]
) -> Outcome:
    """Put what was typed into one field of the document and save it.

    ``base`` is the version the page was made from: where somebody else has changed the same field
    since, nothing is saved and both values come back.
    """
    now = store.stored(desk.slug, desk.kind, desk.key)
    try:
        changes = edit.changes_of(now.document, item, typed, desk.system, posted)
        edit.check(MODELS[desk.kind], edit.apply(now.document, changes), desk.system)
        kept = store.save_fields(desk.slug, desk.kind, desk.key, changes, base, desk.who)
    except FieldError as error:
        return Outcome("refused", item, now, says=str(error), typed=typed)
    except Refused as error:
        return Outcome("refused", item, now, says=sentence_of(error, item), typed=typed)
    except Conflict as error:
        return Outcome("conflict", item, error.theirs, conflict=error, typed=typed)
    status: Literal["saved", "unchanged"] = "unchanged" if kept.version == base else "saved"
    return Outcome(status, item, kept)


def base_of(posted: QueryDict) -> int:
    """The version a page was made from; none at all is an old one."""
    base = posted.get("base", "")
    return int(base) if base.isdigit() else 0


def sentence_of(error: Refused, item: Field | None = None) -> str:
    """One sentence for the field that was typed in, or for whichever field the trouble shows at."""
    here = [p for p in error.problems if item is not None and p.field.endswith(item.path)]
    if here:
        return edit.sentence_of(here[0])
    problem = error.problems[0]
    said = edit.sentence_of(problem)
    return f"{label_of(problem)}: {said[:1].lower()}{said[1:]}"


def says_of(error: Exception) -> str:
    """One sentence for whatever kept a form from being saved."""
    return sentence_of(error) if isinstance(error, Refused) else str(error)


def trouble(error: Exception, changed: str = CHANGED) -> tuple[str, int]:
    """The same with the status of the page; ``changed`` is what is said of another's change."""
    return (changed, 409) if isinstance(error, Conflict) else (says_of(error), 422)


def label_of(problem: Problem) -> str:
    """Name of a field in shop words, as far as they are known."""
    known = fields.all_fields((*fields.window_groups(), *fields.family_groups()))
    path = problem.field
    while path:
        for candidate in (path, plain_path(path)):
            if candidate in known:
                return known[candidate].label
        _, _, path = path.partition(".")
    last = problem.field.rpartition(".")[2].replace("_", " ")
    return last[:1].upper() + last[1:]


# --- two people, one field --------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Dispute:
    """Both values of a field that two people changed, side by side."""

    label: str
    mine: str
    theirs: str


def disputes(outcome: Outcome) -> list[Dispute]:
    if outcome.conflict is None:
        return []
    return [
        Dispute(label_of(Problem(one.path, "", "")), told(one.mine), told(one.theirs))
        for one in outcome.conflict.fields
    ]


def told(value: Any) -> str:
    if value is None or value == "":
        return "nothing"
    if isinstance(value, (list, tuple)):
        return ", ".join(map(told, value))
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {told(inner)}" for key, inner in value.items())
    return str(value)


# --- telling the page -------------------------------------------------------------


def tell(response: HttpResponse, outcome: Outcome, model: BaseModel, desk: Desk) -> HttpResponse:
    """Tell the page about its field, in a header, so that what is typed there is never replaced.

    It is told when the rest is in place: a field that goes away with it is still part of the page
    until then.
    """
    item = outcome.item
    news: dict[str, Any] = {
        "id": id_of(item.path),
        "status": outcome.status,
        "says": outcome.says,
        "at": outcome.at,
    }
    if outcome.status in ("saved", "unchanged"):
        news["texts"] = fields.texts(item, fields.value_at(model, item.path), desk.system)
        news["settles"] = [id_of(path) for path in edit.TOGETHER if item.path in edit.TOGETHER]
    response.status_code = STATUS[outcome.status]
    response.headers["HX-Trigger-After-Settle"] = json.dumps({"sashwright:field": news})
    return response


def all_texts(groups: Sequence[fields.Group], model: BaseModel, system: units.System) -> str:
    """What every field holds now, for a page that somebody else has changed meanwhile."""
    held = {
        id_of(item.path): fields.texts(item, fields.value_at(model, item.path), system)
        for item in fields.walk(groups)
    }
    return json.dumps(held)
