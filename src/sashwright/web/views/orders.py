"""Orders to suppliers: what is needed, what is on order, what came."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from sashwright.chapters.days import day_number, said
from sashwright.chapters.make.orders import NAMES
from sashwright.papers import orderwords
from sashwright.record import orders as kept
from sashwright.record.attached.order import OrderLine
from sashwright.record.errors import NotThere, Refused
from sashwright.record.needed import missing_lines, needed
from sashwright.record.orders import OrderRow
from sashwright.web import present, saving, shopwork
from sashwright.web.views.common import HouseHead, head_of, latest_change, tell, user_of


@dataclass(frozen=True)
class Line:
    """A line of an order as the page shows it."""

    item: str
    says: str
    ordered: str
    came: str
    missing: str
    """Still to come, in the reader's unit."""
    unit: str
    windows: str
    done: bool


@dataclass(frozen=True)
class Shown:
    """An order as the page shows it."""

    row: OrderRow
    title: str
    lines: tuple[Line, ...]
    dates: str
    stands: bool
    """Whether anything can still come of it."""
    mark: str


MARKS = {
    "open": "note", "sent": "note", "part received": "caution", "received": "ok", "cancelled": "note",
}  # fmt: skip


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    return _page(request, slug)


def _page(request: HttpRequest, slug: str, says: str = "") -> HttpResponse:
    head = head_of(request, slug)
    answer = needed(slug, head.system, shopwork.in_shop(slug).house)
    found = [_shown(row, head) for row in kept.orders(slug)]
    context: dict[str, Any] = {
        "house": head,
        "kinds": [
            (
                kind,
                values["name"],
                values["to_order"],
                [_need(head, row) for row in values["lines"]],
            )
            for kind, values in answer.values["kinds"].items()
        ],
        "orders": [order for order in found if order.stands],
        "past": [order for order in found if not order.stands],
        "findings": present.sorted_findings(answer.findings),
        "working": present.steps(answer.working, head.system),
        "today": shopwork.today(),
        "says": says,
    }
    return render(request, "web/orders.html", context, status=422 if says else 200)


def _need(head: HouseHead, row: dict[str, Any]) -> dict[str, Any]:
    def told(name: str) -> str:
        return orderwords.amount(head.words, row[name], row["unit"]) if row[name] else "–"

    return {
        "says": row["says"],
        "windows": orderwords.windows(row["windows"]),
        "missing": row["to_order"] > 0,
        **{name: told(name) for name in ("need", "in_stock", "on_order", "received", "to_order")},
    }


def _shown(row: OrderRow, head: HouseHead) -> Shown:
    title = NAMES.get(row.form.supplies, row.form.supplies.capitalize())
    stands = row.status in ("open", "sent", "part received")
    lines = tuple(_line(line, head) for line in row.lines)
    return Shown(row, title, lines, _dates(row), stands, MARKS[row.status])


def _line(line: OrderLine, head: HouseHead) -> Line:
    factor, unit = orderwords.shown_in(head.words, line.unit)
    return Line(
        line.item,
        line.says,
        orderwords.amount(head.words, line.quantity, line.unit),
        orderwords.amount(head.words, line.received, line.unit) if line.received else "",
        orderwords.figure(max(line.quantity - line.received, 0.0) * factor),
        unit,
        orderwords.windows(line.windows),
        kept.is_there(line),
    )


def _dates(row: OrderRow) -> str:
    form = row.form
    told = [f"{form.supplier}."] if form.supplier else []
    if form.sent_on:
        wanted = f", wanted by {said(form.wanted_on)}" if form.wanted_on else ""
        told.append(f"Sent {said(form.sent_on)}{wanted}.")
    elif form.cancelled_on is None:
        told.append("Not sent yet.")
    came = max((line.received_on for line in form.lines if line.received_on), default=None)
    if came:
        told.append(f"Last came {said(came)}.")
    if form.cancelled_on:
        told.append(f"Cancelled {said(form.cancelled_on)}.")
    return " ".join(told)


# --- what can be done -----------------------------------------------------------------


