"""What can be taken away: papers, looked at and printed; lists as a workbook, a drawing, the house file."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from sashwright.drawing.svg import to_svg
from sashwright.papers.packet import EVERY, SECTIONS, TITLES, Section
from sashwright.papers.press import Paper
from sashwright.record import store
from sashwright.record.errors import NotThere
from sashwright.record.facts import knowledge
from sashwright.record.housefile import house_text
from sashwright.web import papered, pictures
from sashwright.web.asking import ask
from sashwright.web.papered import Choice
from sashwright.web.views.common import HouseHead, head_of, is_part

PAPERS: dict[Paper, str] = {"letter": "Letter", "a4": "A4"}
POINTS: dict[Paper, tuple[int, int]] = {"letter": (612, 792), "a4": (595, 842)}
"""Width and height of a page, for the place of its picture."""
PARTS: dict[str, tuple[str, tuple[Section, ...]]] = {
    "": ("Windows, weights and sheets", SECTIONS),
    "fit": ("Fit cards", ("fit",)),
    "seal": ("Leakage sheet", ("seal",)),
    "season": ("Changeover list", ("season",)),
    "heat": ("Warmth sheets", ("heat",)),
    "grade": ("Performance sheets", ("grade",)),
    "card": ("Ventilation card", ("card",)),
    "worth": ("Keep or replace, a report", ("worth",)),
    "tags": ("Number tags", ("tags",)),
    "plans": ("Cutting plans", ("plans",)),
}
"""What pages offer to print, by the word for it in an address: its title, and parts of the packet."""
SLOW: frozenset[Section] = frozenset({"heat", "grade", "card", "worth"})
"""Parts that follow the house through a year first."""
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """Choose papers, look at them, take them; asked for as a part, the pictures of their pages."""
    head = head_of(request, slug)
    choice = _choice(request, head)
    numbers = store.window_numbers(slug)
    context: dict[str, Any] = {
        "house": head,
        "count": len(numbers),
        "parts": [
            {
                "key": part,
                "title": title,
                "about": about,
                "chosen": part in choice.parts,
                "slow": part in SLOW,
            }
            for part, (title, about) in TITLES.items()
        ],
        "numbers": [(number, number in choice.numbers) for number in numbers],
        "papers": PAPERS,
        "paper": choice.paper,
        "query": _query(choice),
        "asked": "show" in request.GET,
        "slow": SLOW & set(choice.parts),
    }
    if not (is_part(request) or "now" in request.GET):
        return render(request, "web/papers.html", context)
    wide, high = POINTS[choice.paper]
    context |= {"pages": range(1, len(papered.pages(choice)) + 1), "wide": wide, "high": high}
    template = "web/papers/pages.html" if is_part(request) else "web/papers.html"
    return render(request, template, context)


@require_GET
def sheet(request: HttpRequest, slug: str, number: int) -> HttpResponse:
    """One page of the papers as a picture."""
    choice = _choice(request, head_of(request, slug))
    found = papered.pages(choice)
    if not 1 <= number <= len(found):
        raise Http404(f"There is no page {number} of these papers.")
    response = HttpResponse(found[number - 1], content_type="image/png")
    # The house may be changed by the next look.
    response.headers["Cache-Control"] = "private, no-cache"
    return response


@require_GET
def packet_pdf(request: HttpRequest, slug: str) -> HttpResponse:
    """The papers themselves: one ``part`` by its word, or any ``parts``; of a ``number``, or of many."""
    choice = _choice(request, head_of(request, slug))
    data = papered.composed(choice).pdf()
    part = request.GET.get("part", "")
    several = "papers" if "parts" in request.GET else part or "windows"
    what = choice.parts[0] if len(choice.parts) == 1 else several
    number = choice.numbers[0] if len(choice.numbers) == 1 else ""
    named = "-".join(filter(None, (slug, number, what, choice.paper)))
    return _file(data, "application/pdf", f"{named}.pdf")


def _choice(request: HttpRequest, head: HouseHead) -> Choice:
    """What an address asks for. Raises ``NotThere`` or ``Http404`` for what there is not."""
    query = request.GET
    paper = query.get("paper", "letter" if head.system == "us" or "part" in query else "a4")
    if paper not in PAPERS:
        raise Http404(f"There is no paper {paper!r}.")
    numbers = [each for each in query.getlist("number") if each]
    known = papered.known_numbers(head.slug, numbers)
    for number in numbers:
        if number not in known:
            raise NotThere(f"There is no window {number} in this house.")
    return Choice(
        head.slug,
        head.system,
        paper,
        _parts(query),
        tuple(known),
        timezone.localdate(),
        request.build_absolute_uri("/"),
        query.get("what", ""),
    )


def _parts(query: QueryDict) -> tuple[Section, ...]:
    """The parts asked for, in their order."""
    asked = query.getlist("parts")
    unknown = [part for part in asked if part not in EVERY]
    part = query.get("part", "")
    if unknown or part not in PARTS:
        raise Http404(f"There is no part {(unknown or [part])[0]!r} of the papers.")
    return tuple(each for each in EVERY if each in asked) if asked else PARTS[part][1]


def _query(choice: Choice) -> str:
    """The address of the same choice."""
    query = QueryDict(mutable=True)
    query["paper"] = choice.paper
    query.setlist("parts", list(choice.parts))
    query.setlist("number", list(choice.numbers))
    return query.urlencode()


@require_GET
def lists_xlsx(request: HttpRequest, slug: str) -> HttpResponse:
    """All lists of the house as a workbook."""
    head = head_of(request, slug)
    return _file(papered.workbook(slug, head.system, timezone.localdate()), XLSX, f"{slug}.xlsx")


@require_GET
def drawing_svg(request: HttpRequest, slug: str, number: str, view: str) -> HttpResponse:
    """One view of a window as a file of its own; the sections as one file each."""
    head = head_of(request, slug)
    names = {"vertical": ("sections", 0), "horizontal": ("sections", 1)}
    kind, index = names.get(view, (view, 0))
    if kind not in pictures.VIEWS or view == "sections":
        raise Http404(f"There is no view {view!r} of a window.")
    asked = ask(store.load_for_window(slug, number), number, knowledge(), head.system)
    if asked.placed is None:
        raise Http404(f"The sizes of window {number} contradict each other.")
    drawing = pictures.drawings(asked.placed, asked.hang, kind, head.system)[index]
    text = to_svg(drawing, standalone=True)
    return _file(text.encode(), "image/svg+xml", f"{slug}-{number}-{view}.svg")


@require_GET
def toml(request: HttpRequest, slug: str) -> HttpResponse:
    head_of(request, slug)
    text = house_text(store.load_house(slug))
    return _file(text.encode(), "application/toml", f"{slug}.toml")


def _file(data: bytes, kind: str, name: str) -> HttpResponse:
    response = HttpResponse(data, content_type=kind)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
