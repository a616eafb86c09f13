"""Documents compared and merged, field by field. Pure functions on plain values.

A list counts as one value: two people who change the same list have changed the same field.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sashwright.record.errors import FieldConflict
from sashwright.record.state import Document


class _Nothing:
    """The value of a field that is not there."""

    def __repr__(self) -> str:
        return "nothing"


NOTHING = _Nothing()
Path = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One field before and after; ``None`` where it had or has no value."""

    path: str
    before: Any
    after: Any


def differences(before: Mapping[str, Any], after: Mapping[str, Any]) -> list[FieldChange]:
    """Every field whose value differs, by its dotted path, in the order of the documents."""
    return [
        FieldChange(".".join(path), _shown(old), _shown(new))
        for path, old, new in _different((), before, after)
    ]


def _different(path: Path, before: Any, after: Any) -> Iterator[tuple[Path, Any, Any]]:
    if before == after:
        return
    if not _branches(before, after):
        yield path, before, after
        return
    old, new = _branch(before), _branch(after)
    for key in {**old, **new}:
        yield from _different((*path, key), old.get(key, NOTHING), new.get(key, NOTHING))


@dataclass(slots=True)
class _Merging:
    """The fields in dispute, as they are met."""

    conflicts: list[FieldConflict] = field(default_factory=list)

    def merge(self, path: Path, base: Any, mine: Any, theirs: Any) -> Any:
        if theirs in (mine, base):
            return mine
        if mine == base:
            return theirs
        if not _branches(base, mine, theirs):
            self.conflicts.append(
                FieldConflict(".".join(path), _shown(base), _shown(mine), _shown(theirs))
            )
            return theirs
        trees = [_branch(tree) for tree in (base, mine, theirs)]
        merged = {}
        for key in {**trees[2], **trees[1]}:
            value = self.merge((*path, key), *(tree.get(key, NOTHING) for tree in trees))
            if value is not NOTHING:
                merged[key] = value
        return merged


def merge(
    base: Mapping[str, Any], mine: Mapping[str, Any], theirs: Mapping[str, Any]
) -> tuple[Document, list[FieldConflict]]:
    """Both sides' changes to ``base`` together, and the fields which both changed differently."""
    work = _Merging()
    merged: Document = work.merge((), base, mine, theirs)
    return merged, work.conflicts


def with_fields(document: Mapping[str, Any], fields: Mapping[str, Any]) -> Document:
    """A document with some fields set, named by dotted paths; ``None`` takes a field away.

    Raises ``KeyError`` with the path of a field inside of what has no fields.
    """
    changed = dict(document)
    for path, value in fields.items():
        try:
            changed = _with_field(changed, path.split("."), value)
        except TypeError:
            raise KeyError(path) from None
    return changed


def _with_field(document: Any, path: Sequence[str], value: Any) -> Document:
    """Raises ``TypeError`` where the document, or what is inside of it, has no fields."""
    if not isinstance(document, Mapping):
        raise TypeError
    name, *inner = path
    if inner:
        return {**document, name: _with_field(document.get(name, {}), inner, value)}
    rest = {key: old for key, old in document.items() if key != name}
    return rest if value is None else {**document, name: value}


def _branches(*values: Any) -> bool:
    """Whether all have fields inside; what is not there may count as empty."""
    return any(isinstance(value, Mapping) for value in values) and all(
        value is NOTHING or isinstance(value, Mapping) for value in values
    )


def _branch(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}


def _shown(value: Any) -> Any:
    return None if value is NOTHING else value
