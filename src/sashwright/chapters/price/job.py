"""The whole job: which alternative at each window, and what options change."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from sashwright.chapters.price.lines import house_lines, option_lines
from sashwright.chapters.price.money import ZERO, Line, Range, total
from sashwright.chapters.price.prices import Prices
from sashwright.chapters.treat.alternatives import NOTHING, Alternative, alternatives, chosen
from sashwright.chapters.treat.cautions import lead_reason
from sashwright.chapters.treat.rules import Judged, judge
from sashwright.knowledge.tables import Knowledge
from sashwright.window.pricing import Option
from sashwright.window.resolve import Placed
from sashwright.window.spec import House
from sashwright.window.surveyed import surveyed


@dataclass(frozen=True)
class Subject:
    """A window with its alternatives."""

    placed: Placed
    ways: Sequence[Alternative]
    usual: str
    """The alternative decided on, or the usual one."""
    decided: bool
    asked: bool
    """Whether anything is to be priced: somebody decided, or something was found."""
    judged: Sequence[Judged] = ()
    """What was found, each with its rule."""

    def way(self, key: str) -> Alternative | None:
        return next((way for way in self.ways if way.scope.key == key), None)


def subject_of(placed: Placed, house: House) -> Subject:
    """Raises ``KnowledgeError`` for a row that the tables lack."""
    layout, knowledge = placed.layout, placed.knowledge
    judged = judge(surveyed(layout, house, knowledge), knowledge)
    ways = alternatives(layout, judged, knowledge, lead_reason(layout, house))
    taken, decided = chosen(layout, ways, knowledge)
    asked = decided or taken.scope.key != NOTHING
    return Subject(placed, ways, taken.scope.key, decided, asked, judged)


@dataclass(frozen=True)
class Job:
    """Windows with the alternative taken at each, and the lines that are the house's own."""

    subjects: Mapping[str, Subject]
    prices: Prices
    taken: Mapping[str, str]
    """Alternative by window; one that is not there is not priced."""
    ready: Mapping[tuple[str, str], list[Line]]
    """The lines of each window for each of its alternatives."""
    whole: bool = True
    """Whether the house's own lines come too."""
    more: tuple[Line, ...] = ()
    """Lines of options that are a sum."""

    def lines(self, number: str, key: str) -> list[Line]:
        """The lines of a window for one of its alternatives."""
        return self.ready[number, key]

    def price(self, number: str, key: str | None = None) -> Range:
        """Of a window, by the alternative taken or another; nothing where none is taken."""
        key = key or self.taken.get(number)
        return ZERO if key is None else total(line.cost for line in self.lines(number, key))

    @cached_property
    def own(self) -> list[Line]:
        """Lines of the house as a whole; none where no window is worked on."""
        return [*(house_lines(self.prices) if self.whole and self.taken else []), *self.more]

    @cached_property
    def total(self) -> Range:
        """Of everything."""
        windows = total(self.price(number) for number in self.taken)
        return windows.plus(total(line.cost for line in self.own))

    def with_option(self, option: Option) -> Job:
        """The job with an option taken."""
        taken = taken_with(option, self.subjects, self.taken, self.prices.knowledge)
        more = self.more
        if option.amount is not None:
            more = (*more, *option_lines(option.name, option.amount, self.prices))
        return replace(self, taken=taken, more=more)


def taken_with(
    option: Option,
    subjects: Mapping[str, Subject],
    taken: Mapping[str, str],
    knowledge: Knowledge,
) -> dict[str, str]:
    """Alternative by window with an option taken. Raises ``KnowledgeError`` for an unknown alternative."""
    changed = dict(taken)
    if option.alternative is not None:
        key = knowledge.find("scope", option.alternative).key
        for number in option.windows or subjects:
            subject = subjects.get(number)
            if subject is not None and subject.way(key) is not None:
                changed[number] = key
    return changed


@dataclass(frozen=True, slots=True)
class Weighed:
    """An option with what it changes, all before it taken as they are."""

    option: Option
    ticked: bool
    change: Range


def with_options(job: Job, ticked: Sequence[str] | None) -> tuple[Job, list[Weighed]]:
    """The job with every ticked option, and what each changes by itself or would.

    ``ticked`` are keys; None takes what the house says. Raises ``KeyError`` for a key it has not.
    """
    options = job.prices.pricing.options
    known = {option.key for option in options}
    for key in ticked or ():
        if key not in known:
            raise KeyError(key)
    return _taken_in_turn(job, options, ticked)


def _taken_in_turn(
    job: Job, options: Sequence[Option], ticked: Sequence[str] | None
) -> tuple[Job, list[Weighed]]:
    weighed = []
    wanted = {o.key: o.ticked if ticked is None else o.key in ticked for o in options}
    # Those that are taken first, so that the others are weighed against the job as it stands.
    for option in _sorted(options, wanted):
        other = job.with_option(option)
        weighed.append(Weighed(option, wanted[option.key], other.total.minus(job.total)))
        if wanted[option.key]:
            job = other
    return job, weighed


def _sorted(options: Sequence[Option], wanted: Mapping[str, bool]) -> Iterator[Option]:
    yield from (option for option in options if wanted[option.key])
    yield from (option for option in options if not wanted[option.key])
