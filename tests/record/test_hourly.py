"""Hourly weather files: the typical years that pvlib ships, and everything that can be wrong."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pvlib
import pytest

from sashwright.physics import psychrometrics as air
from sashwright.physics.hourly_year import HourlyYear, degree_days, hour_name
from sashwright.record.hourly import WeatherFileError, read_hourly

DATA = Path(pvlib.__file__).parent / "data"
GREENSBORO = DATA / "723170TYA.CSV"
SAND_POINT = DATA / "703165TY.csv"
MIAMI = DATA / "12839.tm2"

LINES = GREENSBORO.read_text(encoding="utf-8").splitlines()
Write = Callable[[list[str]], Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def written(lines: list[str], name: str = "weather.csv") -> Path:
        file = tmp_path / name
        file.write_text("\n".join(lines) + "\n", encoding="utf-8")
        return file

    return written


@pytest.fixture(scope="module")
def greensboro() -> HourlyYear:
    return read_hourly(GREENSBORO)


def refusal(file: Path) -> str:
    with pytest.raises(WeatherFileError) as refused:
        read_hourly(file)
    message = str(refused.value)
    assert message.startswith(file.name)
    assert "found" in message
    assert "expected" in message
    assert "\n" not in message
    return message


def cell(line: str, column: int, value: str) -> str:
    cells = line.split(",")
    cells[column] = value
    return ",".join(cells)


# --- the three formats ----------------------------------------------------------------


def test_tmy3(greensboro: HourlyYear) -> None:
    # Row by row as it stands in the file: 1 January 01:00 and 31 December 24:00.
    first, last = LINES[2].split(","), LINES[-1].split(",")
    for row, cells in ((0, first), (-1, last)):
        assert greensboro.temperature[row] == float(cells[31])
        assert greensboro.dew_point[row] == float(cells[34])
        assert greensboro.humidity[row] == pytest.approx(float(cells[37]) / 100)
        assert greensboro.pressure[row] == pytest.approx(100 * float(cells[40]))
        assert greensboro.wind_direction[row] == float(cells[43]) % 360
        assert greensboro.wind_speed[row] == float(cells[46])
    noon = LINES[2 + 12].split(",")
    assert greensboro.global_horizontal[12] == float(noon[4])
    assert greensboro.direct_normal[12] == float(noon[7])
    assert greensboro.diffuse_horizontal[12] == float(noon[10])
    assert (greensboro.latitude, greensboro.longitude) == (36.1, -79.95)
    assert (greensboro.elevation, greensboro.utc_offset) == (273.0, -5.0)
    assert greensboro.source == "TMY3 file 723170TYA.CSV, GREENSBORO PIEDMONT TRIAD INT, NC"


def test_tmy3_from_alaska() -> None:
    year = read_hourly(SAND_POINT)
    assert year.utc_offset == -9
    assert degree_days(year.temperature)[1] == 0


def test_tmy2() -> None:
    year = read_hourly(MIAMI)
    row = MIAMI.read_text().splitlines()[1]
    # User's Manual for TMY2s: dry bulb in columns 68-71, dew point 74-77, tenths of a degree.
    assert year.temperature[0] == pytest.approx(int(row[67:71]) / 10)
    assert year.dew_point[0] == pytest.approx(int(row[73:77]) / 10)
    assert year.longitude == pytest.approx(-80.2667, abs=1e-4)
    assert year.utc_offset == -5
    assert year.source == "TMY2 file 12839.tm2, MIAMI, FL"


def epw_lines(year: HourlyYear) -> list[str]:
    """The year as an EPW file: 8 head lines, 8,760 rows of 35 fields."""
    head = [
        f"LOCATION,Greensboro,NC,USA,TMY3,723170,{year.latitude},{year.longitude},"
        f"{year.utc_offset},{year.elevation}",
        "DESIGN CONDITIONS,0",
        "TYPICAL/EXTREME PERIODS,0",
        "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
        "COMMENTS 1,",
        "COMMENTS 2,",
        "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
    ]
    days = np.arange(np.datetime64("2021-01-01"), np.datetime64("2022-01-01"))
    rows = []
    for hour in range(8760):
        date = days[hour // 24].item()
        values = [
            year.temperature[hour],
            year.dew_point[hour],
            100 * year.humidity[hour],
            year.pressure[hour],
            *[9999, 9999, 9999],
            year.global_horizontal[hour],
            year.direct_normal[hour],
            year.diffuse_horizontal[hour],
            *[999999, 999999, 999999, 9999],
            year.wind_direction[hour],
            year.wind_speed[hour],
            *[5, 5, 9999, 99999, 9, 999999999, 999, 0.999, 999, 99, 0, 0, 0],
        ]
        stamp = [1990 + date.month, date.month, date.day, hour % 24 + 1, 60, "?9?9"]
        rows.append(",".join(map(str, [*stamp, *values])))
    return head + rows


def test_epw(write: Write, greensboro: HourlyYear) -> None:
    """The same year through another format comes out the same."""
    year = read_hourly(write(epw_lines(greensboro)))
    for field in ("temperature", "dew_point", "humidity", "pressure", "wind_speed"):
        np.testing.assert_allclose(getattr(year, field), getattr(greensboro, field), rtol=1e-12)
    np.testing.assert_array_equal(year.global_horizontal, greensboro.global_horizontal)
    np.testing.assert_array_equal(year.wind_direction, greensboro.wind_direction)
    assert year.source == "EPW file weather.csv, Greensboro, NC"


def test_other_line_ends_and_letters(tmp_path: Path, greensboro: HourlyYear) -> None:
    file = tmp_path / "windows.epw"
    lines = epw_lines(greensboro)
    lines[5] = "COMMENTS 1,temp\u00e9rature"
    file.write_bytes("\r\n".join(lines).encode("latin-1"))
    np.testing.assert_array_equal(read_hourly(file).temperature, greensboro.temperature)


def test_a_comma_in_the_stations_name(write: Write, greensboro: HourlyYear) -> None:
    head = LINES[0].replace('"GREENSBORO PIEDMONT', '"GREENSBORO, PIEDMONT')
    assert head != LINES[0]
    year = read_hourly(write([head, *LINES[1:]]))
    assert "GREENSBORO, PIEDMONT" in year.source
    np.testing.assert_array_equal(year.temperature, greensboro.temperature)


# --- the clock --------------------------------------------------------------------------


def test_a_leap_year_loses_its_29_february(write: Write, greensboro: HourlyYear) -> None:
    march = 2 + 24 * 59
    extra = [cell(line, 0, "02/29/1996") for line in LINES[march : march + 24]]
    assert LINES[march].startswith("03/01/")
    year = read_hourly(write([*LINES[:march], *extra, *LINES[march:]]))
    np.testing.assert_array_equal(year.temperature, greensboro.temperature)


def test_a_missing_hour_is_named(write: Write) -> None:
    message = refusal(write([*LINES[:100], *LINES[101:]]))
    assert f"expected {hour_name(98)}: every hour of a year, in order" in message


def test_a_short_year_is_refused(write: Write) -> None:
    message = refusal(write(LINES[: 2 + 8000]))
    assert f"found the end of the file, expected {hour_name(8000)}" in message


def test_hours_out_of_order_are_refused(write: Write) -> None:
    swapped = [*LINES[:50], LINES[51], LINES[50], *LINES[52:]]
    assert f"expected {hour_name(48)}" in refusal(write(swapped))


def test_two_rows_an_hour_are_refused(write: Write) -> None:
    doubled = [*LINES[:2], *(line for line in LINES[2:] for _ in range(2))]
    assert "found 17,520 rows, 2 for each hour, expected 8,760" in refusal(write(doubled))


def test_two_years_are_refused(write: Write) -> None:
    message = refusal(write([*LINES, *LINES[2 : 2 + 24]]))
    assert "found 8,784 hours, expected 8,760, one year and no more" in message


def test_stamps_at_the_beginning_of_hours_are_refused(write: Write) -> None:
    early = [cell(line, 1, f"{int(line.split(',')[1][:2]) - 1:02}:00") for line in LINES[2:]]
    message = refusal(write([*LINES[:2], *early]))
    assert "line 3: found the time 00:00, expected the end of an hour" in message


@pytest.mark.parametrize("shift", [1, 5])
def test_another_clock_is_seen_by_the_sun(write: Write, greensboro: HourlyYear, shift: int) -> None:
    """Summer time all year, or universal time: the sunshine lies at the wrong hour."""
    lines = epw_lines(greensboro)
    head, rows = lines[:8], [line.split(",") for line in lines[8:]]
    moved = [
        ",".join(stamp[:6] + values[6:])
        for stamp, values in zip(rows, [*rows[-shift:], *rows[:-shift]], strict=True)
    ]
    message = refusal(write([*head, *moved]))
    assert "found the middle of the sunshine at" in message
    assert "expected about 12:20" in message
    assert "local standard time" in message


def test_an_impossible_zone(write: Write) -> None:
    head = ",".join([*LINES[0].split(",")[:3], "-50", *LINES[0].split(",")[4:]])
    assert "found a time zone of -50 h, expected -12 to 14 h" in refusal(write([head, *LINES[1:]]))


# --- figures ------------------------------------------------------------------------------


def test_short_gaps_are_bridged_and_told(write: Write, greensboro: HourlyYear) -> None:
    lines = LINES.copy()
    for row in (100, 101, 102):
        lines[2 + row] = cell(lines[2 + row], 31, "-9900")
    year = read_hourly(write(lines))
    before, after = greensboro.temperature[99], greensboro.temperature[103]
    bridged = before + (after - before) * np.array([0.25, 0.5, 0.75])
    np.testing.assert_allclose(year.temperature[100:103], bridged)
    assert year.source.endswith("gaps bridged: temperature 3 h")


def test_long_gaps_are_refused(write: Write) -> None:
    lines = LINES.copy()
    for row in range(100, 107):
        lines[2 + row] = cell(lines[2 + row], 34, "-9900")
    message = refusal(write(lines))
    assert f"dew point, {hour_name(100)}: found no figure, 7 in the year and 7 in a row" in message
    assert "expected gaps of at most 6 hours" in message


def test_missing_sun_is_refused(write: Write, greensboro: HourlyYear) -> None:
    lines = epw_lines(greensboro)
    lines[8 + 12] = cell(lines[8 + 12], 13, "9999")
    message = refusal(write(lines))
    assert f"global horizontal, {hour_name(12)}" in message
    assert "expected a figure for every hour" in message


def test_no_pressure_at_all(write: Write, greensboro: HourlyYear) -> None:
    lines = epw_lines(greensboro)
    lines = lines[:8] + [cell(line, 9, "999999") for line in lines[8:]]
    year = read_hourly(write(lines))
    np.testing.assert_allclose(year.pressure, air.standard_pressure(273.0))
    assert "pressure of the standard atmosphere" in year.source


def test_words_in_place_of_numbers(write: Write) -> None:
    lines = LINES.copy()
    lines[41] = cell(lines[41], 46, "calm")
    assert "line 42, Wspd (m/s): found 'calm', expected a number" in refusal(write(lines))


def test_figures_that_are_no_weather(write: Write) -> None:
    lines = LINES.copy()
    lines[2 + 672] = cell(lines[2 + 672], 31, "88.0")
    message = refusal(write(lines))
    assert "temperature, 29 January, 00:00 to 01:00: found 88, expected -75 to 65 °C" in message


def test_missing_columns_are_named(write: Write) -> None:
    lines = [LINES[0], LINES[1].replace("Wspd (m/s)", "Wind"), *LINES[2:]]
    assert "line 2: found no column Wspd (m/s)" in refusal(write(lines))


def test_short_epw_rows(write: Write, greensboro: HourlyYear) -> None:
    lines = epw_lines(greensboro)
    lines = lines[:8] + [",".join(line.split(",")[:12]) for line in lines[8:]]
    assert "line 9: found 12 fields, expected at least 22 fields" in refusal(write(lines))


@pytest.mark.parametrize(
    "lines",
    [["month,temperature", "1,2"], ["PK\x03\x04"], [""], ["LOCATION,here", *["x"] * 20]],
)
def test_other_files_are_refused(write: Write, lines: list[str]) -> None:
    refusal(write(lines))


def test_damaged_tmy2(tmp_path: Path) -> None:
    file = tmp_path / "damaged.tm2"
    file.write_text(MIAMI.read_text()[:5000] + "\n???\n")
    assert "expected a TMY2 file" in refusal(file)


def test_no_file(tmp_path: Path) -> None:
    assert "found no readable file" in refusal(tmp_path / "missing.epw")


def test_pandas_is_loaded_only_when_a_file_is_read() -> None:
    """A plain command must not wait a second for a library it does not use."""
    code = "import sys, sashwright.record.hourly; print('pandas' in sys.modules, 'pvlib' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "False"]
