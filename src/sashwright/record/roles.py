"""What the people of a shop may do, from looking on to owning it."""

from __future__ import annotations

from typing import Literal, get_args

Role = Literal["viewer", "bench", "surveyor", "owner"]
"""Each may do all that those before it may."""

ROLES: tuple[Role, ...] = get_args(Role)

MAY: dict[Role, str] = {
    "viewer": "looks at everything, changes nothing",
    "bench": "weighs sash, moves them through the shop, keeps the stock, takes photographs",
    "surveyor": "adds and changes houses, families, windows, findings, prices and orders",
    "owner": "all that, and people, backups, and taking houses out of the list",
}
"""What each may do, in a few words."""


def is_at_least(role: Role | None, wanted: Role) -> bool:
    """Whether somebody with this role may do what takes the other."""
    return role is not None and ROLES.index(role) >= ROLES.index(wanted)
