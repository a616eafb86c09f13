"""How windows are numbered: which number comes next."""

from __future__ import annotations

import re
from collections.abc import Collection

FIRST = "101"
LONGEST = 16

_PARTS = re.compile(r"(?P<front>.*?)(?P<count>[0-9]+)(?P<letter>[A-Za-z]?)")
_BESIDE = {"L": "R", "l": "r"}


def next_number(after: str | None, taken: Collection[str]) -> str:
    """The number to suggest after one: 204, 205; 107L, 107R, 108; door-2, door-3. Never one taken."""
    number = FIRST if after is None else _following(after)
    while number in taken:
        number = _following(number)
    return number


def _following(number: str) -> str:
    parts = _PARTS.fullmatch(number)
    if parts is None:
        return f"{number[: LONGEST - 2]}-2"
    front, count, letter = parts["front"], parts["count"], parts["letter"]
    if letter in _BESIDE:
        return f"{front}{count}{_BESIDE[letter]}"
    if letter and letter not in "RrZz":
        return f"{front}{count}{chr(ord(letter) + 1)}"
    more = str(int(count) + 1).zfill(len(count))
    return f"{front[: LONGEST - len(more)]}{more}"
