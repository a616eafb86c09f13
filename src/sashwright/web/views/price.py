"""What to charge: the price of a house with its options, and what was agreed to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from sashwright.chapters.answer import Answer
from sashwright.chapters.price import finished, price
from sashwright.chapters.price.accepted import agreed
from sashwright.chapters.price.hours import learn
from sashwright.drawing.hoursplot import hours_plot
from sashwright.drawing.pricebars import price_bars
from sashwright.record import store
from sashwright.record.errors import Conflict, NotThere, Refused
from sashwright.record.facts import knowledge
from sashwright.web import fields, pictures, present, pricelists, saving, yearly
from sashwright.web.answers.price import accepted_shown, prices_shown, window_bars
from sashwright.web.fields import FieldError
from sashwright.web.forms import Form, Shown
from sashwright.web.pictures import Picture
from sashwright.web.pricelists import lists_shown
from sashwright.web.views.common import HouseHead, head_of, is_part, latest_change, tell, user_of
from sashwright.web.views.house import model_of
from sashwright.web.yearly import Whole
from sashwright.window.pricing import Option


@dataclass(frozen=True, slots=True)
class Asked:
    """What if: options ticked, and one alternative for all windows; None where the house's own count."""

    ticked: tuple[str, ...] | None
    alternative: str

    @classmethod
    def of(cls, given: QueryDict, known: Sequence[str]) -> Asked:
        ticked = None
        if given.get("what") == "1":
            ticked = tuple(key for key in given.getlist("tick") if key in known)
        alternative = given.get("alternative", "")
        return cls(ticked, alternative if alternative in knowledge().scope else "")

    @property
    def plain(self) -> bool:
        return self.ticked is None and not self.alternative


def _answer(whole: Whole, asked: Asked) -> Answer:
    if asked.plain:
        return whole.price
    return price(
        whole.house,
        knowledge(),
        jobs=whole.jobs,
        alternative=asked.alternative or None,
        ticked=asked.ticked,
    )


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    head = head_of(request, slug)
    keys = [option.key for option in model_of(head).pricing.options]
    return _page(request, head, Asked.of(request.GET, keys))


def _page(
    request: HttpRequest,
    head: HouseHead,
    asked: Asked,
    says: str = "",
    status: int = 200,
    wrong: tuple[str, QueryDict] | None = None,
) -> HttpResponse:
    """The page, or its answer alone; ``says`` is what went wrong, ``wrong`` in which form."""
    whole = yearly.whole_of(head.slug, head.system)
    answer, tables = _answer(whole, asked), knowledge()
    names = {key: row.name for key, row in (*tables.task.items(), *tables.scope.items())}
    shown = prices_shown(answer, names)
    context: dict[str, Any] = {
        "house": head,
        "stored": head.stored,
        "prices": shown,
        "edition": answer.values["edition"],
        "accepted": accepted_shown(whole.price.values["accepted"], shown.options),
        "asked": asked,
        "ways": [(row.key, row.name) for row in tables.scope.values()],
        "picture": _bars(answer),
        "findings": present.sorted_findings(answer.findings),
        "working": present.steps(answer.working, head.system),
        "wrong": [each.number for each in answer.windows if not each.values],
        "who": whole.house.owner,
        "today": timezone.localdate().isoformat(),
        "says": "" if wrong else says,
        "plot": _plot(whole),
        "others": sum(1 for _ in whole.jobs),
    }
    if is_part(request):
        return render(request, "web/price/answer.html", context, status=status)
    context |= _forms(head) | lists_shown(head, says, wrong)
    return render(request, "web/price.html", context, status=status)


def _bars(answer: Answer) -> Picture | None:
    bars = window_bars(answer)
    if not bars:
        return None
    drawn = price_bars(bars, answer.values["currency"], "Prices of the windows")
    return Picture("prices", pictures.svg(drawn, "price-windows"))


def _plot(whole: Whole) -> Picture | None:
    mine, _ = finished(whole.house, knowledge())
    jobs = [*whole.jobs, *mine]
    if not jobs:
        return None
    names = {key: row.name for key, row in knowledge().task.items()}
    return Picture("hours", pictures.svg(hours_plot(jobs, learn(jobs), names), "price-hours"))


# --- forms ----------------------------------------------------------------------------


