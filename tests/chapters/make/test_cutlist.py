"""The cutting list: what it asks of each window, and what holds for every window a shop could make."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from sashwright.chapters.make.chapter import make
from sashwright.chapters.make.cut import CutPart
from sashwright.chapters.make.cutlist import CutList, cut_list
from sashwright.chapters.make.lumber_group import LumberPart
from sashwright.chapters.make.rough import QUARTERS, Allowance
from sashwright.chapters.make.wood import stock_of
from sashwright.knowledge.tables import KnowledgeError
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import place
from sashwright.window.spec import House
from tests.chapters.houses import INCH, KNOWLEDGE, PLAIN, house_of
from tests.factories import make_house, window_document
from tests.window.strategies import houses

ALL = ("sash", "storm", "screen", "frame")
DECIDED = {"decision": {"alternative": "new-sash"}}
STORMY = {"storm": "winter", "screen": {"kind": "half"}}


def listed(family: dict[str, Any], window: dict[str, Any], **asked: Any) -> CutList:
    return cut_list(house_of(family, window), KNOWLEDGE, **asked)


def found(on: str, fault: str = "decay", **more: Any) -> dict[str, Any]:
    return {**PLAIN, "condition": {"found": [{"on": on, "fault": fault, **more}]}}


def units(of: CutList) -> list[str]:
    return list(dict.fromkeys(part.unit for part in of.parts))


def names(parts: Iterable[CutPart]) -> list[str]:
    return [part.name for part in parts]


# --- any window -------------------------------------------------------------------


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(houses)
def test_every_list_can_be_sawn(house: House) -> None:
    placed = place_or_none(house)
    if placed is None:
        return
    lists = [cut_list(house, KNOWLEDGE, scope=ALL, frame=kind) for kind in ("box", "skeleton")]
    for each in lists:
        for part in each.parts:
            assert part.rough_length >= part.length + Allowance().length - 1e-9
            assert part.rough_width > part.width > 0
            assert (
                part.layers * part.quarters * INCH / 4
                >= part.thickness + Allowance().thickness - 1e-9
            )
            assert part.quarters in QUARTERS
            assert 0 < part.volume <= part.length * part.width * part.thickness + 1e-12
            assert part.species in KNOWLEDGE.wood
            assert isinstance(part.lumber(), LumberPart)
            tenons = sum(end.tenon for end in part.joint_ends)
            if (
                part.unit != "frame"
                and "stile" not in part.name
                and part.name != "curved head rail"
            ):
                assert part.length - part.shoulder == pytest.approx(tenons, abs=1e-9)
        for pane in each.glass:
            assert pane.points >= 8
            assert pane.putty_volume > 0
            assert pane.arched is (pane.template is not None)
            assert pane.lite().count == pane.count == len(pane.lites)
        assert each.totals.finished_m3 <= each.totals.rough_m3
        marks = Counter((part.unit, part.mark) for part in each.parts)
        assert max(marks.values()) == 1
        assert not each.wrong
    sash = [p for p in lists[0].parts if p.unit in ("upper sash", "lower sash")]
    solid = placed.upper.pieces.wood.volume + placed.lower.pieces.wood.volume
    assert sum(p.finished_volume for p in sash) == pytest.approx(solid, rel=1e-9)
    lites = sum(len(facts.layout.lites) for facts in (placed.upper, placed.lower))
    panes = [g for g in lists[0].glass if g.unit in ("upper sash", "lower sash")]
    assert sum(pane.count for pane in panes) == lites
    json.dumps(make(house, KNOWLEDGE, scope=ALL).to_dict(), allow_nan=False)


def place_or_none(house: House) -> Any:
    try:
        placed = place(house, "1", KNOWLEDGE)
        _ = placed.storm_sash
    except LayoutError:
        return None
    return placed


# --- what is made -----------------------------------------------------------------


def test_nothing_is_listed_where_nothing_is_wrong() -> None:
    house = house_of(STORMY, PLAIN)
    empty = cut_list(house, KNOWLEDGE)
    assert (empty.parts, empty.glass) == ((), ())
    answer = make(house, KNOWLEDGE)
    assert [finding.level for finding in answer.findings] == ["note"]
    assert answer.values["board_feet"] == 0


def test_a_decision_for_new_sash_lists_them_whole() -> None:
    got = listed(STORMY, {**PLAIN, **DECIDED})
    assert units(got) == ["upper sash", "lower sash"]
    assert got.totals.units == {"upper sash": 1, "lower sash": 1}
    assert got.totals.hang["cords"][0]["pieces"] == 4
    assert dict(got.totals.strips) == {
        "spring-bronze": pytest.approx((4 * 33 + 3 * 32) * INCH, rel=0.02)
    }


def test_a_storm_is_listed_where_one_is_added() -> None:
    got = listed({}, {**PLAIN, "decision": {"alternative": "storm"}})
    assert units(got) == ["storm"]
    assert {pane.unit for pane in got.glass} == {"storm"}
    assert got.totals.hardware["storm-hanger"] == 2


def test_what_is_asked_for_comes_whatever_was_decided() -> None:
    got = listed(STORMY, {**PLAIN, **DECIDED}, scope=["screen"])
    assert units(got) == ["screen"]
    assert not got.glass
    assert sum(got.totals.cloth.values()) > 0.3
    assert listed({}, PLAIN, scope=["screen"]).findings["1"][0].level == "note"
    with pytest.raises(ValueError, match="expected one of sash, storm"):
        listed({}, PLAIN, scope=["doors"])  # type: ignore[list-item]


def test_one_unit_alone() -> None:
    got = listed(STORMY, PLAIN, scope=ALL, only=["lower sash"])
    assert units(got) == ["lower sash"]
    assert got.totals.hang["cords"][0]["pieces"] == 2
    with pytest.raises(ValueError, match="expected one of upper sash"):
        listed({}, PLAIN, only=["doors"])  # type: ignore[list-item]


def test_a_ticked_option_is_listed_as_it_is_priced() -> None:
    option = {"key": "new", "name": "New sash", "alternative": "new-sash", "ticked": True}
    house = house_of({}, PLAIN, pricing={"options": [option]})
    assert cut_list(house, KNOWLEDGE).totals.units["lower sash"] == 1
    loose = house_of({}, PLAIN, pricing={"options": [{**option, "ticked": False}]})
    assert not cut_list(loose, KNOWLEDGE).parts


def test_a_window_that_contradicts_itself_is_answered() -> None:
    wrong = window_document("1", changes={"sash": {"stile": "12"}}, width="20")
    house = make_house(windows=[wrong, window_document("2")])
    for scope in (["sash"], None):
        answer = make(house, KNOWLEDGE, scope=scope)
        assert [each.worst for each in answer.windows] == ["fail", "ok"]
    assert make(house, KNOWLEDGE, scope=["sash"]).windows[1].values["parts"]


def test_new_sash_in_another_wood() -> None:
    house = house_of({}, {**PLAIN, **DECIDED})
    plain, better = make(house, KNOWLEDGE), make(house, KNOWLEDGE, wood="Sapele")
    assert "caution" in [finding.level for finding in plain.findings]
    species = {row["species"] for row in better.windows[0].values["parts"]}
    assert species == {"sapele"}
    durable = make(house, KNOWLEDGE, wood="iroko")
    assert "caution" not in [finding.level for finding in durable.findings]
    with pytest.raises(KnowledgeError, match="wood"):
        make(house, KNOWLEDGE, wood="balsa")


# --- repairs ----------------------------------------------------------------------


def test_a_member_gone_is_made_new_and_nothing_let_into_it() -> None:
    rail = "lower.bottom_rail"
    window = {
        **PLAIN,
        "condition": {
            "found": [
                {"on": rail, "fault": "decay", "severity": "severe", "length": "20"},
                {"on": rail, "fault": "broken", "severity": "severe", "length": "3"},
            ]
        },
    }
    got = listed({}, window)
    assert [(p.unit, p.name) for p in got.parts] == [("lower sash", "bottom rail")]


def test_a_splice_nearly_as_long_as_its_member_is_told() -> None:
    got = listed({}, found("lower.bottom_rail", severity="severe", length="13.5"))
    assert names(got.parts) == ["bottom rail"]
    assert "a new one is listed" in got.findings["1"][0].says


def test_an_unmeasured_fault_asks_to_be_measured() -> None:
    got = listed({}, found("frame.sill", severity="severe"))
    assert [f.level for f in got.findings["1"]].count("caution") == 1
    assert "Nobody measured" in " ".join(f.says for f in got.findings["1"])


def test_a_dutchman_is_thicker_than_the_awl_went() -> None:
    got = listed({}, found("lower.left_stile", severity="moderate", length="4", probe="5/8"))
    (patch,) = got.parts
    assert patch.name == "dutchman, lower sash, left stile"
    assert patch.thickness == pytest.approx(0.875 * INCH)
    assert patch.length == pytest.approx(5 * INCH)


def test_a_slip_tenon_goes_two_inches_into_the_rail() -> None:
    got = listed({}, found("lower.bottom_rail", "loose-tenon", severity="severe", count=2))
    (slip,) = got.parts
    assert (slip.count, slip.name) == (2, "slip tenon, lower sash, bottom rail")
    assert slip.length == pytest.approx((2 + 2) * INCH)


def test_beads_stops_and_panes() -> None:
    window = {
        **PLAIN,
        "condition": {
            "found": [
                {"on": "frame.parting_bead", "fault": "part-missing"},
                {"on": "frame.casing.left", "fault": "broken", "severity": "severe"},
                {"on": "frame.pocket_cover.left", "fault": "part-missing"},
                {"on": "upper.lite.2.1", "fault": "glass-broken"},
            ]
        },
    }
    got = listed({"sash": {"lites": "2x2"}}, window)
    assert sorted(names(got.parts)) == [
        "outside casing", "parting bead", "parting bead, head", "pocket cover",
    ]  # fmt: skip
    (pane,) = got.glass
    assert (pane.unit, pane.lites, pane.count) == ("upper sash", ("2.1",), 1)


def test_findings_on_old_sash_fall_away_with_new_ones() -> None:
    window = {**found("lower.bottom_rail", severity="severe", length="5"), **DECIDED}
    assert "splice" not in units(listed({}, window))


# --- frames -----------------------------------------------------------------------


def test_the_wall_tells_how_the_frame_is_built() -> None:
    wood = make(house_of({}, PLAIN), KNOWLEDGE, scope=["frame"]).windows[0].values
    brick = house_of({}, PLAIN, fabric={"wall": "wall-brick-13"})
    box = make(brick, KNOWLEDGE, scope=["frame"]).windows[0].values
    assert (wood["frame_kind"], box["frame_kind"]) == ("skeleton", "box")
    linings = {"inside lining", "outside lining", "back lining"}
    assert linings <= {row["name"] for row in box["parts"]}
    assert not linings & {row["name"] for row in wood["parts"]}


def test_a_narrow_casing_is_a_brick_mould_and_what_is_not_there_is_not_listed() -> None:
    frame = {"casing_width": "2", "inside_casing_width": 0, "stool_thickness": 0}
    family = {"frame": frame, "pocket": {"pendulum": 0, "cover_height": 0}}
    got = names(listed(family, PLAIN, scope=["frame"]).parts)
    assert "brick mould" in got
    for missing in (
        "outside casing",
        "stool",
        "apron",
        "pendulum",
        "pocket cover",
        "inside casing",
    ):
        assert missing not in got


def test_sizes_that_nobody_gave_are_told_with_their_source() -> None:
    answer = make(house_of({}, PLAIN), KNOWLEDGE, scope=["frame"])
    told = {finding.on: finding for finding in answer.findings}
    assert "3 1/2" in told["frame.apron"].says
    assert "from memory" in told["frame.apron"].source
    assert "frame.inside_lining" not in told


def test_a_mullion_is_listed_once() -> None:
    pair = house_of({}, PLAIN, {**PLAIN, "beside": "1"})
    alone = house_of({}, PLAIN, PLAIN)
    sides = [
        Counter(
            p.name for p in cut_list(h, KNOWLEDGE, scope=["frame"]).parts for _ in range(p.count)
        )
        for h in (pair, alone)
    ]
    assert sides[0]["mullion casing"] == 1
    assert sides[0]["outside casing"] == 2
    assert sides[1]["outside casing"] == 4
    assert sides[0]["pulley stile"] == sides[1]["pulley stile"] == 4


def test_a_thickness_that_is_not_sold_is_glued_up() -> None:
    assert stock_of(4.5 * INCH, Allowance()) == (10, 2)
    with pytest.raises(ValueError, match="no more than four"):
        stock_of(40 * INCH, Allowance())
