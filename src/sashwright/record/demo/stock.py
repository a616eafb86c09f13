"""The demo shop's stock, brought into a record whose shop is still empty."""

from __future__ import annotations

from importlib import resources

from django.contrib.auth.models import User

from sashwright.record.shop import import_shop, shop_edition


def bring_in(who: User) -> None:
    """Fill the shop, unless somebody described it already."""
    if shop_edition():
        return
    data = (resources.files("sashwright.record.demo") / "shop.toml").read_bytes()
    import_shop(data, "the demo shop", who, "the demo shop's stock brought in")
