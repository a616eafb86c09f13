"""House files: read with every problem told and placed, written so that they read back the same."""

from __future__ import annotations

import io
import os
import random
import stat
import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sashwright.knowledge.load import load
from sashwright.record.housefile import (
    LARGEST,
    HouseFileError,
    house_document,
    house_text,
    parse_document,
    parse_house,
    read_document,
    read_house,
    write_house,
)
from sashwright.record.housefile.lines import scan
from sashwright.window.spec import House

KNOWLEDGE = load()

SMALL = """\
name = "The Larkspur House"

[families.parlor]
sash.thickness = "1 3/4"
sash.lites = "3x2"

[[windows]]
number = "101"
family = "parlor"
width = "34 3/8"
height = "66"

[[windows]]
number = "102"
family = "parlor"
width = "30"
height = "66"
head = { shape = "segmental", rise = "3 1/2" }
measured.lower.mass = "18 lb 6 oz"
changes.sash.stile = "2 1/4"
"""


def problems_of(text: str | bytes, file: str = "larkspur.toml") -> list[str]:
    data = text.encode() if isinstance(text, str) else text
    with pytest.raises(HouseFileError) as caught:
        parse_house(data, file, KNOWLEDGE)
    return [str(problem) for problem in caught.value.problems]


# --- lines ------------------------------------------------------------------------

STYLES = '''\
# every way to write a key
name = "a # not a comment"
'quoted key' . "b\\u00e9" = 1
dotted.one = [ # a list
    1, [2,
    3], { q = 4, "r s".t = "}" },
]
when = 1979-05-27 07:32:00
text = """
several "lines" = [
\\""""""
raw = \'\'\'
[not.a.table]\'\'\'

[late.table]
x = true
[late]
y = 1_000
[[rows]]
[rows.inner]
z = 0x1F
[[rows]]
[[rows.inner.deep]]
[[rows.inner.deep]]
w = inf
[rows.inner.deep.end]
'''


def every_path(value: Any, here: tuple[str | int, ...] = ()) -> set[tuple[str | int, ...]]:
    inside: Any = ()
    if isinstance(value, dict):
        inside = value.items()
    elif isinstance(value, list):
        inside = enumerate(value)
    found = {here} if here else set()
    return found.union(*(every_path(inner, (*here, step)) for step, inner in inside))


def scanned(text: str) -> dict[tuple[str | int, ...], int]:
    return dict(scan(text).paths())


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_scanner_finds_every_key_of_every_style(ending: str) -> None:
    text = STYLES.replace("\n", ending)
    found = scanned(text)
    assert set(found) == every_path(tomllib.loads(text))
    lines = {
        ("quoted key", "bé"): 3,
        ("dotted",): 4,
        ("dotted", "one", 1): 5,
        ("dotted", "one", 1, 1): 6,
        ("dotted", "one", 2, "r s", "t"): 6,
        ("when",): 8,
        ("raw",): 12,
        ("late", "table"): 15,
        ("late",): 17,
        ("rows", 0): 19,
        ("rows", 0, "inner", "z"): 21,
        ("rows", 1): 22,
        ("rows", 1, "inner", "deep", 1, "end"): 26,
    }
    assert {path: found[path] for path in lines} == lines


SCALARS = st.one_of(
    st.booleans(),
    st.integers(-(2**40), 2**40),
    st.floats(allow_nan=False),
    st.datetimes().map(lambda moment: moment.replace(microsecond=0)),
    st.text(max_size=12),
    st.sampled_from(['"', "'''", '"""', "a\nb", "# no", "[x]", "{y = 1}", "\\", "a = 1"]),
)
KEYS = st.one_of(st.text(max_size=5), st.sampled_from(["a", "b", "a b", "a.b", "'", "#", "é"]))
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=15,
)
DOCUMENTS = st.dictionaries(KEYS, VALUES, max_size=6)


@given(DOCUMENTS, st.booleans())
def test_scanner_agrees_with_tomllib_on_any_document(document: Any, multiline: bool) -> None:
    text = tomli_w.dumps(document, multiline_strings=multiline)
    assert set(scanned(text)) == every_path(tomllib.loads(text))


