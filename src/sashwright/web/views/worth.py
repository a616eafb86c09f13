"""Keep the windows or replace them: the answer for a house, and what it is worked out from."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET

from sashwright.chapters.answer import Answer
from sashwright.papers import worthwords
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.web import fields, pictures, present, words, yearly
from sashwright.web.forms import Form
from sashwright.web.views.common import HouseHead, head_of, is_part
from sashwright.web.views.house import model_of
from sashwright.web.views.papers import PAPERS
from sashwright.web.yearly import Whole

STALE = "stale"
"""What of the page asks whether the house has changed since."""
GROUPS = (words.TITLES["running"], words.TITLES["fabric"])


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """The page with its fields, at once; it asks for the answer as a part, which takes some seconds."""
    head = head_of(request, slug)
    due = request.GET.get("due") == "1"
    changed = store.changed_at(slug).isoformat()
    context: dict[str, Any] = {"house": head, "due": due, "changed": changed}
    if is_part(request) and request.headers.get("HX-Target") == STALE:
        context["stale"] = request.GET.get("since", changed) != changed
        return render(request, "web/worth/stale.html", context)
    whole = yearly.whole_of(slug, head.system)
    context |= {"no_weather": whole.weather.says, "count": len(store.window_numbers(slug))}
    if is_part(request):
        found = _answer(whole, due=due)
        return render(request, "web/worth/answer.html", context | found | {"part": True})
    if "now" in request.GET and context["count"]:
        context |= _answer(whole, due=due)
    return render(request, "web/worth.html", context | _form(head))


def _answer(whole: Whole, *, due: bool) -> dict[str, Any]:
    """All of the answer for the template; nothing without weather."""
    answer = whole.worth(repair_due=due)
    if answer is None:
        return {}
    findings = present.sorted_findings(answer.findings[1:] if answer.values else answer.findings)
    context: dict[str, Any] = {
        "answered": True,
        "findings": findings,
        "grave": [each for each in findings if each.level in ("caution", "fail")],
        "others": [each for each in findings if each.level not in ("caution", "fail")],
        "wrong": [window.number for window in answer.windows if not window.values],
        "papers": PAPERS,
    }
    return context | _shown(answer, whole) if answer.values else context


def _shown(answer: Answer, whole: Whole) -> dict[str, Any]:
    values = answer.values
    return {
        "says": worthwords.answer_sentence(answer.findings),
        "basis": worthwords.basis(values),
        "changes": worthwords.changes(values, whole.system),
        "ways": list(worthwords.ways(values, whole.system)),
        "years": values["years"],
        "studies": worthwords.studies(values),
        "left_out": worthwords.LEFT_OUT,
        "screening": worthwords.SCREENING,
        "weather": values["weather"],
        "pictures": pictures.worth_pictures(answer, whole.system),
        "working": present.steps(answer.working, whole.system),
    }


def _form(head: HouseHead) -> dict[str, Any]:
    """Fields of what heats the house, what it is made of and what work costs; each saves itself."""
    form, model = Form(head.system, knowledge(), {}), model_of(head)
    by_title = {group.title: group for group in fields.house_groups()}
    measures = knowledge().measure
    costs = [
        replace(form.show(item, model), placeholder=f"{row.cost:g}", unit=row.currency)
        for item, row in zip(fields.cost_fields(measures.values()), measures.values(), strict=True)
    ]
    return {
        "stored": head.stored,
        "groups": form.groups((by_title[title] for title in GROUPS), model),
        "costs": costs,
        "quoted": sum(1 for shown in costs if any(shown.texts)),
        "save": reverse("house-field", args=[head.slug]),
        "number": "",
    }
