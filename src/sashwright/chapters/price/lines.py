"""The lines of a window's price and of a house's, which add up to it to the cent."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from sashwright.chapters.price.money import ZERO, Line, Range, all_of, cents, exact, total
from sashwright.chapters.price.prices import Prices
from sashwright.chapters.treat.work import Work
from sashwright.knowledge.work_tables import Access
from sashwright.window.pricing import Allowance
from sashwright.window.spec import Window

ONE = Decimal(1)
ON_TOP = frozenset({"overhead", "margin", "tax"})
"""Kinds of lines that are shares of others."""
NONE_SAID = "pricing of the house"


def window_lines(window: Window, work: Sequence[Work], prices: Prices) -> list[Line]:
    """Everything one window costs, overhead, margin and tax last."""
    access = prices.access(window)
    lines = [_labour(each, access, prices) for each in work]
    if work:
        lines += _setup("hours for a window", prices)
    if access.each and any(each.task.where == "outside" for each in work):
        lines.append(
            Line(
                "access", access.name, all_of(exact(access.each)), access.key, source=access.source
            )
        )
    lines += _materials(work, prices)
    lines += _allowances(prices.pricing.allowances, window.number)
    return [*lines, *on_top(lines, prices)]


def house_lines(prices: Prices) -> list[Line]:
    """What no single window costs."""
    lines = [
        *_setup("hours for a house", prices),
        *_allowances(prices.pricing.allowances, None),
    ]
    return [*lines, *on_top(lines, prices)]


def _hours(work: Work, access: Access, prices: Prices) -> tuple[float, float, float]:
    """Man-hours low, likely, high, to a hundredth, as they stand in the bill."""
    learned = prices.factors(work.task)
    likely = work.hours()
    if learned is None:
        found = (work.hours("hours_low"), likely, work.hours("hours_high"))
    else:
        found = (likely * learned[0], likely * learned[1], likely * learned[2])
    outside = work.task.where == "outside"
    ways = (access.hours_low, access.hours, access.hours_high) if outside else (1.0, 1.0, 1.0)
    low, middle, high = (
        round(hours * way * prices.times, 2) for hours, way in zip(found, ways, strict=True)
    )
    return low, middle, high


def _paid(hours: tuple[float, float, float], rate: Decimal) -> Range:
    return Range(*(cents(exact(each) * rate) for each in hours))


def _labour(work: Work, access: Access, prices: Prices) -> Line:
    task, hours = work.task, _hours(work, access, prices)
    rate, source = prices.rate(task.skill)
    learned = prices.learned.get(task.key)
    told = f"{task.source} ({task.status})"
    if learned is not None:
        told = f"learned from {learned.count} finished; {told}"
    return Line(
        "labour", task.name, _paid(hours, rate), task.key, work.of,
        round(work.charged, 2), task.unit, rate, hours, f"hours: {told}; rate: {source}",
    )  # fmt: skip


def _setup(kind: str, prices: Prices) -> Iterator[Line]:
    row = prices.hours(kind)
    if row is None or not row.value:
        return
    rate, source = prices.rate(row.skill)
    hours = (round(row.value, 2),) * 3
    yield Line(
        "setup", row.name, _paid(hours, rate), row.key, None, hours[0], "hour", rate, hours,
        f"hours: {row.source} ({row.status}); rate: {source}",
    )  # fmt: skip


def _materials(work: Sequence[Work], prices: Prices) -> Iterator[Line]:
    amounts: dict[str, float] = {}
    for each in work:
        for key, amount in each.task.amounts:
            amounts[key] = amounts.get(key, 0.0) + amount * each.charged
    for key, amount in amounts.items():
        row, price, source = prices.material(key)
        bought = round(amount * (1 + row.waste), 3)
        yield Line(
            "material", row.name, all_of(exact(bought) * price), row.key, None, bought, row.unit, price,
            None, f"amounts: task table, waste {100 * row.waste:g} %; price: {source}",
        )  # fmt: skip


def _allowances(allowances: Sequence[Allowance], number: str | None) -> Iterator[Line]:
    for each in allowances:
        if each.window == number:
            yield Line("allowance", each.name, all_of(each.amount), source=NONE_SAID)


def option_lines(name: str, amount: Decimal, prices: Prices) -> list[Line]:
    """A sum that the client adds or leaves out: a price as agreed, on which only tax comes."""
    line = Line("option", name, all_of(amount), source=NONE_SAID)
    taxed = prices.pricing.tax_on == "all" and prices.share("tax")
    return [line, *([_tax(line.cost, prices)] if taxed else [])]


def on_top(lines: Sequence[Line], prices: Prices) -> list[Line]:
    """Overhead on what the lines cost, margin of the price before tax, and tax."""
    direct = total(line.cost for line in lines)
    found: list[Line] = []
    overhead, margin = prices.share("overhead"), prices.share("margin")
    cost = direct
    if overhead and direct != ZERO:
        line = Line("overhead", _percent("Overhead", overhead), direct.times(overhead))
        found.append(line)
        cost = cost.plus(line.cost)
    if margin and cost != ZERO:
        # Of the price, not on the cost: price = cost / (1 - margin).
        line = Line("margin", _percent("Margin", margin), cost.times(margin / (ONE - margin)))
        found.append(line)
        cost = cost.plus(line.cost)
    if prices.share("tax"):
        bought = total(line.cost for line in lines if line.kind == "material")
        taxed = cost if prices.pricing.tax_on == "all" else bought
        if taxed != ZERO:
            found.append(_tax(taxed, prices))
    return found


def over_direct(prices: Prices) -> Decimal:
    """By how much the price rises with a direct cost other than material."""
    taxed = prices.share("tax") if prices.pricing.tax_on == "all" else Decimal(0)
    return (ONE + prices.share("overhead")) / (ONE - prices.share("margin")) * (ONE + taxed)


def _tax(taxed: Range, prices: Prices) -> Line:
    return Line("tax", _percent("Tax", prices.share("tax")), taxed.times(prices.share("tax")))


def _percent(name: str, share: Decimal) -> str:
    return f"{name}, {(share * 100).normalize():f} %"
