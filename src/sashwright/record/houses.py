"""Houses as a whole: listed, made, brought in, read, written out, removed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.contrib.auth.models import User
from django.db import transaction
from django.db.models import Count, QuerySet
from django.utils import timezone
from django.utils.text import slugify

from sashwright.record.documents import house_of, written
from sashwright.record.edit import Edit, editing
from sashwright.record.errors import NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.record.housefile import house_document
from sashwright.record.models import Change, Family, House, Window
from sashwright.record.people import name_of
from sashwright.record.rows import read_steadily
from sashwright.record.says import count
from sashwright.record.state import State
from sashwright.units import System
from sashwright.window import spec
from sashwright.window.check import HouseError, house_from

_LONGEST_SLUG = 60

NOT_A_HOUSE = frozenset(
    {
        "api", "backups", "board", "certificate", "due", "import", "keys", "look", "new", "offline", "pair",
        "people", "scan", "shop", "sign-in", "sign-out", "static", "theme", "undo",
    }
)  # fmt: skip
"""What addresses of the site itself begin with; no house is called so in its own."""


@dataclass(frozen=True, slots=True)
class HouseRow:
    """A house in a list."""

    slug: str
    name: str
    place: str
    windows: int
    families: int
    changed_at: datetime
    changed_by: str


def list_houses() -> list[HouseRow]:
    """Every house, the one changed last first."""
    return _listed(House.objects.filter(gone=False))


def list_removed() -> list[HouseRow]:
    """Every house that was removed; undoing its removal, ``removal_of``, puts it back."""
    # A version above 0 tells a removed house from one that never came to be.
    return _listed(House.objects.filter(gone=True, version__gt=0))


def _listed(houses: QuerySet[House]) -> list[HouseRow]:
    windows, families = _counts(Window), _counts(Family)
    return [
        HouseRow(
            house.slug,
            house.document["name"],
            house.document.get("place", ""),
            windows.get(house.pk, 0),
            families.get(house.pk, 0),
            house.changed_at,
            name_of(house.changed_by),
        )
        for house in houses.select_related("changed_by").order_by("-changed_at", "-pk")
    ]


def _counts(kind: type[Window] | type[Family]) -> dict[int, int]:
    """How many there are in each house."""
    alive = kind._default_manager.filter(gone=False).order_by()
    return dict(alive.values_list("house").annotate(Count("pk")))


# --- made and brought in ----------------------------------------------------------


def create_house(document: Mapping[str, Any], who: User) -> str:
    """Make a house from a document, with its families and windows if it has any; answer its slug.

    Raises ``Refused`` with everything that is wrong, and then makes nothing.
    """
    house = _checked(document)
    return _create(house, who, f"house made with {_contents(house)}")


def import_house(document: Mapping[str, Any], who: User, slug: str | None = None) -> str:
    """Bring in a house from a file's document; answer its slug.

    Without a slug it becomes a new house. With one it takes the place of what that house holds, as
    one change that can be undone; windows and families of the same name keep their history. Raises
    ``Refused`` with everything that is wrong, ``NotThere`` for an unknown slug, and then changes
    nothing.
    """
    house = _checked(document)
    if slug is None:
        return _create(house, who, f"house brought in with {_contents(house)}")
    with editing(slug, who) as edit:
        _fill(edit, house)
        edit.finish(f"contents replaced by a file with {_contents(house)}", check=False)
    return slug


def _checked(document: Mapping[str, Any]) -> spec.House:
    try:
        return house_from(document, knowledge())
    except HouseError as error:
        raise Refused(error.problems) from None


def _contents(house: spec.House) -> str:
    families = count(len(house.families), "family", "families")
    return f"{families} and {count(len(house.windows), 'window')}"


@transaction.atomic
def _create(house: spec.House, who: User, says: str) -> str:
    now = timezone.now()
    row = House.objects.create(
        slug=_free_slug(house.name),
        document={},
        gone=True,
        created_at=now,
        changed_at=now,
        changed_by=who,
    )
    edit = Edit(row, who)
    _fill(edit, house)
    edit.finish(says, check=False)
    return row.slug


def _free_slug(name: str) -> str:
    """A name for addresses that no house has or had."""
    plain = slugify(name)[:_LONGEST_SLUG].strip("-_") or "house"
    taken = set(House.objects.filter(slug__startswith=plain).values_list("slug", flat=True))
    slug, at = plain, 2
    while slug in taken | NOT_A_HOUSE:
        slug, at = f"{plain}-{at}", at + 1
    return slug


def _fill(edit: Edit, house: spec.House) -> None:
    """Have a house hold just this: what is there of the same name changes, the rest goes."""
    system = house.units
    edit.plan(edit.house, State(written("house", house, system)))
    for order, (key, family) in enumerate(house.families.items()):
        row = edit.families.get(key) or edit.add_family(key, {})
        edit.plan(row, State(written("family", family, system), key, order))
    for order, window in enumerate(house.windows):
        document = written("window", window, system)
        place = edit.windows.get(window.number) or edit.add_window(document)
        edit.plan(place, State(document, order=order))
    numbers = {window.number for window in house.windows}
    for number in edit.windows.keys() - numbers:
        edit.plan(edit.windows[number], None)
    for key in edit.families.keys() - house.families.keys():
        edit.plan(edit.families[key], None)


# --- read and written out ---------------------------------------------------------


def load_house(slug: str) -> spec.House:
    """A house as the chapters take it. Raises ``NotThere``.

    Its fields are checked, its geometry is not: that is for those who change it, not who look.
    Raises ``Refused`` where an older program kept what this one cannot read.
    """
    return read_steadily(slug, _load)


def _load(house: House) -> spec.House:
    families = Family.objects.filter(house=house, gone=False).values_list("key", "document")
    windows = Window.objects.filter(house=house, gone=False).values_list("document", flat=True)
    return house_of(house.document, dict(families), windows)


def export_document(slug: str, system: System | None = None) -> dict[str, Any]:
    """A house as one document for a file: families in full, windows without what is plain.

    ``system`` prefers other units than the house's own; what is said stays exactly the same. Raises
    ``NotThere``.
    """
    house = load_house(slug)
    document = house_document(house.model_copy(update={"units": system or house.units}))
    return {**document, "units": house.units}


# --- removed and put back ---------------------------------------------------------


def remove_house(slug: str, who: User) -> Change:
    """Take a house out of the list; ``undo`` of the change puts it back. Raises ``NotThere``."""
    with editing(slug, who) as edit:
        edit.plan(edit.house, None)
        return edit.finish_something("house removed")


def removal_of(slug: str) -> int:
    """The change that removed a house, to be undone. Raises ``NotThere``."""
    house = House.objects.filter(slug=slug, gone=True).first()
    removals = Change.objects.filter(
        house=house, revisions__kind="house", revisions__after__isnull=True
    )
    change = removals.first() if house else None
    if change is None:
        raise NotThere(f"There is no removed house {slug}.")
    return change.pk
