"""Hours loaded forward: conserved, never more in a day than there are, rests kept, the furthest first."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.chapters.days import date_of, day_number
from sashwright.chapters.make.capacity import capacity
from sashwright.chapters.make.standing import Move, Standing, stand
from sashwright.chapters.make.tracks import tracks_of
from sashwright.knowledge.load import load
from sashwright.window.check import house_from
from tests.factories import family_document, house_document, window_document

KNOWLEDGE = load()
MONDAY = "2026-03-02"
ENOUGH = {
    "bench-hand": 80.0, "glazier": 40.0, "joiner": 40.0, "painter": 40.0, "installer": 80.0,
    "labourer": 40.0,
}  # fmt: skip
HOUSE = house_from(
    house_document(
        families={"A": family_document()},
        windows=[window_document(f"10{n}", decision={"alternative": "shop"}) for n in range(1, 4)],
    ),
    KNOWLEDGE,
)
TRACKS, _ = tracks_of(HOUSE, KNOWLEDGE)


def standings(*moves: Move) -> dict[str, list[Standing]]:
    return {number: [stand(track, moves) for track in mine] for number, mine in TRACKS.items()}


def spent(values: dict[str, object], skill: str) -> float:
    weeks = values["weeks"]
    assert isinstance(weeks, list)
    return float(sum(week["skills"][skill]["hours"] for week in weeks))


def test_all_hours_are_given_out_once() -> None:
    values = dict(capacity("A", standings(), ENOUGH, today=MONDAY).values)
    by_task = 0.0
    for mine in TRACKS.values():
        by_task += sum(w.hours() for w in mine[0].window_work)
        by_task += sum(w.hours() for track in mine for w in track.work)
    assert sum(values["need_hours"].values()) == pytest.approx(by_task, abs=0.05)
    for skill, hours in values["need_hours"].items():
        assert spent(values, skill) == pytest.approx(hours, abs=0.1), skill


@given(share=st.floats(0.1, 3), day=st.integers(0, 6))
def test_no_week_has_more_than_there_is(share: float, day: int) -> None:
    hours = {skill: share * each for skill, each in ENOUGH.items()}
    today = date_of(day_number(MONDAY) + day)
    values = capacity("A", standings(), hours, today=today).values
    for week in values["weeks"]:
        for skill, row in week["skills"].items():
            assert row["hours"] <= row["of"] + 0.02, (week["from"], skill)


def test_rests_are_kept() -> None:
    """Restored in the shop: primer a day, putty five, paint three before it hangs: nine days at the least."""
    plenty = dict.fromkeys(ENOUGH, 5000.0)
    values = capacity("A", standings(), plenty, today=MONDAY).values
    first = day_number(min(values["ends"].values())) - day_number(MONDAY)
    rests = 1 + 1 + 5 + 3  # stripper, primer, putty, paint
    assert rests <= first <= rests + 4, (
        "no sooner than the rests, and no later than two week-ends more"
    )


def test_what_is_further_takes_less() -> None:
    plain = capacity("A", standings(), ENOUGH, today=MONDAY).values
    moves = [
        Move("101", piece, "painted", "2026-02-25")
        for piece in ("upper", "lower")
    ]  # fmt: skip
    ahead = capacity("A", standings(*moves), ENOUGH, today=MONDAY).values
    assert sum(ahead["need_hours"].values()) < sum(plain["need_hours"].values())
    assert ahead["ends"]["101"] < plain["ends"]["101"]
    hung = [Move("101", piece, "hung", "2026-02-25") for piece in ("upper", "lower")]
    done = capacity("A", standings(*hung), ENOUGH, today=MONDAY).values
    assert "101" not in done["ends"]


def test_half_the_hours_take_longer() -> None:
    few = {skill: each / 10 for skill, each in ENOUGH.items()}
    slow = capacity("A", standings(), few, today=MONDAY).values
    quick = capacity("A", standings(), ENOUGH, today=MONDAY).values
    assert slow["finish"] > quick["finish"]
    # No sooner than the busiest skill alone would take.
    weeks = max(hours / few[skill] for skill, hours in slow["need_hours"].items())
    lasted = (day_number(slow["finish"]) - day_number(MONDAY) + 1) / 7
    assert lasted >= math.floor(weeks) * 5 / 7


def test_a_skill_that_nobody_has_fails() -> None:
    answer = capacity("A", standings(), ENOUGH | {"glazier": 0.0}, today=MONDAY)
    assert answer.worst == "fail"
    assert answer.values["finish"] is None
    assert set(answer.values["stuck"]) == {"glazier"}
    assert answer.values["ends"] == {}


def test_nothing_left() -> None:
    answer = capacity("A", {}, ENOUGH, today=MONDAY)
    assert answer.values["finish"] is None
    assert answer.values["governs"] is None
    assert answer.findings == []
