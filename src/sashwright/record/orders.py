"""Orders of a house: made from what is needed, sent, received in parts, cancelled."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Literal

from django.contrib.auth.models import User
from pydantic import ValidationError

from sashwright.record.attached.order import OrderForm, OrderLine
from sashwright.record.documents import canonical
from sashwright.record.edit import editing
from sashwright.record.errors import NotThere, Refused, refused
from sashwright.record.models import Change, Order
from sashwright.record.rows import find_house
from sashwright.record.says import count
from sashwright.record.state import Document
from sashwright.window.check import problems_of

Status = Literal["open", "sent", "part received", "received", "cancelled"]
_HAIR = 1e-3
"""Share of a line that does not count as missing: what is lost between feet and metres."""


@dataclass(frozen=True, slots=True)
class OrderRow:
    """An order in a list; its ``key`` is its number in the house."""

    key: str
    form: OrderForm
    version: int

    @property
    def lines(self) -> Sequence[OrderLine]:
        return self.form.lines

    @property
    def status(self) -> Status:
        if self.form.cancelled_on is not None:
            return "cancelled"
        if self.lines and all(is_there(line) for line in self.lines):
            return "received"
        if any(line.received for line in self.lines):
            return "part received"
        return "open" if self.form.sent_on is None else "sent"


def is_there(line: OrderLine) -> bool:
    """Whether all of a line came."""
    return line.received >= line.quantity * (1 - _HAIR)


# --- looked at ----------------------------------------------------------------------


def orders(slug: str) -> list[OrderRow]:
    """All orders of a house, the last first. Raises ``NotThere``."""
    rows = Order.objects.filter(house=find_house(slug), gone=False).order_by("-pk")
    return [_row(row) for row in rows]


def order(slug: str, key: str) -> OrderRow:
    """One order. Raises ``NotThere``."""
    row = Order.objects.filter(house=find_house(slug), key=key, gone=False).first()
    if row is None:
        raise NotThere(f"There is no order {key} in this house.")
    return _row(row)


def _row(row: Order) -> OrderRow:
    return OrderRow(row.key, OrderForm.model_validate(row.document), row.version)


def on_order(found: Iterable[OrderRow]) -> tuple[dict[str, float], dict[str, float]]:
    """By item: what orders that stand ask for, and what came of it.

    Of an order that was cancelled only what came counts, in both.
    """
    ordered: dict[str, float] = {}
    received: dict[str, float] = {}
    for row in found:
        for line in row.lines:
            asked = (
                line.received if row.status == "cancelled" else max(line.quantity, line.received)
            )
            ordered[line.item] = ordered.get(line.item, 0.0) + asked
            received[line.item] = received.get(line.item, 0.0) + line.received
    return ordered, received


# --- changed ------------------------------------------------------------------------


def create_order(
    slug: str,
    supplies: str,
    lines: Sequence[Mapping[str, Any]],
    who: User,
    *,
    supplier: str = "",
    note: str = "",
) -> OrderRow:
    """A new order, not sent yet, with the next number of the house.

    Raises ``NotThere``, and ``Refused`` for an order of nothing or a line that says too little.
    """
    if not lines:
        raise refused("order", "nothing to order", "at least one line")
    document: Document = {
        "supplies": supplies, "supplier": supplier.strip(), "note": note.strip(),
        "lines": [dict(line) for line in lines],
    }  # fmt: skip
    with editing(slug, who) as edit:
        row = Order(key=edit.next_key(Order))
        edit.attach(row, document)
        edit.finish(f"order {row.key}: {count(len(lines), 'line')} of {supplies}", check=False)
        return order(slug, row.key)


def send_order(
    slug: str,
    key: str,
    base_version: int,
    who: User,
    *,
    on: str,
    supplier: str = "",
    wanted_on: str | None = None,
) -> Change | None:
    """Say that an order went out on a day, and to whom. Raises ``NotThere``, ``Refused``."""

    def send(form: OrderForm) -> Document:
        if form.sent_on is not None:
            raise refused("sent_on", f"sent on {form.sent_on} already", "an order that is open")
        told = {"sent_on": on, "wanted_on": wanted_on or form.wanted_on}
        return {**told, "supplier": supplier.strip() or form.supplier}

    to = f" to {supplier.strip()}" if supplier.strip() else ""
    return _change(slug, key, base_version, who, f"order {key} sent{to}", send)


def change_line(
    slug: str, key: str, base_version: int, who: User, *, item: str, quantity: float
) -> Change | None:
    """Order another amount of something before it is sent; none takes the line away.

    Raises ``NotThere``, ``Refused``.
    """

    def change(form: OrderForm) -> Document:
        if form.sent_on is not None:
            raise refused("sent_on", f"sent on {form.sent_on} already", "an order that is open")
        _line_of(form, item)
        kept = [line for line in form.lines if line.item != item or quantity > 0]
        changed = [
            line.model_copy(update={"quantity": quantity}) if line.item == item else line
            for line in kept
        ]
        if not changed:
            raise refused("order", "no line that is left", "at least one; or cancel the order")
        return {"lines": [line.model_dump(mode="json") for line in changed]}

    return _change(slug, key, base_version, who, f"order {key}: another amount", change)


def receive(
    slug: str,
    key: str,
    base_version: int,
    who: User,
    *,
    on: str,
    came: Mapping[str, float] | None = None,
) -> Change | None:
    """Note what came of an order: amounts by item, or all that was missing.

    Raises ``NotThere``, and ``Refused`` for an item that is not on it, an amount below zero, an order that
    was cancelled, or one that somebody changed meanwhile, so that nothing is counted twice.
    """
    told = ""

    def take(form: OrderForm) -> Document:
        nonlocal told
        amounts = {line.item: max(line.quantity - line.received, 0.0) for line in form.lines}
        if came is not None:
            amounts = {item: _amount(amount) for item, amount in came.items()}
            for item in amounts:
                _line_of(form, item)
        amounts = {item: amount for item, amount in amounts.items() if amount > 0}
        if not amounts:
            raise refused("received", "nothing that came", "an amount of at least one line")
        told = "all" if came is None else count(len(amounts), "line")
        lines = [
            line.model_copy(
                update={"received": line.received + amounts[line.item], "received_on": on}
            )
            if line.item in amounts
            else line
            for line in form.lines
        ]
        return {"lines": [line.model_dump(mode="json") for line in lines]}

    return _change(slug, key, base_version, who, lambda: f"order {key}: {told} received", take)


def _amount(amount: float) -> float:
    if not 0 <= amount < 1e6:
        raise refused("received", f"{amount:g}", "an amount from 0 to a million")
    return amount


def cancel_order(slug: str, key: str, base_version: int, who: User, *, on: str) -> Change | None:
    """Cancel what has not come of an order. Raises ``NotThere``, ``Refused``."""

    def cancel(form: OrderForm) -> Document:
        return {"cancelled_on": on}

    return _change(slug, key, base_version, who, f"order {key} cancelled", cancel)


def _line_of(form: OrderForm, item: str) -> OrderLine:
    line = next((each for each in form.lines if each.item == item), None)
    if line is None:
        raise refused("item", repr(item), "one of the order's own lines")
    return line


def _change(
    slug: str,
    key: str,
    base_version: int,
    who: User,
    says: str | Callable[[], str],
    change: Callable[[OrderForm], Document],
) -> Change | None:
    """Change fields of an order that stands as it was looked at."""
    with editing(slug, who) as edit:
        row = edit.attached("order", key)
        form = OrderForm.model_validate(row.document)
        if row.version != base_version:
            raise refused("order", "one that was changed meanwhile", "a look at it first")
        if form.cancelled_on is not None:
            raise refused("order", f"cancelled on {form.cancelled_on}", "an order that stands")
        with _told():
            document = {**row.document, **change(form)}
            edit.rewrite(row, canonical("order", document, edit.system))
        return edit.finish(says if isinstance(says, str) else says(), check=False)


@contextmanager
def _told() -> Iterator[None]:
    """What pydantic finds wrong, as the record says it."""
    try:
        yield
    except ValidationError as error:
        raise Refused(problems_of(error)) from None
