"""From findings to tasks: rules at their limits, nothing counted twice, alternatives, cautions."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.treat import treat
from sashwright.chapters.treat.alternatives import beside_of
from sashwright.knowledge.load import load
from sashwright.window.check import house_from
from tests.factories import family_document, house_document, window_document

KNOWLEDGE = load()
FOOT = 0.3048


def answer(
    *found: dict[str, Any], built: int | None = 1990, family: Any = None, **window: Any
) -> WindowAnswer:
    document = house_document(
        built=built,
        families={"A": family_document(sash={"lites": "2x1"}, **(family or {}))},
        windows=[window_document("101", condition={"found": list(found)}, **window)],
    )
    return treat(house_from(document, KNOWLEDGE), KNOWLEDGE).windows[0]


def one(on: str, fault: str, **more: Any) -> dict[str, Any]:
    return {"on": on, "fault": fault, **more}


def rule(*found: dict[str, Any]) -> str | None:
    key: str | None = answer(*found).values["condition"][0]["rule"]
    return key


def way(of: WindowAnswer, key: str = "in-place") -> dict[str, Any]:
    found: dict[str, Any] = next(w for w in of.values["alternatives"] if w["key"] == key)
    return found


def tasks(of: WindowAnswer, key: str = "in-place") -> dict[tuple[str, str | None], float]:
    return {(t["task"], t["of"]): t["quantity"] for t in way(of, key)["tasks"]}


def said(of: WindowAnswer, level: str) -> str:
    return " ".join(f.says for f in of.findings if f.level == level)


# --- rules ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("probe", "length", "severity", "expected"),
    [
        (None, None, "moderate", "decay-shallow"),
        ("15/32", "6", "moderate", "decay-shallow"),
        ("1/2", "6", "moderate", "decay-deep"),
        (None, "13 3/4", "slight", "decay-shallow"),
        (None, "14", "slight", "decay-most"),
        (None, "6", "severe", "decay-severe"),
        ("1", "14", "severe", "decay-most"),
    ],
)
def test_decay_of_a_rail_at_the_limits(
    probe: str | None, length: str | None, severity: str, expected: str
) -> None:
    # The rail is 27 7/8 in between the stiles: half of it is 13 15/16.
    given = {"probe": probe, "length": length, "severity": severity}
    kept = {name: value for name, value in given.items() if value is not None}
    assert rule(one("lower.bottom_rail", "decay", **kept)) == expected


def test_depth_is_read_in_either_unit() -> None:
    assert rule(one("lower.bottom_rail", "decay", probe="12.7 mm")) == "decay-deep"
    assert rule(one("lower.bottom_rail", "decay", probe="12.6 mm")) == "decay-shallow"


def test_a_shop_may_write_a_rule_over(tmp_path: Any) -> None:
    file = tmp_path / "shop.toml"
    file.write_text('[treatment.sticks]\ntasks = ["ease", "build-out"]\nsource = "our way"\n')
    knowledge = load(file)
    document = house_document(
        windows=[window_document("101", condition={"found": [one("lower.sash", "sticks")]})]
    )
    found = treat(house_from(document, knowledge), knowledge).windows[0]
    assert {key for key, _ in tasks(found)} == {
        "ease", "build-out", "sash-out", "stops-off", "lead-care",
    }  # fmt: skip
    assert "our way" in found.values["condition"][0]["source"]


def test_class_and_priority_are_the_gravest() -> None:
    found = answer(one("lower.sash", "sticks"), one("sill", "decay", severity="severe"))
    assert (found.values["class"], found.values["class_number"]) == ("replace part", 3)
    assert found.values["priority"] == "A"
    assert "Sill: decay, severe" in said(found, "caution")


# --- tasks ------------------------------------------------------------------------


def test_extent_decides_the_amount() -> None:
    found = answer(one("sill", "weather-checks", length="18"))
    assert tasks(found)["check-fill", None] == pytest.approx(1.5)


def test_a_sash_is_taken_out_once_for_all_that_needs_it() -> None:
    found = answer(
        one("lower.lite.1.1", "glass-cracked"),
        one("lower.cord", "cord-broken"),
        one("lower.left_stile", "loose-tenon"),
    )
    amounts = tasks(found)
    assert amounts["sash-out", "lower"] == 1
    assert ("sash-out", "upper") not in amounts
    assert amounts["stops-off", None] == 1
    assert amounts["cord", "lower"] == 2


def test_the_lower_sash_comes_out_before_the_upper() -> None:
    amounts = tasks(answer(one("upper.cord.left", "cord-broken")))
    assert amounts["sash-out", "lower"] == amounts["sash-out", "upper"] == 1
    assert amounts["cord", "upper"] == 1


def test_the_whole_takes_in_the_part() -> None:
    found = answer(
        one("lower.putty", "putty-cracked", count=1, severity="moderate"),
        one("lower.lite.1.1", "glass-cracked"),
    )
    # In place the cracked putty is patched and one pane set; in the shop all panes, no pane twice.
    whole = tasks(found, "shop")
    assert whole["deglaze", "lower"] == 2
    assert ("spot-putty", "lower") not in whole
    edges = whole["reglaze", "lower"]
    assert edges == pytest.approx(whole["reglaze", "upper"])
    assert tasks(found)["reglaze", "lower"] == pytest.approx(edges / 2)


def test_a_count_means_so_many_of_them() -> None:
    half = tasks(answer(one("lower.putty", "putty-missing", severity="severe", count=1)))
    every = tasks(answer(one("lower.putty", "putty-missing", severity="severe")))
    assert half["deglaze", "lower"] == 1
    assert every["deglaze", "lower"] == 2
    assert half["reglaze", "lower"] == pytest.approx(every["reglaze", "lower"] / 2)


def test_damp_wood_dries_first() -> None:
    wet = way(answer(one("sill", "decay", moisture=18)))
    dry = way(answer(one("sill", "decay", moisture=17.9)))
    assert [t["task"] for t in wet["tasks"]].count("dry-out") == 1
    assert "dry-out" not in [t["task"] for t in dry["tasks"]]
    assert wet["drying_days"] == dry["drying_days"] + 14


def test_hours_are_fixed_times_plus_amount() -> None:
    found = answer(one("lower.lite.1.1", "glass-broken"))
    (task,) = (t for t in way(found)["tasks"] if t["task"] == "reglaze")
    row = KNOWLEDGE.task["reglaze"]
    assert task["hours"] == pytest.approx(row.fixed_hours + row.hours * task["quantity"])
    assert way(found)["hours"] == pytest.approx(sum(t["hours"] for t in way(found)["tasks"]))
    assert way(found)["hours_low"] < way(found)["hours"] < way(found)["hours_high"]


# --- alternatives -----------------------------------------------------------------


def test_new_sash_leave_what_is_wrong_with_the_frame() -> None:
    found = answer(
        one("lower.bottom_rail", "decay", severity="severe"),
        one("sill", "decay", severity="severe", length="20"),
    )
    keys = {key for key, _ in tasks(found, "new-sash")}
    assert "splice" not in keys
    assert {"sill-new", "new-sash"} <= keys


def test_a_storm_is_offered_only_where_none_hangs() -> None:
    bare = [w["key"] for w in answer().values["alternatives"]]
    hung = [w["key"] for w in answer(family={"storm": "winter"}).values["alternatives"]]
    assert set(bare) - set(hung) == {"storm", "shop-storm"}


def test_nothing_found_nothing_done() -> None:
    assert answer().values["chosen"] == "leave"
    assert answer(one("lower.sash", "sticks")).values["chosen"] == "in-place"


def test_the_decision_is_shown() -> None:
    found = answer(
        decision={"alternative": "shop", "by": "the owner", "on": "2026-04-20", "note": "First."}
    )
    assert found.values["chosen"] == "shop"
    assert "Decided by the owner on 2026-04-20: restored in the shop. First." in said(found, "ok")
    gone = answer(decision={"alternative": "storm"}, family={"storm": "winter"})
    assert gone.values["chosen"] == "leave"
    assert "does not fit the window now" in said(gone, "caution")


def test_other_chapters_are_quoted_beside() -> None:
    from sashwright.chapters.seal import seal

    document = house_document(windows=[window_document("101")])
    house = house_from(document, KNOWLEDGE)
    air = seal(house, KNOWLEDGE).windows[0].values
    quoted = beside_of(seal=air, knowledge=KNOWLEDGE)
    found = treat(house, KNOWLEDGE, beside={"101": quoted}).windows[0]
    flows = {w["key"]: w["beside"]["flow_75_m3_s"] for w in found.values["alternatives"]}
    assert flows["leave"] == air["as_found"]["flow_75_m3_s"]
    assert flows["leave"] > flows["in-place"] > flows["storm"]


def test_half_of_the_members_is_half() -> None:
    bad = [
        one(f"lower.{name}", "decay", severity="severe") for name in ("left_stile", "bottom_rail")
    ]
    assert "2 of the 4 members of the lower sash" in said(answer(*bad), "note")
    assert "of the 4 members" not in said(answer(bad[0]), "note")


# --- cautions ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("built", "lead", "expected"),
    [
        (1977, {}, True),
        (1978, {}, False),
        (None, {}, True),
        (1900, {"result": "absent"}, False),
        (1990, {"result": "present"}, True),
    ],
)
def test_lead_by_year_and_test(built: int | None, lead: dict[str, Any], expected: bool) -> None:
    found = [one("frame.paint", "paint-peeling")]
    document = house_document(
        built=built, windows=[window_document("101", condition={"found": found, "lead": lead})]
    )
    if built is None:
        del document["built"]
    of = treat(house_from(document, KNOWLEDGE), KNOWLEDGE).windows[0]
    assert (("lead-care", None) in tasks(of)) is expected
    assert ("Lead: " in said(of, "caution")) is expected


def test_lead_is_no_matter_where_no_paint_is_touched() -> None:
    of = answer(one("lower.lock", "lock-no-draw"), built=1900)
    assert {key for key, _ in tasks(of)} == {"lock-refit"}
    assert "Lead: " not in said(of, "caution")


def test_asbestos_escape_falling_glass_and_ladders() -> None:
    assert "Old putty" in said(answer(one("lower.putty", "putty-missing"), built=1989), "note")
    assert "Old putty" not in said(answer(one("lower.putty", "putty-missing"), built=1990), "note")
    shut = one("lower.sash", "painted-shut")
    assert "way out" in said(answer(shut, use={"bedroom": True}), "caution")
    assert "way out" in said(answer(shut), "note")
    assert "way out" not in said(answer(shut, use={"bedroom": False}), "note")
    assert "falls like a blade" in said(answer(one("lower.cord", "cord-broken")), "caution")
    assert "tape it" in said(answer(one("lower.lite.1.1", "glass-cracked")), "caution")
    outside = one("frame.paint", "paint-peeling")
    assert "Work outside on storey 2" in said(answer(outside, storey=2), "note")
    assert "Work outside" not in said(answer(outside, storey=1), "note")


def test_not_surveyed_is_said() -> None:
    document = house_document(windows=[window_document("101")])
    of = treat(house_from(document, KNOWLEDGE), KNOWLEDGE)
    assert "Not surveyed: nothing is known" in said(of.windows[0], "note")
    assert of.values["surveyed"] == 0
