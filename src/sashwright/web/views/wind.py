"""The wind and rain that the windows of a house stand, and the site that asks it."""

from __future__ import annotations

from dataclasses import replace

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET

from sashwright.papers.gradewords import CERTIFY
from sashwright.record.facts import knowledge
from sashwright.web import fields, present, words, yearly
from sashwright.web.answers.grade import winds_shown
from sashwright.web.forms import Form
from sashwright.web.views.common import head_of, is_part
from sashwright.web.views.house import model_of
from sashwright.web.views.papers import PAPERS


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """All windows; asked for as a part, without the form of the site, which saves itself."""
    head = head_of(request, slug)
    answer = yearly.whole_of(slug, head.system).grade
    form, model = Form(head.system, knowledge(), {}), model_of(head)
    site = [group for group in fields.house_groups() if group.title == words.TITLES["site"]]
    walls = [item for item in fields.wall_fields(head.walls) if item.path.endswith(".length")]
    context = {
        "house": head,
        "stored": head.stored,
        "winds": winds_shown(answer, head.system),
        "wrong": [window.number for window in answer.windows if not window.values],
        "findings": present.sorted_findings(answer.findings),
        "groups": form.groups(site, model),
        "walls": [
            form.show(replace(item, label=item.label.removesuffix(", length")), model)
            for item in walls
        ],
        "save": reverse("house-field", args=[slug]),
        "papers": PAPERS,
        "certify": CERTIFY,
    }
    template = "web/wind/windows.html" if is_part(request) else "web/wind.html"
    return render(request, template, context)
