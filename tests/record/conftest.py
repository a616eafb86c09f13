"""Two people, a house in the record, and a database in a file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from django.contrib.auth.models import User
from django.core.management import call_command
from django.db import connections
from django.test import Client

from sashwright.record import store
from tests.factories import house_document

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@pytest.fixture(autouse=True)
def _no_shop_of_ones_own(settings: Any, tmp_path: Path) -> None:
    """A developer's own data folder must not change what the tests find."""
    settings.DATA_FOLDER = tmp_path


@pytest.fixture
def ann(db: None) -> User:
    return User.objects.create_user("ann", first_name="Ann", last_name="Alder")


@pytest.fixture
def bob(db: None) -> User:
    return User.objects.create_user("bob")


@pytest.fixture
def elm(ann: User) -> str:
    """The house of the factories, made by Ann."""
    return store.create_house(house_document(), ann)


@pytest.fixture
def here() -> Client:
    """A browser on this very computer."""
    return Client(SERVER_NAME="localhost")


@pytest.fixture
def database_file(transactional_db: None, tmp_path: Path) -> Iterator[None]:
    """The database as in a shop: in a file that each thread opens for itself.

    The tests' usual SQLite database lies in memory and is shared by all threads, which so could not
    come in each other's way. Another kind of database is as in life already.
    """
    usual = connections["default"]
    if usual.vendor != "sqlite":
        yield
        return
    name = usual.settings_dict["NAME"]
    usual.settings_dict["NAME"] = str(tmp_path / "shop.db")
    connections["default"] = connections.create_connection("default")
    try:
        call_command("migrate", verbosity=0)
        yield
    finally:
        connections["default"].close()
        usual.settings_dict["NAME"] = name
        connections["default"] = usual
