"""A new window from its opening: traditions side by side, one chosen by looking, then added."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from sashwright import units
from sashwright.chapters.make.tradition import (
    Proposal,
    check_new,
    family_document,
    window_document,
)
from sashwright.chapters.make.tradition.opening import KINDS
from sashwright.chapters.make.tradition.pattern import pattern_of
from sashwright.chapters.words import Words
from sashwright.drawing.elevation import elevation
from sashwright.drawing.thumbnail import thumbnail
from sashwright.record import store
from sashwright.record.errors import Refused
from sashwright.record.facts import knowledge
from sashwright.record.newwindow import add_family_with_window
from sashwright.web import newwindow, pictures, present, saving, yearly
from sashwright.web.newwindow import ADJUSTED, ASKED, Beside, Wish
from sashwright.web.views.common import (
    HouseHead,
    head_of,
    is_part,
    is_phone,
    latest_change,
    tell,
    user_of,
)
from sashwright.window.resolve import Placed

KIND_NAMES = {
    "rough": "Between studs",
    "masonry": "In masonry",
    "sash": "The sash opening itself",
}
KIND_HELP = {
    "rough": "From stud to stud, and from the rough sill up to the header.",
    "masonry": "From brick to brick, and from the stone sill up to the soffit.",
    "sash": "Between the pulley stiles, and from the sill up to the head.",
}
BOXES = (
    ("", "as the tradition has it"),
    ("behind", "behind the reveal"),
    ("within", "within the opening"),
)
SCALE = 0.03
"""Of the little elevations: one scale for all, so that they can be compared by eye."""
SMALL_PX = 2.5
"""Pixels for each paper millimetre of them."""


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """GET draws what was asked so far; POST adds the family and the window."""
    head = head_of(request, slug)
    typed = request.POST if request.method == "POST" else request.GET
    asked = {name: typed[name] for name in ASKED if name in typed}
    wish = newwindow.read_wish(asked, _suggested(head), head.system)
    beside = _beside(wish, head)
    chosen = next((each for each in beside if each.key == wish.tradition), None)
    says = ""
    if request.method == "POST":
        says = _add(request, head, wish, chosen)
        if not says:
            change = latest_change(slug)
            tell(
                request, f"Family {wish.place.family} and window {wish.place.number} added.", change
            )
            return redirect("house", slug)
    context = {"house": head, **_context(request, head, wish, beside, chosen), "refused": says}
    template = "web/newwindow/proposal.html" if is_part(request) else "web/new_window.html"
    return render(request, template, context, status=422 if says else 200)


def _suggested(head: HouseHead) -> dict[str, str]:
    """What stands in the form at first."""
    keys = store.family_keys(head.slug)
    letters = (letter for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ" if letter not in keys)
    metric = head.stored.document.get("units") == "metric"
    return {
        "kind": "rough",
        "tradition": "gb-victorian" if metric else "us-1860",
        "number": store.next_number(head.slug),
        "family": next(letters, "new"),
        "wall": head.walls[0] if head.walls else "north",
        "storey": "1",
    }


def _beside(wish: Wish, head: HouseHead) -> list[Beside]:
    if wish.opening is None:
        return []
    return newwindow.all_beside(wish, knowledge(), head.system)


def _add(request: HttpRequest, head: HouseHead, wish: Wish, chosen: Beside | None) -> str:
    """Add what was proposed; what is wrong instead."""
    if wish.said:
        return next(iter(wish.said.values()))
    if chosen is None or chosen.proposal is None:
        return chosen.says if chosen else "Type the width and the height of the opening first."
    system = head.stored.document.get("units", "us")
    family = family_document(chosen.proposal, system)
    window = window_document(chosen.proposal, system)
    try:
        add_family_with_window(head.slug, wish.place.family, family, window, user_of(request))
    except Refused as error:
        return saving.sentence_of(error)
    return ""


# --- shown ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Card:
    """A tradition to choose by looking."""

    key: str
    name: str
    years: str
    chosen: bool
    svg: Any = ""
    pattern: str = ""
    lites: str = ""
    says: str = ""


@dataclass(frozen=True, slots=True)
class Adjust:
    """A size that may be had otherwise."""

    name: str
    label: str
    text: str
    usual: str
    range: str
    says: str


def _context(
    request: HttpRequest,
    head: HouseHead,
    wish: Wish,
    beside: list[Beside],
    chosen: Beside | None,
) -> dict[str, Any]:
    words = Words(head.system)
    context: dict[str, Any] = {
        "wish": wish.typed,
        "said": wish.said,
        "kinds": [(kind, KIND_NAMES[kind], KIND_HELP[kind]) for kind in KINDS],
        "boxes": BOXES,
        "unit": "mm" if head.system == "metric" else "in",
        "places": [
            ("number", "Number"),
            ("family", "Family"),
            ("storey", "Storey"),
            ("room", "Room"),
        ],
        "examples": ("920", "1680") if head.system == "metric" else ("36", "66"),
        "cards": [_card(each, wish, words) for each in beside],
        "hidden": [(name, wish.typed[name]) for name in ASKED if wish.typed[name]],
    }
    if chosen is not None:
        context["cannot"] = chosen.says
    if chosen is None or chosen.proposal is None:
        return context
    return context | _chosen(request, head, wish, chosen.proposal, words)


def _card(each: Beside, wish: Wish, words: Words) -> Card:
    row, chosen = knowledge().tradition[each.key], each.key == wish.tradition
    years = f"{row.from_year} to {row.to_year}"
    name = each.name.partition(", c.")[0].partition(", 18")[0]
    if each.proposal is None:
        return Card(each.key, name, years, chosen, says="no room for its sash")
    built = each.proposal.built
    drawn = thumbnail(Placed(built.layout, knowledge()))
    svg = pictures.svg(drawn, f"tradition-{each.key}", scale=SCALE, px_per_mm=SMALL_PX)
    size = " × ".join(words.length(side) for side in built.lite)
    return Card(each.key, name, years, chosen, svg, built.pattern.says, size)


def _chosen(
    request: HttpRequest, head: HouseHead, wish: Wish, proposal: Proposal, words: Words
) -> dict[str, Any]:
    house = store.load_house(head.slug)
    more = wish.typed["more"] == "1"
    outdoors = yearly.weather_of(house).outdoors if more else None
    answer = check_new(
        proposal,
        knowledge(),
        house if wish.place.wall in house.walls else None,
        climate=None if outdoors is None else outdoors.daily(house),
        heat=more,
        system=head.system,
    )
    (window,) = answer.windows
    findings = present.sorted_findings(window.findings)
    placed = Placed(proposal.built.layout, knowledge())
    drawn = elevation(placed, "outside", head.system)
    scale = pictures.PHONE_SCALE if is_phone(request) else pictures.PAGE_SCALE
    values, own = window.values, set(proposal.answer.findings)
    light = [each for each in findings if each.level in ("note", "ok")]
    return {
        "name": proposal.tradition.name,
        "proposal": proposal,
        "picture": pictures.svg(drawn, "proposed", present.marks(findings), scale),
        "grave": [each for each in findings if each.level in ("caution", "fail")],
        "own": [each for each in light if each in own],
        "others": [each for each in light if each not in own],
        "adjusts": list(_adjusts(wish, values["sizes"], head.system)),
        "patterns": _patterns(proposal),
        "woods": [(row.key, row.name) for row in knowledge().wood.values()],
        "usual_wood": knowledge().find("wood", proposal.tradition.wood).name,
        "ways": list(_ways(values, words)),
        "working": present.steps(window.working, head.system),
        "no_weather": more and outdoors is None,
    }


def _adjusts(
    wish: Wish, sizes: Mapping[str, Mapping[str, Any]], system: units.System
) -> Iterator[Adjust]:
    def bare(mm: float) -> str:
        nearest = 64 if system == "us" else 0.1
        text = units.format_length(mm / 1000, system, nearest)
        return text.removesuffix('"').removesuffix(" mm")

    for name, label in ADJUSTED.items():
        size = sizes[name.replace("-", "_")]
        low, high = bare(size["low_mm"]), bare(size["high_mm"])
        found = f"found from {low} to {high}" if low != high else f"always {low}"
        yield Adjust(
            name, label, wish.typed[name], bare(size["mm"]), found, wish.said.get(name, "")
        )


def _patterns(proposal: Proposal) -> list[tuple[str, str]]:
    """The tradition's patterns to choose from, and the one that was taken where nobody chose."""
    key, found = proposal.tradition.key, []
    for row in knowledge().tradition_lites.values():
        if key in row.traditions:
            says = pattern_of(row).says + ("" if row.standing == "usual" else ", less usual")
            found.append((f"{row.upper} {row.lower}", says))
    return found


def _ways(values: Mapping[str, Any], words: Words) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """Each way through the window, piece by piece."""
    for title, key in (
        ("Across the opening", "across"),
        ("Up the opening", "up"),
        ("Across the sash", "sash_across"),
        ("Up the sash", "sash_up"),
    ):
        yield title, [(each["part"], words.fine(each["mm"] / 1000)) for each in values[key]]
