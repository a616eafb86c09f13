"""A shop's own schedule of windows: sent, its columns named, looked at row by row, brought in; taken out."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from sashwright.record.errors import Refused
from sashwright.record.schedule import (
    LARGEST,
    Book,
    NotAsSeen,
    Plan,
    ScheduleError,
    bring_in,
    csv_schedule,
    keep_book,
    kept_book,
    preview,
    said_of,
    xlsx_schedule,
)
from sashwright.web import schedules
from sashwright.web.views.common import (
    HouseHead,
    family_choices,
    head_of,
    is_part,
    tell,
    user_of,
)
from sashwright.web.views.papers import XLSX


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """Send a schedule; take the house's own along."""
    head = head_of(request, slug)
    says = ""
    if request.method == "POST":
        upload = request.FILES.get("file")
        if upload is None:
            says = "Found no file, expected a schedule (CSV or XLSX)."
        else:
            try:
                # One more than allowed tells a file that is too large, however large it is.
                key = keep_book(upload.read(LARGEST + 1), str(upload.name))
                return redirect("schedule-read", slug, key)
            except ScheduleError as error:
                says = str(error)
    context = {"house": head, "says": says, "families": family_choices(slug)}
    return render(request, "web/schedule.html", context, status=422 if says else 200)


@require_http_methods(["GET", "POST"])
def read(request: HttpRequest, slug: str, key: str) -> HttpResponse:
    """What the columns of a schedule hold, and what it would do, row by row; then bring it in."""
    head = head_of(request, slug)
    book = kept_book(key)
    says = ""
    plan = schedules.first_plan(book, head)
    if request.method == "POST":
        try:
            plan = schedules.plan_of(request.POST, book, head)
        except ScheduleError as error:
            says = str(error)
    if request.POST.get("act") == "bring" and not says:
        try:
            brought = bring_in(slug, book, plan, user_of(request), request.POST.get("seen", ""))
        except (ScheduleError, NotAsSeen) as error:
            says = str(error)
        except Refused:
            says = "Nothing was brought in: there are rows to put right first."
        else:
            change = brought.change
            tell(request, f"{book.name}: {brought.says}.", change.pk if change else None)
            return redirect("house", slug)
    status = 422 if says else 200
    template = "web/schedule/work.html" if is_part(request) else "web/schedule/read.html"
    return render(request, template, _context(request, head, book, plan, says), status=status)


def _context(
    request: HttpRequest, head: HouseHead, book: Book, plan: Plan, says: str
) -> dict[str, Any]:
    sheet = book.sheet(plan.sheet)
    context: dict[str, Any] = {
        "house": head,
        "book": book,
        "sheet": sheet,
        "plan": plan,
        "given": plan.given or {},
        "columns": schedules.columns_shown(sheet, plan),
        "choices": schedules.choices(),
        "units": schedules.units(),
        "families": family_choices(head.slug),
        "says": says,
        "most": schedules.MOST_ROWS,
    }
    try:
        found = preview(head.slug, book, plan, user_of(request))
    except ScheduleError as error:
        return {**context, "says": says or str(error)}
    return {
        **context,
        "found": found,
        "said": said_of(found),
        "effects": schedules.effects(found),
        "doing": found.count("add") + found.count("change"),
        "same": found.count("nothing"),
        "problems": found.problems[: schedules.MOST_ROWS],
        "wrong": len(found.problems) + len(found.elsewhere),
    }


@require_GET
def csv(request: HttpRequest, slug: str) -> HttpResponse:
    """The windows as CSV."""
    head_of(request, slug)
    return _file(csv_schedule(slug), "text/csv; charset=utf-8", f"{slug}-windows.csv")


@require_GET
def xlsx(request: HttpRequest, slug: str) -> HttpResponse:
    """The windows as a workbook."""
    head = head_of(request, slug)
    try:
        return _file(xlsx_schedule(slug), XLSX, f"{slug}-windows.xlsx")
    except ScheduleError as error:
        context = {"house": head, "says": str(error), "families": family_choices(slug)}
        return render(request, "web/schedule.html", context, status=422)


def _file(data: bytes, kind: str, name: str) -> HttpResponse:
    response = HttpResponse(data, content_type=kind)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
