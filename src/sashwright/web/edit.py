"""What was typed into one field, as changes to a document by path; and the document with them."""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import BaseModel, ValidationError

from sashwright import units
from sashwright.record.merge import with_fields
from sashwright.web import fields
from sashwright.web.fields import Field, FieldError
from sashwright.window.check import problems_of
from sashwright.window.problem import Problem

Document = dict[str, Any]
Changes = dict[str, Any]
"""New values by dotted path; None takes a field out."""

TOGETHER = ("head.shape", "head.rise")
"""Fields that are saved as one."""
NEW_GAP = "1/2 in"
"""Between the panes of glazing that was single, until somebody measures."""


def get(document: Mapping[str, Any], path: str) -> Any:
    """What stands at a path, or None."""
    at: Any = document
    for step in path.split("."):
        if not isinstance(at, Mapping):
            return None
        at = at.get(step)
    return at


def changes_of(
    document: Mapping[str, Any],
    item: Field,
    given: Sequence[str],
    system: units.System,
    posted: Mapping[str, Any],
) -> Changes:
    """What changes when this is typed into a field. Raises ``FieldError`` with one sentence.

    ``posted`` is all that the form holds: a segmental head and its rise only make sense together.
    """
    if item.path in TOGETHER:
        return {"head": _head(document, posted, system)}
    value = fields.read(item, given, system)
    if item.kind == "lites" and value is not None:
        value = _keep_shares(value, get(document, item.path))
    elif item.kind == "shares":
        outer = item.path.rpartition(".")[0]
        return {outer: {**_long_form(get(document, outer)), item.path.rpartition(".")[2]: value}}
    if item.path.endswith("glazing.panes"):
        gaps = item.path.removesuffix("panes") + "gaps"
        return {item.path: value, gaps: _gaps(get(document, gaps), len(value))}
    return {item.path: value}


def apply(document: Mapping[str, Any], changes: Changes) -> Document:
    """A copy of the document with the changes made."""
    return with_fields(copy.deepcopy(dict(document)), changes)


def check(model: type[BaseModel], document: Mapping[str, Any], system: units.System) -> Any:
    """The document as a model. Raises ``FieldError`` for the first thing that is wrong."""
    try:
        return model.model_validate(dict(document), context={"system": system})
    except ValidationError as error:
        raise FieldError(_first_sentence(error)) from None


def _first_sentence(error: ValidationError) -> str:
    detail = error.errors()[0]
    message = detail["msg"].removeprefix("Value error, ")
    if detail["type"] == "value_error" and not message.startswith("found "):
        return fields.sentence(message)
    return sentence_of(next(problems_of(error)))


def sentence_of(problem: Problem) -> str:
    """A problem as one sentence, without the name of the field it stands at."""
    if problem.expected.startswith("Found "):
        # The tables say all of it themselves, with the nearest rows they have.
        return fields.sentence(problem.expected)
    return fields.sentence(f"found {problem.found}, expected {problem.expected}")


# --- fields that come together ----------------------------------------------------


def _head(document: Mapping[str, Any], posted: Mapping[str, Any], system: units.System) -> Document:
    shape, rise = (
        posted.get(path, get(document, path) or "") for path in ("head.shape", "head.rise")
    )
    if shape != "segmental":
        return {"shape": shape or "square"}
    item = fields.all_fields(fields.window_groups())["head.rise"]
    return {"shape": shape, "rise": fields.read(item, [rise], system)}


def _long_form(lites: Any) -> Document:
    """Lites with columns and rows apart, as their sizes stand beside them."""
    if isinstance(lites, str):
        columns, _, rows = lites.partition("x")
        return {"columns": int(columns), "rows": int(rows)}
    return dict(lites or {})


def _keep_shares(value: Document, before: Any) -> Document:
    """New lites with the old relative sizes, where their number is still the same."""
    old = _long_form(before)
    for count, shares in (("columns", "column_shares"), ("rows", "row_shares")):
        if old.get(shares) and len(old[shares]) == value[count]:
            value[shares] = old[shares]
    return value


def _gaps(before: Any, panes: int) -> list[str]:
    """As many spaces as the panes need."""
    kept = list(before or ())[: max(panes - 1, 0)]
    return kept + [NEW_GAP] * (panes - 1 - len(kept))