NUMBERED = st.recursive(
    st.just(0),
    lambda inner: (
        st.lists(inner, min_size=1, max_size=4) | st.dictionaries(KEYS, inner, min_size=1)
    ),
    max_leaves=15,
)


def numbered(value: Any, count: list[int]) -> Any:
    """The same document, each number in it another one."""
    if isinstance(value, dict):
        return {key: numbered(inner, count) for key, inner in value.items()}
    if isinstance(value, list):
        return [numbered(inner, count) for inner in value]
    count[0] += 1
    return 10_000 + count[0]


@given(st.dictionaries(KEYS, NUMBERED, max_size=5))
def test_scanned_lines_are_where_the_values_stand(document: Any) -> None:
    document = numbered(document, [0])
    text = tomli_w.dumps(document)
    lines = text.split("\n")
    for path, line in scanned(text).items():
        value = document
        for step in path:
            value = value[step]
        if isinstance(value, int):
            assert str(value) in lines[line - 1]


@settings(suppress_health_check=[HealthCheck.filter_too_much])
@given(st.data())
def test_scanner_agrees_with_tomllib_on_changed_texts(data: st.DataObject) -> None:
    text = STYLES
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(text)))
        piece = data.draw(st.sampled_from(['"', "'", "[", "]", "{", "}", "\n", ".", " ", "#", "="]))
        text = text[:at] + piece + text[at + data.draw(st.integers(0, 1)) :]
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        assume(False)
    assert set(scanned(text)) == every_path(document)


# --- problems ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            'width = "30"',
            'width = "3 2 4"',
            'larkspur.toml, line 16, windows[1].width (window 102): found "3 2 4", '
            "expected a length such as 34 3/8, 2'-10 3/8\", 34.375 in or 873 mm",
        ),
        (
            'width = "30"\n',
            "",
            "larkspur.toml, line 13, windows[1].width (window 102): found nothing, "
            "expected a value: this field must be given",
        ),
        (
            'width = "30"',
            "width = 3000",
            "larkspur.toml, line 16, windows[1].width (window 102): found",
        ),
        (
            'number = "101"',
            "number = 101",
            "larkspur.toml, line 8, windows[0].number (window 101): found 101, "
            "expected text in quotation marks",
        ),
        (
            'number = "102"',
            'number = "101"',
            "larkspur.toml, line 14, windows[1].number (window 101): "
            'found "101", expected a number no other window has',
        ),
        (
            "changes.sash.stile",
            "changes.sash.stle",
            "larkspur.toml, line 20, windows[1].changes.sash.stle (window 102): "
            "found the field 'stle', expected a field that it knows, such as stile",
        ),
        (
            'family = "parlor"\nwidth = "30"',
            'family = "parlour"\nwidth = "30"',
            "larkspur.toml, line 15, windows[1].family (window 102): "
            'found "parlour", expected one of the house\'s families: parlor',
        ),
        (
            'sash.lites = "3x2"',
            'sash.wood = "white pein"',
            'larkspur.toml, line 5, families.parlor.sash.wood: found "white pein", '
            "expected a row of the table wood; did you mean 'white pine'",
        ),
        (
            'sash.lites = "3x2"',
            'sash.rabbet_depth = "1 1/2"',
            "larkspur.toml, line 5, families.parlor.sash.rabbet_depth (windows 101, 102): found",
        ),
        (
            'name = "The Larkspur House"',
            'nam = "The Larkspur House"',
            "larkspur.toml, line 1, nam: found the field 'nam', "
            "expected a field that it knows, such as name",
        ),
        (
            'measured.lower.mass = "18 lb 6 oz"',
            'measured.lower = { moisture = 9, moisture_on = "yesterday" }',
            "larkspur.toml, line 19, windows[1].measured.lower.moisture_on (window 102): "
            'found "yesterday", expected a day such as 2026-08-15',
        ),
        (
            "[families.parlor]",
            '[families."!"]\n[families.parlor]',
            'larkspur.toml, line 3, families."!": found "!", expected at most 64 letters, '
            "digits and the usual signs between them, the first a letter or a digit",
        ),
    ],
)
def test_a_problem_is_told_with_its_place(old: str, new: str, said: str) -> None:
    assert old in SMALL
    assert any(line.startswith(said) for line in problems_of(SMALL.replace(old, new)))


