"""One window's price, line by line, and the hours that work on it took."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from sashwright.chapters.price.hours import done_of
from sashwright.drawing.pricebars import price_bars
from sashwright.knowledge.tables import KnowledgeError
from sashwright.record import store
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.web import fields, pictures, present, saving, yearly
from sashwright.web.answers.price import line_rows, money, span, way_bars
from sashwright.web.fields import FieldError
from sashwright.web.pictures import Picture
from sashwright.web.surveying import token_of
from sashwright.web.views.common import HouseHead, head_of, is_part, latest_change, tell, user_of

ALL_WAYS = "alternatives"


@require_GET
def window(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    return _page(request, head_of(request, slug), number)


def _page(
    request: HttpRequest, head: HouseHead, number: str, says: str = "", status: int = 200
) -> HttpResponse:
    whole = yearly.whole_of(head.slug, head.system)
    stored = store.stored(head.slug, "window", number)
    answer = next(each for each in whole.price.windows if each.number == number)
    values = answer.values
    context: dict[str, Any] = {
        "house": head,
        "number": number,
        "lines": line_rows(values["lines"]) if values else (),
        "currency": values["currency"] if values else "",
        "total": money(values["price"]["likely"]) if values else "",
        "span": span(values["price"]) if values else "",
        "picture": _bars(number, values) if values else None,
        "findings": present.sorted_findings(answer.findings),
        "spent": _spent(whole, stored.document.get("spent", []), number),
        "tasks": _tasks(values),
        "today": timezone.localdate().isoformat(),
        "who": store.name_of(user_of(request)),
        "save": reverse("window-spent", args=[head.slug, number]),
        "says": says,
        "typed": request.POST if says else {},
    }
    template = "web/price/window.html" if is_part(request) else "web/price/window_page.html"
    return render(request, template, context, status=status)


def _bars(number: str, values: Any) -> Picture:
    title = f"Ways to go with window {number}"
    drawn = price_bars(way_bars(values), values["currency"], title)
    return Picture("ways", pictures.svg(drawn, f"price-{number}"))


def _tasks(values: Any) -> list[tuple[str, list[tuple[str, str]]]]:
    """Tasks to choose from: those of this window first."""
    every = {key: row.name for key, row in knowledge().task.items()}
    mine = [line["key"] for line in values["lines"] if line["kind"] == "labour"] if values else []
    here = [(key, every[key]) for key in dict.fromkeys(mine) if key in every]
    rest = [(key, name) for key, name in every.items() if key not in mine]
    return [(title, rows) for title, rows in (("Planned here", here), ("Others", rest)) if rows]


def _spent(whole: yearly.Whole, documents: list[Any], number: str) -> list[dict[str, Any]]:
    """Hours spent with what the table says of them."""
    from sashwright.chapters.price.job import subject_of  # noqa: PLC0415

    found = next(each for each in whole.house.windows if each.number == number)
    placed = whole.placed.get(number)
    try:
        ways = subject_of(placed, whole.house).ways if placed is not None else ()
    except KnowledgeError:
        ways = ()
    rows = []
    for entry, document in zip(found.spent, documents, strict=True):
        done = next(done_of(number, [entry], ways, knowledge()))
        row = knowledge().task.get(entry.task)
        rows.append(
            {
                "token": token_of(document),
                "name": entry.task if row is None else row.name,
                "hours": f"{entry.hours:g}",
                "quantity": "" if entry.quantity is None or row is None
                else f"{entry.quantity:g} {row.unit}",
                "on": entry.on or "",
                "by": entry.by,
                "table": "" if isinstance(done, str) else f"{done.estimated:.1f}",
                "says": done if isinstance(done, str) else "",
            }
        )  # fmt: skip
    return rows


@require_POST
def keep(request: HttpRequest, slug: str, number: str) -> HttpResponse:
    """Write down hours, or take them away."""
    head, posted = head_of(request, slug), request.POST
    stored = store.stored(slug, "window", number)
    kept = list(stored.document.get("spent", []))
    try:
        if posted.get("act") == "remove":
            tokens = [token_of(each) for each in kept]
            if posted.get("spent") not in tokens:
                raise NotThere("These hours are not there any more.")
            gone = kept.pop(tokens.index(posted["spent"]))
            said = f"Window {number}: {gone['hours']:g} h taken away."
        else:
            made = _made(request)
            kept.append(made)
            said = f"Window {number}: {made['hours']:g} h written down."
        changes = {"spent": kept}
        store.save_fields(slug, "window", number, changes, stored.version, user_of(request))
    except (FieldError, Refused) as error:
        says = saving.sentence_of(error) if isinstance(error, Refused) else str(error)
        return _page(request, head, number, says, 422)
    except Conflict:
        return _page(request, head, number, "Somebody else was quicker: try again.", 409)
    tell(request, said, latest_change(slug, "window", number))
    return redirect("window-price", slug, number)


def _made(request: HttpRequest) -> dict[str, Any]:
    posted = request.POST
    task = posted.get("task", "")
    if task not in knowledge().task:
        raise FieldError("Found no task, expected one of the list.")
    number = {name: fields.Field(name, name, "", "number", optional=name == "quantity")
              for name in ("hours", "quantity")}  # fmt: skip
    values = {
        name: fields.read(item, [posted.get(name, "")], "us") for name, item in number.items()
    }
    return {
        "task": task,
        **{name: value for name, value in values.items() if value is not None},
        "on": posted.get("on", "").strip() or timezone.localdate().isoformat(),
        "by": posted.get("by", "").strip() or store.name_of(user_of(request)),
    }
