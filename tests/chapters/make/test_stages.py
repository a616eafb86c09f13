"""Where every sash stands: ways by the work, waits, late ones; never back or too early without a reason."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright.chapters.days import date_of, day_number
from sashwright.chapters.make.stages import stages
from sashwright.chapters.make.standing import Move, Standing, judge, may_come, stand
from sashwright.chapters.make.tracks import PieceName, Track, full_list, place_of, tracks_of
from sashwright.knowledge.keeping_tables import STAGE_NAMES, StageName
from sashwright.knowledge.load import load
from sashwright.window.check import house_from
from sashwright.window.spec import House
from tests.factories import family_document, house_document, window_document

KNOWLEDGE = load()
START = day_number("2026-03-02")


def house(alternative: str | None = "shop", family: Any = None, **window: Any) -> House:
    decided = {"decision": {"alternative": alternative}} if alternative else {}
    document = house_document(
        families={"A": family_document(**(family or {}))},
        windows=[window_document("101", **decided, **window)],
    )
    return house_from(document, KNOWLEDGE)


def track(of: House, piece: PieceName = "upper") -> Track:
    tracks, wrong = tracks_of(of, KNOWLEDGE)
    assert not wrong
    return next(each for each in tracks["101"] if each.piece == piece)


def moved(*steps: tuple[StageName, int], piece: str = "upper") -> list[Move]:
    return [Move("101", piece, stage, date_of(START + day)) for stage, day in steps]


def may(standing: Standing, stage: StageName, day: int = 0) -> int:
    return may_come(standing, START + day)[stage].day - START


IN_SHOP = track(house())
STORMY = house(family={"storm": "winter", "screen": {"kind": "half"}})


# --- ways -------------------------------------------------------------------------


def test_a_sash_that_is_restored_goes_the_way_of_its_work() -> None:
    assert IN_SHOP.stages == (
        "removed", "stripped", "primed", "glazed", "cured", "painted", "weighed", "hung",
    )  # fmt: skip
    assert IN_SHOP.asked
    rotten = house(
        condition={"found": [{"on": "upper.top_rail", "fault": "decay", "severity": "severe"}]}
    )
    assert {"repaired", "dry"} <= set(track(rotten).stages)


def test_a_sash_that_stays_has_no_way_but_all_stages() -> None:
    left = track(house(alternative=None))
    assert not left.asked
    assert left.stages == full_list("upper")


def test_new_sash_are_made_and_not_stripped() -> None:
    new = track(house("new-sash"), "lower")
    assert new.made
    assert new.stages[0] == "made"
    assert not {"removed", "stripped", "repaired"} & set(new.stages)


def test_a_fixed_sash_is_not_weighed() -> None:
    assert "weighed" not in track(house(hung="single")).stages
    assert "weighed" in track(house(hung="single"), "lower").stages


def test_storms_and_screens_have_shorter_lists() -> None:
    pieces = {each.piece: each for each in tracks_of(STORMY, KNOWLEDGE)[0]["101"]}
    assert list(pieces) == ["upper", "lower", "storm", "screen"]
    assert "weighed" not in pieces["storm"].stages
    assert "glazed" not in pieces["screen"].stages
    assert [piece.piece for piece in tracks_of(house(), KNOWLEDGE)[0]["101"]] == ["upper", "lower"]


# --- waits ------------------------------------------------------------------------


def test_linseed_putty_waits_five_days_before_paint() -> None:
    standing = stand(IN_SHOP, moved(("removed", 0), ("stripped", 2), ("primed", 4), ("glazed", 6)))
    assert may(standing, "cured", 7) == 11
    assert may(standing, "painted", 7) == 11
    # A day before the last coat is handled, three before it rubs on the stops.
    assert may(standing, "weighed", 7) == 12
    assert may(standing, "hung", 7) == 14
    assert may_come(standing, START + 30)["cured"].waits_for is None


def test_linseed_paint_goes_on_linseed_putty_at_once() -> None:
    painted = track(house(family={"sash": {"coating": "linseed-paint"}}))
    standing = stand(painted, moved(("primed", 0), ("glazed", 2)))
    assert may(standing, "painted", 2) == 2


def test_every_other_putty_waits_too() -> None:
    for key, days in {"modified-oil-compound": 3, "latex-compound": 1}.items():
        other = track(house(family={"sash": {"glazing": {"putty": key}}}))
        assert may(stand(other, moved(("glazed", 0))), "painted") == days


def test_wet_wood_waits_before_it_is_repaired() -> None:
    wet = {"on": "upper.top_rail", "fault": "decay", "severity": "severe", "moisture": 30}
    damp = track(house(condition={"found": [wet]}))
    assert may(stand(damp, moved(("removed", 0))), "repaired") == 14
    # Glue in the splice holds up what comes after: it is dry the next day.
    assert may(stand(damp, moved(("removed", 0), ("repaired", 14))), "dry", 14) == 15


def test_a_rest_that_nobody_noted_runs_from_the_next_that_was() -> None:
    standing = stand(IN_SHOP, moved(("removed", 0), ("glazed", 3)))
    assert standing.passed_over == ["stripped", "primed"]
    jumped = judge(standing, "hung", date_of(START + 4))
    assert jumped.kind == "reason"
    # Five days of putty, from the third; three of paint after that.
    assert jumped.may == date_of(START + 11)


def test_late_beyond_the_usual_time() -> None:
    standing = stand(IN_SHOP, moved(("removed", 0)))
    assert standing.late_days == 21
    for day, late in ((21, False), (22, True)):
        answer = stages(house(), KNOWLEDGE, moves=moved(("removed", 0)), today=date_of(START + day))
        row = answer.windows[0].values["pieces"]["upper"]
        assert row["late"] is late, day
        assert bool(answer.values["late"]) is late
    done = stand(IN_SHOP, moved(("hung", 0)))
    assert done.late_from is None


# --- steps ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stage", "day", "kind", "says"),
    [
        ("cured", 11, "fine", ""),
        ("cured", 10, "reason", "may be 'cured' from 13 March 2026"),
        ("painted", 8, "reason", "may be 'painted' from 13 March 2026"),
        ("stripped", 11, "reason", "would go back from 'glazed' to 'stripped'"),
        ("glazed", 11, "refused", "stands at 'glazed' already"),
        ("cured", 5, "refused", "came to 'glazed' on 8 March 2026"),
        ("polished", 11, "refused", "has no stage 'polished'"),
    ],
)
def test_steps(stage: str, day: int, kind: str, says: str) -> None:
    standing = stand(IN_SHOP, moved(("removed", 0), ("stripped", 2), ("primed", 4), ("glazed", 6)))
    verdict = judge(standing, stage, date_of(START + day))
    assert verdict.kind == kind
    assert says in verdict.says


def test_a_screen_has_no_putty() -> None:
    screen = track(STORMY, "screen")
    assert judge(stand(screen, []), "glazed", "2026-03-02").kind == "refused"


STEPS = st.lists(
    st.tuples(st.sampled_from(STAGE_NAMES), st.integers(0, 9), st.booleans()), max_size=14
)


@given(steps=STEPS)
def test_never_back_and_never_early_without_a_reason(
    steps: list[tuple[StageName, int, bool]],
) -> None:
    moves: list[Move] = []
    day = START
    for stage, after, has_reason in steps:
        day += after
        standing = stand(IN_SHOP, moves)
        verdict = judge(standing, stage, date_of(day))
        if verdict.kind == "refused" or (verdict.kind == "reason" and not has_reason):
            continue
        if verdict.kind == "fine":
            _assert_forward_and_rested(standing, stage, day)
        elif verdict.may is not None:
            _assert_first_good_day(standing, stage, verdict.may)
        reason = "as it was" if verdict.kind == "reason" else ""
        moves.append(Move("101", "upper", stage, date_of(day), reason))
    backwards = [
        later
        for earlier, later in itertools.pairwise(moves)
        if place_of(later.stage) <= place_of(earlier.stage)
    ]
    assert all(move.reason for move in backwards)


def _assert_forward_and_rested(standing: Standing, stage: StageName, day: int) -> None:
    assert standing.stage is None or place_of(stage) > place_of(standing.stage)
    for row in standing.track.rests:
        began = standing.reached.get(row.after)
        behind = standing.stage is not None and place_of(row.before) <= place_of(standing.stage)
        if began is not None and not behind and place_of(row.before) <= place_of(stage):
            assert day >= began + row.least_days, row.key


def _assert_first_good_day(standing: Standing, stage: StageName, may_be: str) -> None:
    assert judge(standing, stage, date_of(day_number(may_be) - 1)).kind != "fine"
    if not standing.to_come or stage in standing.to_come[:1]:
        assert judge(standing, stage, may_be).kind == "fine"


# --- the answer -------------------------------------------------------------------


def test_the_answer_counts_what_stands_where() -> None:
    moves = [*moved(("removed", 0)), *moved(("removed", 0), ("stripped", 1), piece="lower")]
    answer = stages(house(), KNOWLEDGE, moves=moves, today=date_of(START + 2))
    assert answer.values["counts"]["removed"] == 1
    assert answer.values["counts"]["stripped"] == 1
    assert answer.values["columns"]["stripped"] == [{"number": "101", "piece": "lower"}]
    assert answer.values["in_work"] == 2
    plain = answer.to_dict()
    assert plain["windows"][0]["values"]["pieces"]["upper"]["tag"] == "101 upper sash"


def test_damp_wood_is_not_primed_unnoticed() -> None:
    wet = house(measured={"upper": {"moisture": 17}})
    answer = stages(wet, KNOWLEDGE, moves=moved(("dry", 0)), today=date_of(START))
    assert any("17 %" in finding.says for finding in answer.windows[0].findings)


def test_weighed_without_a_reading() -> None:
    answer = stages(house(), KNOWLEDGE, moves=moved(("weighed", 0)), today=date_of(START))
    assert any("not in the record" in finding.says for finding in answer.windows[0].findings)
