"""The short sentences of the history: ``window 204: width 32 in to 32 1/2 in``."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from sashwright.record.merge import FieldChange, differences

_MOST = 3
_MOST_NAMED = 6
_LONGEST = 40


def what_changed(name: str, before: Mapping[str, Any], after: Mapping[str, Any]) -> str:
    """One sentence about a document that changed; ``name`` says whose it is."""
    changes = differences(before, after)
    told = ", ".join(_told(change) for change in changes[:_MOST])
    more = f" and {len(changes) - _MOST} more" if len(changes) > _MOST else ""
    return f"{name}: {told}{more}"


def _told(change: FieldChange) -> str:
    field = change.path.replace(".", " ").replace("_", " ")
    if change.before in (None, ""):
        return f"{field} set to {told_value(change.after)}"
    if change.after in (None, ""):
        return f"{field} {told_value(change.before)} cleared"
    return f"{field} {told_value(change.before)} to {told_value(change.after)}"


def told_value(value: Any) -> str:
    """A value of a document as a sentence says it, shortened."""
    if isinstance(value, float):
        text = f"{value:g}"
    elif isinstance(value, Mapping):
        text = json.dumps(value, ensure_ascii=False)
    elif isinstance(value, Sequence) and not isinstance(value, str):
        text = ", ".join(told_value(item) for item in value) or "none"
    else:
        text = " ".join(str(value).split())
    return text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"


def count(number: int, word: str, words: str | None = None) -> str:
    """``1 window``, ``3 windows``."""
    return f"{number} {word if number == 1 else words or word + 's'}"


def named(word: str, names: Sequence[str]) -> str:
    """``window 204``, ``windows 204 and 205``, ``24 windows``."""
    if len(names) == 1:
        return f"{word} {names[0]}"
    if 1 < len(names) <= _MOST_NAMED:
        return f"{word}s {', '.join(names[:-1])} and {names[-1]}"
    return count(len(names), word)
