"""A family's page: its sections redraw as its sizes are typed; the windows that use it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from sashwright import units
from sashwright.record import store
from sashwright.record.errors import NotThere, Stored
from sashwright.record.facts import knowledge
from sashwright.web import edit, fields, pictures, present, saving, stepping
from sashwright.web.asking import Asked, ask
from sashwright.web.fields import Field, FieldError
from sashwright.web.forms import Form, table_options
from sashwright.web.saving import Desk
from sashwright.web.views.common import HouseHead, head_of, tell, user_of
from sashwright.window.mouldings import with_own
from sashwright.window.resolve import Placed
from sashwright.window.spec import Family, HardwareItem, House, Window

SAMPLE = "sample"
"""Number of the window that shows a family which no window uses yet."""
SAMPLE_SIZE = {"width": "32 in", "height": "62 1/2 in"}


@dataclass(frozen=True)
class Sheet:
    """All that the page of one family shows; it is drawn on its first window, or on a usual one."""

    head: HouseHead
    key: str
    stored: Stored
    family: Family
    window: Window
    users: tuple[str, ...]

    @property
    def house(self) -> House:
        """The house with this family and the window drawn alone."""
        return House(
            name=self.head.name,
            units=self.head.system,
            walls=_walls(self.window),
            mouldings=self.head.stored.document.get("mouldings", {}),
            families={self.key: self.family},
            windows=(self.window,),
        )

    @property
    def asked(self) -> Asked:
        return ask(self.house, self.window.number, knowledge(), self.head.system)

    @property
    def form(self) -> Form:
        """Offers the house's own mouldings beside the tables' rows."""
        return Form(self.head.system, with_own(self.house, knowledge()), {})


def shown_on(head: HouseHead, key: str) -> Placed | None:
    """The window that shows a family; None where its sizes contradict each other."""
    return _sheet(head, key).asked.placed


def _walls(window: Window) -> Any:
    return {window.wall: {"faces": 0.0}}


def _sheet(head: HouseHead, key: str) -> Sheet:
    stored = store.stored(head.slug, "family", key)
    users = tuple(store.window_numbers(head.slug, key))
    if users:
        document = dict(store.stored(head.slug, "window", users[0]).document)
        document.pop("beside", None)
    else:
        document = {"number": SAMPLE, "family": key, **SAMPLE_SIZE}
    window = Window.model_validate(document, context={"system": head.system})
    return Sheet(head, key, stored, _family(stored, head.system), window, users)


def _family(stored: Stored, system: units.System) -> Family:
    return Family.model_validate(stored.document, context={"system": system})


@require_GET
def page(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    sheet = _sheet(head_of(request, slug), key)
    context = {
        **_shown(sheet),
        **_form(sheet),
        "steps": stepping.steps_of(slug, "family", key, user_of(request)),
    }
    return render(request, "web/family.html", context)


@require_POST
def field(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    head = head_of(request, slug)
    item = _field_at(request.POST.get("field", ""))
    desk = Desk(slug, "family", key, head.system, user_of(request))
    outcome = saving.change_posted(desk, item, request.POST)
    sheet = _sheet(head, key)
    context = {
        **_shown(sheet),
        "outcome": outcome,
        "disputes": saving.disputes(outcome),
        "held": _held(sheet) if outcome.merged else "",
        "steps": stepping.steps_of(slug, "family", key, user_of(request)),
        "save": reverse("family-field", args=[slug, key]),
        "again": _again(sheet, item),
    }
    response = render(request, "web/family/saved.html", context)
    return saving.tell(response, outcome, sheet.family, desk)


def _again(sheet: Sheet, item: Field) -> Any:
    """The spaces between panes, which come and go with the panes."""
    if not item.path.endswith("glazing.panes"):
        return None
    form = sheet.form
    return form.show(_field_at(item.path.removesuffix("panes") + "gaps"), sheet.family)


@require_POST
def preview(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """The sections as they would be with what is typed; nothing is saved."""
    head = head_of(request, slug)
    sheet = _sheet(head, key)
    item = _field_at(request.POST.get("field", ""))
    typed = request.POST.getlist(item.path)
    document = sheet.stored.document
    try:
        changes = edit.changes_of(document, item, typed, head.system, request.POST.dict())
        family = edit.check(Family, edit.apply(document, changes), head.system)
    except FieldError:
        return HttpResponse(status=204)
    tried = Sheet(head, key, sheet.stored, family, sheet.window, sheet.users)
    return render(request, "web/family/preview.html", _shown(tried))


@require_GET
def more(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """A further field in which one sash differs, ready to be typed in."""
    sheet = _sheet(head_of(request, slug), key)
    item = _field_at(request.GET.get("path", ""))
    which, _, inner = item.path.partition(".")
    if which not in present.SIDES:
        raise NotThere(f"There is no field {item.path!r} in which a sash can differ.")
    shared = fields.all_fields(fields.sash_groups())[inner]
    form = sheet.form
    context = {
        "shown": _difference(form, sheet, shared, which),
        "save": reverse("family-field", args=[slug, key]),
        "preview": reverse("family-preview", args=[slug, key]),
        "fresh": True,
    }
    return render(request, "web/parts/field.html", context)


@require_POST
def hardware(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """Keep the list of hardware as it stands in the form."""
    head_of(request, slug)
    kept = store.stored(slug, "family", key)
    items = [
        {"item": item, "count": int(count) if count.isdigit() else 1, "on": on}
        for item, count, on in zip(
            request.POST.getlist("item"),
            request.POST.getlist("count"),
            request.POST.getlist("on"),
            strict=False,
        )
        if item
    ]
    try:
        base = saving.base_of(request.POST) or kept.version
        store.save_fields(slug, "family", key, {"hardware": items}, base, user_of(request))
    except (store.Refused, store.Conflict) as error:
        tell(request, f"Not saved: {error}")
    return redirect(f"{reverse('family', args=[slug, key])}#hardware")


@require_POST
def step(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    way = request.POST.get("way", "undo")
    tell(request, stepping.step(slug, "family", key, user_of(request), way))
    return redirect("family", slug, key)


# --- what the templates show ------------------------------------------------------


def _field_at(path: str) -> Field:
    """A field of the family, or of the difference of one sash. Raises ``NotThere``."""
    own = fields.all_fields(fields.family_groups())
    if path in own:
        return own[path]
    if path == "name":
        return Field("name", "Name", "What the shop calls it.", "text")
    prefix, _, inner = path.partition(".")
    shared = fields.all_fields(fields.sash_groups())
    if prefix not in present.SIDES or inner not in shared:
        raise NotThere(f"There is no field {path!r} in a family.")
    return shared[inner].under(prefix)


def _shown(sheet: Sheet) -> dict[str, Any]:
    asked = sheet.asked
    findings = [f for f in asked.hang.findings if asked.placed is None]
    return {
        "house": sheet.head,
        "key": sheet.key,
        "stored": sheet.stored,
        "drawn_on": None if sheet.window.number == SAMPLE else sheet.window.number,
        "pictures": pictures.window_pictures(asked, "sections", findings),
        "contradictions": findings,
    }


def _form(sheet: Sheet) -> dict[str, Any]:
    form = sheet.form
    family, head = sheet.family, sheet.head
    differs = {
        which: [
            _difference(form, sheet, item, which)
            for item in fields.walk(fields.sash_groups())
            if fields.value_at(family, f"{which}.{item.path}") is not None
        ]
        for which in present.SIDES
    }
    return {
        "name_field": form.show(_field_at("name"), family),
        "groups": form.groups(fields.family_groups(), family),
        "differs": differs,
        "sash_groups": fields.sash_groups(),
        "hardware": [*family.hardware, HardwareItem.model_construct(item="", count=1, on="lower")],
        "hardware_rows": table_options(form.knowledge, "hardware"),
        "users": sheet.users,
        "save": reverse("family-field", args=[head.slug, sheet.key]),
        "preview": reverse("family-preview", args=[head.slug, sheet.key]),
    }


def _difference(form: Form, sheet: Sheet, item: Field, which: str) -> Any:
    inherited = fields.texts(item, fields.value_at(sheet.family.sash, item.path), form.system)
    return form.show(item.under(which), sheet.family, inherited=inherited or ("none",))


def _held(sheet: Sheet) -> str:
    return saving.all_texts(fields.family_groups(), sheet.family, sheet.head.system)
