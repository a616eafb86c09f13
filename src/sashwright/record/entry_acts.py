"""What each kind of entry does to the record."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import singledispatch
from uuid import UUID

from django.contrib.auth.models import User
from django.utils import timezone

from sashwright import units
from sashwright.record import entries
from sashwright.record.documents import canonical, system_of
from sashwright.record.entries import AtWindow, Entry, Which
from sashwright.record.errors import NotThere, refused
from sashwright.record.merge import with_fields
from sashwright.record.models import House, Sent, Window
from sashwright.record.people import name_of
from sashwright.record.photographs import add_photograph
from sashwright.record.readings import add_reading
from sashwright.record.saving import save_fields, save_later
from sashwright.record.state import Document
from sashwright.record.undo import undo
from sashwright.record.windows import add_window
from sashwright.window.components import part_words
from sashwright.window.survey_acts import ALL_SOUND, told_sound, without

Applied = tuple[Window | None, bool]
"""The window that it was about, and whether others' changes were kept beside it."""


@dataclass(frozen=True, slots=True)
class Work:
    """Where and for whom an entry is carried out."""

    house: House
    who: User
    picture: bytes | None

    @property
    def system(self) -> units.System:
        return system_of(self.house.document)

    @property
    def slug(self) -> str:
        return self.house.slug

    def window(self, which: Which) -> Window:
        """The window an entry is about. Raises ``NotThere``, ``Refused``."""
        identity = identity_of(which)
        rows = Window.objects.filter(house=self.house)
        row = None if identity is None else rows.filter(pk=identity).first()
        if row is None:
            raise refused(
                "window", "one that has not come in", "it to be sent before what is on it"
            )
        if row.gone:
            raise NotThere(f"Window {row.number} was removed; the history can put it back.")
        return row


def identity_of(which: Which) -> int | None:
    """What tells the window from all others in the record; None where it has not come in."""
    if which.made is None:
        return which.id
    answer = Sent.objects.filter(key=which.made).values_list("answer", flat=True).first()
    return answer["window"] if answer else None


def _came_in(made: UUID) -> int:
    """The version in which a window made on a device came in."""
    answer = Sent.objects.filter(key=made).values_list("answer", flat=True).first()
    return int(answer["version"]) if answer else 0


@singledispatch
def apply(entry: Entry, work: Work) -> Applied:
    """Do what an entry says. Raises ``Conflict``, ``Refused``, ``NotThere``. Needs the house held."""
    raise NotImplementedError(type(entry).__name__)


@apply.register
def _(entry: entries.AddWindow, work: Work) -> Applied:
    kept = add_window(work.slug, entry.document, work.who)
    return Window.objects.get(house=work.house, number=kept.key, gone=False), False


@apply.register
def _(entry: entries.SetFields, work: Work) -> Applied:
    row = work.window(entry.window)
    base = _came_in(entry.window.made) if entry.window.made else entry.base
    kept = save_later(work.slug, "window", row.number, entry.fields, base, entry.was, work.who)
    return _again(row), kept.merged


@apply.register
def _(entry: entries.Weighed, work: Work) -> Applied:
    row = work.window(entry.window)
    try:
        mass = units.parse_mass(entry.mass, work.system)
    except units.UnitsError:
        raise refused(
            "mass", repr(entry.mass), "a mass such as 18 lb 6 oz, 18.4 lb or 8.35 kg"
        ) from None
    add_reading(
        work.slug, row.number, entry.which, mass, entry.state, work.who, entry.note, entry.at
    )
    return _again(row), False


@apply.register
def _(entry: entries.Finding, work: Work) -> Applied:
    row = work.window(entry.window)

    def changed(condition: Document) -> Document:
        found = list(condition.get("found", []))
        if entry.act == "add":
            sound = without(condition.get("sound", []), str(entry.found.get("on")))
            return {"found": [*found, entry.found], "sound": sound}
        wanted = _as_kept(row, entry.found, work.system)
        kept = [_as_kept(row, each, work.system) for each in found]
        alike = [at for at, each in enumerate(kept) if each == wanted]
        if not alike:
            raise refused("found", "a finding that is not there as it was", "one of the list")
        return {"found": [each for at, each in enumerate(found) if at != alike[0]]}

    on = part_words(str(entry.found.get("on", "")))
    gone = " taken away" if entry.act == "remove" else ""
    return _surveyed(entry, work, changed, f"{on}: {entry.found.get('fault', '')}{gone}")


@apply.register
def _(entry: entries.Sound, work: Work) -> Applied:
    def changed(condition: Document) -> Document:
        return told_sound(condition.get("found", []), condition.get("sound", []), entry.on)

    return _surveyed(entry, work, changed, f"{part_words(entry.on)}: sound")


@apply.register
def _(entry: entries.Rest, work: Work) -> Applied:
    if entry.act == "as-typical":
        return _surveyed(entry, work, lambda _: {"as_typical": True}, "the rest as typical")
    return _surveyed(entry, work, lambda _: dict(ALL_SOUND), "all sound")


@apply.register
def _(entry: entries.Photo, work: Work) -> Applied:
    if work.picture is None:
        raise refused("photo", "no file", "the file of the photograph")
    row = work.window(entry.window) if entry.window else None
    add_photograph(
        work.slug,
        work.picture,
        work.who,
        window=row.number if row else None,
        component=entry.component or None,
        note=entry.note,
        key=str(entry.key),
    )
    return row, False


@apply.register
def _(entry: entries.Undo, work: Work) -> Applied:
    done = Sent.objects.filter(key=entry.of, user=work.who).first()
    if done is None or done.answer["change"] is None:
        raise refused("of", "nothing that has come in", "an entry that changed something")
    undo(done.answer["change"], work.who)
    return Window.objects.filter(pk=done.answer["window"], gone=False).first(), False


def _surveyed(
    entry: AtWindow, work: Work, changed: Callable[[Document], Document], says: str
) -> Applied:
    """Change what the survey says of a window as it is now: two may survey one window, and both count."""
    assert entry.window is not None, "only photographs do without a window"
    row = work.window(entry.window)
    condition = row.document.get("condition", {})
    fields = changed(condition)
    if not condition.get("on") and not condition.get("by"):
        # A device may be ahead of its time.
        day = timezone.localdate(min(entry.at, timezone.now()))
        fields |= {"on": day.isoformat(), "by": name_of(work.who)}
    under = {f"condition.{name}": value for name, value in fields.items()}
    says = f"window {row.number}: {says}"
    save_fields(work.slug, "window", row.number, under, row.version, work.who, says)
    return _again(row), False


def _as_kept(row: Window, found: Document, system: units.System) -> Document:
    """A finding as the window's document would say it. Raises ``Refused``."""
    document = with_fields(row.document, {"condition.found": [found]})
    kept: Document = canonical("window", document, system)["condition"]["found"][0]
    return kept


def _again(row: Window) -> Window:
    row.refresh_from_db()
    return row
