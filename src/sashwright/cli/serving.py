"""Commands that open the record in a browser: ``demo`` and ``serve``."""

from __future__ import annotations

import logging
import os
import sys
import threading
import time
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

EVERYWHERE = "0.0.0.0"
"""All networks of this computer."""

THREADS = 12
LARGEST = 40_000_000
"""Of one request [bytes]."""

FIRST_BACKUP, BETWEEN_LOOKS = 30.0, 900.0
"""From the start to the first look whether a backup is due, and between looks [s]."""

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
    """Look round a house at work: opens the record in the browser with a demo house in it.

    \b
    Example:
      sashwright demo
    """
    open_record(home)
    _serve(port, f"{_bring_in_demo()}/", browser=not no_browser)


@click.command()
@serving_options
@click.option(
    "--lan",
    is_flag=True,
    help="Let other devices in this network in, by pairing; shows the address and a code.",
)
@click.option(
    "--behind-proxy",
    is_flag=True,
    help="Listen to all networks without TLS, which a server of your own in front does.",
)
def serve(
    port: int | None, no_browser: bool, home: Path | None, lan: bool, behind_proxy: bool
) -> None:
    """Open the record in the browser.

    It can be reached from this computer only, unless --lan is given. Ctrl-C stops it.

    \b
    Examples:
      sashwright serve --port 9000
      sashwright serve --lan
    """
    if lan:
        # Before the settings are read: cookies are then sent by TLS alone.
        os.environ["SASHWRIGHT_TLS"] = "1"
    if behind_proxy:
        if lan:
            raise Failure(
                "--lan speaks TLS itself, --behind-proxy leaves it to another: choose one."
            )
        os.environ["SASHWRIGHT_TLS"] = os.environ["SASHWRIGHT_PROXY"] = "1"
    open_record(home)
    host = EVERYWHERE if lan or behind_proxy else ADDRESS
    _serve(port, "", browser=not no_browser, host=host, lan=lan)


def _bring_in_demo() -> str:
    """Put the demo house into the record, unless it is there; answer its slug."""
    from importlib import resources

    from sashwright.record import store
    from sashwright.record.demo import photographs, stock, work
    from sashwright.record.housefile import house_document, parse_house

    data = (resources.files("sashwright.record.demo") / "house.toml").read_bytes()
    with told():
        stock.bring_in(store.local_owner())
        house = parse_house(data, "the demo house", store.knowledge())
        known = [row.slug for row in store.list_houses() if row.name == house.name]
        if known:
            return known[-1]
        slug = store.import_house(house_document(house), store.local_owner())
        photographs.bring_in(slug, store.local_owner(), store.knowledge())
        work.bring_in(slug, store.local_owner(), store.knowledge())
        return slug


def _serve(
    port: int | None, page: str, *, browser: bool, host: str = ADDRESS, lan: bool = False
) -> NoReturn:
    """Answer the browser until Ctrl-C; ``page`` is the one to begin with."""
    from django.core.wsgi import get_wsgi_application

    server = open_server(port, get_wsgi_application(), host)
    number, scheme = server.bind_addr[1], "http"
    if lan:
        scheme = "https"
        _let_devices_in(server, number)
    threading.Thread(target=_keep_backups, daemon=True).start()
    address = f"{scheme}://{ADDRESS}:{number}/{page}"
    click.echo(f"Sashwright is open at {address}  Ctrl-C stops it.")
    sys.stdout.flush()
    if browser and has_browser():
        # The browser may take its time; the page must not wait for it.
        threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    _until_stopped(server)
    raise click.Abort


def _until_stopped(server: Any) -> None:
    """Serve beside the thread that hears Ctrl-C, which so never breaks into the server's own work."""
    serving = threading.Thread(target=server.serve, daemon=True)
    serving.start()
    try:
        while serving.is_alive():
            # Not for ever: on Windows a wait without an end would not hear it.
            serving.join(1)
    except KeyboardInterrupt:
        pass
    finally:
        server.stop()


def open_server(port: int | None, application: Any, host: str = ADDRESS) -> Any:
    """A server listening on the port asked for, or on the first free one."""
    from cheroot.wsgi import Server

    tried = range(FIRST_PORT, FIRST_PORT + PORTS_TRIED) if port is None else [port]
    for number in tried:
        server = Server(
            (host, number), application, THREADS, server_name="sashwright", request_queue_size=100
        )
        # One request must not fill the memory; the largest are photographs.
        server.max_request_body_size = LARGEST
        # Its own way to report is a method to be put in another's place.
        vars(server)["error_log"] = _log
        try:
            server.prepare()
        except OSError:
            continue
        return server
    if port is None:
        raise Failure(f"No port from {tried[0]} to {tried[-1]} is free; choose one with --port.")
    raise Failure(f"Port {port} is taken or not allowed; choose another with --port.")


def _let_devices_in(server: Any, number: int) -> None:
    """Speak TLS by the shop's own certificate, and say how a device is paired."""
    import segno
    from cheroot.ssl.builtin import BuiltinSSLAdapter
    from django.conf import settings

    from sashwright.record import keys
    from sashwright.record.certificate import certificate, own_addresses
    from sashwright.record.people import local_owner

    addresses = own_addresses()
    if not addresses:
        raise Failure(
            "This computer is in no network; connect it to the shop's, or leave out --lan."
        )
    made = certificate(settings.DATA_FOLDER, addresses)
    server.ssl_adapter = BuiltinSSLAdapter(str(made.server), str(made.key))
    settings.ALLOWED_HOSTS += addresses
    for address in addresses:
        click.echo(f"Other devices in this network: https://{address}:{number}/pair")
    code = keys.make_pairing(local_owner())
    click.echo(
        f"Code for a first device of yours, good for ten minutes: {code[:4]} {code[4:]}\n"
        "Codes for other people: on the page People.\n"
        f"To work without a signal a device must trust this shop once: "
        f"https://{addresses[0]}:{number}/certificate"
    )
    segno.make(f"https://{addresses[0]}:{number}/pair").terminal(compact=True)


def _keep_backups() -> None:
    """A backup a day, while the server runs; what goes wrong with it is told, and tried again."""
    from django.db import DatabaseError, connections

    from sashwright.record.backup.archive import BackupError
    from sashwright.record.backup.rotation import backup_if_due

    while True:
        # Not at once: the first page comes first.
        time.sleep(FIRST_BACKUP)
        try:
            backup_if_due()
        except (BackupError, DatabaseError, OSError):
            logging.getLogger("sashwright.backup").exception("The daily backup was not made.")
        finally:
            connections.close_all()
        time.sleep(BETWEEN_LOOKS)


def _log(message: str = "", level: int = logging.INFO, traceback: bool = False) -> None:
    """What the server has to say goes where all else goes."""
    logging.getLogger("sashwright.server").log(level, message, exc_info=traceback)


def has_browser() -> bool:
    """Whether a browser can show itself: not in a bare terminal, where one would take it over."""
    if sys.platform.startswith(("linux", "freebsd")):
        return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
    return True
