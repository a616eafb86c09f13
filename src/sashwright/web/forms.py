"""Forms for people: the described fields with what they hold now, what they offer and expect."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from pydantic import BaseModel

from sashwright import units
from sashwright.knowledge.tables import Knowledge, Row
from sashwright.web import fields, words
from sashwright.web.fields import Field, Group

Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """One field on the page."""

    field: Field
    id: str
    texts: tuple[str, ...]
    """One for each control; the last may be empty, to add to a list."""
    options: Options = ()
    placeholder: str = ""
    unit: str = ""
    says: str = ""
    removable: bool = False

    @property
    def path(self) -> str:
        return self.field.path

    @property
    def is_select(self) -> bool:
        return self.field.kind in ("row", "choice", "yes or no", "key") and bool(self.options)

    @property
    def keypad(self) -> str:
        """Which keys a phone offers."""
        return {"whole": "numeric", "year": "numeric", "number": "decimal", "money": "decimal"}.get(
            self.field.kind, "decimal" if self.field.kind in ("length", "percent") else "text"
        )


@dataclass(frozen=True, slots=True)
class ShownGroup:
    """A heading and the fields under it."""

    title: str
    fields: tuple[Shown, ...]
    open: bool = True

    @property
    def filled(self) -> int:
        """How many fields hold something that was typed."""
        return sum(1 for shown in self.fields if any(shown.texts))


@dataclass(frozen=True)
class Form:
    """What is needed to show fields: the reader's system, the tables, and other offers by path."""

    system: units.System
    knowledge: Knowledge
    offers: Mapping[str, Options]

    def groups(self, groups: Iterable[Group], model: BaseModel) -> list[ShownGroup]:
        return [
            ShownGroup(group.title, tuple(self.show(item, model) for item in group.fields))
            for group in groups
        ]

    def show(
        self,
        item: Field,
        model: BaseModel | None,
        *,
        inherited: Sequence[str] = (),
        says: str = "",
    ) -> Shown:
        """A field as the model has it; ``inherited`` is what holds while it is empty."""
        texts = fields.texts(item, fields.value_at(model, item.path), self.system)
        placeholder = ", ".join(inherited) or self._placeholder(item)
        options = self._options(item, texts, inherited)
        return Shown(
            item,
            id_of(item.path),
            tuple(_slots(item, texts)),
            options,
            placeholder,
            fields.UNITS.get(item.kind, ("", ""))[self.system == "metric"],
            says,
            removable=bool(inherited),
        )

    def show_typed(self, item: Field, text: str, says: str) -> Shown:
        """A field of something that is not kept yet, with what was typed and what is wrong."""
        shown = self.show(item, None, says=says)
        return replace(shown, texts=(text,), options=self._options(item, [text], ()))

    def _placeholder(self, item: Field) -> str:
        if item.path in words.WHEN_EMPTY:
            return words.WHEN_EMPTY[item.path]
        examples = fields.EXAMPLES.get(item.kind)
        return examples[self.system == "metric"] if examples and item.optional else ""

    def _options(self, item: Field, texts: Sequence[str], inherited: Sequence[str]) -> Options:
        name = plain_path(item.path)
        if item.path in self.offers:
            offered = self.offers[item.path]
        elif item.table:
            offered = table_options(self.knowledge, item.table, words.STRIP_PLACES.get(name))
            if name in words.ROWS_OF:
                offered = _only(offered, getattr(self.knowledge, item.table), *words.ROWS_OF[name])
        elif item.choices:
            offered = tuple((name, words.CHOICES.get(name, name)) for name in item.choices)
        else:
            return ()
        known = {value for value, _ in offered}
        strange = tuple((text, text) for text in texts if text and text not in known)
        empty: Options = ()
        if item.optional or item.many:
            names = dict(offered)
            says = ", ".join(names.get(text, text) for text in inherited)
            empty = (("", f"as the rest: {says}" if says else "–"),)
        return empty + offered + strange


def _slots(item: Field, texts: Sequence[str]) -> list[str]:
    """A control for each text, and one more where the list can grow."""
    if item.many and len(texts) < item.most and item.kind != "length":
        return [*texts, ""]
    return list(texts) or [""]


def id_of(path: str) -> str:
    """The id of a field's control."""
    return "f-" + path.replace(".", "-")


def plain_path(path: str) -> str:
    """The path by which words are kept: without the prefix of differences."""
    path = path.removeprefix("changes.")
    first, _, rest = path.partition(".")
    if first in ("upper", "lower") and rest:
        return f"sash.{rest}"
    return path


def _only(offered: Options, rows: Mapping[str, Row], column: str, word: str) -> Options:
    """Those rows that say this word in a column."""
    return tuple((key, name) for key, name in offered if getattr(rows[key], column) == word)


def table_options(knowledge: Knowledge, table: str, places: set[str] | None = None) -> Options:
    """The rows of a table by name, those that fit the places only."""
    rows: Mapping[str, Row] = getattr(knowledge, table)
    return tuple(
        (key, row.name)
        for key, row in rows.items()
        if places is None or key == "none" or places & set(getattr(row, "places", places))
    )