@require_POST
def create(request: HttpRequest, slug: str) -> HttpResponse:
    """One order of all that is missing from one kind of supplier."""
    head = head_of(request, slug)
    kind = request.POST.get("kind", "")
    found = needed(slug, head.system, shopwork.in_shop(slug).house)
    lines = missing_lines(found, kind, partial(orderwords.bought, head.words))
    try:
        order = kept.create_order(slug, kind, lines, user_of(request))
    except Refused as error:
        return _page(request, slug, saving.sentence_of(error))
    tell(request, f"Order {order.key} is written.", latest_change(slug, "order", order.key))
    return redirect("orders", slug)


@require_POST
def act(request: HttpRequest, slug: str, key: str, what: str) -> HttpResponse:
    """Send or cancel one order, or change a line of it."""
    acts = {"send": _send, "cancel": _cancel, "line": _change_line}
    if what not in acts:
        raise NotThere(f"There is no {what} of an order.")
    return _done(request, slug, key, acts[what])


@require_POST
def came(request: HttpRequest, slug: str, key: str, what: str) -> HttpResponse:
    """Note what came of an order: all of it, or the amounts keyed in."""
    if what not in ("all", "part"):
        raise NotThere(f"There is no {what} of an order.")
    return _done(request, slug, key, _all_came if what == "all" else _part_came)


def _done(
    request: HttpRequest, slug: str, key: str, act_on: Callable[[str, str, HttpRequest], str]
) -> HttpResponse:
    head_of(request, slug)
    try:
        done = act_on(slug, key, request)
    except (Refused, ValueError) as error:
        says = saving.says_of(error)
        return _page(request, slug, f"Order {key}: {says[:1].lower()}{says[1:]}")
    tell(request, f"Order {key}: {done}.", latest_change(slug, "order", key))
    return redirect("orders", slug)


def _on(request: HttpRequest) -> str:
    """The day that is said, or today. Raises ``ValueError`` for what is no date."""
    return _date(request, "on") or shopwork.today()


def _date(request: HttpRequest, name: str) -> str | None:
    text = request.POST.get(name, "").strip()
    if text:
        day_number(text)
    return text or None


def _send(slug: str, key: str, request: HttpRequest) -> str:
    posted = request.POST
    kept.send_order(
        slug, key, saving.base_of(posted), user_of(request), on=_on(request),
        supplier=posted.get("supplier", ""), wanted_on=_date(request, "wanted_on"),
    )  # fmt: skip
    return "sent"


def _cancel(slug: str, key: str, request: HttpRequest) -> str:
    base = saving.base_of(request.POST)
    kept.cancel_order(slug, key, base, user_of(request), on=shopwork.today())
    return "cancelled"


def _change_line(slug: str, key: str, request: HttpRequest) -> str:
    posted = request.POST
    kept.change_line(
        slug, key, saving.base_of(posted), user_of(request), item=posted.get("item", ""),
        quantity=_number(posted.get("quantity", "")),
    )  # fmt: skip
    return "changed"


def _all_came(slug: str, key: str, request: HttpRequest) -> str:
    kept.receive(slug, key, saving.base_of(request.POST), user_of(request), on=_on(request))
    return "all of it came"


def _part_came(slug: str, key: str, request: HttpRequest) -> str:
    base, amounts = saving.base_of(request.POST), _came(slug, key, request)
    kept.receive(slug, key, base, user_of(request), on=_on(request), came=amounts)
    return f"{len(amounts)} line{'' if len(amounts) == 1 else 's'} came"


def _came(slug: str, key: str, request: HttpRequest) -> dict[str, float]:
    """Amounts by item, as keyed in at the parcel in the reader's units; lines left empty did not come."""
    words = head_of(request, slug).words
    units = {line.item: line.unit for line in kept.order(slug, key).lines}
    posted, found = request.POST, dict[str, float]()
    for item, text in zip(posted.getlist("item"), posted.getlist("came"), strict=False):
        if text.strip():
            factor, _ = orderwords.shown_in(words, units.get(item, ""))
            found[item] = _number(text) / factor
    return found


def _number(text: str) -> float:
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise ValueError(f"Found {text[:20]!r}, expected a number.")
    return value
