"""The command ``photographs``: those of a house in the record, and more of them brought in."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sashwright.cli import say
from sashwright.cli.exits import Failure, usage
from sashwright.cli.options import home_option, json_option
from sashwright.cli.record import find_house, open_record, told

if TYPE_CHECKING:
    from sashwright.record.store import PhotographRow


@click.command()
@click.argument("house", metavar="SLUG|NAME")
@click.option("--window", "number", metavar="N", help="Only of this window; added ones are of it.")
@click.option(
    "--add",
    "files",
    metavar="FILE",
    type=click.Path(path_type=Path),
    multiple=True,
    help="Bring in this photograph; may be given several times.",
)
@click.option("--part", metavar="NAME", help="The part they show, such as lower.bottom_rail.")
@click.option("--note", default="", help="What is to be seen on them.")
@click.option("--keep-place", is_flag=True, help="Keep where they were taken, by satellite.")
@json_option
@home_option
def photographs(
    house: str,
    number: str | None,
    files: tuple[Path, ...],
    part: str | None,
    note: str,
    keep_place: bool,
    as_json: bool,
    home: Path | None,
) -> None:
    """List the photographs of a house in the record, or bring in more.

    \b
    Example:
      sashwright photographs quill-house
      sashwright photographs quill-house --window 104 --add rail.jpg
    """
    if not files and (part or note or keep_place):
        raise usage(
            "--part, --note and --keep-place tell of photographs that are added; give --add."
        )
    open_record(home)
    from sashwright.record import store

    slug = find_house(house)
    with told():
        for file in files:
            _add(slug, file, number, part, note, keep_place)
        rows = store.photographs(slug, number)
    if as_json:
        say.print_json([_plain(row) for row in rows])
    elif not rows:
        click.echo("No photographs yet: --add FILE brings one in.")
    else:
        say.show(
            say.table(
                ("Name", "Window", "Part", "Pixels", "Taken", "Note"),
                (
                    (
                        row.key,
                        row.window or "the house",
                        row.component,
                        f"{row.width} × {row.height}",
                        f"{(row.taken_at or row.at).astimezone():%Y-%m-%d %H:%M}",
                        row.note[:40],
                    )
                    for row in rows
                ),
            )
        )


def _add(
    slug: str, file: Path, number: str | None, part: str | None, note: str, keep_place: bool
) -> None:
    from sashwright.record import store

    try:
        data = file.read_bytes()
    except OSError as error:
        raise Failure(f"{file}: {error.strerror}") from None
    try:
        store.add_photograph(
            slug,
            data,
            store.local_owner(),
            window=number,
            component=part,
            note=note,
            keep_place=keep_place,
        )
    except store.Refused as error:
        problem = error.problems[0]
        raise Failure(f"{file.name}: found {problem.found}, expected {problem.expected}") from None


def _plain(row: PhotographRow) -> dict[str, object]:
    return {
        "key": row.key,
        "window": row.window,
        "component": row.component or None,
        "note": row.note,
        "width": row.width,
        "height": row.height,
        "bytes": row.size,
        "sha256": row.digest,
        "taken_at": row.taken_at.isoformat() if row.taken_at else None,
        "at": row.at.isoformat(),
        "marks": [mark.model_dump(mode="json") for mark in row.marks],
        "measures": [measure.says for measure in row.measures],
    }
