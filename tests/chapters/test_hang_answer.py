"""The shape of the hang chapter's answer, its words, and windows that cannot be made."""

from __future__ import annotations

import json
import math
import re
from typing import Any

import pytest

from sashwright.chapters.answer import Answer, Finding, WindowAnswer
from sashwright.chapters.hang import hang
from sashwright.window.spec import House
from tests.chapters.houses import KNOWLEDGE, PLAIN, POUND, findings, house_of, hung

ARCHED = {"width": 32, "height": 70, "head": {"shape": "segmental", "rise": 4}}
SINGLE = {**PLAIN, "hung": "single"}
TWIN = {**PLAIN, "beside": "1"}
UNFIT = {"width": 60, "height": 24}
MIXED = house_of({"upper": {"lites": "3x2"}}, PLAIN, TWIN, ARCHED, SINGLE, UNFIT)


def test_json_round_trip() -> None:
    answer = hang(MIXED, KNOWLEDGE).to_dict()
    assert json.loads(json.dumps(answer, allow_nan=False)) == answer


def test_shape_of_an_answer() -> None:
    answer = hang(MIXED, KNOWLEDGE)
    assert (answer.chapter, answer.house) == ("hang", "12 Elm Street")
    said = answer.to_dict()
    assert list(said) == ["chapter", "house", "values", "findings", "working", "windows"]
    assert [window["number"] for window in said["windows"]] == ["1", "2", "3", "4", "5"]
    for window in said["windows"]:
        assert list(window) == ["number", "values", "findings", "working"]
        assert set(window["values"]) == {"upper", "lower"}


def test_every_finding_says_why_and_by_whom() -> None:
    for window in hang(MIXED, KNOWLEDGE).windows:
        for finding in window.findings:
            assert finding.level in ("ok", "note", "caution", "fail")
            assert finding.says.endswith(".")
            assert finding.because
            assert finding.source
            assert re.fullmatch(r"(upper|lower)\.(sash|weight|cord)|pocket", finding.on)


def test_every_step_can_be_followed() -> None:
    for window in hang(MIXED, KNOWLEDGE).windows:
        assert window.working
        names = [step.step for step in window.working]
        assert len(names) == len(set(names))
        for step in window.working:
            assert step.formula
            assert step.source
            assert step.unit
            assert step.inputs
            assert math.isfinite(step.result)


def test_steps_lead_to_the_values() -> None:
    """Redone from the inputs that the working shows."""
    answer = hung({"strips": {"sides": "spring-bronze"}})
    steps = {step.step: step for step in answer.working}
    for which in ("upper", "lower"):
        values = answer.values[which]
        at = steps[f"density of the {which} sash's wood"]
        i: dict[str, Any] = dict(at.inputs)
        density = 1000 * i["Gb"] / (1 - i["S0"] * (1 - i["M"] / i["fsp"])) * (1 + i["M"])
        assert at.result == pytest.approx(density)
        at = steps[f"computed mass of the {which} sash"]
        assert values["sash_mass_kg"] == pytest.approx(sum(at.inputs.values()))
        at = steps[f"weight on each side of the {which} sash"]
        weight = at.inputs["sash_kg"] / 2 + at.inputs["bias_each_kg"]
        assert values["weight_each_kg"] == pytest.approx(weight)
        i = dict(steps[f"length of each weight of the {which} sash"].inputs)
        section = math.pi / 4 * i["size_m"] ** 2
        length = i["mass_kg"] / (i["density_kg_m3"] * section) + i["eye_m"]
        assert values["weight_length_mm"] == pytest.approx(length * 1000, abs=1e-3)
        i = dict(steps[f"longest weight of the {which} sash"].inputs)
        longest = i["pulley_m"] - i["floor_m"] - i["travel_m"]
        longest -= i["top_clearance_m"] + i["bottom_clearance_m"]
        assert values["longest_weight_mm"] == pytest.approx(longest * 1000, abs=1e-3)
        i = dict(steps[f"cord on each side of the {which} sash"].inputs)
        assert values["cord_each_mm"] == pytest.approx(sum(i.values()) * 1000, abs=1e-3)
        i = dict(steps[f"friction of the {which} sash's pulleys"].inputs)
        loss = i["friction"] * i["axle_m"] / i["wheel_m"]
        ratio = steps[f"friction of the {which} sash's pulleys"].result
        assert ratio == pytest.approx((1 + loss) / (1 - loss))
        i = dict(steps[f"greatest effort on the {which} sash"].inputs)
        ends = [i[f"{way}_{at}_n"] for way in ("raise", "lower") for at in ("closed", "open")]
        assert values["effort_max_n"] == pytest.approx(max(ends))
        assert values["effort_max_n"] == max(
            values["effort_raise_max_n"], values["effort_lower_max_n"]
        )


