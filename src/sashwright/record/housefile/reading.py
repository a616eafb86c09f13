"""From a house file to a house, or to everything that is wrong with the file."""

from __future__ import annotations

import codecs
import re
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel

from sashwright.knowledge.tables import Knowledge
from sashwright.record.housefile.errors import FileProblem, HouseFileError, file_error
from sashwright.record.housefile.lines import Node, ScanError, scan
from sashwright.record.housefile.lines import Path as LinePath
from sashwright.record.housefile.locate import FileMap, show_path
from sashwright.window.check import HouseError, house_from
from sashwright.window.spec import House

Read = TypeVar("Read")

LARGEST = 5_000_000
"""Largest file that is read [bytes]; a house of sixty windows has about twenty thousand."""

# The specification itself goes seven deep; beyond this, reading would only waste time.
_DEEPEST = 16
_MEASURE = 10**15
_TOML_PLACE = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")

_EXAMPLE = 'a line of TOML such as width = "34 3/8"'
_LONGEST_LINE = 100
_UNQUOTED = re.compile(
    r"""\s*(?P<key>[\w.-]+)\s*=\s*(?P<value>[^"'\[\]{}#\s](?:[^#\[\]{}]*[^#\[\]{}\s])?)\s*(?:#.*)?"""
)
# For a key of n parts joined by dots tomllib takes n * n steps, and as much memory.
_ENDLESS_KEY = re.compile(r"""\.[ \t]*[\w"'-]+(?:[ \t]*\.[ \t]*[\w"'-]+){40}""")
_DECLARED = re.compile(r"\((?:'[^']*'(?:, )?)+,?\)")
_QUOTED = re.compile(r"'([^']*)'")


def read_house(path: str | Path, knowledge: Knowledge) -> House:
    """The house that a file describes. Raises ``HouseFileError`` with all problems at once."""
    return parse_house(bytes_of(Path(path)), str(path), knowledge)


def read_document(path: str | Path) -> dict[str, Any]:
    """What a file says, as plain values. Raises ``HouseFileError`` where it is not valid TOML."""
    return parse_document(bytes_of(Path(path)), str(path))


def parse_house(data: bytes, file: str, knowledge: Knowledge) -> House:
    """As ``read_house``, of a file's bytes; ``file`` is its name for messages."""
    return parse_checked(data, file, lambda document: house_from(document, knowledge), House)


def parse_checked(
    data: bytes, file: str, check: Callable[[dict[str, Any]], Read], model: type[BaseModel]
) -> Read:
    """What a file's bytes say, once ``check`` has read its document into a ``model``.

    What ``check`` raises as ``HouseError`` is told with its line, as ``HouseFileError``.
    """
    text = _text_of(data, file)
    document = _document_of(text, file)
    try:
        return check(document)
    except HouseError as error:
        problems = FileMap(file, document, _tree_of(text), model).place(error.problems)
        raise HouseFileError(problems) from None
    except OverflowError:
        # Such as "1e308 in": it can be read, but no longer shown in a message of its own.
        raise file_error(file, "a size beyond all measure", "sizes of windows") from None


def parse_document(data: bytes, file: str) -> dict[str, Any]:
    """As ``read_document``, of a file's bytes; ``file`` is its name for messages."""
    return _document_of(_text_of(data, file), file)


def bytes_of(path: Path) -> bytes:
    """A file's bytes, or as many as tell that it is too large. Raises ``HouseFileError``."""
    try:
        with path.open("rb") as stream:
            # One more than allowed tells a file that is too large, however large it is.
            return stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise file_error(str(path), "no file of this name", "a house file") from None
    except IsADirectoryError:
        raise file_error(str(path), "a folder", "a house file in it") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise file_error(str(path), f"no way to read it ({reason})", "a house file") from None


def _text_of(data: bytes, file: str) -> str:
    if len(data) > LARGEST:
        raise file_error(file, "a file above 5 MB", "a house file, which is far smaller")
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise file_error(file, "text saved as UTF-16", "text saved as UTF-8")
    if b"\0" in data:
        raise file_error(file, "binary data", "a house file, which is plain text")
    try:
        # Some editors put a byte order mark in front, which TOML does not know.
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = f"the byte {data[error.start]:#04x}, which is not UTF-8"
        raise file_error(file, found, "text saved as UTF-8", line) from None


def _document_of(text: str, file: str) -> dict[str, Any]:
    if chain := _ENDLESS_KEY.search(text):
        line = text.count("\n", 0, chain.start()) + 1
        raise file_error(file, "a key of endless parts", "a house file", line)
    try:
        document = tomllib.loads(text)
    except RecursionError:
        raise file_error(file, "brackets nested without end", "a house file") from None
    except ValueError as error:
        raise _syntax_error(file, text, error) from None
    if strange := list(_out_of_bounds(document)):
        tree = _tree_of(text)
        raise HouseFileError([_strange_problem(file, tree, *one) for one in strange])
    return document


def _strange_problem(
    file: str, tree: Node, path: LinePath, found: str, expected: str
) -> FileProblem:
    node = tree.at(path)
    return FileProblem(file, node.line if node else None, show_path(path), found, expected)


def _syntax_error(file: str, text: str, error: ValueError) -> HouseFileError:
    """One sentence for what ``tomllib`` says about a text that is not TOML."""
    message = str(error)
    place = _TOML_PLACE.search(message)
    if place is None:
        return file_error(file, f"what cannot be read ({message})", _EXAMPLE)
    lines = text.replace("\r\n", "\n").split("\n")
    line = int(place["line"]) if place["line"] else len(text.rstrip().splitlines())
    reason = _DECLARED.sub(lambda m: ".".join(_QUOTED.findall(m[0])), message[: place.start()])
    found = f"what cannot be read ({reason[:1].lower()}{reason[1:]})"
    return file_error(file, found, _with_marks(lines[line - 1]) if line else _EXAMPLE, line)


def _with_marks(line: str) -> str:
    """What was probably meant by a line: most often its value only lacks quotation marks."""
    bare = _UNQUOTED.fullmatch(line)
    if bare is None or len(line) > _LONGEST_LINE or "'" in bare["value"]:
        return _EXAMPLE
    mark = "'" if '"' in bare["value"] else '"'
    return f"quotation marks round text, {bare['key']} = {mark}{bare['value']}{mark}"


def _out_of_bounds(document: dict[str, Any]) -> Iterator[tuple[LinePath, str, str]]:
    """Values of valid TOML that no reader of houses should have to bear."""
    waiting: list[tuple[LinePath, Any]] = [((), document)]
    while waiting:
        path, value = waiting.pop()
        if isinstance(value, (dict, list)):
            if len(path) > _DEEPEST:
                yield path[:_DEEPEST], "tables nested without end", "a house file"
                return
            steps = value.items() if isinstance(value, dict) else enumerate(value)
            waiting.extend(((*path, step), inner) for step, inner in steps)
        elif isinstance(value, (int, float)) and abs(value) >= _MEASURE:
            yield path, "a number beyond all measure", "a number of at most 15 digits"


def _tree_of(text: str) -> Node:
    try:
        return scan(text)
    except (ScanError, RecursionError):
        # Better a problem without its line than no problem told.
        return Node(1)
