"""The proposal for the client to sign: what is done at each window, what it costs, what may be chosen."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

from sashwright.chapters.price.lines import ON_TOP
from sashwright.chapters.price.money import NOUGHT
from sashwright.knowledge.work_tables import CLASSES
from sashwright.papers.cautions import PROPOSAL
from sashwright.papers.conditionreport import MEANS
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.money import change, money, span
from sashwright.papers.words import NO_WINDOWS, capital, count, date, listed
from sashwright.window.shop import Letterhead
from sashwright.window.spec import Window

VALID_DAYS = 60
"""For which a proposal stands."""
NO_CLASS = "Nothing found; done as asked"
NOT_PRICED = "Nothing is to be priced: nothing was found on these windows and nothing was decided."
NOT_INCLUDED = (
    "Decay and damage that cannot be seen before work begins, beyond the allowances named.",
    "Tests for lead and asbestos, and the removal of asbestos, which is for those licensed to do it.",
    "Painting beyond what is named: walls, trim of rooms, shutters.",
    "Permits, fees of a review board, and what they may ask beyond this paper.",
    "Blinds, curtains, alarm contacts and furniture: please take them away from the windows before we come.",
    "Storm sash and screens, unless they are named.",
)
PAYMENT = (
    "One third with the signed order, one third when the first sash are in the shop, the rest when the last "
    "window is hung and has been looked at together; other terms where they are agreed in writing."
)
CHANGES = (
    "What turns out to be needed beyond this paper is shown to you, priced by the same rates and agreed in "
    "writing before it is done. Allowances are charged by what they come to."
)

Row = dict[str, Any]


def proposal(
    job: Job, today: datetime.date, letterhead: Letterhead | None = None
) -> dict[str, Any]:
    """All words of the proposal."""
    letterhead = letterhead or Letterhead()
    house, answer = job.house, job.pricing
    values = answer.values
    head: Row = {
        "head": "Proposal",
        "title": "Proposal",
        "name": house.name,
        "lines": list(_lines(job, today)),
        "shop": _shop(letterhead),
        "caution": PROPOSAL,
    }
    priced = [window for window in job.windows if job.priced(window).values.get("alternative")]
    if not priced:
        return head | {"says": NOT_PRICED if job.windows else NO_WINDOWS}
    return head | {
        "says": "",
        "intro": _intro(job, len(priced)),
        "price_title": "Price",
        **_price(job, values),
        "work_title": "What is done, window by window",
        "columns": ["No.", "Room", "What is done", "Price"],
        "groups": list(_groups(job, priced)),
        "house_row": _house_row(job, values),
        "total_row": ["All of it", money(values["price"]["likely"], values["currency"])],
        "left": _left(job, priced),
        "options_title": "What you may choose",
        "options_intro": "Tick what you wish and put your initials beside it; each is priced with all else "
        "as above.",
        "options": [_option(job, each) for each in values["options"]],
        "allowances_title": "Allowances in the price",
        "allowances": list(_allowances(job)),
        "included_title": "Included",
        "included": list(_included(job, priced, values)),
        "not_title": "Not included",
        "not_included": list(NOT_INCLUDED),
        "terms_title": "Payment, changes, and how long this stands",
        "terms": [
            PAYMENT,
            CHANGES,
            f"This proposal stands for {VALID_DAYS} days, until "
            f"{date(today + datetime.timedelta(days=VALID_DAYS))}.",
            *filter(None, [letterhead.foot]),
        ],
        "safety_title": "Safety",
        "safety": [row_of(each) for each in gravest_first(_safety(job, priced))],
        "sign": ["For the shop", "The client"],
        "sign_lines": ["Name", "Signature", "Date"],
        "sign_note": "Signed by both, this is the order. Options count as ticked.",
    }


def _lines(job: Job, today: datetime.date) -> Iterator[str]:
    house = job.house
    if house.owner:
        yield f"For {house.owner}"
    if house.place:
        yield house.place
    yield date(today)


def _shop(letterhead: Letterhead) -> list[str]:
    """The shop's name and where it is found."""
    lines = (letterhead.name, *letterhead.address, letterhead.telephone, letterhead.mail)
    return [line for line in lines if line]


def _intro(job: Job, priced: int) -> str:
    values = job.pricing.values
    decided = sum(bool(job.priced(w).values.get("decided")) for w in job.windows)
    said = f"Work on {count(priced, 'window')} of {values['windows']}"
    if decided == priced:
        return f"{said}, as decided window by window."
    return (
        f"{said}: at {decided} as decided, at the others as we advise after the survey. The windows stay; "
        "what is sound in them stays."
    )


# --- the price --------------------------------------------------------------------


def _price(job: Job, values: Mapping[str, Any]) -> Row:
    currency, price = values["currency"], values["price"]
    likely = money(price["likely"], currency)
    taxed = values["kinds"].get("tax")
    tax = (
        f"Tax of {money(taxed['likely'], currency)} is in it."
        if taxed and Decimal(taxed["likely"])
        else "No tax is in it."
    )
    if firm(job):
        return {"price_word": "Firm price", "price": likely, "price_notes": [tax, *_agreed(job)]}
    chance = values["by_chance"]
    return {
        "price_word": "Price, as we expect it",
        "price": likely,
        "price_notes": [
            f"Usually between {span(chance, currency)}: each task goes its own way, and what one takes "
            "longer another saves.",
            f"Were every task at its quickest, or its slowest, at once: {span(price, currency)}.",
            tax,
            *_agreed(job),
        ],
    }


