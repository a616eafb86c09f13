"""A house in the record, and people who look at it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from django.contrib.auth.models import User
from django.test import Client

from sashwright.record import store
from tests.factories import house_document

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(autouse=True)
def _no_shop_of_ones_own(settings: Any, tmp_path: Path) -> None:
    """A developer's own data folder must not change what the tests find."""
    settings.DATA_FOLDER = tmp_path


@pytest.fixture
def owner(db: None) -> User:
    """The person at this computer."""
    return store.local_owner()


@pytest.fixture
def bob(db: None) -> User:
    return User.objects.create_user("bob", password="a long enough word")


@pytest.fixture
def elm(owner: User) -> str:
    """The house of the factories, with five windows."""
    return store.create_house(house_document(), owner)


@pytest.fixture
def here(db: None) -> Client:
    """A browser on this very computer: whoever sits here is let in."""
    return Client(SERVER_NAME="localhost")


@pytest.fixture
def part(db: None) -> Client:
    """The same browser, asking for parts of pages as the pages themselves do."""
    return Client(SERVER_NAME="localhost", headers={"HX-Request": "true"})
