"""What to charge? Tasks by hours by rates, materials, allowances; what options change; what was learned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

from sashwright.chapters.answer import Answer, Step, WindowAnswer
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.price.accepted import accepted_findings, edition_of, standing_of
from sashwright.chapters.price.findings import house_findings, window_findings
from sashwright.chapters.price.hours import Done, Learned, done_of, learn, learned_values, record
from sashwright.chapters.price.job import Job, Subject, Weighed, subject_of, with_options
from sashwright.chapters.price.lines import ON_TOP, over_direct, window_lines
from sashwright.chapters.price.money import Line, Range, cents, total
from sashwright.chapters.price.prices import Prices
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.window.pricing import Pricing
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House

UPDATE_SOURCE = "Gelman et al., Bayesian Data Analysis, 3rd ed., section 3.3"


def finished(house: House, knowledge: Knowledge) -> tuple[list[Done], list[str]]:
    """The finished tasks of a house against the table, and a sentence for each that teaches nothing."""
    jobs: list[Done] = []
    sentences: list[str] = []
    numbers = [window.number for window in house.windows if window.spent]
    for window, placed in place_each(house, knowledge, numbers):
        try:
            ways = subject_of(placed, house).ways if isinstance(placed, Placed) else ()
        except KnowledgeError:
            ways = ()
        for each in done_of(window.number, window.spent, _first(window.decision, ways), knowledge):
            (sentences if isinstance(each, str) else jobs).append(each)  # type: ignore[arg-type]
    return jobs, sentences


def _first(decision: Any, ways: Sequence[Any]) -> Sequence[Any]:
    """The alternatives, the one decided on before the others."""
    key = None if decision is None else decision.alternative
    return sorted(ways, key=lambda way: way.scope.key != key)


def price(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    *,
    jobs: Sequence[Done] = (),
    alternative: str | None = None,
    ticked: Sequence[str] | None = None,
    pricing: Pricing | None = None,
    times: float = 1.0,
) -> Answer:
    """The price of the windows of a house (all, or those with ``numbers``, then without the house's lines).

    Money in values is text with two decimals, exact: the lines of a window add up to its price, and
    those of the windows and of the house to the whole.

    Parameters
    ----------
    jobs
        Finished tasks of other houses, as :func:`finished` gives them; the house's own always count.
    alternative
        What if all windows went this way: a row of the scope table.
    ticked
        Keys of the options to take; where not given, those that the house has ticked.
    pricing
        What if these were the prices, in place of the house's own.
    times
        What if all hours came to so many times the estimate.

    Raises ``KeyError`` for an unknown window or option, ``KnowledgeError`` for an unknown alternative.
    """
    mine, sentences = finished(house, knowledge)
    every = [*jobs, *mine]
    learned = learn(every)
    prices = Prices(pricing or house.pricing, knowledge, learned, times)
    wrong: dict[str, WindowAnswer] = {}
    subjects: dict[str, Subject] = {}
    remembered: dict[tuple[str, str], list[Line]] = {}
    for window, placed in place_each(house, knowledge, numbers):
        if not isinstance(placed, Placed):
            wrong[window.number] = contradicted(window.number, placed)
            continue
        try:
            subject = subject_of(placed, house)
            for way in subject.ways:
                at = window.number, way.scope.key
                remembered[at] = window_lines(window, way.work, prices)
        except KnowledgeError as error:
            wrong[window.number] = contradicted(window.number, error)
        else:
            subjects[window.number] = subject
    wanted = None if alternative is None else str(knowledge.find("scope", alternative).key)
    taken = dict(_taken(subjects, wanted))
    plain = Job(subjects, prices, taken, remembered, whole=numbers is None)
    job, options = with_options(plain, ticked)
    # What if, or of some windows only, is nothing that anybody agreed to.
    real = numbers is None and wanted is None and times == 1.0 and prices.pricing == house.pricing
    accepted = house.pricing.accepted if real else None
    standing = None if accepted is None else standing_of(plain, accepted)
    answers = [
        wrong.get(number) or _window(job, number)
        for number in (numbers or [window.number for window in house.windows])
    ]
    values = _values(job, options, every, learned)
    values |= {
        "edition": edition_of(job) if numbers is None else None,
        "accepted": None if standing is None else standing.to_dict(),
    }
    findings = [
        *house_findings(job, learned, every, sentences),
        *accepted_findings(standing),
    ]
    return Answer("price", house.name, answers, values, findings, list(_steps(job, every, learned)))


def _taken(subjects: Mapping[str, Subject], wanted: str | None) -> Iterator[tuple[str, str]]:
    for number, subject in subjects.items():
        if wanted is not None and subject.way(wanted) is not None:
            yield number, wanted
        elif subject.asked:
            yield number, subject.usual


# --- one window -------------------------------------------------------------------


def _window(job: Job, number: str) -> WindowAnswer:
    subject, key = job.subjects[number], job.taken.get(number)
    lines = [] if key is None else job.lines(number, key)
    values = {
        "currency": job.prices.pricing.currency,
        "alternative": key,
        "decided": subject.decided,
        "price": job.price(number).to_dict(),
        "lines": [line.to_dict() for line in lines],
        "kinds": _kinds(lines),
        **_hours(lines),
        "alternatives": [
            {
                "key": way.scope.key,
                "name": way.scope.name,
                **job.price(number, way.scope.key).to_dict(),
            }
            for way in subject.ways
        ],
    }
    findings = list(window_findings(job, number))
    return WindowAnswer(number, values, findings, list(_window_steps(lines, job)))


def _kinds(lines: Sequence[Line]) -> dict[str, dict[str, str]]:
    """Sums by kind of line."""
    kinds = dict.fromkeys(line.kind for line in lines)
    return {
        kind: total(line.cost for line in lines if line.kind == kind).to_dict() for kind in kinds
    }


def _hours(lines: Sequence[Line]) -> dict[str, float]:
    hours = [line.hours for line in lines if line.hours is not None]
    names = ("hours_low", "hours", "hours_high")
    return {name: round(sum(each[place] for each in hours), 2) for place, name in enumerate(names)}


def _window_steps(lines: Sequence[Line], job: Job) -> Iterator[Step]:
    for line in lines:
        if line.kind in ("labour", "setup") and line.hours is not None:
            yield Step(
                line.name.lower(),
                "hours x rate, to the cent",
                {"hours": line.hours[1], "rate": str(line.each)},
                str(line.cost.likely),
                job.prices.pricing.currency,
                line.source,
            )
        elif line.kind == "material":
            yield Step(
                line.name.lower(),
                "amount with waste x price, to the cent",
                {"amount": line.quantity, "unit": line.unit, "price": str(line.each)},
                str(line.cost.likely),
                job.prices.pricing.currency,
                line.source,
            )
    direct = total(line.cost for line in lines if line.kind not in ON_TOP).likely
    yield from _on_top(lines, direct, job)
    yield Step(
        "price", "sum of the lines", {"lines": len(lines)},
        str(total(line.cost for line in lines).likely), job.prices.pricing.currency, "sum",
    )  # fmt: skip


def _on_top(lines: Sequence[Line], direct: Decimal, job: Job) -> Iterator[Step]:
    formulas = {
        "overhead": "share x direct costs",
        "margin": "share / (1 - share) x (direct costs + overhead): a share of the price before tax",
        "tax": f"share x {'materials' if job.prices.pricing.tax_on == 'materials' else 'the price'}",
    }
    for line in lines:
        if line.kind in formulas:
            yield Step(
                line.name.lower(),
                formulas[line.kind],
                {"direct": str(direct), "share": str(job.prices.share(line.kind))},
                str(line.cost.likely),
                job.prices.pricing.currency,
                "pricing of the house, else the rate table",
            )


# --- the house --------------------------------------------------------------------


def _values(
    job: Job, options: Sequence[Weighed], jobs: Sequence[Done], learned: Mapping[str, Learned]
) -> dict[str, Any]:
    every = [line for number, key in job.taken.items() for line in job.lines(number, key)]
    low, high = _by_chance([*every, *job.own], job.total, job.prices)
    return {
        "currency": job.prices.pricing.currency,
        "windows": len(job.subjects),
        "priced": len(job.taken),
        "price": job.total.to_dict(),
        "by_chance": {"low": f"{low:f}", "high": f"{high:f}"},
        "house_lines": [line.to_dict() for line in job.own],
        "kinds": _kinds([*every, *job.own]),
        **_hours([*every, *job.own]),
        "options": [
            {
                "key": each.option.key,
                "name": each.option.name,
                "ticked": each.ticked,
                "windows": list(each.option.windows),
                "alternative": each.option.alternative,
                **each.change.to_dict(),
            }
            for each in options
        ],
        "learned": learned_values(learned),
        "record": record(jobs),
    }


def _by_chance(lines: Sequence[Line], whole: Range, prices: Prices) -> tuple[Decimal, Decimal]:
    """Where the price ends up if each line goes its own way: deviations added in quadrature.

    What comes on top follows the lines that it is a share of.
    """
    direct = [line.cost for line in lines if line.kind not in ON_TOP]
    down = sum(((cost.likely - cost.low) ** 2 for cost in direct), Decimal(0))
    up = sum(((cost.high - cost.likely) ** 2 for cost in direct), Decimal(0))
    factor = over_direct(prices)
    return (
        cents(whole.likely - factor * down.sqrt()),
        cents(whole.likely + factor * up.sqrt()),
    )


def _steps(job: Job, jobs: Sequence[Done], learned: Mapping[str, Learned]) -> Iterator[Step]:
    for each in learned.values():
        mine = [done for done in jobs if done.task == each.task]
        low, likely, high = each.factors
        yield Step(
            f"hours learned: {each.task}",
            "normal-inverse-gamma update of ln(spent / estimated); factor exp(m), low and high exp(m "
            "-+ t(0.9, 2 a) sqrt(b (k + 1) / (a k)))",
            {
                "ratios": [round(done.spent / done.estimated, 4) for done in mine],
                "m": each.belief.mean,
                "k": each.belief.kappa,
                "a": each.belief.alpha,
                "b": each.belief.beta,
            },
            [low, likely, high],
            "-",
            UPDATE_SOURCE,
        )
    yield Step(
        "price of the job",
        "sum of the windows' prices and of the house's lines",
        {number: str(job.price(number).likely) for number in job.taken}
        | {"house": str(total(line.cost for line in job.own).likely)},
        str(job.total.likely),
        job.prices.pricing.currency,
        "sum",
    )