def _forms(head: HouseHead) -> dict[str, Any]:
    """Fields that save themselves: shares, access, rates, materials."""
    tables, model = knowledge(), model_of(head)
    form = Form(head.system, tables, {})
    found = fields.rate_fields(tables.rate.values(), tables.material.values())
    usual = {f"pricing.rates.{row.key}": f"{row.value:g}" for row in tables.rate.values()}
    usual |= {f"pricing.materials.{row.key}": f"{row.price:g}" for row in tables.material.values()}
    per = {f"pricing.materials.{row.key}": f"a {row.unit}" for row in tables.material.values()}
    shown = [
        replace(
            form.show(item, model), placeholder=usual[item.path], unit=per.get(item.path, "an hour")
        )
        for item in found
    ]
    groups = [
        (title, each, sum(1 for one in each if any(one.texts)))
        for title, each in (
            ("Rates", [one for one in shown if one.path.startswith("pricing.rates.")]),
            ("Materials", [one for one in shown if one.path.startswith("pricing.materials.")]),
        )
    ]
    return {
        "general": [_share(form.show(item, model)) for item in fields.pricing_fields()],
        "groups": groups,
        "save": reverse("house-field", args=[head.slug]),
        "number": "",
    }


def _share(shown: Shown) -> Shown:
    """What holds while a share is empty."""
    row = knowledge().rate.get(shown.path.removeprefix("pricing."))
    if row is None or row.kind != "share":
        return shown
    return replace(shown, placeholder=f"{100 * row.value:g}")


# --- kept -----------------------------------------------------------------------------


@require_POST
def keep(request: HttpRequest, slug: str) -> HttpResponse:
    """Add an allowance or an option, change one, or take one away."""
    head, posted = head_of(request, slug), request.POST
    which = posted.get("which", "")
    if which not in ("allowance", "option"):
        raise NotThere("There is no such list in a price.")
    path = f"{which}s"
    kept = list(head.stored.document.get("pricing", {}).get(path, ()))
    place = posted.get("at", "")
    at = int(place) if place.isdigit() else None
    if at is not None and at >= len(kept):
        raise NotThere(f"There is no such {which} in this house.")
    try:
        if posted.get("act") == "remove" and at is not None:
            said = f"The {which} {kept.pop(at)['name']} is taken away."
        else:
            made = pricelists.read(which, posted, kept, at)
            if at is None:
                kept.append(made)
            else:
                kept[at] = made
            said = f"The {which} {made['name']} is kept."
        before, base = head.stored.version, saving.base_of(posted)
        changes = {f"pricing.{path}": kept}
        now = store.save_fields(slug, "house", "", changes, base, user_of(request))
    except (FieldError, Refused, Conflict) as error:
        says, status = saving.trouble(error)
        wrong = (f"{which} {'' if at is None else at}".strip(), posted)
        return _page(request, head_of(request, slug), Asked(None, ""), says, status, wrong)
    if now.version != before:
        tell(request, said, latest_change(slug, "house"))
    return redirect(reverse("price", args=[slug]) + f"#{path}")


@require_POST
def accept(request: HttpRequest, slug: str) -> HttpResponse:
    """Keep what the client agreed to: the options taken, the sum, who and when; or take it back."""
    head, posted = head_of(request, slug), request.POST
    pricing = model_of(head).pricing
    if posted.get("act") == "withdraw":
        changes: dict[str, Any] = {"pricing.accepted": None}
        said = "The price is not accepted any more."
        return _kept(request, head, changes, said)
    asked = Asked.of(posted, [option.key for option in pricing.options])
    ticks = asked.ticked if asked.ticked is not None else _ticked(pricing.options)
    asked = Asked(ticks, "")
    options = list(head.stored.document.get("pricing", {}).get("options", ()))
    changes = {"pricing.options": [{**each, "ticked": each["key"] in ticks} for each in options]}
    if posted.get("act") == "ticks":
        return _kept(request, head, changes, "The client’s choices are kept.")
    whole = yearly.whole_of(slug, head.system)
    answer = _answer(whole, asked)
    if posted.get("edition") != answer.values["edition"]:
        says = "The price has changed while you looked: look at it again, then accept."
        return _page(request, head, asked, says, 409)
    changes["pricing.accepted"] = agreed(
        answer,
        ticks,
        on=posted.get("on", "").strip() or timezone.localdate().isoformat(),
        by=posted.get("by", "").strip(),
        note=posted.get("note", "").strip(),
    )
    total = answer.values["price"]["likely"]
    return _kept(request, head, changes, f"Accepted: {answer.values['currency']} {total}.", asked)


def _ticked(options: Sequence[Option]) -> tuple[str, ...]:
    return tuple(option.key for option in options if option.ticked)


def _kept(
    request: HttpRequest,
    head: HouseHead,
    changes: dict[str, Any],
    said: str,
    asked: Asked | None = None,
) -> HttpResponse:
    before = head.stored.version
    # A house without options need not say so.
    if changes.get("pricing.options") == []:
        del changes["pricing.options"]
    try:
        kept = store.save_fields(head.slug, "house", "", changes, before, user_of(request))
    except (Refused, Conflict) as error:
        says, status = saving.trouble(error)
        return _page(request, head_of(request, head.slug), asked or Asked(None, ""), says, status)
    if kept.version != before:
        tell(request, said, latest_change(head.slug, "house"))
    return redirect("price", head.slug)
