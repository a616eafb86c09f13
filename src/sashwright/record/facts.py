"""The trade's facts as this shop knows them: the program's tables, and the shop's own over them."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from django.conf import settings

from sashwright.knowledge.load import load
from sashwright.knowledge.tables import Knowledge

SHOP_FILE = "shop.toml"
"""Rows of the shop's own, in the data folder."""


def knowledge() -> Knowledge:
    """The tables, read again when the shop's file changed. Raises ``KnowledgeError``."""
    path: Path = settings.DATA_FOLDER / SHOP_FILE
    try:
        mark = path.stat().st_mtime_ns
    except OSError:
        return load()
    return _with_shop(path, mark)


@lru_cache(maxsize=2)
def _with_shop(path: Path, mark: int) -> Knowledge:
    return load(path)
