"""Judgements of the price chapter: what the price rests on, what makes it spread, what was learned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from sashwright.chapters.answer import Finding
from sashwright.chapters.price.hours import Done, Learned, record
from sashwright.chapters.price.job import Job, Subject
from sashwright.chapters.price.money import Line

FEW = 5
"""Finished windows from which a learned figure is worth more than a starting allowance; judgement."""
OFF = 0.2
"""Share by which estimates may be off before it is worth a caution; judgement."""
SOURCE = "price list of the shop"


def money(amount: Decimal, currency: str) -> str:
    """``USD 1,234.50``."""
    return f"{currency} {amount:,.2f}"


def window_findings(job: Job, number: str) -> Iterator[Finding]:
    subject, key = job.subjects[number], job.taken.get(number)
    currency = job.prices.pricing.currency
    if key is None:
        yield Finding(
            "note", "window", "Not priced: nothing was found on it and nothing was decided.",
            "no work to price", "survey",
        )  # fmt: skip
        return
    cost = job.price(number)
    way = subject.way(key)
    name = "" if way is None else way.scope.name
    yield Finding(
        "note",
        "window",
        f"{name}: {money(cost.likely, currency)}, between {money(cost.low, currency)} and "
        f"{money(cost.high, currency)}.",
        _whence(subject, key),
        SOURCE,
    )
    widest = _widest(job.lines(number, key))
    if widest is not None:
        spread = widest.cost.high - widest.cost.low
        yield Finding(
            "note",
            "window",
            f"Most of the spread is in: {widest.name.lower()}.",
            f"{money(spread, currency)} between its low and its high",
            widest.source,
        )


def _whence(subject: Subject, key: str) -> str:
    if key != subject.usual:
        return "as asked, or as an option has it"
    return "decided" if subject.decided else "nobody has decided yet; this is the usual way"


def _windows(count: int) -> str:
    return f"{count} window{'s' if count != 1 else ''}"


def _widest(lines: Sequence[Line]) -> Line | None:
    labour = [line for line in lines if line.kind == "labour"]
    return max(labour, key=lambda line: line.cost.high - line.cost.low, default=None)


def house_findings(
    job: Job,
    learned: Mapping[str, Learned],
    jobs: Sequence[Done],
    sentences: Sequence[str],
) -> Iterator[Finding]:
    currency, cost = job.prices.pricing.currency, job.total
    if job.taken:
        yield Finding(
            "note",
            "house",
            f"{_windows(len(job.taken))} for {money(cost.likely, currency)}; all at their lowest or highest "
            f"at once {money(cost.low, currency)} to {money(cost.high, currency)}.",
            "sum of all lines; a screening estimate until the shop has put in its own rates and hours",
            SOURCE,
        )
        waiting = [n for n in job.taken if not job.subjects[n].decided]
        if waiting:
            some = ", ".join(waiting[:6]) + (", …" if len(waiting) > 6 else "")
            yield Finding(
                "note", "house", f"{_windows(len(waiting))} priced but not decided: {some}.",
                "no decision is recorded", "decisions of the house",
            )  # fmt: skip
    if not job.prices.share("tax"):
        yield Finding(
            "note", "house", "No tax is in the price.", "the rate is 0", "law of the place",
        )  # fmt: skip
    yield from _taught(job, learned, jobs)
    for sentence in sentences:
        yield Finding("caution", "house", sentence, "hours without an amount", "finished work")


def _taught(job: Job, learned: Mapping[str, Learned], jobs: Sequence[Done]) -> Iterator[Finding]:
    used = {
        line.key
        for n, key in job.taken.items()
        for line in job.lines(n, key)
        if line.kind == "labour"
    }
    taught = used & set(learned)
    if used - taught:
        yield Finding(
            "note",
            "house",
            f"The hours of {len(used - taught)} of {len(used)} kinds of task are starting allowances: write "
            "down what each takes, and the next estimate learns from it.",
            "no finished work of those kinds is recorded",
            "task table",
        )
    for each in learned.values():
        _, likely, _ = each.factors
        if abs(likely - 1) > OFF / 2:
            more = "more" if likely > 1 else "less"
            yield Finding(
                "note",
                "house",
                f"{job.prices.knowledge.find('task', each.task).name}: takes {abs(likely - 1) * 100:.0f} % "
                f"{more} than the table says, by {each.count} finished "
                f"{'window' if each.count == 1 else 'windows'}"
                f"{'; few, so that the table still counts' if each.count < FEW else ''}.",
                f"median of the next one {likely:.2f} times the table",
                "finished work; normal-inverse-gamma update",
            )
    found = record(jobs)
    if found is not None:
        bias = found["bias_share"]
        yield Finding(
            "caution" if abs(bias) > OFF else "ok",
            "house",
            f"Over {found['jobs']} finished tasks the table was {abs(bias) * 100:.0f} % too "
            f"{'low' if bias > 0 else 'high'}, and off by {found['error_share'] * 100:.0f} % in the single "
            f"one; as learned, by {found['error_learned_share'] * 100:.0f} %.",
            f"{found['spent_h']:.1f} hours spent, {found['estimated_h']:.1f} estimated; learned: each left "
            "out in turn",
            "finished work",
        )
