"""``fit``, ``seal``, ``season``, ``climate``: the year in words and as data."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pvlib
import pytest
from click.testing import Result

from sashwright.chapters.answer import Answer
from sashwright.chapters.climate import describe
from sashwright.chapters.fit import fit
from sashwright.chapters.fit.calendar import day_of_date
from sashwright.chapters.seal import seal
from sashwright.chapters.season import season
from sashwright.cli import exits
from sashwright.cli.fitting import Day
from sashwright.knowledge.climate_load import gazetteer
from sashwright.knowledge.load import load
from sashwright.physics.hourly_year import HourlyYear, degree_days
from sashwright.record.file_place import place_of
from sashwright.record.hourly import read_hourly
from sashwright.record.housefile import read_house
from sashwright.record.outdoors import Outdoors, outdoors_of
from sashwright.window.spec import House

Run = Callable[..., Result]
Ask = Callable[[House, Outdoors, list[str] | None], Answer]

GREENSBORO = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
"""A typical year of Greensboro, NC; its station is in the gazetteer as well."""

ASKED: dict[str, Ask] = {
    "fit": lambda house, out, some: fit(house, load(), out.daily(house), some),
    "seal": lambda house, out, some: seal(house, load(), some, year=out.year, place=out.place),
    "season": lambda house, out, some: season(house, load(), some, place=out.place, year=out.year),
}


@pytest.mark.parametrize("command", sorted(ASKED))
def test_data_is_exactly_the_answer(command: str, run: Run, demo: Path) -> None:
    house = read_house(demo, load())
    outdoors = outdoors_of(house)
    ended = run(command, demo, "--json")
    # Through JSON, so that tuples and numbers are what they become there.
    assert json.loads(ended.stdout) == as_data(ASKED[command](house, outdoors, None))
    some = run(command, demo, "--json", "--window", "104", "--window", "209")
    assert json.loads(some.stdout) == as_data(ASKED[command](house, outdoors, ["104", "209"]))
    assert ended.stderr == some.stderr == ""


def as_data(answer: Answer) -> Any:
    return json.loads(json.dumps(answer.to_dict()))


@pytest.mark.parametrize("command", sorted(ASKED))
def test_tables_fit_a_small_terminal(command: str, run: Run, demo: Path) -> None:
    for words in ((command, demo), (command, demo, "--window", "110")):
        text = run(*words, env={"COLUMNS": "80"}).stdout
        assert max(map(len, text.splitlines())) <= 80
        # No letter of a column stands alone below its word.
        assert not re.search(r"^(Windo|Scree|Peopl)$", text, re.MULTILINE)


@pytest.mark.parametrize("command", sorted(ASKED))
def test_units_of_either_kind(command: str, run: Run, demo: Path) -> None:
    us = run(command, demo, "--window", "110", "--units", "us").stdout
    metric = run(command, demo, "--window", "110", "--units", "metric").stdout
    assert us == run(command, demo, "--window", "110").stdout
    assert us != metric
    # Below the tables the findings name rules and their sources in the rules' own units.
    tables = re.split(r"^(?:fail|caution|note|ok) ", metric, maxsplit=1, flags=re.MULTILINE)[0]
    assert re.search(r"\d (?:mm|kg|m³/h)\b", tables)
    assert not re.search(r"\b(lb|cfm)\b|\d\"", tables)


@pytest.mark.parametrize("command", sorted(ASKED))
def test_working_unfolds_the_steps(command: str, run: Run, demo: Path) -> None:
    text = run(command, demo, "--window", "110", "--working").stdout
    assert "\nWorking\n" in text
    assert "      source: " in text
    assert "Working" not in run(command, demo, "--window", "110").stdout
    assert run(command, demo, "--working").stdout.count(", working") == 24


# --- fit --------------------------------------------------------------------------


def test_fit_of_the_house(run: Run, demo: Path) -> None:
    ended = run("fit", demo)
    assert ended.exit_code == exits.FOUND
    text = ended.stdout
    sticks = re.findall(r"^(\d{3}) .*days", text, re.MULTILINE)
    assert sticks == ["209", "209"]
    assert re.search(r"^fail +209: The upper sash sticks between the pulley stiles", text, re.M)
    assert "Weather: synthetic typical year" in text


def test_fit_of_one_window(run: Run, demo: Path) -> None:
    text = run("fit", demo, "--window", "209").stdout
    assert "Window 209, north chamber, west wall, storey 2" in text
    places = r"upper sash to each pulley stile +0\" +3/64\" +(\d+) to (\d+) days +– +"
    assert re.search(places, text)
    assert re.search(r"^ +\d+ Sep +\d+ Mar", text, re.MULTILINE)
    assert "with the wood at its mean of the year" in text
    assert re.search(r"Inside stop: about \d+ \w{3} .*; its slot is 1/8\", long enough\.", text)


def test_fit_on_a_day(run: Run, demo: Path) -> None:
    text = run("fit", demo, "--window", "201", "--today", "2026-04-09").stdout
    assert "with the wood as on 9 Apr" in text
    assert re.search(r"^lower sash .* 9\.5 % +the meter$", text, re.MULTILINE)
    assert "With the wood at 9.5 %, on 9 April, leave at least" in text
    data = json.loads(run("fit", demo, "--window", "201", "--today", "99", "--json").stdout)
    # Written out by hand: 31 + 28 + 31 + 9.
    assert data["windows"][0]["values"]["today"] == 99


@pytest.mark.parametrize(
    ("text", "day"),
    [("2026-01-01", 1), ("2026-09-08", 251), ("2024-02-29", 59), ("2024-12-31", 365), ("7", 7)],
)
def test_days_are_read(text: str, day: int) -> None:
    assert Day().convert(text, None, None) == day
    if "-" in text:
        assert day_of_date(text) == day - 1


@pytest.mark.parametrize("text", ["2026-13-09", "2026-02-30", "9 April", "0", "367", "20260409"])
def test_days_that_are_none(text: str, run: Run, demo: Path) -> None:
    ended = run("fit", demo, "--today", text)
    assert ended.exit_code == exits.USAGE
    assert f"found {text!r}, expected a date such as 2026-09-08" in ended.stderr


# --- weather ----------------------------------------------------------------------


def test_the_weather_of_another_place(run: Run, demo: Path) -> None:
    house = read_house(demo, load())
    home = run("fit", demo, "--json", "--window", "209").stdout
    away = run("fit", demo, "--json", "--window", "209", "--climate", "Phoenix, AZ").stdout
    assert "Portland" in json.loads(home)["values"]["climate"]
    moved = json.loads(away)
    assert "Phoenix" in moved["values"]["climate"]
    # In the desert nothing swells shut.
    assert moved["values"]["sticking"] == []
    renamed = house.model_copy(update={"climate": "Phoenix, AZ"})
    assert moved == as_data(ASKED["fit"](renamed, outdoors_of(renamed), ["209"]))


def test_a_weather_file_of_ones_own(run: Run, demo: Path) -> None:
    ended = run("fit", demo, "--window", "101", "--weather", GREENSBORO)
    assert ended.exit_code == exits.OK
    assert "TMY3 file 723170TYA.CSV, GREENSBORO" in ended.stdout
    seasonal = json.loads(run("season", demo, "--json", "--weather", GREENSBORO).stdout)
    assert "GREENSBORO" in seasonal["values"]["changeover"]["source"]
    sealed = json.loads(run("seal", demo, "--json", "--weather", GREENSBORO).stdout)
    assert sealed["values"]["air_exchange"]["by"] == "hours"


def test_weather_that_cannot_be(run: Run, starter: Path, tmp_path: Path) -> None:
    both = run("seal", starter, "--climate", "Boston, MA", "--weather", GREENSBORO)
    assert both.exit_code == exits.USAGE
    assert "name one of them" in both.stderr
    (tmp_path / "town.epw").write_text("not weather\n")
    missing = run("seal", starter, "--weather", tmp_path / "twon.epw")
    assert missing.exit_code == exits.USAGE
    assert "did you mean town.epw?" in missing.stderr
    broken = run("seal", starter, "--weather", tmp_path / "town.epw")
    assert broken.exit_code == exits.FOUND
    assert "expected the head of an EPW, TMY3 or TMY2 file" in broken.stderr


def test_a_house_without_a_climate(run: Run, starter: Path) -> None:
    hint = "--climate PLACE or --weather FILE"
    ended = run("fit", starter)
    assert (ended.exit_code, ended.stdout) == (exits.FOUND, "")
    assert hint in ended.stderr
    # Leaks and sizes are known without weather; only what follows from it is left out.
    for command, left_out in (("seal", "air_exchange"), ("season", "changeover")):
        ended = run(command, starter, "--json")
        assert ended.exit_code == exits.OK
        assert hint in ended.stderr
        assert json.loads(ended.stdout)["values"][left_out] is None


# --- seal and season --------------------------------------------------------------


def test_seal_of_the_house(run: Run, demo: Path) -> None:
    text = run("seal", demo).stdout
    assert re.search(r"^203 .* meeting rails, \d+ % +fit a bulb at the meeting rails$", text, re.M)
    assert re.search(r"^as found +\d+ cfm +\d+ cfm +100 % █{12} +\d+ cfm$", text, re.MULTILINE)
    assert re.search(r"^every step ", text, re.MULTILINE)
    assert "mean flow through the whole house" in text
    # What is true of many windows is said once.
    assert len(re.findall("The storm is tighter than the sash behind it", text)) == 1
    shares = [int(n) for n in re.findall(r"^\d{3} .* (\d+) %  +\S.*, \d+ %", text, re.MULTILINE)]
    assert len(shares) == 24
    # Each is rounded by at most half a percent.
    assert abs(sum(shares) - 100) <= 12


def test_seal_of_one_window(run: Run, demo: Path) -> None:
    text = run("seal", demo, "--window", "203").stdout
    rows = re.findall(r"^(\S.*?)  +\S.*?  +[\d.]+ cfm +(\d+) % ?(█*▌?)$", text, re.MULTILINE)
    paths = [(int(share), bar) for _, share, bar in rows][:8]
    assert rows[0][0] == "meeting rails"
    assert paths == sorted(paths, key=lambda path: -path[0])
    # A block for each twentieth.
    for share, bar in paths:
        assert abs(share / 5 - (bar.count("█") + bar.count("▌") / 2)) <= 0.35
    assert "To do, each by itself" in text
    assert "with its storm sash" in text
    assert "a storm sash would leave" not in text


def test_season_of_the_house(run: Run, demo: Path) -> None:
    ended = run("season", demo)
    assert ended.exit_code == exits.OK
    text = ended.stdout
    assert re.search(r"Storms go on in weeks \d+ to \d+, \d+ \w+ to \d+ \w+, screens in", text)
    walked = text.split("The round")[1].split("windows,")[0]
    assert re.findall(r"^(\d{3})  ", walked, re.MULTILINE) == [
        window.number for window in read_house(demo, load()).windows if window.number != "207"
    ]
    assert re.search(r"^301 +301 +attic +south 3 +storm +ladder ", walked, re.MULTILINE)
    assert re.search(r"^\d+ windows, \d+ h \d\d min of one person's time", text, re.MULTILINE)
    assert "Rack: " in text
    assert re.search(r"^207 +207 +all year +combination +–$", text, re.MULTILINE)


def test_season_of_one_window(run: Run, demo: Path) -> None:
    text = run("season", demo, "--window", "110").stdout
    assert "Mark 110, proposed. Storm sash: winter." in text
    for label in ("wide by high", "radius of the head", "weighs", "air to the glass", "weep holes"):
        assert label in text
    assert "Parts of the storm sash, sizes in inches" in text
    assert re.search(r"^screen +bottom rail ", text, re.MULTILINE)
    # A full screen has no glass, a combination window no parts.
    assert "Parts of the" not in run("season", demo, "--window", "207").stdout


def test_a_storm_sash_that_cannot_be_made(run: Run, demo: Path, tmp_path: Path) -> None:
    file = tmp_path / "house.toml"
    text = demo.read_text(encoding="utf-8")
    before = 'changes = { frame = { pulley_stile = "1 1/8" }'
    assert text.count(before) == 1
    after = 'changes = { frame = { storm_rabbet_width = "0", pulley_stile = "1 1/8" }'
    file.write_text(text.replace(before, after), encoding="utf-8")
    ended = run("season", file)
    assert ended.exit_code == exits.FOUND
    assert re.search(r"^fail +303: frame.storm_rabbet_width: found no rabbet", ended.stdout, re.M)
    # The others are answered all the same.
    assert re.search(r"^304 +304 +winter ", ended.stdout, re.MULTILINE)
    assert "Window 303, attic" in run("season", file, "--window", "303").stdout


# --- climate ----------------------------------------------------------------------


def test_climate_as_data(run: Run) -> None:
    data = json.loads(run("climate", "Portland,", "Maine", "--json").stdout)
    assert data == as_data(describe(gazetteer().find("Portland, Maine")))
    assert len(data["values"]["months"]) == 12
    near = json.loads(run("climate", "726060", "--near", "--json").stdout)["values"]["nearby"]
    assert len(near) == 6
    far = [station["distance_m"] for station in near]
    assert far == sorted(far)
    assert far[0] > 0


def test_climate_in_words(run: Run) -> None:
    text = run("climate", "Portland, Maine", "--near", env={"COLUMNS": "80"}).stdout
    assert max(map(len, text.splitlines())) <= 80
    assert text.startswith("Portland International Jetport, ME: 43.65 N, 70.30 W, 46 ft above")
    assert len(re.findall(r"^(?:Jan|Jun|Dec) .* %$", text, re.MULTILINE)) == 3
    # National Renewable Energy Laboratory's own table prints these degree days for the station.
    assert "heating 7,680, cooling 335" in text
    assert re.search(r"^743920 +Naval Air Station, ME +25 miles +\+23 ft$", text, re.MULTILINE)
    metric = run("climate", "Portland, Maine", "--units", "metric").stdout
    assert "14 m above" in metric
    assert "Mean °C" in metric


def test_climate_of_a_point(run: Run) -> None:
    for point in ("43.65,-70.30", "43.65 N 70.30 W"):
        text = run("climate", point).stdout
        assert "Portland International Jetport" in text
        assert "from the house" in text


def test_climate_asks_back(run: Run) -> None:
    hint = run("climate")
    assert hint.exit_code == exits.OK
    assert "Name a place" in hint.stdout
    several = run("climate", "portland", "--json")
    assert (several.exit_code, several.stdout) == (exits.USAGE, "")
    assert re.search(r"^  726060  Portland International Jetport, ME$", several.stderr, re.M)
    assert re.search(r"^  726980  Portland International Airport, OR$", several.stderr, re.M)
    nothing = run("climate", "Xyzzy")
    assert nothing.exit_code == exits.USAGE
    assert "expected the name of a place" in nothing.stderr


@pytest.fixture(scope="module")
def greensboro() -> HourlyYear:
    return read_hourly(GREENSBORO)


def test_climate_of_a_file(run: Run, greensboro: HourlyYear) -> None:
    ended = run("climate", GREENSBORO, "--json")
    assert ended.exit_code == exits.OK
    values = json.loads(ended.stdout)["values"]
    assert values["degree_days_from"] == "counted in the file"
    heating, cooling = degree_days(greensboro.temperature)
    assert values["heating_degree_days_k"] == pytest.approx(heating)
    assert values["cooling_degree_days_k"] == pytest.approx(cooling)
    assert values["estimated"] == []


def test_a_file_has_the_climate_that_the_gazetteer_says(greensboro: HourlyYear) -> None:
    """The same typical year, its months once worked out by the package and once by the makers."""
    own, known = place_of(greensboro, GREENSBORO), gazetteer().find("723170")
    # The gazetteer keeps tenths of a degree, whole percents and tenths of a metre a second.
    for name, within in (
        ("temperature", 0.11),
        ("temperature_max", 0.11),
        ("temperature_min", 0.11),
        ("humidity", 0.011),
        ("wind_speed", 0.11),
    ):
        pairs = zip(own.months, known.months, strict=True)
        off = [abs(getattr(one, name) - getattr(other, name)) for one, other in pairs]
        assert max(off) < within, name
    assert own.elevation == pytest.approx(known.elevation, abs=1)
    for one, other in zip(own.months, known.months, strict=True):
        assert one.wind_shares is not None
        assert other.wind_shares is not None
        assert np.abs(np.subtract(one.wind_shares, other.wind_shares)).max() < 0.03
