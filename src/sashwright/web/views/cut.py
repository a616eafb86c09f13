"""Cutting plans of a house from the shop's stock, and the weights of the bin on its sash."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from sashwright.chapters.make.taken import NotInStock, after_cutting
from sashwright.chapters.make.wanted import ASKED
from sashwright.record import store
from sashwright.record.errors import Conflict, Refused
from sashwright.record.facts import knowledge
from sashwright.record.shop import document_of
from sashwright.web import present, stocked
from sashwright.web.answers import cut as answers
from sashwright.web.views.common import HouseHead, head_of, is_part, tell, user_of
from sashwright.web.views.papers import PAPERS

SCOPES = (
    ("", "As decided"),
    ("sash", "All sash, new"),
    ("storm", "All storms"),
    ("screen", "All screens"),
)


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """The page at once; it asks for the plans as a part, which may take some seconds."""
    head = head_of(request, slug)
    scope = request.GET.get("what", "")
    scope = scope if scope in ASKED else ""
    context: dict[str, Any] = {
        "house": head,
        "scopes": SCOPES,
        "scope": scope,
        "count": len(store.window_numbers(slug)),
        "seconds": f"{stocked.SECONDS:g}",
        "taken": store.shop_history(5, _says(head, "")),
    }
    if is_part(request) or "now" in request.GET or stocked.plans_known(slug, head.system, scope):
        context |= _plans(head, scope)
    template = "web/cut/plans.html" if is_part(request) else "web/cut.html"
    return render(request, template, context)


def _says(head: HouseHead, booked: str) -> str:
    """The sentence of the shop's history about boards that were taken."""
    return f"taken for {head.name}: {booked}"


def _plans(head: HouseHead, scope: str) -> dict[str, Any]:
    answer = stocked.plans_of(head.slug, head.system, scope)
    values, tables, system = answer.values, knowledge(), head.system
    return {
        "answered": True,
        "sums": answers.sums(answer, tables),
        "stacks": answers.stacks(answer, tables, system),
        "panes": answers.panes(answer, tables, system),
        "buy": answers.to_buy(answer, tables, system),
        "buy_cost": f"{values['currency']} {values['buy_cost']:,.2f}",
        # What to buy has a table.
        "findings": present.sorted_findings(
            [each for each in answer.findings if not each.on.startswith("buy.")]
        ),
        "working": present.steps(answer.working, system),
        "nothing": not values["boards"] and not values["sheets"],
        "mark": stocked.mark_of(answer),
        "edition": store.shop_edition(),
        "papers": PAPERS,
    }


@require_POST
def take(request: HttpRequest, slug: str) -> HttpResponse:
    """Book the boards and sheets of a plan out of the stock, and its off-cuts in: one change of the shop."""
    head = head_of(request, slug)
    scope = request.POST.get("what", "")
    answer = stocked.plans_of(slug, head.system, scope)
    back = reverse("cut", args=[slug]) + (f"?{urlencode({'what': scope})}" if scope else "")
    if request.POST.get("mark") != stocked.mark_of(answer):
        tell(
            request, "The house or the stock has changed since: look at the new plan, then take it."
        )
        return redirect(back)
    edition = store.shop_edition()
    try:
        taken = after_cutting(store.load_shop(), answer.values)
        says = _says(head, taken.says)
        store.save_shop(document_of(taken.shop), edition, user_of(request), says)
    except (NotInStock, Conflict, Refused) as error:
        tell(request, f"Nothing was booked: {error}")
        return redirect(back)
    tell(request, f"{says[:1].upper()}{says[1:]}. The shop's history can put it back.")
    return redirect(back)


@require_GET
def weights(request: HttpRequest, slug: str) -> HttpResponse:
    """The bin of salvaged weights on the sash of the house."""
    head = head_of(request, slug)
    answer = stocked.bin_of(slug, head.system)
    values, words = answer.values, head.words
    grave = [
        replace(
            finding, says=f"Window {window.number}: {finding.says[:1].lower()}{finding.says[1:]}"
        )
        for window in answer.windows
        for finding in window.findings
        if finding.level in ("fail", "caution")
    ]
    context = {
        "house": head,
        "rows": answers.hung(answer, words),
        "picture": answers.bin_picture(answer) if values["sash"] else "",
        "findings": present.sorted_findings([*answer.findings, *grave]),
        "left": values["left"],
        "left_mass": words.mass(values["left_kg"]),
        "weights": values["weights"],
        "tolerance": words.mass(values["tolerance_kg"]),
        "apart": words.mass(values["apart_kg"]),
        "working": present.steps(answer.working, head.system),
    }
    return render(request, "web/bin.html", context)


@require_GET
def of_sash(request: HttpRequest, slug: str) -> HttpResponse:
    """For the bench: which numbers of the bin hang on one sash."""
    head = head_of(request, slug)
    number, which = request.GET.get("number", ""), request.GET.get("which", "lower")
    says = ""
    if store.shop_edition():
        says = answers.from_bin(stocked.bin_of(slug, head.system), number, which, head.words)
    return render(request, "web/bench/bin.html", {"house": head, "says": says})
