"""What a packet is made of: the house, the chosen windows, the answers of the chapters."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from sashwright.chapters.answer import LEVELS, Answer, Finding, Level, WindowAnswer, worst_of
from sashwright.chapters.hang import hang
from sashwright.chapters.make.chapter import make
from sashwright.chapters.parts import parts
from sashwright.chapters.price import price
from sashwright.chapters.price.hours import Done
from sashwright.chapters.treat import treat
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.papers.words import Words
from sashwright.units import System
from sashwright.window.resolve import Placed, family_of, place_each
from sashwright.window.spec import Family, House, Window


@dataclass(frozen=True)
class Job:
    """A house and its answers, ready to be put into words."""

    house: House
    knowledge: Knowledge
    words: Words
    windows: tuple[Window, ...]
    """Those the papers are about, in the order of the house."""
    hanging: Answer
    making: Answer
    _hung: Mapping[str, WindowAnswer] = field(repr=False)
    _made: Mapping[str, WindowAnswer] = field(repr=False)
    _placed: Mapping[str, Placed] = field(repr=False)
    numbers: Sequence[str] | None = None
    """Of the windows asked for; None where the papers are about the whole house."""
    finished: Sequence[Done] = ()
    """Work of other houses, from which the price learns its hours."""

    def placed(self, window: Window) -> Placed | None:
        """A window laid out; None where its sizes contradict each other."""
        return self._placed.get(window.number)

    @cached_property
    def treating(self) -> Answer:
        """What the windows need: worked out when a paper asks for it."""
        return treat(self.house, self.knowledge, self.numbers, self.words.system)

    @cached_property
    def pricing(self) -> Answer:
        """What is charged for them, likewise."""
        return price(self.house, self.knowledge, self.numbers, jobs=self.finished)

    @cached_property
    def cutting(self) -> Answer:
        """What is cut for them, likewise."""
        return make(self.house, self.knowledge, self.numbers, self.words.system)

    @cached_property
    def _treated(self) -> Mapping[str, WindowAnswer]:
        return {answer.number: answer for answer in self.treating.windows}

    @cached_property
    def _priced(self) -> Mapping[str, WindowAnswer]:
        return {answer.number: answer for answer in self.pricing.windows}

    def treated(self, window: Window) -> WindowAnswer:
        """What a window needs; with no values where its sizes contradict each other."""
        return self._treated[window.number]

    def priced(self, window: Window) -> WindowAnswer:
        """What is charged for a window; with no values where its sizes contradict each other."""
        return self._priced[window.number]

    def hung(self, window: Window) -> WindowAnswer:
        """How a window hangs; empty where the chapter has no answer for it."""
        return self._hung.get(window.number) or WindowAnswer(window.number, {})

    def made(self, window: Window) -> WindowAnswer:
        """What a window is made of; empty where the chapter has no answer for it."""
        return self._made.get(window.number) or WindowAnswer(window.number, {})

    def family(self, window: Window) -> Family | None:
        """The window's family with its own changes; none if the house does not know it."""
        return family_of(self.house, window) if window.family in self.house.families else None

    def name(self, table: str, key: str) -> str:
        """The trade's name of a row; its key where the tables do not know it."""
        try:
            return str(self.knowledge.find(table, key).name)
        except KnowledgeError:
            return key

    def findings(self, window: Window) -> list[Finding]:
        """All that was found on a window, the gravest first, each sentence once."""
        return gravest_first([*self.hung(window).findings, *self.made(window).findings])

    def worst(self, window: Window) -> Level:
        """The gravest level among a window's findings."""
        return worst_of(self.findings(window))


def take(
    house: House,
    knowledge: Knowledge,
    system: System,
    numbers: Sequence[str] | None,
    finished: Sequence[Done] = (),
) -> Job:
    """Ask the chapters about a house, or some of its windows.

    Raises ``ValueError`` for a number no window has.
    """
    windows = tuple(_chosen(house, numbers))
    asked = [window.number for window in windows]
    # Laid out once: pieces and masses are found out for whoever asks first.
    laid = list(place_each(house, knowledge, asked))
    hanging = hang(house, knowledge, asked, system, laid=laid)
    making = parts(house, knowledge, asked, system, laid=laid)
    return Job(
        house,
        knowledge,
        Words(system),
        windows,
        hanging,
        making,
        {answer.number: answer for answer in hanging.windows},
        {answer.number: answer for answer in making.windows},
        {window.number: placed for window, placed in laid if isinstance(placed, Placed)},
        None if numbers is None else asked,
        finished,
    )


def _chosen(house: House, numbers: Sequence[str] | None) -> Iterator[Window]:
    """The windows asked for, in the order of the house."""
    unknown = sorted(set(numbers or ()) - {window.number for window in house.windows})
    if unknown:
        known = ", ".join(window.number for window in house.windows[:12]) or "none yet"
        raise ValueError(
            f"found {', '.join(map(repr, unknown))}, expected numbers of windows of {house.name}: "
            f"{known}{', …' if len(house.windows) > 12 else ''}"
        )
    return (w for w in house.windows if numbers is None or w.number in numbers)


def gravest_first(findings: Iterable[Finding]) -> list[Finding]:
    """Findings sorted by level, each sentence once; equals keep their order."""
    once = {(finding.level, finding.says): finding for finding in findings}
    return sorted(once.values(), key=lambda finding: -LEVELS.index(finding.level))


def row_of(finding: Finding) -> dict[str, Any]:
    """A finding as the templates take it."""
    return {
        "level": finding.level,
        "says": finding.says,
        "because": finding.because,
        "source": finding.source,
    }
