"""What can be done in a survey: each act turns what was posted into changes of the document."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.contrib.auth.models import User
from django.http import QueryDict
from django.utils import timezone

from sashwright.record import store
from sashwright.web import surveying
from sashwright.web.fields import FieldError
from sashwright.web.surveying import Document, Subject
from sashwright.window.components import part_words
from sashwright.window.survey_acts import ALL_SOUND, told_sound, without


class Moved(Exception):  # noqa: N818 - as Conflict
    """What was to be changed is not there any more as it was."""


Act = Callable[[User, Subject, QueryDict], tuple[Document, str]]


def _signed(who: User, subject: Subject) -> Document:
    """Who looks at a window for the first time, and when, is noted with what they find."""
    condition = subject.condition
    if condition is None or condition.on or condition.by:
        return {}
    return {"on": timezone.localdate().isoformat(), "by": store.name_of(who)}


def _finding(who: User, subject: Subject, posted: QueryDict) -> tuple[Document, str]:
    """Add a finding, or keep one that is changed."""
    new = surveying.read_found(posted, subject)
    kept = list(subject.document.get("found", []))
    words = part_words(new["on"])
    changes: Document = _signed(who, subject)
    if posted.get("finding"):
        at = _must_be_there(subject, posted.get("finding", ""))
        # Photographs stay with it.
        kept[at] = {**new, **{k: v for k, v in kept[at].items() if k == "photos"}}
        said = f"{words}: changed."
    else:
        kept.append(new)
        said = f"{words}: kept."
    if subject.condition is not None:
        changes["sound"] = without(subject.condition.sound, new["on"], subject.plain)
    return {**changes, "found": kept}, said


def _remove(_: User, subject: Subject, posted: QueryDict) -> tuple[Document, str]:
    kept = list(subject.document.get("found", []))
    gone = kept.pop(_must_be_there(subject, posted.get("finding", "")))
    return {"found": kept}, f"{part_words(gone['on'])}: the finding is taken away."


def _must_be_there(subject: Subject, token: str) -> int:
    at = place_of(subject, token)
    if at is None:
        raise Moved
    return at


def _sound(who: User, subject: Subject, posted: QueryDict) -> tuple[Document, str]:
    """A part that was looked at and is sound; what was found on just that part goes."""
    on, condition = posted.get("on", ""), subject.condition
    subject.kinds(on)
    if condition is None:
        raise FieldError("Found a part that is sound, expected one of a window.")
    if posted.get("not"):
        others = without(condition.sound, on, subject.plain)
        return {"sound": others}, f"{part_words(on)}: no longer told to be sound."
    found = subject.document.get("found", [])
    changes = told_sound(found, condition.sound, on, subject.plain)
    return _signed(who, subject) | changes, f"{part_words(on)}: sound."


def _survey(_: User, subject: Subject, posted: QueryDict) -> tuple[Document, str]:
    """When and by whom it was surveyed, and what else holds for it."""
    if subject.condition is None:
        raise FieldError("Found a survey, expected one of a window.")
    changes = {name: posted.get(name, "").strip() or None for name in ("on", "like")}
    return {
        **changes,
        "by": posted.get("by", "").strip(),
        "as_typical": posted.get("as_typical") == "yes",
    }, f"The survey of window {subject.key} is kept."


def _as_typical(who: User, subject: Subject, _: QueryDict) -> tuple[Document, str]:
    """The rest of the window is as windows of its family and house are."""
    if subject.condition is None:
        raise FieldError("Found a survey, expected one of a window.")
    signed = {"on": timezone.localdate().isoformat(), "by": store.name_of(who)}
    return {**signed, "as_typical": True}, f"Window {subject.key}: the rest as typical."


def _all_sound(who: User, subject: Subject, _: QueryDict) -> tuple[Document, str]:
    """Nothing at all is wrong with the window."""
    if subject.condition is None:
        raise FieldError("Found a survey, expected one of a window.")
    signed = {"on": timezone.localdate().isoformat(), "by": store.name_of(who)}
    return {**signed, **ALL_SOUND}, f"Window {subject.key}: all sound."


def _tested(_: User, subject: Subject, posted: QueryDict) -> tuple[Document, str]:
    which = posted.get("which", "")
    if which not in surveying.HAZARDS:
        raise FieldError(f"Found a test for {which[:20]!r}, expected one for lead or asbestos.")
    return {which: surveying.read_test(posted)}, f"The test for {which} is kept."


ACTS: Mapping[str, Act] = {
    "finding": _finding,
    "remove": _remove,
    "sound": _sound,
    "survey": _survey,
    "typical": _as_typical,
    "all-sound": _all_sound,
    "test": _tested,
}
WHOLE = frozenset({"survey", "test"})
"""Acts that write over fields which the page showed, so that its version counts."""


def place_of(subject: Subject, token: str) -> int | None:
    """Where a finding stands in the list; None where it is not there as it was."""
    tokens = [surveying.token_of(each) for each in subject.document.get("found", [])]
    return tokens.index(token) if token in tokens else None