def test_all_problems_are_told_at_once_in_the_order_of_the_file() -> None:
    text = SMALL.replace('"34 3/8"', '"wide"').replace('"66"', '"13/8"').replace("3x2", "3by2")
    found = problems_of(text)
    assert [line.split(", ")[1] for line in found] == [f"line {n}" for n in (5, 10, 11, 17)]


def test_problems_as_data() -> None:
    with pytest.raises(HouseFileError) as caught:
        parse_house(SMALL.replace('"30"', "true").encode(), "a.toml", KNOWLEDGE)
    (problem,) = caught.value.problems
    assert problem.to_dict() == {
        "file": "a.toml",
        "line": 16,
        "field": "windows[1].width",
        "found": "true",
        "expected": "a length such as 34 3/8",
        "windows": ["102"],
    }


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "width = 34 3/8",
            ", line 1: found what cannot be read (expected newline or end of document after "
            'a statement), expected quotation marks round text, width = "34 3/8"',
        ),
        ('a = 1\nwidth = 34 3/8" # in', "quotation marks round text, width = '34 3/8\"'"),
        ("[a]\n[a]\n", ", line 2: found what cannot be read (cannot declare a twice)"),
        ('name = "a\n', ", line 1: found what cannot be read"),
        ('name = """a\n\n', ", line 1: found what cannot be read"),
        ("a = 0x" + "f" * 4000, ", line 1, a: found a number beyond all measure"),
        ("a = 1" + "0" * 5000, "found what cannot be read (Exceeds the limit"),
        ("a = " + "[" * 100_000, "found brackets nested without end"),
        ("a = " + "[" * 50 + "]" * 50, ", line 1, a[0][0]"),
        ("a" + ".a" * 100_000 + " = 1", "found a key of endless parts"),
        (b"name = 'caf\xe9'", ", line 1: found the byte 0xe9, which is not UTF-8"),
        ("name = 'a'".encode("utf-16"), "found text saved as UTF-16, expected text saved as UTF-8"),
        (b"\x7fELF\0\0", "found binary data, expected a house file, which is plain text"),
        (b"#" * (LARGEST + 1), "found a file above 5 MB"),
        (SMALL.replace('"34 3/8"', '"1e308 in"'), "expected"),
    ],
)
def test_what_is_no_house_file_is_told_in_one_sentence(text: str | bytes, said: str) -> None:
    (found,) = problems_of(text)
    assert found.startswith("larkspur.toml")
    assert said in found
    assert "\n" not in found


def test_missing_files_and_folders(tmp_path: Path) -> None:
    for path, said in ((tmp_path, "found a folder"), (tmp_path / "no.toml", "found no file")):
        with pytest.raises(HouseFileError, match=said):
            read_house(path, KNOWLEDGE)
        with pytest.raises(HouseFileError, match=said):
            read_document(path)


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm() -> None:
    data = b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode()
    assert parse_house(data, "a", KNOWLEDGE) == parse_house(SMALL.encode(), "a", KNOWLEDGE)


def test_a_message_lists_a_hundred_problems_and_counts_the_rest() -> None:
    text = 'name = "a"\n' + "".join(f"k{n} = {n}\n" for n in range(150))
    with pytest.raises(HouseFileError) as caught:
        parse_house(text.encode(), "a.toml", KNOWLEDGE)
    assert len(caught.value.problems) == 150
    assert str(caught.value).splitlines()[-1] == "and 50 more"


# --- any file at all --------------------------------------------------------------


