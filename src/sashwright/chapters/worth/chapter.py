"""Keep the windows or replace them? The answer for a house."""

from __future__ import annotations

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, WindowAnswer
from sashwright.chapters.building import Building, BuildingError, building
from sashwright.chapters.weather import year_of
from sashwright.chapters.worth.findings import findings_of, steps_of
from sashwright.chapters.worth.home import Home
from sashwright.chapters.worth.model import SEED, Model
from sashwright.chapters.worth.values import house_values, window_values
from sashwright.knowledge.climate import Place
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.hourly_year import HourlyYear
from sashwright.window.spec import House

DRAWS = 1000


def worth(
    house: House,
    knowledge: Knowledge,
    system: units.System | None = None,
    *,
    year: HourlyYear | None = None,
    place: Place | None = None,
    draws: int = DRAWS,
    seed: int = SEED,
    repair_due: bool = False,
) -> Answer:
    """What becomes of the windows, in energy, money and carbon: kept, repaired, tightened, covered, replaced.

    Parameters
    ----------
    house, knowledge
        The specification and the tables.
    system : {"us", "metric"}, optional
        Of the sentences; the house's own where not given.
    year : HourlyYear, optional
        Weather hour by hour; the typical year of ``place`` where not given. One of the two is needed.
    place : Place, optional
        Where the house stands.
    draws : int
        Draws of all that is not known for sure; 0 for the likely figures alone, without ranges.
    seed : int
        Of the draws: the same gives the same.
    repair_due : bool
        The windows cannot stay as they are: all is compared with putting them in order.

    Raises
    ------
    ValueError
        Without weather.
    KnowledgeError
        For an unknown row of the fabric, plant or fuel table.
    """
    if year is None:
        if place is None:
            raise ValueError("found neither a year of weather nor a place, expected one of the two")
        year = year_of(place)
    try:
        made = building(house, knowledge, year)
    except BuildingError as error:
        finding = Finding("fail", "house", str(error), "nothing to compare", "survey")
        return Answer("worth", house.name, [], {}, [finding])
    return answer_for(made, knowledge, draws=draws, seed=seed, repair_due=repair_due)


def answer_for(
    made: Building,
    knowledge: Knowledge,
    *,
    draws: int = DRAWS,
    seed: int = SEED,
    repair_due: bool = False,
) -> Answer:
    """The same for a house that has been put together."""
    model = Model(Home(made), knowledge, draws, seed, repair_due)
    windows = [WindowAnswer(each.number, window_values(model, each)) for each in model.home.windows]
    wrong = [
        WindowAnswer(
            number, {}, [Finding("fail", "window", says, "left out here", "specification")]
        )
        for number, says in made.wrong.items()
    ]
    return Answer(
        "worth",
        made.house.name,
        [*windows, *wrong],
        house_values(model),
        list(findings_of(model)),
        list(steps_of(model)),
    )
