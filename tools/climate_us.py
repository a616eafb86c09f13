"""Makes ``knowledge/data/climate-us.csv.gz`` from monthly statistics of American typical years.

    python tools/climate_us.py climate-us.csv src/sashwright/knowledge/data/climate-us.csv.gz

The input has one row for each station and month, computed from the 1,020 hourly files of the TMY3 set
(National Renewable Energy Laboratory, *Users Manual for TMY3 Data Sets*, NREL/TP-581-43156, 2008). Its
columns are those of ``HEAD`` and ``COLUMNS`` below, with the month, 1 to 12, between them. What they mean
is in docs/methods/climate.md; tests/references/test_climate_tmy3.py works one station out again from its
hourly file.

The output has one line for each station: the head, then for each column twelve whole numbers, January
first, in the units of ``COLUMNS``. It compresses to under 600 kB and one line is read in a millisecond.
"""

from __future__ import annotations

import csv
import gzip
import itertools
import re
import sys
from pathlib import Path

HEAD = (
    "station",
    "name",
    "state",
    "lat_deg",
    "lon_deg",
    "elevation_m",
    "utc_offset_h",
    "hdd65_F_day",
    "cdd65_F_day",
)
DIRECTIONS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
# Column and what a whole number in the output counts: 100 for hundredths.
COLUMNS = {
    "t_mean_C": 100,
    "t_daily_max_mean_C": 100,
    "t_daily_min_mean_C": 100,
    "t_daily_mean_sd_K": 100,
    "rh_mean_pct": 10,
    "dew_point_mean_C": 10,
    "pressure_mean_hPa": 10,
    "wind_mean_m_s": 100,
    "wind_sd_m_s": 100,
    "ghi_kWh_m2_day": 100,
    "dhi_kWh_m2_day": 100,
    "dni_kWh_m2_day": 100,
    **{f"wind_share_{direction}": 1000 for direction in DIRECTIONS},
    **{f"wind_speed_{direction}_m_s": 10 for direction in DIRECTIONS},
}
# Stations left out, with the reason.
BROKEN = {
    "703884": "Hydaburg, AK: in July the days' means scatter by 19.6 K, humidity is 35 %",
}
# Station names are in capitals, cut off at 30 letters, and full of short words.
SPELLED = {
    "ANGB": "ANGB",
    "AP": "Airport",
    "ARPT": "Airport",
    "CO": "County",
    "FLD": "Field",
    "FT": "Fort",
    "INTL": "International",
    "MEM": "Memorial",
    "MT": "Mount",
    "MUNI": "Municipal",
    "MUNICIP": "Municipal",
    "RGNL": "Regional",
}
KEPT = {"AAF", "AF", "AFB", "ARB", "CGAS", "DC", "FAA", "MCAS", "NAAS", "NAS", "NDB", "NF", "NOLF"}
KEPT |= {"USAF", "WSMO", "WSO"}


def pretty(name: str) -> str:
    """``PORTLAND INTL JETPORT`` as ``Portland International Jetport``."""
    plain = re.sub(r"\[.*?\]|\((?:AWOS|ASOS)\)|\bAWOS\b", " ", name)
    plain = plain.replace("INT'L", "INTL").replace("`", "'").strip()
    # Cut off in the middle of "airport", or of a word nobody can tell.
    plain = re.sub(r" (?:A|AR|ARP)$", " AIRPORT", plain)
    plain = re.sub(r" (?:AI|G|I|R|RG|RIC)$", "", plain)
    return re.sub(r"[A-Za-z.']+", lambda word: _word(word.group()), " ".join(plain.split()))


def _word(word: str) -> str:
    if word.upper() in SPELLED:
        return SPELLED[word.upper()]
    return word if word in KEPT or "." in word[:-1] else word.capitalize()


def line(rows: list[dict[str, str]]) -> str:
    """One station's line from its twelve rows."""
    first = rows[0]
    assert [row["month"] for row in rows] == [str(month) for month in range(1, 13)], first
    head = [first[key] for key in HEAD]
    head[1] = pretty(head[1]).replace(",", " ")
    cells = [
        " ".join(str(round(float(row[column]) * scale)) for row in rows)
        for column, scale in COLUMNS.items()
    ]
    return ",".join([*head, *cells])


def main(source: Path, target: Path) -> None:
    with source.open(encoding="utf-8", newline="") as file:
        stations = [list(rows) for _, rows in itertools.groupby(csv.DictReader(file), _station)]
    lines = [",".join([*HEAD, *COLUMNS])]
    lines += [line(rows) for rows in stations if rows[0]["station"] not in BROKEN]
    text = "\n".join(lines) + "\n"
    # Without a time stamp, the same input makes the same file.
    target.write_bytes(gzip.compress(text.encode(), 9, mtime=0))
    sys.stdout.write(f"{len(lines) - 1} stations, {target.stat().st_size} bytes\n")


def _station(row: dict[str, str]) -> str:
    return row["station"]


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
