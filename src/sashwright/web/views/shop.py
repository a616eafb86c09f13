"""The shop's own pages: stock by drawer, supplies, rules and hours, history, the file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST
from pydantic import TypeAdapter, ValidationError

from sashwright.papers.words import Words
from sashwright.record import store
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.record.housefile import LARGEST, FileProblem, HouseFileError
from sashwright.record.shopfile import shop_text
from sashwright.web import saving, shopfields, stockrows
from sashwright.web.fields import FieldError
from sashwright.web.forms import Form
from sashwright.web.shopfields import DRAWERS, RULES
from sashwright.web.views.common import tell, user_of
from sashwright.window.shop import Label, Shop

MOST = 100
LABEL: TypeAdapter[str] = TypeAdapter(Label)
TABS = (
    ("shop", "Shop"), ("boards", "Boards"), ("strips", "Strips"), ("sheets", "Glass"),
    ("weights", "Weights"), ("supplies", "Drawers"), ("lumber", "Lumber to buy"),
    ("glass", "Glass to buy"), ("rules", "Rules and hours"), ("history", "History"),
)  # fmt: skip


def _context(here: str, stock: Shop, **more: Any) -> dict[str, Any]:
    urls = {
        "shop": reverse("shop"), "supplies": reverse("shop-supplies"), "rules": reverse("shop-rules"),
        "history": reverse("shop-history"),
    }  # fmt: skip
    tabs = [
        (key, title, urls.get(key) or reverse("shop-drawer", args=[key])) for key, title in TABS
    ]
    return {"tabs": tabs, "here": here, "stock": stock, "base": store.shop_edition(), **more}


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest) -> HttpResponse:
    """What the shop has, summed up; a file in its place is read here."""
    problems: list[FileProblem] = []
    if request.method == "POST":
        upload = request.FILES.get("file")
        try:
            data = upload.read(LARGEST + 1) if upload else b""
            name = str(upload.name)[:100] if upload else "no file"
            kept = store.import_shop(data, name, user_of(request))
        except HouseFileError as error:
            problems = error.problems
        else:
            tell(request, f"The shop file has been read: edition {kept.version}.")
            return redirect("shop")
    stock = store.load_shop()
    context = _context(
        "shop",
        stock,
        sums=stockrows.sums(stock, knowledge(), Words(stock.units)),
        problems=problems,
        latest=store.shop_history(6),
    )
    return render(request, "web/shop.html", context, status=422 if problems else 200)


# --- drawers --------------------------------------------------------------------------


@require_http_methods(["GET", "POST"])
def drawer(request: HttpRequest, drawer: str) -> HttpResponse:
    """One drawer: what is in it, and the form that adds one thing or changes it."""
    if drawer not in DRAWERS:
        raise Http404(f"The shop has no drawer {drawer!r}.")
    says, status = "", 200
    if request.method == "POST":
        try:
            return _keep(request, drawer)
        except (FieldError, Refused, Conflict) as error:
            says, status = saving.trouble(error, f"{error} This is what it says now.")
    return _drawer(request, drawer, says, status)


def _drawer(request: HttpRequest, name: str, says: str, status: int) -> HttpResponse:
    stock, kind = store.load_shop(), DRAWERS[name]
    things: Mapping[str, Any] = getattr(stock, name)
    edit = request.POST.get("was", "") or request.GET.get("edit", "")
    model = things.get(edit)
    form = Form(stock.units, knowledge(), {})
    shown = shopfields.shown(form, shopfields.drawer_fields(name), model, "s", kind.model)
    if says and status == 422:
        shown = stockrows.typed(shown, request.POST)
    elif model is None and name == "weights":
        shown = stockrows.like_the_last(shown, things)
    context = _context(
        name,
        stock,
        kind=kind,
        columns=stockrows.columns(name),
        rows=stockrows.rows(name, things, knowledge(), Words(stock.units)),
        edit=edit if model is not None else "",
        label=request.POST.get("label", "") or edit or shopfields.free_label(stock, name),
        fields=shown,
        says=says,
    )
    return render(request, "web/shop/drawer.html", context, status=status)


def _keep(request: HttpRequest, name: str) -> HttpResponse:
    """Add, change or take away one thing. Raises ``FieldError``, ``Refused`` or ``Conflict``."""
    posted, kind = request.POST, DRAWERS[name]
    was, label = posted.get("was", ""), posted.get("label", "").strip()
    base = _base(posted)
    if posted.get("act") == "remove" and was:
        _save(request, {f"{name}.{was}": None}, base, f"{kind.one} {was} taken out")
        return redirect("shop-drawer", name)
    _check_label(label)
    stock = store.load_shop()
    if label != was and label in getattr(stock, name):
        raise FieldError(f"Found a second {kind.one} {label}, expected a label of its own.")
    values = shopfields.read(shopfields.drawer_fields(name), posted.getlist, stock.units)
    if was and was == label:
        changes: dict[str, Any] = {f"{name}.{label}.{key}": value for key, value in values.items()}
        says = None
    else:
        changes = {f"{name}.{label}": {k: v for k, v in values.items() if v is not None}}
        changes |= {f"{name}.{was}": None} if was else {}
        says = f"{kind.one} {label} in stock" if not was else f"{kind.one} {was} is now {label}"
        says = f"{kind.one} {label} can be bought" if name in ("lumber", "glass") else says
    _save(request, changes, base, says)
    return redirect(reverse("shop-drawer", args=[name]) + ("" if not was else f"#r-{label}"))


def _check_label(label: str) -> None:
    try:
        LABEL.validate_python(label)
    except ValidationError:
        raise FieldError(
            f"Found the label {label!r}, expected up to 24 letters and figures such as B12."
        ) from None


def _base(posted: QueryDict) -> int:
    text = posted.get("base", "")
    return int(text) if text.isdigit() else store.shop_edition()


def _save(request: HttpRequest, changes: Mapping[str, Any], base: int, says: str | None) -> None:
    before = store.shop_edition()
    kept = store.save_shop_fields(changes, base, user_of(request), says)
    if kept.version != before:
        said = store.shop_history(1)[0].says
        tell(request, f"{said[:1].upper()}{said[1:]}.")


# --- supplies, rules ------------------------------------------------------------------


@require_http_methods(["GET", "POST"])
def supplies(request: HttpRequest) -> HttpResponse:
    """Cord, pulleys, putty and the like: a field for each row of the tables."""
    says, status = "", 200
    if request.method == "POST":
        try:
            stock = store.load_shop()
            changes = stockrows.supply_changes(request.POST, knowledge(), stock.units)
            _save(request, changes, _base(request.POST), "drawers counted")
            return redirect("shop-supplies")
        except (FieldError, Refused, Conflict) as error:
            says, status = saving.trouble(error, str(error))
    stock = store.load_shop()
    groups = stockrows.supply_groups(stock, knowledge(), request.POST if says else None)
    context = _context("supplies", stock, groups=groups, says=says)
    return render(request, "web/shop/supplies.html", context, status=status)


@require_http_methods(["GET", "POST"])
def rules(request: HttpRequest) -> HttpResponse:
    """The saw, the glass table, the bin, hours in a week, the letterhead."""
    says, status = "", 200
    if request.method == "POST":
        try:
            changes = _rule_changes(request.POST, store.load_shop())
            _save(request, changes, _base(request.POST), None)
            return redirect("shop-rules")
        except (FieldError, Refused, Conflict) as error:
            says, status = saving.trouble(error, str(error))
    stock = store.load_shop()
    form = Form(stock.units, knowledge(), {})
    groups = [
        (
            name,
            title,
            shopfields.shown(form, shopfields.rule_fields(name), getattr(stock, name), name),
        )
        for name, (title, _, _) in RULES.items()
    ]
    context = _context(
        "rules",
        stock,
        groups=groups,
        hours=stockrows.hours(stock, knowledge()),
        head=shopfields.shown(form, shopfields.head_fields(), stock.letterhead, "head"),
        says=says,
    )
    return render(request, "web/shop/rules.html", context, status=status)


def _rule_changes(posted: QueryDict, stock: Shop) -> dict[str, Any]:
    """Changes of whichever form was sent."""
    part = posted.get("part", "")
    if part in RULES:
        values = shopfields.read(shopfields.rule_fields(part), posted.getlist, stock.units)
        return {f"{part}.{key}": value for key, value in values.items()}
    if part == "hours":
        return {
            f"hours.{key}": value
            for key, value in stockrows.read_hours(posted, knowledge()).items()
        }
    if part == "money":
        return {
            "currency": posted.get("currency", "").strip() or None,
            "units": posted.get("units"),
        }
    values = shopfields.read(shopfields.head_fields(), posted.getlist, stock.units)
    values["address"] = [
        line.strip() for line in posted.get("address", "").splitlines() if line.strip()
    ]
    return {f"letterhead.{key}": value for key, value in values.items()}


# --- history and the file -------------------------------------------------------------


@require_GET
def history(request: HttpRequest) -> HttpResponse:
    """Every change of the shop, the latest first."""
    context = _context("history", store.load_shop(), changes=store.shop_history(MOST), most=MOST)
    return render(request, "web/shop/history.html", context)


@require_POST
def edition(request: HttpRequest, edition: int) -> HttpResponse:
    """Undo one change, or put everything back as it was after one."""
    who = user_of(request)
    try:
        if request.POST.get("act") == "back":
            kept = store.put_back_shop(edition, who)
            tell(
                request,
                f"The shop says again what it said in edition {edition} (now {kept.version}).",
            )
        else:
            store.undo_shop(edition, who)
            said = store.shop_history(1)[0].says
            tell(request, f"{said[:1].upper()}{said[1:]}.")
    except (Conflict, Refused, NotThere) as error:
        tell(request, f"Not undone: {error}")
    return redirect("shop-history")


@require_GET
def toml(request: HttpRequest) -> HttpResponse:
    """The shop as a file."""
    text = shop_text(store.load_shop())
    response = HttpResponse(text.encode(), content_type="application/toml")
    response.headers["Content-Disposition"] = 'attachment; filename="shop.toml"'
    return response
