"""Allowances and options of a price: a form for each, and what was typed into one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.http import QueryDict

from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.web import fields
from sashwright.web.fields import FieldError
from sashwright.web.views.common import HouseHead
from sashwright.web.views.house import model_of
from sashwright.window.pricing import Allowance, Option


def lists_shown(head: HouseHead, says: str, wrong: tuple[str, QueryDict] | None) -> dict[str, Any]:
    """Allowances and options with a form each, and an empty one; what was refused stands as typed."""
    pricing, tables = model_of(head).pricing, knowledge()

    def row(which: str, at: int | None, item: Allowance | Option | None) -> dict[str, Any]:
        name = f"{which} {'' if at is None else at}".strip()
        bad = wrong is not None and wrong[0] == name
        typed = wrong[1] if bad and wrong is not None else None
        return {
            "which": which,
            "at": at,
            "id": name.replace(" ", "-"),
            "item": item,
            "typed": _typed(typed) if typed is not None else _said(item),
            "says": says if bad else "",
        }

    return {
        "allowances": [
            *(row("allowance", at, each) for at, each in enumerate(pricing.allowances)),
            row("allowance", None, None),
        ],
        "choices": [
            *(row("option", at, each) for at, each in enumerate(pricing.options)),
            row("option", None, None),
        ],
        "scopes": [(each.key, each.name) for each in tables.scope.values()],
        "numbers": store.window_numbers(head.slug),
    }


def _said(item: Allowance | Option | None) -> dict[str, str]:
    if item is None:
        return {}
    if isinstance(item, Allowance):
        return {"name": item.name, "amount": f"{item.amount}", "window": item.window or ""}
    return {
        "name": item.name,
        "amount": "" if item.amount is None else f"{item.amount}",
        "alternative": item.alternative or "",
        "windows": ", ".join(item.windows),
    }


def _typed(posted: QueryDict) -> dict[str, str]:
    return {
        name: posted.get(name, "")
        for name in ("name", "amount", "window", "alternative", "windows")
    }


def read(
    which: str, posted: QueryDict, kept: Sequence[Mapping[str, Any]], at: int | None
) -> dict[str, Any]:
    """An allowance or an option as it was filled in, for the document. Raises ``FieldError``."""
    return _allowance(posted) if which == "allowance" else _option(posted, kept, at)


def _amount(posted: QueryDict) -> str | None:
    text = posted.get("amount", "").strip()
    if not text:
        return None
    item = fields.Field("amount", "Sum", "", "money")
    return str(fields.read(item, [text], "us"))


def _name(posted: QueryDict) -> str:
    name = posted.get("name", "").strip()
    if not name:
        raise FieldError("Found no name, expected what it is for.")
    return name


def _allowance(posted: QueryDict) -> dict[str, Any]:
    amount = _amount(posted)
    if amount is None:
        raise FieldError("Found no sum, expected money such as 412.50.")
    made = {"name": _name(posted), "amount": amount}
    return made | ({"window": posted["window"]} if posted.get("window") else {})


def _option(posted: QueryDict, kept: Sequence[Mapping[str, Any]], at: int | None) -> dict[str, Any]:
    name, amount = _name(posted), _amount(posted)
    alternative = posted.get("alternative", "")
    if amount is None and not alternative:
        raise FieldError("Found neither a sum nor another way, expected one of the two.")
    made: dict[str, Any] = {"key": _key(name, kept), "name": name, "ticked": False}
    if at is not None:
        made |= {name: kept[at][name] for name in ("key", "ticked") if name in kept[at]}
    if alternative:
        made["alternative"] = alternative
    numbers = [each for each in posted.get("windows", "").replace(",", " ").split() if each]
    if numbers:
        made["windows"] = numbers
    return made | ({} if amount is None else {"amount": amount})


def _key(name: str, kept: Sequence[Mapping[str, Any]]) -> str:
    """A key of its own, from its name."""
    plain = "-".join(
        "".join(c if c.isascii() and c.isalnum() else " " for c in name).lower().split()
    )
    plain = plain[:40].strip("-") or "option"
    taken = {each["key"] for each in kept}
    found, more = plain, 2
    while found in taken:
        found, more = f"{plain}-{more}", more + 1
    return found
