"""The packet of a house: every paper of a job, set from one record.

Asked for nothing else: cover with the table of windows, weights and cords, a sheet for each window. The
other parts are printed where they are asked for; ``PARTS`` says what each is.
"""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Literal, get_args

from sashwright.chapters.answer import Answer
from sashwright.chapters.price.hours import Done
from sashwright.knowledge.tables import Knowledge
from sashwright.papers.changeover import changeover_list
from sashwright.papers.conditionreport import condition_report
from sashwright.papers.cutpaper import cutting_list
from sashwright.papers.cutplans import cut_plans
from sashwright.papers.figures import Pictures
from sashwright.papers.fitcard import fit_cards
from sashwright.papers.job import Job, take
from sashwright.papers.keepplan import keep_plan, keeping
from sashwright.papers.orderlists import order_lists
from sashwright.papers.performance import performance_sheets
from sashwright.papers.photos import Photo
from sashwright.papers.press import Paper, print_pages, print_pdf
from sashwright.papers.proposal import proposal
from sashwright.papers.schedule import cover
from sashwright.papers.sealsheet import seal_sheet
from sashwright.papers.sheet import sheet, table_height, text_height
from sashwright.papers.shopdrawing import shop_drawings
from sashwright.papers.tags import BASE_URL, Paths, Scans, tags
from sashwright.papers.travellers import travellers
from sashwright.papers.treatmentreport import treatment_report
from sashwright.papers.ventcard import airing, ventilation_card
from sashwright.papers.warmsheet import heat_rows, warm_sheets
from sashwright.papers.weightlist import weight_list
from sashwright.papers.words import NO_WINDOWS, count, date
from sashwright.papers.worthreport import keeping_or_not, worth_report
from sashwright.record.outdoors import Outdoors
from sashwright.units import System
from sashwright.window.shop import Letterhead
from sashwright.window.spec import House, Window

Section = Literal[
    "cover", "condition", "proposal", "treatment", "weights", "sheets", "shop", "cutlist", "plans",
    "orders", "travellers", "fit", "seal", "season", "heat", "grade", "card", "worth", "keep", "tags",
]  # fmt: skip
EVERY: tuple[Section, ...] = get_args(Section)
SECTIONS: tuple[Section, ...] = ("cover", "weights", "sheets")
"""What is printed where nothing else is asked for."""
TITLES: Mapping[Section, tuple[str, str]] = {
    "cover": ("Table of windows", "the house at a glance"),
    "condition": (
        "Condition report",
        "for a review board: every window, its findings, photographs",
    ),
    "proposal": ("Proposal", "for the client to sign: work, price, options"),
    "treatment": ("Treatment report", "tasks, materials, decisions, before and after"),
    "weights": ("Weights and cords", "what every sash wants, what to buy"),
    "sheets": ("Window sheets", "a leaf for each window: how it hangs, parts, glass"),
    "shop": ("Shop drawings", "elevation, sections, joints, moulding of each size, to scale"),
    "cutlist": ("Cutting list", "wood by the stack, glass"),
    "plans": ("Cutting plans", "every board and sheet for the saw and the glass table"),
    "orders": ("Orders", "glass, lumber, hardware, paint and putty"),
    "travellers": ("Travellers", "half a page that goes round the shop with each sash"),
    "fit": ("Fit cards", "what to leave and plane off, up the ladder"),
    "seal": ("Leakage sheet", "air that gets by, before and after weatherstrip"),
    "season": ("Changeover list", "storms and screens in walking order"),
    "heat": ("Warmth sheets", "one for each family"),
    "grade": ("Performance sheets", "wind and rain, one for each family"),
    "card": ("Ventilation card", "for the kitchen door"),
    "worth": ("Keep or replace", "the report for the owner"),
    "keep": ("Maintenance plan", "what comes next, year by year"),
    "tags": ("Number tags", "to cut out"),
}
"""What each part is called, and what it is for."""

Progress = Callable[[int, int], None]

