"""Answers as JSON, for spreadsheets and scripts: the very shape of the command line's ``--json``."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_GET

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.chapters.fit import fit
from sashwright.chapters.fit.calendar import day_of_date
from sashwright.chapters.grade import grade
from sashwright.chapters.hang import hang
from sashwright.chapters.heat import heat
from sashwright.chapters.parts import parts
from sashwright.chapters.seal import seal
from sashwright.chapters.season import season
from sashwright.record import store
from sashwright.record.errors import NotThere
from sashwright.record.facts import knowledge
from sashwright.record.outdoors import outdoors_of, outdoors_or_none
from sashwright.web import yearly
from sashwright.web.views.chapters import shop_date
from sashwright.web.views.common import head_of
from sashwright.window.spec import House

Numbers = Sequence[str] | None
Ask = Callable[[HttpRequest, House, Numbers, units.System], Answer]


def _plain(chapter: Callable[..., Answer]) -> Ask:
    """A chapter that needs the house only."""
    return lambda _, house, numbers, system: chapter(house, knowledge(), numbers, system)


def _weathered(chapter: Callable[..., Answer]) -> Ask:
    """A chapter that says more where the weather is known, and does without."""

    def ask(_: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
        found = outdoors_or_none(house)
        year, place = (found.year, found.place) if found else (None, None)
        return chapter(house, knowledge(), numbers, system, year=year, place=place)

    return ask


def _fit(request: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
    on, says = shop_date(request)
    if says:
        raise ValueError(says)
    today = day_of_date(on.isoformat()) + 1
    return fit(house, knowledge(), outdoors_of(house).daily(house), numbers, system, today)


def _breathe(request: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
    """Of the whole house, always; from what its page has found, as a search takes a while."""
    assert request.resolver_match is not None
    whole = yearly.whole_of(request.resolver_match.kwargs["slug"], system)
    if whole.breathe is None:
        raise ValueError(whole.weather.says)
    return _with_windows(whole.breathe, numbers)


def _with_windows(found: Answer, numbers: Numbers) -> Answer:
    """The answer of a whole house with those windows alone."""
    if numbers is None:
        return found
    return replace(found, windows=[each for each in found.windows if each.number in numbers])


def _worth(request: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
    """Likewise of the whole house; ``?due=1`` where a repair is due anyway."""
    assert request.resolver_match is not None
    whole = yearly.whole_of(request.resolver_match.kwargs["slug"], system)
    found = whole.worth(repair_due=request.GET.get("due") == "1")
    if found is None:
        raise ValueError(whole.weather.says)
    return _with_windows(found, numbers)


CHAPTERS: Mapping[str, Ask] = {
    "parts": _plain(parts),
    "hang": _plain(hang),
    "fit": _fit,
    "seal": _weathered(seal),
    "season": _weathered(season),
    "grade": _plain(grade),
    "heat": _weathered(heat),
    "breathe": _breathe,
    "worth": _worth,
}


@require_GET
def answer(request: HttpRequest, slug: str, chapter: str) -> HttpResponse:
    """What a chapter says of a house, or of the windows named by ``?window=`` (once or more)."""
    head = head_of(request, slug)
    if chapter not in CHAPTERS:
        known = ", ".join(CHAPTERS)
        return _refused(f"Found the chapter {chapter!r}, expected one of {known}.", 404)
    house = store.load_house(slug)
    numbers = request.GET.getlist("window") or None
    unknown = sorted(set(numbers or ()) - {window.number for window in house.windows})
    if unknown:
        raise NotThere(f"{head.name} has no window {', '.join(unknown)}.")
    try:
        found = CHAPTERS[chapter](request, house, numbers, head.system)
    except ValueError as error:
        return _refused(str(error), 400)
    return JsonResponse(found.to_dict())


def _refused(says: str, status: int) -> JsonResponse:
    return JsonResponse({"error": says}, status=status)
