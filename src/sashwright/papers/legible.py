"""Which characters the papers' fonts can print, and what stands in for the others.

The fonts that come inside the typesetter cover Latin, Greek, Cyrillic and the usual signs. A name in
another script is set in a font of the machine, if it has one. What no font holds becomes an empty box,
because an accessible PDF must not hold a character that cannot be shown.
"""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Any

from sashwright.papers.typesetter import FONTS, Refusal, typeset

STAND_IN = "▯"

_PROBE = f"""
#set document(title: "probe")
#set text(font: {json.dumps(FONTS).replace("[", "(").replace("]", ")")}, lang: "en")
#for sign in json("signs.json") [#text(sign) #parbreak()]
"""
_SAFE = frozenset(chr(code) for code in (*range(0x20, 0x7F), *range(0xA1, 0x180)))
_PLAIN_SPACES = "\t\n\r\v\f\x1c\x1d\x1e\x1f\x85\u2028\u2029"


def clean(text: str) -> str:
    """Text without control characters; whatever breaks a line is kept as one line break."""
    text = "\n".join(text.replace("\r\n", "\n").splitlines())
    return "".join(
        sign
        for sign in text.translate(dict.fromkeys(map(ord, "\t\v\f"), " "))
        # Direction marks reorder the text around them, and control characters have no shape.
        if sign == "\n" or unicodedata.category(sign) not in {"Cc", "Cf", "Cs", "Co", "Cn"}
    )


def missing(text: str, *, machine_fonts: bool) -> frozenset[str]:
    """The characters of a text that no font can print."""
    unusual = "".join(sorted(set(text) - _SAFE - {"\n"}))
    if not unusual or _printable(unusual, machine_fonts):
        return frozenset()
    return frozenset(sign for sign in unusual if not _printable(sign, machine_fonts))


def stand_in(tree: Any, absent: frozenset[str]) -> Any:
    """A tree of dictionaries, lists and text with the absent characters replaced."""
    table = dict.fromkeys(map(ord, absent), STAND_IN)
    return _each_text(tree, lambda text: text.translate(table)) if absent else tree


def cleaned(tree: Any) -> Any:
    """A tree of dictionaries, lists and text, every text cleaned."""
    return _each_text(tree, clean)


def texts(tree: Any) -> Iterator[str]:
    """Every text in a tree of dictionaries and lists."""
    if isinstance(tree, str):
        yield tree
    elif isinstance(tree, dict):
        for value in tree.values():
            yield from texts(value)
    elif isinstance(tree, (list, tuple)):
        for value in tree:
            yield from texts(value)


def _each_text(tree: Any, change: Callable[[str], str]) -> Any:
    if isinstance(tree, str):
        return change(tree)
    if isinstance(tree, dict):
        return {key: _each_text(value, change) for key, value in tree.items()}
    if isinstance(tree, (list, tuple)):
        return [_each_text(value, change) for value in tree]
    return tree


@lru_cache(maxsize=4096)
def _printable(signs: str, machine_fonts: bool) -> bool:
    """Whether every one of the characters can be printed: the typesetter itself is asked."""
    files = {"main": _PROBE.encode(), "signs.json": json.dumps(list(signs)).encode()}
    try:
        typeset(files, machine_fonts=machine_fonts, moment=0)
    except Refusal:
        return False
    return True