def read_or_refuse(data: bytes) -> House | None:
    try:
        return parse_house(data, "any.toml", KNOWLEDGE)
    except HouseFileError as error:
        told = error.problems
    assert told
    assert all(problem.found and problem.expected for problem in told)
    return None


@settings(max_examples=200)
@given(st.one_of(st.binary(max_size=200), st.text(max_size=200).map(str.encode)))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    read_or_refuse(data)


@settings(max_examples=100)
@given(DOCUMENTS)
def test_any_toml_is_read_or_refused(document: Any) -> None:
    read_or_refuse(tomli_w.dumps(document).encode())


ODD_VALUES = (
    '""', '"x"', "0", "-1", "1e999", "nan", "-inf", "true", "[]", "{}", "[{}]", "[[]]", "{a = 1}",
    "1979-05-27", "07:32:00", '"34 3/8"', '"9999999"', '"1/0"', "9" * 26, "0x" + "f" * 50, '"0x0"',
    '"é\\u0000"', '"full arch"', '"single"', '"99x99"', '["lead"]', '[1, "a"]', '"\\u202e"',
    "1e308", '"1e308"', "-0.0", '""" a """',
)  # fmt: skip
ODD_PIECES = '"[]{}. 9é=\u202e\n\r\t'


def mutated(text: str, dice: random.Random) -> str:
    """The text with one to eight slips: lines lost, moved or garbled, keys and values changed."""
    lines = text.split("\n")
    for _ in range(dice.choice((1, 1, 2, 3, 8))):
        at = dice.randrange(len(lines))
        key, equals, value = lines[at].partition("=")
        where = dice.randrange(len(lines[at]) + 1)
        lines[at : at + 1] = dice.choice(
            (
                [],
                [key + equals + dice.choice(ODD_VALUES)],
                [key + equals + dice.choice(lines).partition("=")[2]],
                [key[:-2] + dice.choice("abxz_.") + equals + value],
                [lines[at], dice.choice(lines)],
                [lines[at][:where] + dice.choice(ODD_PIECES) + lines[at][where + 1 :]],
                [f"[{lines[at]}]"],
            )
        )
        lines = lines or [""]
    return "\n".join(lines)


@pytest.mark.parametrize("seed", range(6))
def test_any_slip_is_read_or_refused(seed: int) -> None:
    dice = random.Random(seed)
    whole = house_text(parse_house(SMALL.encode(), "a", KNOWLEDGE))
    for _ in range(100):
        house = read_or_refuse(mutated(dice.choice((SMALL, whole)), dice).encode())
        if house is not None:
            assert parse_house(house_text(house).encode(), "a", KNOWLEDGE) == house


# --- writing ----------------------------------------------------------------------


def lengths(low: float, high: float) -> st.SearchStrategy[Any]:
    """Lengths in inches as people write them, and as numbers of any value."""
    sixteenths = st.integers(int(low * 16), int(high * 16))
    return st.one_of(
        sixteenths.map(lambda count: f"{count // 16} {count % 16}/16"),
        st.floats(low, high),
        st.floats(low * 25.4, high * 25.4).map(lambda size: f"{size:.1f} mm"),
    )


WORDS = st.one_of(st.text(max_size=20), st.just("two\nlines"), st.just('a "quoted"\\ one\r\n'))
FAMILIES = st.fixed_dictionaries(
    {},
    optional={
        "name": WORDS,
        "sash": st.fixed_dictionaries(
            {},
            optional={
                "stile": lengths(1.5, 2.5),
                "wood": st.sampled_from(list(KNOWLEDGE.wood)),
                "lites": st.sampled_from(["1x1", "2x2", {"columns": 2, "column_shares": [1, 2.5]}]),
                "moisture": st.floats(5, 20),
            },
        ),
        "upper": st.fixed_dictionaries({}, optional={"top_rail": lengths(1.5, 3)}),
        "pocket": st.fixed_dictionaries({}, optional={"floor_below_sill": lengths(0, 3)}),
        "hardware": st.just([]) | st.just([{"item": "sash-lift", "on": "upper"}]),
    },
)
FAMILY_NAMES = st.sampled_from(["parlor", "No. 2", "a/b", "1.5 in"])


