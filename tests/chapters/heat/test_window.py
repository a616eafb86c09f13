"""One window's answer: its shape, what each measure does, and what the record may say of it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.heat import heat, heat_window
from sashwright.chapters.heat.builds import Choices
from sashwright.chapters.heat.geometry import SIDES, geometry_of
from sashwright.chapters.heat.whole import Whole, covered
from sashwright.physics.glazing import Conditions
from sashwright.window.check import HouseError
from sashwright.window.cracks import cracks_of
from sashwright.window.resolve import Placed, place
from tests.chapters.houses import KNOWLEDGE, PLAIN, house_of, only

BOTH = ("en", "na")
STORM: dict[str, Any] = {"storm": "winter"}
PANEL: dict[str, Any] = {"inside_storm": {"kind": "panel", "distance": "2 1/2"}}


def placed(family: Mapping[str, Any], window: Mapping[str, Any] = PLAIN) -> Placed:
    return place(house_of(family, window), "1", KNOWLEDGE)


_KNOWN: dict[str, WindowAnswer] = {}


def answer(family: Mapping[str, Any]) -> WindowAnswer:
    """A window of this family, answered for once."""
    key = json.dumps(family, sort_keys=True)
    if key not in _KNOWN:
        _KNOWN[key] = heat_window(placed(family))
    return _KNOWN[key]


def states(found: WindowAnswer) -> dict[str, dict[str, Any]]:
    return {row["key"]: row for row in found.values["alternatives"]}


def test_the_answer_is_data() -> None:
    found = answer(STORM)
    assert json.loads(json.dumps(found.to_dict(), allow_nan=False)) == found.to_dict()
    assert found.number == "1"
    assert {finding.level for finding in found.findings} <= {"ok", "note", "caution"}
    for finding in found.findings:
        assert finding.says.endswith((".", "!")), finding.says
        assert finding.because
        assert finding.source
    assert len(found.working) >= 12
    assert all(step.source for step in found.working)


def test_every_state_is_there_the_window_alone_first() -> None:
    assert list(states(answer(STORM))) == [
        "prime", "storm", "storm-low-e", "inside", "inside-low-e", "unit", "new",
    ]  # fmt: skip
    assert answer(STORM).values["as_found"] == "storm"
    assert answer({}).values["as_found"] == "prime"
    assert [row["key"] for row in answer(STORM).values["alternatives"] if row["there"]] == [
        "prime", "storm",
    ]  # fmt: skip


@pytest.mark.parametrize("convention", BOTH)
def test_more_glass_insulates_better(convention: str) -> None:
    row = {key: each[f"u_{convention}_w_m2k"] for key, each in states(answer(STORM)).items()}
    assert row["prime"] > row["storm"] > row["storm-low-e"]
    assert row["prime"] > row["inside"] > row["inside-low-e"]
    assert row["prime"] > row["unit"]
    assert row["prime"] > row["new"]


@pytest.mark.parametrize("convention", BOTH)
def test_the_parts_add_up(convention: str) -> None:
    for row in states(answer(STORM)).values():
        parts = sum(row[f"{part}_{convention}_w_k"] for part in ("glass", "edge", "frame"))
        assert row[f"loss_{convention}_w_k"] == pytest.approx(parts)
        total = row[f"total_{convention}_w_k"]
        assert total == pytest.approx(parts + row["leak_w_k"])
    alone = states(answer(STORM))["prime"]
    assert alone["loss_en_w_k"] == pytest.approx(
        alone["u_en_w_m2k"] * answer(STORM).values["area_m2"]
    )


def test_air_is_a_line_of_its_own_and_storms_hold_it_back() -> None:
    rows = states(answer(STORM))
    assert rows["prime"]["leak_w_k"] > rows["storm"]["leak_w_k"] > rows["inside"]["leak_w_k"] > 0
    assert rows["unit"]["leak_w_k"] == rows["prime"]["leak_w_k"]
    for row in rows.values():
        assert row["leak_low_m3_s"] <= row["leak_m3_s"] <= row["leak_high_m3_s"]
        assert row["leak_w_k"] == pytest.approx(1.2 * 1006 * row["leak_m3_s"])
        assert row["leak_w_m2k"] == pytest.approx(row["leak_w_k"] / answer(STORM).values["area_m2"])


def test_tighter_joints_change_the_air_and_not_the_u() -> None:
    loose = states(answer({**STORM, "seals": {"meeting_rail": "joint-loose"}}))["storm"]
    plain = states(answer(STORM))["storm"]
    assert loose["leak_w_k"] > plain["leak_w_k"]
    assert loose["u_en_w_m2k"] == plain["u_en_w_m2k"]


def test_a_storm_warms_the_glass_and_keeps_some_sun_out() -> None:
    rows = states(answer(STORM))
    for cold, warm in (("prime", "storm"), ("storm", "storm-low-e")):
        assert rows[warm]["weathers"][0]["glass_c"] > rows[cold]["weathers"][0]["glass_c"]
        assert rows[warm]["shgc"] < rows[cold]["shgc"]
        assert rows[warm]["visible"] < rows[cold]["visible"]
        assert rows[warm]["weathers"][0]["asymmetry_k"] < rows[cold]["weathers"][0]["asymmetry_k"]
    for row in rows.values():
        assert row["weathers"][0]["coldest_c"] <= row["weathers"][0]["glass_c"] + 1e-9
        assert 0.2 < row["shgc"] < row["glass_shgc"] < 0.9


def test_faces_are_looked_at_in_the_weather_asked_for() -> None:
    mild = Conditions(5.0, 20.0, 20.0)
    found = heat_window(placed(STORM), conditions=[mild])
    assert [row["outdoor_c"] for row in found.values["weathers"]] == [5.0]
    faces = states(found)["storm"]["weathers"][0]
    assert 5.0 < faces["faces_upper_c"][0] < faces["faces_upper_c"][-1] < 20.0


# --- what the record says -------------------------------------------------------------


def test_a_low_e_storm_is_set_beside_a_clear_one() -> None:
    family = {**STORM, "storm_sash": {"glazing": {"coatings": ["none", "hard-coat"]}}}
    ours = states(answer(family))
    assert "storm-low-e" not in ours
    clear = states(answer(STORM))
    assert ours["storm"]["u_en_w_m2k"] == pytest.approx(
        clear["storm-low-e"]["u_en_w_m2k"], rel=0.02
    )
    assert ours["storm-clear"]["u_en_w_m2k"] == pytest.approx(
        clear["storm"]["u_en_w_m2k"], rel=0.02
    )


def test_a_coating_that_faces_the_weather_is_told() -> None:
    family = {**STORM, "storm_sash": {"glazing": {"coatings": ["hard-coat"]}}}
    only(answer(family), "caution", "storm.glass", "faces outdoors")
    row = states(answer(family))
    assert row["storm"]["u_en_w_m2k"] == pytest.approx(row["storm-clear"]["u_en_w_m2k"], rel=1e-3)


def test_a_coating_that_would_perish_is_told() -> None:
    family = {**STORM, "storm_sash": {"glazing": {"coatings": ["none", "soft-coat"]}}}
    only(answer(family), "caution", "storm.glass", "open air")


def test_storm_and_panel_together_do_better_than_either() -> None:
    found = answer({**STORM, **PANEL})
    rows = states(found)
    assert found.values["as_found"] == "storm-and-inside"
    for convention in BOTH:
        both = rows["storm-and-inside"][f"u_{convention}_w_m2k"]
        assert both < rows["storm"][f"u_{convention}_w_m2k"]
        assert both < rows["inside"][f"u_{convention}_w_m2k"]
    assert rows["storm-and-inside"]["leak_w_k"] <= rows["inside"]["leak_w_k"]


@pytest.mark.parametrize("convention", BOTH)
def test_a_panel_thought_of_comes_near_to_one_that_is_there(convention: str) -> None:
    there = states(answer(PANEL))["inside"][f"u_{convention}_w_m2k"]
    thought = states(answer({}))["inside"][f"u_{convention}_w_m2k"]
    # The first has sections of its own, the second a resistance before those of the prime alone.
    assert thought == pytest.approx(there, rel=0.08)


def test_a_metal_storm_frame_takes_nothing_off_the_wood() -> None:
    combination = {**STORM, "storm_sash": {"kind": "combination"}}
    metal, wood = states(answer(combination))["storm"], states(answer(STORM))["storm"]
    assert metal["u_en_w_m2k"] > wood["u_en_w_m2k"]
    assert metal["centre_lower_en_w_m2k"] == pytest.approx(wood["centre_lower_en_w_m2k"], rel=0.02)


def test_what_is_drawn_over_it_saves_at_night() -> None:
    found = answer({**STORM, "covering": "shutters"})
    rows = {row["key"]: row for row in found.values["coverings"]}
    assert set(rows) == set(KNOWLEDGE.covering) - {"none"}
    bare = states(found)["storm"]["u_en_w_m2k"]
    for key, row in rows.items():
        assert row["u_low_en_w_m2k"] <= row["u_en_w_m2k"] <= row["u_high_en_w_m2k"] < bare
        assert row["there"] == (key == "shutters")
    assert rows["shutters"]["u_en_w_m2k"] == pytest.approx(covered(bare, 0.189))
    only(found, "ok", "covering", "Wood shutters")
    assert not [f for f in answer(STORM).findings if f.on == "covering"]


def test_a_pane_of_insulated_glass_is_not_replaced_by_another() -> None:
    unit = {"rabbet_depth": "3/4",
            "glazing": {"panes": ["float-3mm", "float-3mm"], "gaps": ["1/4"]}}  # fmt: skip
    assert "unit" not in states(answer({"sash": {"thickness": "1 3/4", **unit}}))


def test_sentences_in_metric_say_watts() -> None:
    said = " ".join(f.says for f in heat_window(placed(STORM), "metric").findings)
    assert "W/K" in said
    assert "Btu" not in said
    ours = " ".join(f.says for f in answer(STORM).findings)
    assert "Btu/h" in ours
    assert "W/(m2 K)" not in ours


# --- bad specifications ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("family", "field", "expected"),
    [
        ({"inside_storm": {"kind": "panel", "distance": "3/4"}}, "inside_storm.distance", "stands clear"),
        ({"inside_storm": {"pane": "acrylik"}}, "inside_storm.pane", "did you mean"),
        ({"inside_storm": {"joint": "joint-loose"}}, "inside_storm.joint", "storm-inside"),
        ({"inside_storm": {"distance": "1/4"}}, "inside_storm.distance", "to"),
        ({"covering": "velvet"}, "covering", "a row of the table covering"),
        ({"sash": {"glazing": {"coatings": ["none", "none", "hard-coat"]}}}, "glazing.coatings", "at most 2"),
        ({"sash": {"glazing": {"coatings": ["gold"]}}}, "glazing.coatings", "a row of the table"),
        ({"storm_sash": {"glazing": {"coatings": ["lowe"]}}}, "storm_sash.glazing.coatings", "row of the"),
        ({"sash": {"glazing": {"gas": "helium"}}}, "glazing.gas", "argon"),
        ({"sash": {"glazing": {"gas": "argon", "gas_share": 0}}}, "gas_share", "1 % to 100 %"),
    ],
)  # fmt: skip
def test_a_wrong_record_is_told_in_its_place(
    family: Mapping[str, Any], field: str, expected: str
) -> None:
    with pytest.raises(HouseError) as refused:
        house_of(family, PLAIN)
    told = [problem for problem in refused.value.problems if field in problem.field]
    assert told, refused.value.problems
    assert expected in told[0].expected


def test_a_window_that_cannot_be_is_answered_with_why() -> None:
    house = house_of(STORM, PLAIN)
    bad = house.windows[0].model_copy(update={"width": 0.11})
    found = heat(house.model_copy(update={"windows": (bad,)}), KNOWLEDGE)
    assert found.worst == "fail"
    assert found.windows[0].values == {}
    assert found.values["totals"] == []


# --- areas ----------------------------------------------------------------------------


@pytest.mark.parametrize("lites", ["1x1", "2x1", "3x2"])
@pytest.mark.parametrize("head", ["square", "full arch"])
def test_glass_and_edges_are_those_of_the_lites(lites: str, head: str) -> None:
    window = {**PLAIN, "head": {"shape": head}}
    laid = placed({"sash": {"lites": lites}}, window)
    geometry = geometry_of(laid)
    lap = laid.family.sash.rabbet_width - laid.family.sash.glazing.clearance
    corners = 4 * sum(2 * lap for sash in SIDES for _ in laid.layout.sash(sash).lites)
    edge = sum(geometry.edge_length(which) for which in SIDES)
    # The seal chapter measures round the panes, which lap the rabbets.
    within = 1e-9 if head == "square" else 0.01
    assert edge == pytest.approx(cracks_of(laid.layout).glass - corners, rel=within)
    panes = sum(laid.sash(which).pieces.glass_area for which in SIDES)
    assert geometry.glass_area < panes
    assert geometry.glass_area == pytest.approx(panes - lap * edge - 0.5 * lap * corners, rel=0.01)
    for which in SIDES:
        assert 0 < geometry.edge[which] <= geometry.glass[which]


def test_small_lites_are_edge_all_over() -> None:
    geometry = geometry_of(placed({"sash": {"lites": "6x4"}}))
    assert geometry.edge["lower"] > 0.95 * geometry.glass["lower"]


def test_the_frame_beyond_the_opening_counts_in_the_area() -> None:
    whole = Whole(placed(STORM))
    assert whole.area > whole.geometry.opening
    assert whole.area < 1.5 * whole.geometry.opening


def test_the_panel_stands_further_from_the_outer_sash() -> None:
    laid = placed(PANEL)
    spaces = Choices(laid).panel_spaces
    assert spaces["lower"] == pytest.approx(0.0635)
    assert spaces["upper"] - spaces["lower"] == pytest.approx(laid.layout.track_spacing)
