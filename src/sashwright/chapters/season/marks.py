"""Marks for frames, storm sash and screens: in walking order, unique, and never changed once given.

A mark that stands in the specification is cut into wood and stays. Windows without one get theirs in the
order of the walk: storey by storey, round the house from its front wall. A window that is added later
takes the next number after the highest of its storey (or of the house), never one between others, so that
no mark moves; :func:`with_marks` writes the marks into the house, and a house so written keeps them.
Windows that share a mullion are twins: one number, with letters from the left as seen from outside.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice, product
from string import ascii_uppercase

from sashwright.window.changeover import Changeover
from sashwright.window.spec import House, Window

_ROMAN = (
    (1000, "M"), (900, "CM"), (500, "D"), (400, "CD"), (100, "C"), (90, "XC"),
    (50, "L"), (40, "XL"), (10, "X"), (9, "IX"), (5, "V"), (4, "IV"), (1, "I"),
)  # fmt: skip
_FIGURES = re.compile(r"(?P<base>B?[0-9]+)-?(?P<twin>[A-Z]*)")
_LETTERS = re.compile(r"(?P<base>[IVXLCDM]+)(?:-(?P<twin>[A-Z]+))?")


def roman(number: int) -> str:
    """A whole number from 1 to 3999 in Roman numerals.

    Examples
    --------
    >>> roman(14), roman(1899)
    ('XIV', 'MDCCCXCIX')
    """
    if not 0 < number < 4000:
        raise ValueError(f"found {number}, expected 1 to 3999 for Roman numerals")
    letters = ""
    for value, letter in _ROMAN:
        count, number = divmod(number, value)
        letters += letter * count
    return letters


def from_roman(letters: str) -> int | None:
    """The number that Roman numerals stand for; None where they stand for none.

    Examples
    --------
    >>> from_roman("XIV"), from_roman("IIX")
    (14, None)
    """
    total, rest = 0, letters
    for value, letter in _ROMAN:
        while rest.startswith(letter):
            total, rest = total + value, rest[len(letter) :]
    return total if not rest and total and total < 4000 and roman(total) == letters else None


# --- the walk -------------------------------------------------------------------------


def walk(house: House) -> list[list[Window]]:
    """Windows in walking order, twins together, from left to right as seen from outside."""
    order = {window.number: place for place, window in enumerate(house.windows)}
    groups = list(_twins(house.windows))
    return sorted(groups, key=lambda group: _place(house, group, order))


def _twins(windows: Sequence[Window]) -> Iterator[list[Window]]:
    """Rows of windows that share mullions, from the left; most rows are one window."""
    by_number = {window.number: window for window in windows}
    right = {window.beside: window for window in windows if window.beside in by_number}
    for window in windows:
        if window.beside in by_number:
            continue
        row = [window]
        while row[-1].number in right and len(row) < len(windows):
            row.append(right[row[-1].number])
        yield row


def _place(
    house: House, group: Sequence[Window], order: Mapping[str, int]
) -> tuple[int, float, int, float, int]:
    first = group[0]
    walls = list(house.walls)
    front = house.changeover.front or (walls[0] if walls else "")
    start = house.walls[front].faces if front in house.walls else 0.0
    faces = house.walls[first.wall].faces if first.wall in house.walls else 0.0
    # Seen from outside, whoever walks clockwise meets a wall's windows from right to left.
    clockwise = house.changeover.walk == "clockwise"
    turn = (faces - start) % 360 if clockwise else (start - faces) % 360
    wall = walls.index(first.wall) if first.wall in walls else len(walls)
    known = [window.along for window in group if window.along is not None]
    # Windows whose place on the wall is not recorded follow in the order of the record.
    along = (min(known) if not clockwise else -max(known)) if known else float("inf")
    return first.storey, round(turn, 6), wall, along, order[first.number]


# --- marks ----------------------------------------------------------------------------


def marks_of(house: House) -> dict[str, str]:
    """The mark of every window, by its number; those given stay as they are."""
    given = {window.number: window.mark for window in house.windows if window.mark is not None}
    if house.changeover.marks == "window number":
        marks = given | dict(_own_numbers(house, given))
    else:
        marks = given | dict(_walked(house, given))
    return {window.number: marks[window.number] for window in house.windows}


def _own_numbers(house: House, given: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Each window's number as its mark; where another window has that mark, with a number behind."""
    taken = {mark.upper() for mark in given.values()}
    for window in house.windows:
        if window.number in given:
            continue
        others = (f"{window.number}-{n}" for n in range(2, len(taken) + 3))
        mark = next(m for m in (window.number, *others) if m.upper() not in taken)
        taken.add(mark.upper())
        yield window.number, mark


