"""Rooms and doors of a house: where they lie in plan, who is in them, what joins them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from sashwright import units
from sashwright.record import store
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.web import fields, pictures, saving, words
from sashwright.web.fields import Field, FieldError
from sashwright.web.forms import Form, Shown
from sashwright.web.views.common import HouseHead, head_of, latest_change, tell, user_of
from sashwright.web.views.house import model_of
from sashwright.window.rooms import Door, Room
from sashwright.window.spec import House

NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _/-]{0,63}")
"""What a room can be called here. Files may also have full stops in it, which fields cannot."""


@dataclass(frozen=True, slots=True)
class RoomForm:
    """A room, or a new one without a name."""

    name: str
    fields: tuple[Shown, ...]
    about: str = ""
    windows: str = ""
    says: str = ""
    open: bool = False
    typed: str = ""
    fixed: bool = False
    """Its name keeps all else from being changed here."""

    @property
    def anchor(self) -> str:
        return f"room-{_plain(self.name)}"

    @property
    def name_id(self) -> str:
        """Of the field with its name."""
        return f"f-{self.anchor}-name" if self.name else "new-room-name"


@dataclass(frozen=True, slots=True)
class DoorForm:
    """A door by its place in the list, or a new one."""

    at: int | None
    between: tuple[str, str]
    fields: tuple[Shown, ...]
    about: str = ""
    says: str = ""
    open: bool = False


@dataclass(frozen=True, slots=True)
class Wrong:
    """What was typed into a form, and why it was not kept; ``which`` names the form."""

    which: str
    says: str
    posted: QueryDict
    status: int = 422


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    return _page(request, head_of(request, slug))


def _page(request: HttpRequest, head: HouseHead, wrong: Wrong | None = None) -> HttpResponse:
    bare = model_of(head)
    house = store.load_house(head.slug)
    form = Form(head.system, knowledge(), {})
    stand = _windows_by_room(house)
    lost = {room: numbers for room, numbers in stand.items() if room not in house.rooms}
    context = {
        "house": head,
        "base": head.stored.version,
        "plans": pictures.room_plans(house),
        "rooms": [_room_form(form, name, bare.rooms[name], stand, wrong) for name in bare.rooms],
        "new_room": _room_form(form, "", None, {}, wrong, first=not bare.rooms),
        "doors": [_door_form(form, at, door, wrong) for at, door in enumerate(bare.doors)],
        "new_door": _door_form(form, None, None, wrong),
        "names": list(bare.rooms),
        "lost": [(room, ", ".join(numbers)) for room, numbers in lost.items() if room],
        "roomless": ", ".join(lost.get("", ())),
    }
    return render(request, "web/rooms.html", context, status=wrong.status if wrong else 200)


def _windows_by_room(house: House) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for window in house.windows:
        found.setdefault(window.room, []).append(window.number)
    return found


def _room_form(
    form: Form,
    name: str,
    room: Room | None,
    stand: Mapping[str, Sequence[str]],
    wrong: Wrong | None,
    *,
    first: bool = False,
) -> RoomForm:
    which = f"room {name}"
    mine = wrong if wrong is not None and wrong.which == which else None
    model = room or Room(width=1.0, depth=1.0)
    shown = _shown(form, fields.room_fields(), model, f"f-room-{_plain(name)}", new=room is None)
    return RoomForm(
        name,
        _typed(shown, mine),
        _about_room(room, form.system) if room else "",
        ", ".join(stand.get(name, ())),
        mine.says if mine else "",
        mine is not None or (room is None and first),
        mine.posted.get("name", name) if mine else name,
        fixed="." in name,
    )


def _door_form(form: Form, at: int | None, door: Door | None, wrong: Wrong | None) -> DoorForm:
    mine = wrong if wrong is not None and wrong.which == f"door {at}" else None
    model = door or Door(between=("a", "b"))
    shown = _shown(form, fields.door_fields(), model, f"door-{'new' if at is None else at}")
    between = door.between if door else ("", "")
    if mine:
        between = (mine.posted.get("one", ""), mine.posted.get("other", ""))
    about = _about_door(door, form.system) if door else ""
    says = mine.says if mine else ""
    return DoorForm(at, between, _typed(shown, mine), about, says, mine is not None)


def _about_room(room: Room, system: units.System) -> str:
    """``storey 1, 15' by 9'-2", by day``"""
    sizes = " by ".join(_long(each, system) for each in (room.width, room.depth))
    heated = "" if room.heated else ", not heated"
    return f"storey {room.storey}, {sizes}, {words.CHOICES[room.use]}{heated}"


def _about_door(door: Door, system: units.System) -> str:
    """``door 2'-8" by 6'-8", usually shut``"""
    sizes = " by ".join(_long(each, system) for each in (door.width, door.height))
    return f"{door.kind} {sizes}" + (f", usually {door.usual}" if door.shuts else "")


def _long(metres: float, system: units.System) -> str:
    """A length of a house: feet and inches, or metres."""
    if system == "us":
        return units.format_length(metres, "us", nearest=2, feet=True)
    return f"{metres:.2f} m"


