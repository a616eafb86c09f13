"""Settings and fixtures that all tests share."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

import pytest
from hypothesis import HealthCheck, settings
from playwright.sync_api import Browser, Page, sync_playwright

import start

if TYPE_CHECKING:
    from collections.abc import Iterator

# Playwright's synchronous calls keep an event loop running in the tests' thread, where
# Django would otherwise refuse to touch the database.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
# Nothing that a test does may reach the developer's own shop.
os.environ["SASHWRIGHT_HOME"] = tempfile.mkdtemp(prefix="sashwright-tests-")

# The same examples in every run; `pytest --hypothesis-profile thorough` looks for new ones.
settings.register_profile(
    "default",
    max_examples=50,
    derandomize=True,
    database=None,
    deadline=None,
    # Slow machines are not a fault of the code under test.
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("thorough", max_examples=1000, deadline=None, print_blob=True)
settings.load_profile("default")

CHROMIUM_ARGUMENTS = (
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-gpu",
    "--disable-quic",
    "--disable-sync",
    "--no-first-run",
    # The pages must need nothing from outside: other names lead nowhere.
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE localhost, EXCLUDE 127.0.0.1",
)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark the tests that drive a browser, so that `-m "not browser"` leaves them all out."""
    for item in items:
        if "chromium" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def chromium_path() -> str:
    """The browser that start.py finds; without one, fail and say what is missing."""
    found, missing = None, start.NO_BROWSER
    try:
        found = start.find_browser() or start.playwright_browser(Path(sys.executable))
    except start.SetupError as problem:
        missing = str(problem)
    if found is None:
        pytest.fail(missing, pytrace=False)
    return found


@pytest.fixture(scope="session")
def chromium(chromium_path: str) -> Iterator[Browser]:
    """One browser, without a window, for all tests."""
    # Chromium's sandbox refuses to run as root, as in a container.
    as_root = hasattr(os, "geteuid") and os.geteuid() == 0
    arguments = [*CHROMIUM_ARGUMENTS, *(["--no-sandbox"] if as_root else [])]
    with sync_playwright() as tool:
        browser = tool.chromium.launch(executable_path=chromium_path, args=arguments)
        yield browser
        browser.close()


class PageFactory(Protocol):
    """Opens a new page; the words are those of Playwright's `Browser.new_context`."""

    def __call__(self, **context: object) -> Page: ...


@pytest.fixture
def browser_page(chromium: Browser) -> Iterator[PageFactory]:
    """Make pages, each as if on a device of its own: `browser_page(color_scheme="dark")`.

    With `base_url=live_server.url`, addresses can be written as paths.
    """
    contexts = []

    def open_page(**context: object) -> Page:
        contexts.append(chromium.new_context(**context))
        return contexts[-1].new_page()

    yield open_page
    for context in contexts:
        context.close()