def _walked(house: House, given: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Marks in walking order, for the windows that have none."""
    rules = house.changeover
    taken = {mark.upper() for mark in given.values()}
    # A letter behind a number is a twin's, so its number is taken too.
    taken |= {base for mark in taken if (base := _base(mark, rules)) is not None}
    for group in walk(house):
        missing = [window for window in group if window.number not in given]
        if not missing:
            continue
        known = [given[window.number] for window in group if window.number in given]
        base = next((b for mark in known if (b := _base(mark.upper(), rules))), None)
        if base is None:
            base = _next(group[0], rules, taken)
        taken.add(base)
        for window, mark in zip(missing, _named(base, group, missing, rules, taken), strict=True):
            taken.add(mark)
            yield window.number, mark


def with_marks(house: House) -> House:
    """The house with every window's mark written down, so that none ever changes."""
    marks = marks_of(house)
    windows = (window.model_copy(update={"mark": marks[window.number]}) for window in house.windows)
    return house.model_copy(update={"windows": tuple(windows)})


def _base(mark: str, rules: Changeover) -> str | None:
    """The number in a mark, without a twin's letter; None for a mark of another kind."""
    pattern = _LETTERS if rules.numerals == "roman" else _FIGURES
    match = pattern.fullmatch(mark)
    return match["base"] if match else None


def _next(window: Window, rules: Changeover, taken: set[str]) -> str:
    """The number after the highest: of the window's storey, or of the house."""
    if rules.marks == "running":
        count = 1 + max((_running(mark, rules) for mark in taken), default=0)
        return roman(count) if rules.numerals == "roman" else str(count)
    storey = _storey(window.storey)
    highest = max((_on_storey(mark, storey) for mark in taken), default=0)
    # Past 99 a mark may look like one of a higher storey; that one is passed over.
    return next(
        mark
        for place in range(highest + 1, highest + len(taken) + 3)
        if (mark := f"{storey}{place:02d}") not in taken
    )


def _running(mark: str, rules: Changeover) -> int:
    base = _base(mark, rules)
    if base is None:
        return 0
    if rules.numerals == "roman":
        return from_roman(base) or 0
    return int(base) if base.isdigit() else 0


def _storey(storey: int) -> str:
    """What a mark begins with: the storey, B and its depth below the ground."""
    return str(storey) if storey >= 0 else f"B{-storey}"


def _on_storey(mark: str, storey: str) -> int:
    """Place of a mark in the walk of a storey; 0 if it is another storey's."""
    match = re.fullmatch(rf"{storey}([0-9]{{2}})-?[A-Z]?", mark)
    return int(match[1]) if match else 0


def _named(
    base: str,
    group: Sequence[Window],
    missing: Sequence[Window],
    rules: Changeover,
    taken: set[str],
) -> list[str]:
    """Marks for the windows of a group that have none."""
    if len(group) == 1:
        return [base]
    dash = "-" if rules.numerals == "roman" else ""
    letters = (f"{base}{dash}{letter}" for letter in _twin_letters())
    if len(missing) < len(group):
        # The one there already counts as the first, whether or not it has a letter.
        next(letters)
    return list(islice((mark for mark in letters if mark not in taken), len(missing)))


def _twin_letters() -> Iterator[str]:
    """A to Z, then AA, AB and so on."""
    yield from ascii_uppercase
    for letters in product(ascii_uppercase, repeat=2):
        yield "".join(letters)