def _shown(
    form: Form, items: Iterable[Field], model: Room | Door, prefix: str, *, new: bool = False
) -> list[Shown]:
    """The fields of a form; those of a new room that nobody can guess are empty."""
    guessed = [form.show(item, model) for item in items]
    return [
        replace(
            shown,
            id=f"{prefix}-{shown.path}",
            texts=("",)
            if new and shown.path in ("width", "depth", "left", "front")
            else shown.texts,
        )
        for shown in guessed
    ]


def _typed(shown: Iterable[Shown], wrong: Wrong | None) -> tuple[Shown, ...]:
    if wrong is None:
        return tuple(shown)
    return tuple(replace(each, texts=(wrong.posted.get(each.path, ""),)) for each in shown)


def _plain(name: str) -> str:
    return re.sub(r"[^A-Za-z0-9]+", "-", name) or "new"


# --- keeping --------------------------------------------------------------------------


@require_POST
def room(request: HttpRequest, slug: str) -> HttpResponse:
    """Add a room, change or rename one, or take one away with its doors."""
    head = head_of(request, slug)
    old = request.POST.get("room", "")
    name = request.POST.get("name", old).strip()
    rooms = head.stored.document.get("rooms", {})
    if old and old not in rooms:
        raise NotThere(f"There is no room {old!r} in this house.")
    try:
        if request.POST.get("act") == "remove":
            kept = [d for d in head.stored.document.get("doors", ()) if old not in d["between"]]
            changes: dict[str, Any] = {f"rooms.{old}": None, "doors": kept}
            return _keep(request, head, changes, f"The {old} is taken out of the plan.", "")
        if name != old:
            _check_name(name, rooms)
        if "." not in old:
            at = old or name
            _save(request, head, {
                f"rooms.{at}.{path}": value
                for path, value in _values(request.POST, fields.room_fields(), head).items()
            })  # fmt: skip
        said = f"The {name} is kept."
        if old and name != old:
            store.rename_room(head.slug, old, name, user_of(request))
            said = f"The {old} is now the {name}, in its windows and doors too."
        return _kept(request, head, said, f"#room-{_plain(name)}")
    except (FieldError, Refused, Conflict) as error:
        return _page(request, head_of(request, slug), _wrong(f"room {old}", error, request.POST))


@require_POST
def door(request: HttpRequest, slug: str) -> HttpResponse:
    """Add a door, change one, or take one away."""
    head = head_of(request, slug)
    doors = list(head.stored.document.get("doors", ()))
    place = request.POST.get("door", "")
    at = int(place) if place.isdigit() else None
    if at is not None and at >= len(doors):
        raise NotThere("There is no such door in this house.")
    try:
        if request.POST.get("act") == "remove" and at is not None:
            del doors[at]
            said = "The door is taken away."
        else:
            between = [request.POST.get(end, "") for end in ("one", "other")]
            if not all(between):
                raise FieldError("Found no room, expected the two rooms that it joins.")
            values = _values(request.POST, fields.door_fields(), head)
            made = {"between": between} | {k: v for k, v in values.items() if v is not None}
            if at is None:
                doors.append(made)
            else:
                doors[at] = {**doors[at], **made}
            said = f"The door between {between[0]} and {between[1]} is kept."
        return _keep(request, head, {"doors": doors}, said, "#doors")
    except (FieldError, Refused, Conflict) as error:
        return _page(request, head_of(request, slug), _wrong(f"door {at}", error, request.POST))


def _check_name(name: str, rooms: Mapping[str, Any]) -> None:
    if not NAME.fullmatch(name):
        raise FieldError(
            f"Found the name {name!r}, expected letters and figures, such as 'front hall'."
        )
    if name in rooms:
        raise FieldError(f"Found a second {name!r}, expected a name of its own.")


def _values(posted: QueryDict, items: Iterable[Field], head: HouseHead) -> dict[str, Any]:
    """What was typed, for the document; ``FieldError`` says at which field it is wrong."""
    found = {}
    for item in items:
        try:
            found[item.path] = fields.read(item, posted.getlist(item.path), head.system)
        except FieldError as error:
            says = str(error)
            raise FieldError(f"{item.label}: {says[:1].lower()}{says[1:]}") from None
    return found


def _keep(
    request: HttpRequest, head: HouseHead, changes: Mapping[str, Any], said: str, at: str
) -> HttpResponse:
    _save(request, head, changes)
    return _kept(request, head, said, at)


def _save(request: HttpRequest, head: HouseHead, changes: Mapping[str, Any]) -> None:
    base = saving.base_of(request.POST)
    store.save_fields(head.slug, "house", "", changes, base, user_of(request))


def _kept(request: HttpRequest, head: HouseHead, said: str, at: str) -> HttpResponse:
    """Back to the page, told what was done if anything was."""
    if store.stored(head.slug, "house").version != head.stored.version:
        tell(request, said, latest_change(head.slug, "house"))
    return redirect(reverse("rooms", args=[head.slug]) + at)


def _wrong(which: str, error: FieldError | Refused | Conflict, posted: QueryDict) -> Wrong:
    says, status = saving.trouble(error)
    # What somebody else wrote is shown in place of what was typed.
    return Wrong(which, says, QueryDict("") if status == 409 else posted, status)