def test_effort_curve_runs_over_the_travel() -> None:
    values = hung({}).values["lower"]
    curve = values["effort_curve"]
    assert len(curve["lift_mm"]) == len(curve["raise_n"]) == len(curve["lower_n"]) == 41
    assert curve["lift_mm"][0] == 0
    assert curve["lift_mm"][-1] == values["travel_mm"]
    assert max(curve["raise_n"]) == pytest.approx(values["effort_raise_max_n"], abs=1e-4)


# --- windows that cannot be made -----------------------------------------------------


BAD = {"width": 6, "height": 10, "changes": {"sash": {"stile": 3, "bottom_rail": 8}}}
"""Stiles that fill the width, a bottom rail that fills the lower sash."""


def unchecked(*windows: dict[str, Any]) -> House:
    """A house as it comes out of the record, without a look at how its sizes go together."""
    document = {
        "name": "12 Elm Street",
        "families": {"A": {"sash": {"stile": "0.0508 m"}}},
        "windows": [{"number": str(n), "family": "A", **w} for n, w in enumerate(windows, start=1)],
    }
    return House.model_validate(document, context={"system": "us"})


def test_a_contradictory_window_says_what_is_wrong_and_no_values() -> None:
    house = unchecked(BAD, PLAIN)
    bad, good = hang(house, KNOWLEDGE).windows
    assert bad.values == {}
    assert bad.working == ()
    assert bad.findings
    assert {finding.level for finding in bad.findings} == {"fail"}
    assert {finding.on for finding in bad.findings} >= {"width", "height"}
    for finding in bad.findings:
        assert re.fullmatch(r".+: found .+, expected .+\.", finding.says)
    assert bad.worst == "fail"
    # It does not stand in the way of the others.
    assert good.values == hung({}).values


def test_a_row_that_no_table_has_is_a_failing_finding() -> None:
    house = unchecked({**PLAIN, "changes": {"sash": {"moulding": {"shape": "ovalo"}}}})
    (bad,) = hang(house, KNOWLEDGE).windows
    assert bad.values == {}
    (fail,) = bad.findings
    assert fail.level == "fail"
    assert "did you mean 'ovolo'" in fail.says


def test_neighbour_of_a_contradictory_window() -> None:
    house = unchecked(BAD, TWIN)
    bad, good = hang(house, KNOWLEDGE).windows
    assert bad.values == {}
    assert good.values["lower"]["weight_stock"]
    json.dumps(hang(house, KNOWLEDGE).to_dict(), allow_nan=False)


# --- which windows ----------------------------------------------------------------------


def test_only_the_windows_asked_for() -> None:
    answer = hang(MIXED, KNOWLEDGE, ["3", "1"])
    assert [window.number for window in answer.windows] == ["3", "1"]
    everything = hang(MIXED, KNOWLEDGE)
    assert answer.windows[1].to_dict() == everything.windows[0].to_dict()
    assert answer.windows[0].to_dict() == everything.windows[2].to_dict()


def test_no_windows_asked_for() -> None:
    answer = hang(MIXED, KNOWLEDGE, [])
    assert answer.windows == []
    assert answer.values["weights"] == answer.values["cords"] == []
    assert answer.worst == "ok"


def test_a_number_that_the_house_does_not_have() -> None:
    with pytest.raises(KeyError, match="77"):
        hang(MIXED, KNOWLEDGE, ["1", "77"])