REGIONS = {"us": "US", "metric": "GB"}
"""English as it is written where each system is used."""


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """What a packet is to hold."""

    paper: Paper = "letter"
    system: System = "us"
    include: Collection[Section] = SECTIONS
    """Its parts, always printed in the order of ``EVERY``."""
    numbers: Sequence[str] | None = None
    """The windows it is about; all of the house where absent."""
    today: datetime.date
    """The date it bears. The same house on the same day gives the same bytes."""
    outdoors: Outdoors | None = None
    """The weather that the house stands in. Without it, parts that need it say so."""
    photographs: Sequence[Photo] = ()
    finished: Sequence[Done] = ()
    """Work of other houses, from which the price learns its hours."""
    plans: Answer | None = None
    """How the list is cut from the shop's stock: an answer of ``chapters.make.plans.cutting_plans``."""
    ordered: Answer | None = None
    """What is to be ordered, by an answer of ``chapters.make.orders`` that knows stock and orders."""
    kept: Answer | None = None
    """The upkeep, by an answer of ``chapters.keep`` that knows of visits."""
    letterhead: Letterhead | None = None
    """The shop's, over a proposal."""
    revision: str = ""
    """Which edition of the house it was set from; where absent, told by the house's own words."""
    base_url: str = BASE_URL
    paths: Paths | None = None
    """Where the program answers, and the path of each window's page by its number, for the codes on the
    tags; without a path a code holds the name of the house and the number."""
    scans: Scans | None = None
    """The path of each piece's page, for the tags that go with it through the shop; none without."""


@dataclass(frozen=True)
class Making:
    """What every part is made from."""

    job: Job
    pictures: Pictures
    wanted: Wanted
    step: Callable[[], None]
    asked: Mapping[Section, Callable[[], Any]]
    """Answers that are worked out meanwhile, see ``AHEAD``."""


@dataclass(frozen=True)
class Composed:
    """A packet before it is printed: all its words and pictures."""

    words: Mapping[str, Any]
    pictures: Mapping[str, str | bytes]
    paper: Paper
    today: datetime.date

    def pdf(self) -> bytes:
        """As a PDF."""
        return print_pdf(self.words, self.pictures, self.paper, self.today)

    def pages(self, dots_an_inch: float) -> list[bytes]:
        """As one picture (PNG) for each page."""
        return print_pages(self.words, self.pictures, self.paper, dots_an_inch)


def packet(
    house: House, knowledge: Knowledge, *, progress: Progress | None = None, **wanted: Any
) -> bytes:
    """The packet of a house as a PDF.

    Parameters
    ----------
    progress
        Called with steps done and all steps: each window's sheet, each further part, then the printing.
        What it raises stops the work.
    wanted
        The fields of :class:`Wanted`.

    Raises
    ------
    ValueError
        For a number no window has, or an empty or unknown choice of parts.

    Notes
    -----
    A window whose sizes contradict each other has its place in every part, with what is wrong.
    """
    steps = _Steps(progress)
    composed = compose(house, knowledge, Wanted(**wanted), steps)
    pdf = composed.pdf()
    steps.end()
    return pdf


class _Steps:
    """Counts what is done."""

    def __init__(self, progress: Progress | None) -> None:
        self._progress = progress
        self.done, self.all = 0, 1

    def __call__(self) -> None:
        if self._progress is not None:
            self._progress(self.done, self.all)
        self.done += 1

    def end(self) -> None:
        if self._progress is not None:
            self._progress(self.all, self.all)


def compose(
    house: House, knowledge: Knowledge, wanted: Wanted, steps: _Steps | None = None
) -> Composed:
    """All words and pictures of a packet. Raises as :func:`packet`."""
    _check(wanted.include)
    steps = steps or _Steps(None)
    job = take(house, knowledge, wanted.system, wanted.numbers, wanted.finished)
    asked = [part for part in EVERY if part in wanted.include]
    further = [part for part in asked if part not in SECTIONS]
    steps.all = 1 + len(further) + (len(job.windows) if "sheets" in asked else 0)
    data = _frame(job, wanted)
    pictures = Pictures(job, wanted.paper)
    with _meanwhile(job, wanted) as answers:
        making = Making(job, pictures, wanted, steps, answers)
        for part in asked:
            if part in further:
                steps()
            data[part] = MAKERS[part](making)
    return Composed(data, pictures.files, wanted.paper, wanted.today)


AHEAD: Mapping[Section, Callable[[Job, Outdoors], Any]] = {
    "card": airing,
    "worth": keeping_or_not,
}
"""Answers that take seconds of compiled work, so that the other parts can be made beside it."""


@contextmanager
def _meanwhile(job: Job, wanted: Wanted) -> Iterator[Mapping[Section, Callable[[], Any]]]:
    """Start on the slow answers in the order of their parts; each is waited for when it is asked for."""
    outdoors = wanted.outdoors
    wait = [part for part in AHEAD if part in wanted.include]
    if outdoors is None or not wait or not job.house.windows:
        yield {}
        return
    pool = ThreadPoolExecutor(1, "packet")
    try:
        yield {part: pool.submit(AHEAD[part], job, outdoors).result for part in wait}
    finally:
        # Where another part failed or somebody stopped the work, nobody waits for what is under way.
        pool.shutdown(wait=False, cancel_futures=True)


