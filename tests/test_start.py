"""The door of the house: what start.py decides before it runs anything."""

from __future__ import annotations

import ast
import os
import sys
from pathlib import Path

import pytest

import start


@pytest.fixture
def programs(tmp_path):
    """A folder that stands for the whole path; put programs in it by name."""

    def put(*names: str) -> Path:
        for name in names:
            program = tmp_path / (name + (".exe" if os.name == "nt" else ""))
            program.write_text("")
            program.chmod(0o755)
        return tmp_path

    return put


@pytest.fixture
def root(tmp_path):
    """A checkout with as much in it as the mark of an installation looks at."""
    (tmp_path / "requirements").mkdir()
    (tmp_path / "requirements" / "run.txt").write_text("one==1\n")
    (tmp_path / "pyproject.toml").write_text("[project]\n")
    return tmp_path


# --- the version of Python --------------------------------------------------------


@pytest.mark.parametrize("version", [(3, 11), (3, 11, 7), (3, 14, 0), (4, 0)])
def test_new_enough_python_needs_no_words(version):
    assert start.version_sentence(version) is None


@pytest.mark.parametrize("version", [(3, 10, 14), (3, 9), (2, 7, 18)])
def test_old_python_is_told_what_is_needed_and_what_it_is(version):
    sentence = start.version_sentence(version)
    assert "Python 3.11 or newer" in sentence
    assert f"this is Python {version[0]}.{version[1]}:" in sentence


def test_old_python_can_read_the_file_and_so_say_its_sentence():
    source = Path(start.__file__).read_text(encoding="utf-8")
    ast.parse(source, feature_version=(3, 7))


# --- the virtual environment ------------------------------------------------------


def test_python_lies_where_each_system_puts_it():
    assert start.venv_python(Path("v"), "posix") == Path("v/bin/python")
    assert start.venv_python(Path("v"), "nt") == Path("v/Scripts/python.exe")


def test_this_python_is_usable_and_a_missing_one_is_not(tmp_path):
    assert start.is_usable(Path(sys.executable))
    assert not start.is_usable(tmp_path / "python")


# --- the stamp of an installation -------------------------------------------------


def mark_of(root: Path) -> str:
    return start.digest(root, root / "requirements" / "run.txt")


def test_mark_stays_while_nothing_changes(root):
    assert mark_of(root) == mark_of(root)


@pytest.mark.parametrize("changed", ["requirements/run.txt", "pyproject.toml"])
def test_mark_changes_with_either_file(root, changed):
    before = mark_of(root)
    with (root / changed).open("a") as file:
        file.write("# more\n")
    assert mark_of(root) != before


def test_mark_changes_with_the_place(root):
    before = mark_of(root)
    moved = root.rename(root.with_name("moved"))
    assert mark_of(moved) != before


def test_text_cannot_slip_from_one_file_into_the_other(root):
    before = mark_of(root)
    (root / "requirements" / "run.txt").write_text("one==1\n[project]\n")
    (root / "pyproject.toml").write_text("")
    assert mark_of(root) != before


def test_installed_only_when_the_stamp_carries_the_mark(tmp_path):
    stamp = tmp_path / "stamp"
    assert not start.is_installed(stamp, "abc")
    stamp.write_text("abc\n")
    assert start.is_installed(stamp, "abc")
    assert not start.is_installed(stamp, "abd")


# --- the browser ------------------------------------------------------------------


def test_chromium_comes_before_the_others_on_the_path(programs):
    path = str(programs("msedge", "google-chrome", "chromium"))
    found = start.find_browser({"PATH": path}, "linux")
    assert Path(found).stem == "chromium"


def test_edge_will_do_when_it_is_alone(programs):
    found = start.find_browser({"PATH": str(programs("microsoft-edge"))}, "linux")
    assert Path(found).stem == "microsoft-edge"


def test_browser_that_was_asked_for_wins(programs):
    folder = programs("chromium", "mine")
    mine = next(folder.glob("mine*"))
    found = start.find_browser({"PATH": str(folder), "SASHWRIGHT_BROWSER": str(mine)}, "linux")
    assert Path(found) == mine


