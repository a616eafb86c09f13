"""``moulding`` and ``draw`` as DXF; the manual's page on them, run as it stands."""

from __future__ import annotations

import doctest
import io
import re
import shlex
from collections.abc import Callable
from pathlib import Path

import cv2
import ezdxf
import numpy as np
import pytest
from click.testing import Result

from sashwright.cli import exits
from sashwright.knowledge import curves
from sashwright.knowledge.load import load
from sashwright.record.housefile import read_house
from sashwright.record.housefile.writing import write_house
from sashwright.window.mouldings import with_own
from sashwright.window.resolve import place

Run = Callable[..., Result]

PAGE = Path(__file__).parents[2] / "docs" / "manual" / "mouldings.md"
TEXT = PAGE.read_text(encoding="utf-8")


def blocks(kind: str) -> list[str]:
    return re.findall(rf"^```{kind}\n(.*?)^```$", TEXT, re.MULTILINE | re.DOTALL)


def draw_the_end_of_a_stile(path: Path) -> None:
    """The picture that the manual speaks of: 800 pixels to 2 inches."""
    inch = 400
    ovolo = (
        (0.0, 0.0, 0.0),
        (0.0, 1 / 32, np.tan(np.pi / 8)),
        (0.5, 17 / 32, 0.0),
        (0.625, 17 / 32, 0.0),
    )
    edge = curves.flat(ovolo, closed=False, per_arc=200)
    placed = [(400 + x * inch, 600 - y * inch) for x, y in edge]
    wood = np.array([(150, 600), *placed, (650, 100), (150, 100)])
    picture = np.full((1000, 1000), 215, np.uint8)
    cv2.fillPoly(picture, [np.round(wood * 16).astype(np.int32)], 70, lineType=cv2.LINE_AA, shift=4)
    cv2.imwrite(str(path), cv2.GaussianBlur(picture, (0, 0), 0.8))


@pytest.fixture
def page(starter: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A fresh house with the pieces of the manual's page, and the picture."""
    text = starter.read_text(encoding="utf-8")
    (family,) = set(re.findall(r"^\[families\.(\w+)\]", text, re.MULTILINE)) or {"front"}
    pieces = "\n".join(blocks("toml")).replace("families.front", f"families.{family}")
    sash = f"[families.{family}.sash]\n"
    named = 'moulding = { shape = "parlor" }\nthickness = "1 3/4"\n'
    pieces = pieces.replace(f'{sash}moulding = {{ shape = "parlor" }}\n', "")
    if sash in text:
        text = re.sub(r"^(thickness|moulding) = .*\n", "", text, flags=re.MULTILINE)
        text = text.replace(sash, sash + named)
    else:
        pieces += f"\n{sash}{named}"
    starter.write_text(f"{text}\n{pieces}", encoding="utf-8")
    draw_the_end_of_a_stile(starter.parent / "end.png")
    monkeypatch.chdir(starter.parent)
    return starter


def test_the_manual_runs_as_it_stands(run: Run, page: Path) -> None:
    assert run("check", page).exit_code == exits.OK, run("check", page).output
    compare, flags = doctest.OutputChecker().check_output, doctest.ELLIPSIS
    count = 0
    for block in blocks("console"):
        for example in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            command, _, said = example.partition("\n")
            _, *words = shlex.split(command)
            ended = run(*words)
            assert ended.exit_code == exits.OK, ended.output
            assert compare(masked(said), masked(ended.output), flags), f"{command}\n{ended.output}"
            count += 1
    assert count == 8
    for name in ("parlor.dxf", "ogee.dxf", "traced.dxf", "101-section.dxf", "101-corner.dxf"):
        assert not ezdxf.readfile(page.parent / name).audit().errors


def masked(text: str) -> str:
    """A better figure does not make the manual wrong."""
    return re.sub(r"[0-9]+\.[0-9]+", "#", text)


def test_what_was_traced_can_be_pasted(run: Run, page: Path) -> None:
    words = ["moulding", page, "--name", "again", "--trace", "end.png", "--scale", "100,900",
             "900,900", "2 in", "--nose", "250,600", "--face", "650,200"]  # fmt: skip
    piece = run(*words).stdout
    page.write_text(page.read_text(encoding="utf-8") + piece, encoding="utf-8")
    knowledge = load()
    rows = with_own(read_house(page, knowledge), knowledge).moulding
    found, wanted = rows["again"].outline, rows["parlor"].outline
    assert len(found) == len(wanted)
    for one, other in zip(found, wanted, strict=True):
        assert one[:2] == pytest.approx(other[:2], abs=0.25e-3)


def test_a_house_with_mouldings_is_written_and_read(page: Path) -> None:
    knowledge = load()
    house = read_house(page, knowledge)
    again = page.with_name("again.toml")
    write_house(house, again)
    assert read_house(again, knowledge).mouldings == house.mouldings
    placed = place(house, house.windows[0].number, knowledge)
    assert placed.family.frame.casing_width == pytest.approx(0.0508)


def test_dxf_to_the_terminal(run: Run, page: Path) -> None:
    ended = run("draw", page, "--window", "101", "--view", "meeting", "--format", "dxf")
    assert ended.exit_code == exits.OK
    assert not ezdxf.read(io.StringIO(ended.stdout)).audit().errors


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--name", "ovalo"], "did you mean 'ovolo'"),
        (["--name", "ovolo", "--svg", "a.svg"], "give --width and --depth"),
        (["--name", "parlor", "--width", "1/4", "--svg", "a.svg"], "has a size of its own"),
        (["--name", "parlor", "--circle", "1/4", "--hook", "20", "--svg", "a.svg"], "expected less than"),
        (["--trace", "end.png"], "needs --scale"),
        (["--trace", "ende.png", "--scale", "1,1", "99,1", "2 in"], "did you mean end.png"),
        (["--trace", "end.png", "--scale", "1;1", "99,1", "2 in"], "a place in the picture"),
        (["--trace", "end.png", "--scale", "1,1", "99,1", "2 in", "--nose", "1,1"], "go together"),
        (["--trace", "larkspur.toml", "--scale", "1,1", "99,1", "2 in"], "found no picture"),
    ],
)  # fmt: skip
def test_what_goes_wrong_in_a_sentence(run: Run, page: Path, words: list[str], says: str) -> None:
    ended = run("moulding", page.name, *words)
    assert ended.exit_code != exits.OK
    assert says in ended.output
