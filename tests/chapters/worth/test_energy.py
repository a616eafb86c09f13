"""The year of a house in one zone, and the polynomial that stands in for it in draws."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from sashwright.chapters.worth.chance import Terms, years_of
from sashwright.chapters.worth.home import HEATED, USUAL_GAINS
from sashwright.chapters.worth.inputs import ranks
from tests.chapters.worth.towns import model

COOLED: dict[str, Any] = {"cooling": "cooling-central", "climate": "Atlanta"}


def test_the_merged_zone_has_all_of_the_house() -> None:
    home = model().home
    made = home.building
    assert sum(e.area for e in home.elements) == pytest.approx(
        sum(part.element.area for part in made.opaque)
    )
    assert home.rooms[HEATED].volume == pytest.approx(made.plan.heated_volume)
    assert len(home.elements) < len(made.opaque)
    assert home.gains == pytest.approx(USUAL_GAINS * 160)


def test_less_loss_is_less_heat_and_more_sun_likewise() -> None:
    found = model()
    standing = found.standings["keep"]
    need = found.follower.need
    usual = need(standing).heating
    assert need(standing, u=0.9).heating < usual < need(standing, u=1.1).heating
    assert need(standing, rest=0.0).heating < usual
    assert need(standing, sun=0.5).heating > usual
    assert need(standing, warmer=2.0).heating < usual
    assert need(standing).cooling == 0


def test_windows_that_stand_alike_need_alike() -> None:
    found = model()
    needs = found.needs
    assert needs["repair-strip-spring"] == needs["repair-strip-bulb"]
    assert needs["repair"].heating < needs["keep"].heating
    assert needs["repair-strip-spring"].heating < needs["repair"].heating


def test_a_house_that_nothing_cools_is_not_cooled() -> None:
    assert not model().follower.cools
    assert model(**COOLED).needs["keep"].cooling > 0


def test_draws_by_the_polynomial_are_those_followed_by_the_hour() -> None:
    """Twelve draws of two alternatives, followed hour by hour with the same figures."""
    found = model(draws=12, **COOLED)
    base = found.base
    some = [base, next(each for each in found.alternatives if each.key == "replace-pvc")]
    terms = Terms.drawn(found.inputs, ranks(found.inputs, 12, seed=5))
    standings = {each.key: found.standings[each.key] for each in some}
    needs = {each.key: found.needs[each.key] for each in some}
    years = years_of(found.follower, some, standings, needs, terms)
    assert years.heating_off < 0.002
    assert years.cooling_off < 0.002
    new = standings["replace-pvc"]
    # As the draws have it: new windows leak by the rank of the work, the rest of the house by its own.
    from sashwright.chapters.worth.chance import spread

    leak = spread(terms.ranks["leak after work"], new.winter_at_4)
    for at in range(12):
        need = found.follower.need(
            new,
            leak=float(leak[at]),
            summer_leak=float(leak[at]),
            rest=found.home.rest_at_4 * float(terms.values["rest"][at]),
            u=float(terms.values["conductance"][at]),
            sun=float(terms.values["sun"][at]),
            warmer=float(terms.values["weather"][at]),
        )
        assert years.heating["replace-pvc"][at] == pytest.approx(need.heating, rel=0.01)
        assert years.cooling["replace-pvc"][at] == pytest.approx(need.cooling, rel=0.01)
    assert np.ptp(years.heating["replace-pvc"]) > 0.2 * years.heating["replace-pvc"].mean()


def test_storms_hang_in_the_same_hours_as_when_the_house_is_aired() -> None:
    """One rule for both chapters: amid the season chapter's weeks of the change."""
    home = model().home
    season = home.building.season
    assert season is not None
    assert (home.winter == home.building.storms_on).all()
    hung = home.winter.reshape(-1, 24)
    assert (hung == hung[:, :1]).all()
    for first, last in (
        (season.storms_from, season.storms_by),
        (season.screens_from, season.screens_by),
    ):
        assert first is not None
        assert last is not None
        # The first day of the one state, the last of the other.
        assert hung[first, 0] != hung[last, 0]
