"""What a survey is of (a window, a family, a house), what is known of its parts, and what a form says."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from django.http import QueryDict
from django.urls import reverse

from sashwright import units
from sashwright.chapters.words import Words
from sashwright.drawing.conditionmap import KEY, Told, condition_map, swatch, told_of
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.knowledge.work_tables import SEVERITIES, Component, Fault
from sashwright.record import store
from sashwright.record.errors import NotThere, Stored
from sashwright.web import fields
from sashwright.web.fields import FieldError
from sashwright.web.pictures import Picture, svg
from sashwright.window.components import (
    NAMES,
    Piece,
    kind_named,
    named,
    part_words,
    pieces_of,
)
from sashwright.window.condition import Condition, Found, HazardTest, Typical
from sashwright.window.resolve import Placed
from sashwright.window.spec import House
from sashwright.window.surveyed import MEASURES, Surveyed, hazard, surveyed

Kind = Literal["window", "family", "house"]
Document = dict[str, Any]
FROM = {"own": "", "like": "as the other window", "family": "typical of the family",
        "house": "typical of the house"}  # fmt: skip
OWNERS = {"upper": "Upper sash", "lower": "Lower sash", "frame": "Frame", "storm": "Storm sash",
          "screen": "Screen"}  # fmt: skip
HAZARDS: tuple[Literal["lead", "asbestos"], ...] = ("lead", "asbestos")
OUTSIDE = (
    "storm.sash", "storm.left_stile", "storm.right_stile", "storm.top_rail", "storm.bottom_rail",
    "storm.lite", "storm.paint", "screen.sash", "screen.cloth",
)  # fmt: skip
IN_A_SASH = frozenset(list(NAMES)[: list(NAMES).index("sill")])
"""First words of parts that belong to a sash."""


@dataclass(frozen=True)
class Subject:
    """What is surveyed, as it stands in the record."""

    kind: Kind
    slug: str
    key: str
    system: units.System
    house: House | None
    """With what a window needs of it; of no other account."""
    knowledge: Knowledge
    placed: Placed | None = None
    """The window; of a family, one that shows it."""

    @property
    def path(self) -> str:
        """Where it stands in its document."""
        return "condition" if self.kind == "window" else "typical"

    @cached_property
    def stored(self) -> Stored:
        return store.stored(self.slug, self.kind, self.key)

    @property
    def document(self) -> Document:
        kept: Document = self.stored.document.get(self.path, {})
        return kept

    @cached_property
    def typical(self) -> Typical:
        """Its own findings; those of a window are its condition."""
        model = Condition if self.kind == "window" else Typical
        return model.model_validate(self.document, context={"system": self.system})

    @property
    def condition(self) -> Condition | None:
        return self.typical if isinstance(self.typical, Condition) else None

    @property
    def _arguments(self) -> list[str]:
        return [self.slug, *([self.key] if self.key else [])]

    @property
    def home(self) -> str:
        """The page that the survey is a part of."""
        name = "house-details" if self.kind == "house" else self.kind
        return reverse(name, args=self._arguments)

    @property
    def address(self) -> str:
        """The page of the survey itself."""
        return reverse(f"{self.kind}-{self.path}", args=self._arguments)

    @property
    def save(self) -> str:
        return reverse(f"{self.kind}-{self.path}-save", args=self._arguments)

    @cached_property
    def pieces(self) -> Mapping[str, Piece]:
        return {} if self.placed is None else pieces_of(self.placed.layout)

    @cached_property
    def found(self) -> Sequence[Surveyed]:
        """What holds for the window drawn; of a family, what is typical of it."""
        if self.placed is None:
            return []
        if self.house is not None:
            return surveyed(self.placed.layout, self.house, self.knowledge)
        return [
            Surveyed(found, self.knowledge.find("fault", found.fault), pieces, "own")
            for found in self.typical.found
            if (pieces := named(found.on, self.pieces))
        ]

    # --- parts ---

    def kinds(self, name: str) -> set[Component]:
        """What kinds of part a name means here. Raises ``NotThere``."""
        kinds = {piece.kind for piece in named(name, self.pieces)}
        plain = kind_named(name)
        if not kinds and self.kind != "window" and plain is not None:
            kinds = {plain}
        if not kinds:
            raise NotThere(f"There is no part {name!r} here.")
        return kinds

    def plain(self, name: str) -> str:
        """The name of a part in full: ``sill`` is ``frame.sill``."""
        return f"frame.{name}" if f"frame.{name}" in self.pieces else name

    def faults(self, name: str) -> list[Fault]:
        """Faults that such a part can have."""
        kinds = self.kinds(name)
        return [row for row in self.knowledge.fault.values() if kinds & set(row.on)]

    @cached_property
    def parts(self) -> list[tuple[str, list[tuple[str, str]]]]:
        """All parts by whom they belong to, with their names in words; several alike once more together."""
        names = list(self.pieces) or list(_usual_names())
        groups: dict[str, list[tuple[str, str]]] = {}
        for name in [*names, *_together(names)]:
            owner = OWNERS.get(name.partition(".")[0], "Frame")
            groups.setdefault(owner, []).append((name, part_words(name) + _all(name, names)))
        return list(groups.items())

    @cached_property
    def told(self) -> Mapping[str, Told]:
        """What is known of each part drawn."""
        if self.placed is None:
            return {}
        sound = self.condition.sound if self.condition is not None else ()
        return told_of(self.placed, self.found, sound)

    @property
    def listed(self) -> list[tuple[str, list[tuple[str, str, str]]]]:
        """All parts by whom they belong to: name, in words, what is known of it."""
        return [
            (owner, [(n, words, self.told[n].says if n in self.told else "") for n, words in names])
            for owner, names in self.parts
        ]

    def picture(self, chosen: str) -> Picture | None:
        if self.placed is None:
            return None
        drawn = condition_map(
            self.placed,
            self.told,
            link=lambda name: f"{self.address}?on={name}#finding-form",
            chosen=chosen,
        )
        return Picture("condition", svg(drawn, f"condition-{self.kind}"))


def _usual_names() -> Iterator[str]:
    """Parts that windows have as a rule, for a house."""
    for owner in ("upper", "lower"):
        skip = {"upper": ("bottom_rail", "lock", "lift"), "lower": ("top_rail",)}[owner]
        yield from (f"{owner}.{word}" for word in NAMES if word in IN_A_SASH and word not in skip)
    yield from (f"frame.{word}" for word in NAMES if word not in IN_A_SASH)
    yield "frame.paint"
    yield from OUTSIDE


def _together(names: Sequence[str]) -> Iterator[str]:
    """Names that mean several of the parts: ``lower.cord``."""
    counts: dict[str, int] = {}
    for name in names:
        owner, _, last = name.partition(".")
        first, more, _ = last.partition(".")
        if more:
            counts[f"{owner}.{first}"] = counts.get(f"{owner}.{first}", 0) + 1
    yield from (name for name, count in counts.items() if count > 1)


def _all(name: str, names: Sequence[str]) -> str:
    count = sum(each.startswith(f"{name}.") for each in names)
    if not count:
        return ""
    return ", both" if count == 2 else f", all {count}"


def key_pictures() -> list[Picture]:
    """A patch for each mark of the map, and what it means."""
    return [
        Picture("swatch", svg(swatch(mark), f"swatch-{mark}", px_per_mm=4.6), says)
        for mark, says in KEY.items()
    ]


# --- findings as rows -----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Row:
    """A finding in words."""

    token: str
    """Of one that can be changed here; empty for one from elsewhere."""
    on: str
    part: str
    name: str
    severity: str
    how: str
    note: str
    whence: str


def token_of(found: Any) -> str:
    """What tells a finding, or hours spent, from all others: any change makes it another."""
    text = json.dumps(found, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:12]


def rows_of(subject: Subject) -> list[Row]:
    """Its own findings as they were put down, the others that hold after them."""
    kept = subject.document.get("found", [])
    own = [
        _row(found, _fault(subject, found.fault), subject.system, token_of(document), "own")
        for found, document in zip(subject.typical.found, kept, strict=True)
    ]
    others = [
        _row(each.found, each.fault, subject.system, "", each.source)
        for each in subject.found
        if each.source != "own"
    ]
    return own + others


def _fault(subject: Subject, key: str) -> Fault | None:
    try:
        row: Fault = subject.knowledge.find("fault", key)
    except KnowledgeError:
        return None
    return row


def _row(found: Found, fault: Fault | None, system: units.System, token: str, whence: str) -> Row:
    usual = "" if fault is None else fault.usual
    only = fault is not None and len(fault.severities) == 1 and fault.measured == "count"
    return Row(
        token,
        found.on,
        part_words(found.on),
        found.fault if fault is None else fault.name,
        "" if only else (found.severity or usual),
        ", ".join(_how(found, system)),
        found.note,
        FROM[whence],
    )


def _how(found: Found, system: units.System) -> Iterator[str]:
    words = Words(system)
    if found.length is not None:
        yield words.length(found.length)
    if found.count is not None:
        yield f"{found.count} of them" if found.count > 1 else "one"
    if found.area is not None:
        yield f"{found.area / 0.09290304:.3g} ft²" if system == "us" else f"{found.area:.3g} m²"
    if found.probe is not None:
        yield f"awl {words.fine(found.probe)}"
    if found.moisture is not None:
        yield f"meter {found.moisture:g} %"
    if found.photos:
        yield f"{len(found.photos)} photograph{'s' if len(found.photos) > 1 else ''}"


# --- tests ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Test:
    """A test for lead or asbestos: what is said here, and what holds from elsewhere."""

    which: str
    title: str
    own: HazardTest
    holds: str


def tests_of(subject: Subject) -> list[Test]:
    titles = {"lead": "Lead in the paint", "asbestos": "Asbestos in the putty"}
    found = []
    for which in HAZARDS:
        own: HazardTest = getattr(subject.typical, which)
        holds = ""
        house, placed = subject.house, subject.placed
        if house is not None and placed is not None and own.result == "not tested":
            above = hazard(placed.layout, house, which)
            if above.result != "not tested":
                holds = ", ".join(filter(None, (above.result, above.by, above.on)))
        found.append(Test(which, titles[which], own, holds))
    return found


# --- what a form says -----------------------------------------------------------------


def read_found(posted: QueryDict, subject: Subject) -> Document:
    """The finding that was filled in, for the document. Raises ``FieldError``, ``NotThere``."""
    on, key = posted.get("on", ""), posted.get("fault", "")
    if not key:
        raise FieldError("Found no fault, expected one of the list.")
    fault = _fault(subject, key)
    if fault is None or fault not in subject.faults(on):
        raise FieldError(
            f"Found the fault {key[:40]!r}, expected one that {part_words(on)} can have."
        )
    found: Document = {"on": on, "fault": fault.key}
    if posted.get("severity"):
        found["severity"] = posted["severity"]
    for item in fields.found_fields():
        if item.path in MEASURES and item.path != fault.measured:
            continue
        try:
            value = fields.read(item, posted.getlist(item.path), subject.system)
        except FieldError as error:
            says = str(error)
            raise FieldError(f"{item.label}: {says[:1].lower()}{says[1:]}") from None
        if value is not None:
            found[item.path] = value
    return found


def read_test(posted: QueryDict) -> Document:
    """A test for lead or asbestos, for the document."""
    given = {name: posted.get(name, "").strip() for name in ("result", "by", "on", "note")}
    return {name: text for name, text in given.items() if text}


def severities_of(fault: Fault) -> list[str]:
    """How bad it can be, the slightest first."""
    return [each for each in SEVERITIES if each in fault.severities]
