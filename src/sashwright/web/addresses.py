"""How the names of families and windows stand in addresses."""

from __future__ import annotations


class FamilyKey:
    """A family's key; a slash in it would end the name, and no key holds a tilde."""

    regex = r"[A-Za-z0-9][A-Za-z0-9 ._~-]{0,63}"

    def to_python(self, value: str) -> str:
        return value.replace("~", "/")

    def to_url(self, value: str) -> str:
        return value.replace("/", "~")


class WindowNumber:
    """A window's number."""

    regex = r"[A-Za-z0-9][A-Za-z0-9.-]{0,15}"

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value
