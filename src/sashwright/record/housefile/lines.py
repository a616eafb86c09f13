"""On which line of a TOML text each of its keys stands.

``tomllib`` tells what a file says, not where it says it. This scanner walks a text that ``tomllib``
has accepted already, so it may trust the syntax and only follow it.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NoReturn

Step = str | int
Path = tuple[Step, ...]

# Longer names are not looked for: no name of the specification comes near it.
_LONGEST_NAME = 128

_BLANK = re.compile(r"(?:[ \t]|#[^\n]*)*")
_BLANK_LINES = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_BETWEEN = re.compile(r"(?:[ \t\n,]|#[^\n]*)*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_DOT = re.compile(r"[ \t]*\.[ \t]*")
_EQUALS = re.compile(r"[ \t]*=[ \t]*")
_SCALAR = re.compile(r"[^,\]}\n#]*")
_STRINGS = (
    # Up to two quotation marks may stand before the three that close.
    ('"""', re.compile(r'"""(?:[^\\]|\\.)*?"""(?:"{0,2})', re.DOTALL)),
    ("'''", re.compile(r"'''.*?'''(?:'{0,2})", re.DOTALL)),
    ('"', re.compile(r'"(?:[^"\\]|\\.)*"')),
    ("'", re.compile(r"'[^']*'")),
)


class ScanError(ValueError):
    """The text is not the valid TOML that was promised."""


@dataclass(slots=True)
class Node:
    """A key, table, array or element: the line it starts on, and what is inside it."""

    line: int
    inside: dict[Step, Node] = field(default_factory=dict)

    def child(self, step: Step, line: int) -> Node:
        """The node inside under this name, made on this line if there is none yet."""
        return self.inside.setdefault(step, Node(line))

    def paths(self, here: Path = ()) -> Iterator[tuple[Path, int]]:
        """Every path below this node, with its line."""
        for step, node in self.inside.items():
            yield (*here, step), node.line
            yield from node.paths((*here, step))

    def resolve(self, dotted: str) -> Path:
        """The longest path of steps that a dotted name leads along.

        Names of families may hold dots and spaces themselves, so the name is not simply cut at its
        dots: at each step the longest name that fits is taken.
        """
        path: Path = ()
        node, rest = self, dotted
        while rest:
            step = node._first_step(rest)
            if step is None:
                return path
            path, node, rest = (*path, step), node.inside[step], rest[len(str(step)) + 1 :]
        return path

    def _first_step(self, dotted: str) -> Step | None:
        name = dotted if len(dotted) <= _LONGEST_NAME else dotted[:_LONGEST_NAME].rpartition(".")[0]
        while name:
            if name in self.inside:
                return name
            if name.isascii() and name.isdigit() and int(name) in self.inside:
                return int(name)
            name = name.rpartition(".")[0]
        return None

    def at(self, path: Path) -> Node | None:
        """The node at the end of a path, if there is one."""
        node: Node | None = self
        for step in path:
            node = node.inside.get(step) if node is not None else None
        return node


def scan(text: str) -> Node:
    """The tree of all keys of a valid TOML text, each with its line.

    Raises ``ScanError`` where the text is not valid after all.
    """
    return _Scanner(text.replace("\r\n", "\n")).document()


class _Scanner:
    """One pass over the text; ``at`` is the place reached."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.newlines = [match.start() for match in re.finditer("\n", text)]

    @property
    def line(self) -> int:
        return bisect_right(self.newlines, self.at - 1) + 1

    def skip(self, pattern: re.Pattern[str]) -> str:
        """Go past what the pattern fits here; answer what it was."""
        match = pattern.match(self.text, self.at)
        if match is None:
            return ""
        self.at = match.end()
        return match.group()

    def sees(self, mark: str) -> bool:
        return self.text.startswith(mark, self.at)

    def document(self) -> Node:
        root = table = Node(1)
        self.skip(_BLANK_LINES)
        while self.at < len(self.text):
            if self.sees("["):
                table = self.header(root)
            else:
                self.pair(table)
            self.skip(_BLANK_LINES)
        return root

    def header(self, root: Node) -> Node:
        """``[table]`` or ``[[array of tables]]``; answer the table that it opens."""
        line, repeated = self.line, self.sees("[[")
        self.at += 2 if repeated else 1
        *parents, last = self.key()
        self.at += 2 if repeated else 1
        node = root
        for part in parents:
            node = _latest(node.child(part, line))
        node = node.child(last, line)
        if repeated:
            return node.child(len(node.inside), line)
        # Named before only through its parts, the table gets its own line now.
        node.line = line
        return node

    def key(self) -> list[str]:
        """A key in all its dotted parts, the blanks around them skipped."""
        self.skip(_BLANK)
        parts = [self.key_part()]
        while self.skip(_DOT):
            parts.append(self.key_part())
        self.skip(_BLANK)
        return parts

    def key_part(self) -> str:
        start = self.at
        if not self.string():
            return self.skip(_BARE_KEY) or self.lost()
        return str(tomllib.loads(f"key = {self.text[start : self.at]}")["key"])

    def pair(self, table: Node) -> None:
        line = self.line
        node = table
        for part in self.key():
            node = node.child(part, line)
        self.skip(_EQUALS)
        self.value(node)

    def value(self, node: Node) -> None:
        if self.sees("["):
            self.array(node)
        elif self.sees("{"):
            self.inline_table(node)
        elif not (self.string() or self.skip(_SCALAR)):
            self.lost()

    def string(self) -> bool:
        """Go past a string, if there is one here."""
        for mark, pattern in _STRINGS:
            if self.sees(mark):
                return bool(self.skip(pattern) or self.lost())
        return False

    def lost(self) -> NoReturn:
        raise ScanError(f"line {self.line} is not valid TOML")

    def array(self, node: Node) -> None:
        self.at += 1
        self.skip(_BETWEEN)
        while not self.sees("]"):
            self.value(node.child(len(node.inside), self.line))
            self.skip(_BETWEEN)
        self.at += 1

    def inline_table(self, node: Node) -> None:
        self.at += 1
        self.skip(_BETWEEN)
        while not self.sees("}"):
            self.pair(node)
            self.skip(_BETWEEN)
        self.at += 1


def _latest(node: Node) -> Node:
    """Of an array of tables its last element, which is the one that headers below it mean."""
    last = len(node.inside) - 1
    return node.inside.get(last, node)