@st.composite
def houses(draw: st.DrawFn) -> House:
    """Houses that hang together, in either system of units."""
    families = draw(st.dictionaries(FAMILY_NAMES, FAMILIES, min_size=1))
    system = draw(st.sampled_from(["us", "metric"]))
    window = st.fixed_dictionaries(
        {
            "family": st.sampled_from(list(families)),
            "width": lengths(26, 40),
            "height": lengths(50, 80),
        },
        optional={
            "room": WORDS,
            "storey": st.integers(-1, 4),
            "wall": st.sampled_from(["north", "east"]),
            "hung": st.just("single"),
            "head": st.just({"shape": "segmental", "rise": "3"}),
            "upper": st.just("2x3"),
            "measured": st.fixed_dictionaries({}, optional={"lower": st.just({"mass": "18 lb"})}),
            "changes": FAMILIES,
            "note": WORDS,
        },
    )
    document: dict[str, Any] = {
        "name": draw(st.text(min_size=1, max_size=20).filter(str.strip)),
        "families": families,
        "windows": [
            {"number": str(n), **w} for n, w in enumerate(draw(st.lists(window, max_size=4)))
        ],
    }
    if draw(st.booleans()):
        document["walls"] = {"north": {"faces": draw(st.floats(0, 360))}, "east": {"faces": "ENE"}}
    # Bare numbers above are inches; the house that comes out is in either system.
    house = House.model_validate(document, context={"system": "us"})
    return house.model_copy(update={"units": system})


@settings(max_examples=60)
@given(houses())
def test_a_written_house_reads_back_the_same(house: House) -> None:
    text = house_text(house)
    again = House.model_validate(
        parse_document(text.encode(), "a"), context={"system": house.units}
    )
    assert again == house
    assert house_text(again) == text
    assert tomllib.loads(text) == house_document(house)


@given(DOCUMENTS)
def test_a_written_document_reads_back_the_same(document: Any) -> None:
    text = house_text(document)
    assert tomllib.loads(text) == document


def test_the_written_file_reads_well() -> None:
    text = house_text(parse_house(SMALL.encode(), "a", KNOWLEDGE))
    assert text.startswith('name = "The Larkspur House"\nunits = "us"\n')
    assert "\n\n[walls]\n" in text
    assert 'north.faces = "N"' in text
    assert "[families.parlor.frame]" in text
    assert text.endswith(
        """
[[windows]]
number = "102"
family = "parlor"
wall = "north"
storey = 1
width = "30 in"
height = "66 in"
head.shape = "segmental"
head.rise = "3 1/2 in"
measured.lower.mass = "18 lb 6 oz"
changes.sash.stile = "2 1/4 in"
"""
    )


def test_writing_to_a_path_or_an_open_file(tmp_path: Path) -> None:
    house = parse_house(SMALL.encode(), "a", KNOWLEDGE)
    path = tmp_path / "house.toml"
    write_house(house, path)
    assert read_house(path, KNOWLEDGE) == house
    stream = io.BytesIO()
    write_house(read_document(path), stream)
    assert stream.getvalue() == path.read_bytes()
    assert [left.name for left in tmp_path.iterdir()] == ["house.toml"]


def test_a_failed_write_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "house.toml"
    path.write_text("old")

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(HouseFileError, match=r"no way to write it \(No space left on device\)"):
        write_house({"name": "new"}, path)
    assert path.read_text() == "old"
    assert [left.name for left in tmp_path.iterdir()] == ["house.toml"]


@pytest.mark.skipif(os.name != "posix", reason="permissions and links of POSIX")
def test_a_rewritten_file_keeps_its_permissions_and_its_link(tmp_path: Path) -> None:
    path, link = tmp_path / "house.toml", tmp_path / "link.toml"
    path.write_text("old")
    path.chmod(0o640)
    link.symlink_to(path)
    write_house({"name": "new"}, link)
    assert link.is_symlink()
    assert path.read_text() == 'name = "new"\n'
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
