"""Commands that open the record in a browser: ``demo`` and ``serve``."""

from __future__ import annotations

import os
import socket
import sys
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn, TypeVar

import click

from sashwright.cli.exits import Failure
from sashwright.cli.options import home_option
from sashwright.cli.record import open_record, told

ADDRESS = "127.0.0.1"
"""This computer only: nobody else can call it."""

FIRST_PORT = 8765
PORTS_TRIED = 20

Command = TypeVar("Command", bound=Callable[..., Any])


def serving_options(command: Command) -> Command:
    """What both commands may be told."""
    for option in (
        home_option,
        click.option("--no-browser", is_flag=True, help="Do not open a browser."),
        click.option(
            "--port",
            type=click.IntRange(1, 65535),
            help=f"Port to listen on; otherwise {FIRST_PORT} or the next free one.",
        ),
    ):
        command = option(command)
    return command


@click.command()
@serving_options
def demo(port: int | None, no_browser: bool, home: Path | None) -> None:
    """Look round a finished house: opens the record in the browser with a demo house in it.

    \b
    Example:
      sashwright demo
    """
    open_record(home)
    _serve(port, f"{_bring_in_demo()}/", browser=not no_browser)


@click.command()
@serving_options
def serve(port: int | None, no_browser: bool, home: Path | None) -> None:
    """Open the record in the browser.

    It can be reached from this computer only. Ctrl-C stops it.

    \b
    Example:
      sashwright serve --port 9000
    """
    open_record(home)
    _serve(port, "", browser=not no_browser)


def _bring_in_demo() -> str:
    """Put the demo house into the record, unless it is there; answer its slug."""
    from importlib import resources

    from sashwright.record import store
    from sashwright.record.housefile import house_document, parse_house

    data = (resources.files("sashwright.record.demo") / "house.toml").read_bytes()
    with told():
        house = parse_house(data, "the demo house", store.knowledge())
        known = [row.slug for row in store.list_houses() if row.name == house.name]
        if known:
            return known[-1]
        return store.import_house(house_document(house), store.local_owner())


def _serve(port: int | None, page: str, *, browser: bool) -> NoReturn:
    """Answer the browser until Ctrl-C; ``page`` is the one to begin with."""
    from django.core.wsgi import get_wsgi_application
    from waitress.server import create_server  # type: ignore[import-untyped]

    listening = open_port(port)
    server = create_server(get_wsgi_application(), sockets=[listening], ident="sashwright")
    address = f"http://{ADDRESS}:{listening.getsockname()[1]}/{page}"
    click.echo(f"Sashwright is open at {address}  Ctrl-C stops it.")
    sys.stdout.flush()
    if browser and has_browser():
        # The browser may take its time; the page must not wait for it.
        threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    server.run()
    # The server ends only by Ctrl-C, and keeps that to itself.
    raise click.Abort


def open_port(port: int | None) -> socket.socket:
    """A socket bound to the port asked for, or to the first free one."""
    tried = range(FIRST_PORT, FIRST_PORT + PORTS_TRIED) if port is None else [port]
    for number in tried:
        bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name == "posix":
            # A server stopped a moment ago must not keep the port from its successor.
            bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            bound.bind((ADDRESS, number))
            bound.listen()
        except OSError:
            bound.close()
        else:
            return bound
    if port is None:
        raise Failure(f"No port from {tried[0]} to {tried[-1]} is free; choose one with --port.")
    raise Failure(f"Port {port} is taken or not allowed; choose another with --port.")


def has_browser() -> bool:
    """Whether a browser can show itself: not in a bare terminal, where one would take it over."""
    if sys.platform.startswith(("linux", "freebsd")):
        return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
    return True
