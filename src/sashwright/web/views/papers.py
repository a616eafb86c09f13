"""What can be taken away: the packet for the printer, a drawing, the house as a file."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET

from sashwright.drawing.svg import to_svg
from sashwright.papers.packet import SECTIONS, Section, packet
from sashwright.record import store
from sashwright.record.errors import NotThere
from sashwright.record.facts import knowledge
from sashwright.record.housefile import house_text
from sashwright.web import pictures, yearly
from sashwright.web.asking import ask
from sashwright.web.views.common import head_of

PAPERS = {"letter": "Letter", "a4": "A4"}
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
}
"""What can be printed, by the word for it in an address: its title, and parts of the packet."""


@require_GET
def packet_pdf(request: HttpRequest, slug: str) -> HttpResponse:
    head = head_of(request, slug)
    paper = request.GET.get("paper", "letter")
    if paper not in PAPERS:
        raise Http404(f"There is no paper {paper!r}.")
    part = request.GET.get("part", "")
    if part not in PARTS:
        raise Http404(f"There is no part {part!r} of the papers.")
    house, number = store.load_house(slug), request.GET.get("number", "")
    if number and all(window.number != number for window in house.windows):
        raise NotThere(f"There is no window {number} in this house.")
    data = packet(
        house,
        knowledge(),
        paper="a4" if paper == "a4" else "letter",
        system=head.system,
        include=PARTS[part][1],
        numbers=[number] if number else None,
        today=timezone.localdate(),
        outdoors=yearly.weather_of(house).outdoors,
        base_url=request.build_absolute_uri("/"),
        paths=lambda of: reverse("window", args=[slug, of]),
    )
    named = "-".join(filter(None, (slug, number, part or "windows", paper)))
    return _file(data, "application/pdf", f"{named}.pdf")


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