def _agreed(job: Job) -> Iterator[str]:
    """What was agreed to already, and by which lines the price stands."""
    values = job.pricing.values
    if values["accepted"]:
        marked = [each for each in job.pricing.findings if each.says.startswith("Accepted")]
        yield from (each.says for each in marked)
    if values["edition"]:
        yield f"Price edition {values['edition']}: it stands for every line of the price."


def firm(job: Job) -> bool:
    """Whether the house's price is given as one sum that stands."""
    return job.house.pricing.quote == "firm"


def _sum(lines: Sequence[Mapping[str, Any]]) -> Decimal:
    return sum((Decimal(line["likely"]) for line in lines), NOUGHT)


def _house_row(job: Job, values: Mapping[str, Any]) -> list[str] | None:
    """What no single window costs, in one line."""
    lines = values["house_lines"]
    if not lines:
        return None
    named = [line["name"] for line in lines if line["kind"] not in ON_TOP]
    shares = " and what comes on top" if len(named) < len(lines) else ""
    words = f"The house as a whole: {listed([_small(name) for name in named])}{shares}"
    return [words, money(_sum(lines), values["currency"])]


def _small(name: str) -> str:
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


# --- the work ---------------------------------------------------------------------


def _groups(job: Job, priced: Sequence[Window]) -> Iterator[Row]:
    """Windows by their class of repair, the heaviest first."""
    by_class: dict[str | None, list[Window]] = {}
    for window in priced:
        by_class.setdefault(job.treated(window).values.get("class"), []).append(window)
    for name in (*reversed(CLASSES), None):
        if name in by_class:
            yield {
                "name": NO_CLASS if name is None else capital(MEANS[name]),
                "rows": [_row(job, window) for window in by_class[name]],
            }


def _row(job: Job, window: Window) -> Row:
    values = job.priced(window).values
    return {
        "number": window.number,
        "room": window.room,
        "scope": job.name("scope", values["alternative"]),
        "decided": "as decided" if values["decided"] else "",
        "tasks": _tasks(job, window),
        "price": money(values["price"]["likely"], values["currency"]),
    }


def way_taken(job: Job, window: Window) -> Mapping[str, Any]:
    """The alternative that is priced at a window, with its tasks."""
    key = job.priced(window).values["alternative"]
    ways = job.treated(window).values["alternatives"]
    return next(way for way in ways if way["key"] == key)


def _tasks(job: Job, window: Window) -> str:
    """Tasks in the order of work, with the sash they are done to."""
    names: dict[str, list[str]] = {}
    for task in way_taken(job, window)["tasks"]:
        of = names.setdefault(task["name"], [])
        if task["of"] in ("upper", "lower") and task["of"] not in of:
            of.append(task["of"])
    said = [
        f"{_small(name)} ({of[0]})" if len(of) == 1 else _small(name) for name, of in names.items()
    ]
    return capital("; ".join(said)) + "."


def _left(job: Job, priced: Sequence[Window]) -> str:
    done = {window.number for window in priced}
    left = [window.number for window in job.windows if window.number not in done]
    return f"Nothing is planned at {listed(left)}." if left else ""


# --- choices and terms ------------------------------------------------------------


def _option(job: Job, each: Mapping[str, Any]) -> Row:
    currency = job.pricing.values["currency"]
    what = job.name("scope", each["alternative"]) if each["alternative"] else ""
    at = f"window {listed(each['windows'])}" if each["windows"] else ""
    spread = "" if firm(job) or each["low"] == each["high"] else _range(each, currency)
    return {
        "name": each["name"],
        "about": ", ".join(part for part in (what, at) if part),
        "ticked": each["ticked"],
        "change": "in the price above" if each["ticked"] else change(each["likely"], currency),
        "range": spread,
    }


def _range(each: Mapping[str, Any], currency: str) -> str:
    low, high = sorted((Decimal(each["low"]), Decimal(each["high"])))
    return f"{money(low, currency)} to {money(high, currency)}"


def _allowances(job: Job) -> Iterator[list[str]]:
    """Sums set aside, of the windows shown and of the house."""
    currency = job.pricing.values["currency"]
    lines = [(line, "") for line in job.pricing.values["house_lines"]]
    for window in job.windows:
        lines += [
            (line, f", window {window.number}")
            for line in job.priced(window).values.get("lines", ())
        ]
    for line, where in lines:
        if line["kind"] == "allowance":
            yield [f"{line['name']}{where}", money(line["likely"], currency)]


def _included(job: Job, priced: Sequence[Window], values: Mapping[str, Any]) -> Iterator[str]:
    tasks = {task["task"] for window in priced for task in way_taken(job, window)["tasks"]}
    yield "All work named above, with its materials."
    if values["kinds"].get("access"):
        yield "Ladders and scaffold to reach the outside."
    if "sash-out" in tasks:
        yield "Openings boarded while their sash are in the shop."
    if "lead-care" in tasks:
        yield "Lead-safe care: rooms sheeted, wet work, cleaning, a last check."
    yield "Setting up, clearing away, and a last round with you."


def _safety(job: Job, priced: Sequence[Window]) -> Iterator[Any]:
    """Cautions of the house and of the windows worked on, each sentence once."""
    yield from (each for each in job.treating.findings if each.level != "ok")
    for window in priced:
        for each in job.treated(window).findings:
            if each.on in SAFETY and each.level == "caution":
                yield each


SAFETY = ("cord", "glass")
"""What cautions on falling sash and broken glass are on; those on lead and asbestos are the house's."""
