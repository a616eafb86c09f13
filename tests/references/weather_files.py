"""The typical years of real stations that the pvlib package ships (NREL, public domain)."""

from __future__ import annotations

from pathlib import Path

import pvlib

_DATA = Path(pvlib.__file__).parent / "data"

GREENSBORO = _DATA / "723170TYA.CSV"
"""TMY3, Greensboro, North Carolina: warm and humid."""
SAND_POINT = _DATA / "703165TY.csv"
"""TMY3, Sand Point, Alaska: a foggy island."""
MIAMI_1990 = _DATA / "12839.tm2"
"""TMY2, Miami, Florida: the older set, months of 1961 to 1990."""