# --- totals ---------------------------------------------------------------------------


def test_totals_of_a_house() -> None:
    house = house_of({"lower": {"bottom_rail": 6}}, PLAIN, PLAIN, SINGLE, UNFIT)
    answer = hang(house, KNOWLEDGE)
    totals = answer.values
    # Two of each sash of 1 and 2, two of 3; the four of 4 do not fit its pocket.
    assert sum(row["count"] for row in totals["weights"]) == 10
    assert totals["weights_unfitted"] == 4
    assert {row["count"] for row in totals["weights"]} == {4, 6}
    kilograms = sum(row["count"] * row["mass_kg"] for row in totals["weights"])
    assert totals["weights_total_kg"] == pytest.approx(kilograms)
    (cords,) = totals["cords"]
    assert (cords["suspension"], cords["pieces"]) == ("cotton-8", 14)
    lengths = [
        2 * values["cord_each_mm"]
        for window in answer.windows
        for values in window.values.values()
        if values
    ]
    assert cords["total_mm"] == pytest.approx(sum(lengths), abs=0.05)


def test_worst_of_a_house() -> None:
    assert hang(house_of({}, PLAIN), KNOWLEDGE).worst == "note"
    assert hang(house_of({}, PLAIN, UNFIT), KNOWLEDGE).worst == "fail"
    fine = Finding("ok", "x", "x", "x", "x")
    bad = Finding("caution", "x", "x", "x", "x")
    assert Answer("x", "x", [WindowAnswer("1", {}, [fine])]).worst == "ok"
    assert Answer("x", "x", [WindowAnswer("1", {}, [fine])], findings=[bad]).worst == "caution"


# --- words ----------------------------------------------------------------------------


def sentences(answer: Answer) -> str:
    return "\n".join(f"{f.says} {f.because}" for w in answer.windows for f in w.findings)


IMPERIAL = re.compile(r'\d"|\blb\b|\boz\b|\blbf\b')
METRIC = re.compile(r"\d mm\b|\bkg\b|\d N\b")


def test_sentences_in_the_units_of_the_house() -> None:
    us = hang(house_of({}, PLAIN, UNFIT), KNOWLEDGE)
    assert IMPERIAL.search(sentences(us))
    assert not METRIC.search(sentences(us))
    window = {"width": 813, "height": 1676}
    unfit = {"width": 1524, "height": 610}
    metric = hang(house_of({}, window, unfit, units="metric"), KNOWLEDGE)
    assert METRIC.search(sentences(metric))
    assert not IMPERIAL.search(sentences(metric))


def test_sentences_in_the_units_asked_for() -> None:
    house = house_of({}, PLAIN, UNFIT)
    us, metric = hang(house, KNOWLEDGE), hang(house, KNOWLEDGE, system="metric")
    assert not IMPERIAL.search(sentences(metric))
    # Only the words differ: values are SI in both.
    for one, other in zip(us.windows, metric.windows, strict=True):
        assert one.values == other.values
        assert [f.level for f in one.findings] == [f.level for f in other.findings]


def test_a_metric_remedy_holds_to_the_millimetre() -> None:
    (answer,) = hang(house_of({}, UNFIT), KNOWLEDGE, system="metric").windows
    (fail,) = findings(answer, "fail", "lower.weight")
    stop = re.search(r"shortens the travel to (\d+ mm)", fail.says)
    assert stop is not None
    stops = {"lower_travel": stop[1], "upper_travel": "60 mm"}
    stopped = hung({"hanging": stops}, UNFIT)
    assert 0 <= stopped.values["lower"]["spare_mm"] < 1


def test_weighed_mass_in_words() -> None:
    window = {**PLAIN, "measured": {"lower": {"mass": "18 lb 6 oz"}}}
    (answer,) = hang(house_of({"hanging": {"bias": "even"}}, window), KNOWLEDGE).windows
    assert answer.values["lower"]["weight_each_kg"] == pytest.approx(18.375 / 2 * POUND)
    assert "Two weights of 9 lb 3 oz" in sentences(Answer("hang", "", [answer]))