def _check(include: Collection[str]) -> None:
    unknown = [name for name in include if name not in EVERY]
    if unknown or not include:
        found = ", ".join(map(repr, unknown)) or "no part"
        raise ValueError(f"found {found}, expected parts among {', '.join(EVERY)}")


def _leaves(of: Making) -> Iterator[dict[str, Any]]:
    for window in of.job.windows:
        of.step()
        yield _leaf(of.job, of.pictures, window)


def _leaf(job: Job, pictures: Pictures, window: Window) -> dict[str, Any]:
    words = sheet(job, window)
    return words | pictures.leaf(window, text_height(words), table_height(words))


def _cover(of: Making) -> dict[str, Any]:
    return cover(of.job, of.wanted.today) | {"strips": of.pictures.strips()}


def _grade(of: Making) -> dict[str, Any]:
    return performance_sheets(of.job, of.pictures, heat_rows(of.job, of.wanted.outdoors))


def _kept(of: Making) -> Answer:
    today = of.wanted.today.isoformat()
    return of.wanted.kept or keeping(of.job, today, of.wanted.outdoors)


MAKERS: Mapping[Section, Callable[[Making], Any]] = {
    "cover": _cover,
    "condition": lambda of: condition_report(
        of.job, of.pictures, of.wanted.photographs, of.wanted.today
    ),
    "proposal": lambda of: proposal(of.job, of.wanted.today, of.wanted.letterhead),
    "treatment": lambda of: treatment_report(of.job, of.pictures, of.wanted.photographs),
    "weights": lambda of: weight_list(of.job),
    "sheets": lambda of: list(_leaves(of)),
    "shop": lambda of: shop_drawings(
        of.job, of.pictures, of.wanted.paper, of.wanted.today, revision(of)
    ),
    "cutlist": lambda of: cutting_list(of.job),
    "plans": lambda of: cut_plans(of.job, of.pictures, of.wanted.plans),
    "orders": lambda of: order_lists(of.job, of.wanted.ordered),
    "travellers": lambda of: travellers(
        of.job, of.pictures, of.wanted.base_url, of.wanted.paths, of.wanted.scans
    ),
    "fit": lambda of: fit_cards(of.job, of.pictures, of.wanted.outdoors, of.wanted.today),
    "seal": lambda of: seal_sheet(of.job, of.pictures, of.wanted.outdoors),
    "season": lambda of: changeover_list(of.job, of.pictures, of.wanted.outdoors, of.wanted.today),
    "heat": lambda of: warm_sheets(of.job, of.pictures, of.wanted.outdoors),
    "grade": _grade,
    "card": lambda of: ventilation_card(
        of.job, of.pictures, of.wanted.outdoors, of.asked.get("card")
    ),
    "worth": lambda of: worth_report(
        of.job, of.pictures, of.wanted.outdoors, of.asked.get("worth")
    ),
    "keep": lambda of: keep_plan(of.job, _kept(of)),
    "tags": lambda of: tags(
        of.job, of.pictures, of.wanted.base_url, of.wanted.paths, of.wanted.scans
    ),
}
"""Makes the words of each part."""


def revision(of: Making) -> str:
    """What the papers say of the edition they are set from."""
    return of.wanted.revision or revision_of(of.job.house)


def revision_of(house: House) -> str:
    """Which edition of a house file it is: six letters that change with anything it says."""
    return hashlib.sha256(house.model_dump_json().encode()).hexdigest()[:6]


def _frame(job: Job, wanted: Wanted) -> dict[str, Any]:
    """What stands on every page, and in the file's own description."""
    house, today = job.house, wanted.today
    place = f", {house.place}" if house.place else ""
    return {
        "title": f"{house.name}: windows",
        "author": "Sashwright",
        "description": f"{count(len(job.windows), 'window')} of {house.name}{place}, {date(today)}",
        "lang": "en",
        "region": REGIONS[job.words.system],
        "running": f"{house.name}{place}",
        "foot": f"Sashwright, {date(today)}, revision {wanted.revision or revision_of(house)}",
        "empty": NO_WINDOWS,
        "units": f"bare sizes in {job.words.length_unit}",
    }