def test_browser_that_was_asked_for_may_be_a_name_on_the_path(programs):
    environ = {"PATH": str(programs("chromium", "mine")), "SASHWRIGHT_BROWSER": "mine"}
    assert Path(start.find_browser(environ, "linux")).stem == "mine"


def test_asking_for_a_browser_that_is_not_there_is_an_error_not_a_guess(programs):
    environ = {"PATH": str(programs("chromium")), "SASHWRIGHT_BROWSER": "/no/such/browser"}
    with pytest.raises(start.SetupError, match="/no/such/browser"):
        start.find_browser(environ, "linux")


def test_no_browser_is_found_where_there_is_none(tmp_path):
    assert start.find_browser({"PATH": str(tmp_path)}, "linux") is None


def test_windows_browser_is_found_off_the_path(tmp_path):
    edge = tmp_path / "Microsoft" / "Edge" / "Application" / "msedge.exe"
    edge.parent.mkdir(parents=True)
    edge.touch()
    environ = {"PATH": "", "PROGRAMFILES(X86)": str(tmp_path)}
    assert Path(start.find_browser(environ, "win32")) == edge


def test_mac_browser_is_found_in_the_home_folder(tmp_path):
    places = list(start.usual_browsers({"HOME": str(tmp_path)}, "darwin"))
    chrome = tmp_path / "Applications/Google Chrome.app/Contents/MacOS/Google Chrome"
    assert chrome in places
    # The computer's own programs come before one person's.
    assert places[0].is_relative_to("/Applications")


# --- the checks -------------------------------------------------------------------


@pytest.fixture
def checks(monkeypatch):
    """Replace the checks by one-line programs, given as name and code."""

    def replace(**codes: str) -> None:
        steps = tuple((name, ("-c", code)) for name, code in codes.items())
        monkeypatch.setattr(start, "CHECKS", steps)

    return replace


def test_all_checks_run_even_after_a_failure(checks, capfd):
    checks(first="raise SystemExit(3)", second="print('ran second')")
    assert start.run_checks(Path(sys.executable), (), os.environ) == 1
    out = capfd.readouterr().out
    assert "=== first ===" in out
    assert "ran second" in out
    assert out.index("=== summary ===") > out.index("ran second")


def test_good_checks_end_well(checks):
    checks(first="pass", second="pass")
    assert start.run_checks(Path(sys.executable), (), os.environ) == 0


def test_words_for_pytest_reach_pytest_alone(checks, capfd):
    show = "import sys; print(sys.argv[1:])"
    checks(first=show, pytest=show)
    start.run_checks(Path(sys.executable), ["-k", "cord"], os.environ)
    lines = capfd.readouterr().out.splitlines()
    assert lines.count("[]") == 1
    assert lines.count("['-k', 'cord']") == 1


def test_a_failing_step_stops_with_its_sentence():
    with pytest.raises(start.SetupError, match="it broke"):
        start.run([sys.executable, "-c", "raise SystemExit(1)"], "it broke")


# --- the database server -------------------------------------------------------------


def test_postgres_is_found_on_the_path(tmp_path):
    (tmp_path / "initdb").touch(mode=0o755)
    assert start.find_postgres({"PATH": str(tmp_path)}) == tmp_path


def test_postgres_that_was_asked_for_must_be_there(tmp_path):
    with pytest.raises(start.SetupError, match="no initdb"):
        start.find_postgres({"SASHWRIGHT_POSTGRES": str(tmp_path)})


def test_words_for_pytest_are_not_for_postgres(monkeypatch):
    ran = []
    monkeypatch.setattr(start, "succeeds", lambda command, environ: not ran.append(command))
    start.run_checks(Path("python"), ["-k", "cord"], {})
    assert not any("tests.postgres" in command for command in ran)
    start.run_checks(Path("python"), [], {})
    assert "tests.postgres" in ran[-1]
