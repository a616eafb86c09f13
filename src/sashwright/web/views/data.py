"""Answers as JSON, for spreadsheets and scripts: the very shape of the command line's ``--json``."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import cast

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_GET

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.chapters.fit import fit
from sashwright.chapters.fit.calendar import day_of_date
from sashwright.chapters.grade import grade
from sashwright.chapters.hang import hang
from sashwright.chapters.heat import heat
from sashwright.chapters.make.chapter import make
from sashwright.chapters.make.cut import Unit
from sashwright.chapters.make.orders import orders
from sashwright.chapters.make.wanted import Asked
from sashwright.chapters.parts import parts
from sashwright.chapters.price import price
from sashwright.chapters.seal import seal
from sashwright.chapters.season import season
from sashwright.chapters.treat import treat
from sashwright.record import store
from sashwright.record.errors import NotThere
from sashwright.record.facts import knowledge
from sashwright.record.needed import needed
from sashwright.record.outdoors import outdoors_of, outdoors_or_none
from sashwright.web import shopwork, yearly
from sashwright.web.views.chapters import shop_date
from sashwright.web.views.common import head_of
from sashwright.web.views.keeping import keep_of
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


def _make(request: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
    """``?all=sash`` (storm, screen, frame) whatever was decided; ``unit`` and ``wood`` as on the page."""
    asked = cast("list[Asked]", request.GET.getlist("all"))
    only = cast("list[Unit]", request.GET.getlist("unit"))
    wood = request.GET.get("wood")
    return make(
        house, knowledge(), numbers, system, scope=asked or None, wood=wood, only=only or None
    )


def _treat(request: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
    """With the other chapters' figures beside the alternatives of windows that are asked for by number."""
    assert request.resolver_match is not None
    whole = yearly.whole_of(request.resolver_match.kwargs["slug"], system)
    if numbers is None:
        return whole.treat
    asked = treat(house, knowledge(), numbers, system)
    return replace(asked, windows=[whole.treat_window(number) for number in numbers])


def _price(request: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
    """What if: ``?alternative=`` for all windows, ``?tick=`` for options taken, once or more."""
    del system
    assert request.resolver_match is not None
    jobs = yearly.whole_of(request.resolver_match.kwargs["slug"], house.units).jobs
    ticked = request.GET.getlist("tick") or None
    try:
        return price(
            house,
            knowledge(),
            numbers,
            jobs=jobs,
            alternative=request.GET.get("alternative") or None,
            ticked=ticked,
        )
    except KeyError as error:
        raise ValueError(f"Found the option {error}, expected one that the house has.") from None


def _slug(request: HttpRequest) -> str:
    assert request.resolver_match is not None
    return str(request.resolver_match.kwargs["slug"])


def _stages(request: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
    """As the record has it today."""
    del house, system
    return shopwork.stages_of(_slug(request), numbers)


def _capacity(request: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
    """The weeks ahead, of the whole house by the hours of the shop."""
    del house, numbers, system
    found = shopwork.weeks_ahead([_slug(request)])
    if found is None:
        raise ValueError("The shop names no hours in a week: say them in its rules.")
    return found


def _orders(request: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
    """Of the whole house, less the stock and the orders of the record; of single windows the need alone."""
    if numbers is None:
        return needed(_slug(request), system, house)
    return orders(house, knowledge(), numbers, system)


def _keep(request: HttpRequest, house: House, numbers: Numbers, system: units.System) -> Answer:
    """With the visits and the stages of the record."""
    del house
    return _with_windows(keep_of(_slug(request), system), numbers)


CHAPTERS: Mapping[str, Ask] = {
    "parts": _plain(parts),
    "make": _make,
    "hang": _plain(hang),
    "fit": _fit,
    "seal": _weathered(seal),
    "season": _weathered(season),
    "grade": _plain(grade),
    "heat": _weathered(heat),
    "breathe": _breathe,
    "worth": _worth,
    "stages": _stages,
    "capacity": _capacity,
    "orders": _orders,
    "keep": _keep,
    "treat": _treat,
    "price": _price,
}


@require_GET
def answer(request: HttpRequest, slug: str, chapter: str) -> HttpResponse:
    """What a chapter says of a house, or of the windows named by ``?window=`` (once or more)."""
    if chapter not in CHAPTERS:
        return _refused(_strange(chapter), 404)
    try:
        found = answer_of(request, slug, chapter, request.GET.getlist("window") or None)
    except ValueError as error:
        return _refused(str(error), 400)
    return JsonResponse(found.to_dict())


def answer_of(request: HttpRequest, slug: str, chapter: str, numbers: Numbers) -> Answer:
    """What a chapter says of a house, or of some windows of it; the request holds what else is asked.

    Raises ``NotThere``, also for a chapter that is none, and ``ValueError`` for what cannot be answered.
    """
    head = head_of(request, slug)
    if chapter not in CHAPTERS:
        raise NotThere(_strange(chapter))
    house = store.load_house(slug)
    unknown = sorted(set(numbers or ()) - {window.number for window in house.windows})
    if unknown:
        raise NotThere(f"{head.name} has no window {', '.join(unknown)}.")
    return CHAPTERS[chapter](request, house, numbers, head.system)


def _strange(chapter: str) -> str:
    return f"Found the chapter {chapter!r}, expected one of {', '.join(CHAPTERS)}."


def _refused(says: str, status: int) -> JsonResponse:
    return JsonResponse({"error": says}, status=status)
