"""One door for people: sets Sashwright up, then runs the demo, the server or the checks.

python3 start.py                     set up, then open the demo house
python3 start.py serve --port 9000   set up, then any command of sashwright
python3 start.py test                set up, then run all checks and tests
python3 start.py test -- -k cord     the same, with words for pytest

The first start fetches packages into the folder .venv here, once. To begin afresh,
delete that folder.
"""

# Kept to what old Pythons can read, so that they can still say which one is needed.
from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
MINIMUM = (3, 11)

BROWSER_NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "microsoft-edge",
    "microsoft-edge-stable",
    "msedge",
)
MAC_BROWSERS = (
    "Chromium.app/Contents/MacOS/Chromium",
    "Google Chrome.app/Contents/MacOS/Google Chrome",
    "Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
)
WINDOWS_BROWSERS = (
    "Chromium/Application/chrome.exe",
    "Google/Chrome/Application/chrome.exe",
    "Microsoft/Edge/Application/msedge.exe",
)
NO_BROWSER = (
    "The browser tests need Chromium, Chrome or Edge: "
    "install one of them, or set SASHWRIGHT_BROWSER to its program."
)

NO_POSTGRES = (
    "The tests on PostgreSQL need its server: install the package postgresql, "
    "or set SASHWRIGHT_POSTGRES to the folder of its programs."
)

# Import-linter has no `python -m` of its own.
LINT_IMPORTS = "from importlinter.cli import lint_imports_command as lint; lint()"

# Each check, and what the virtual environment's Python is asked to run for it.
CHECKS = (
    ("ruff check", ("-m", "ruff", "check")),
    ("ruff format", ("-m", "ruff", "format", "--check")),
    ("mypy", ("-m", "mypy", "src", "start.py")),
    ("lint-imports", ("-c", LINT_IMPORTS, "--no-logo")),
    ("pytest", ("-m", "pytest")),
    # What goes through the database, once more on a PostgreSQL of the tests' own.
    ("postgres", ("-m", "tests.postgres", "tests/record", "tests/web", "-m", "not browser")),
)


class SetupError(Exception):
    """A step failed; the message is the sentence to show."""


# --- Python and its virtual environment ------------------------------------------


def version_sentence(version: Sequence[int]) -> str | None:
    """What to say about this Python, or nothing when it will do."""
    if tuple(version[:2]) >= MINIMUM:
        return None
    wanted, given = (".".join(map(str, v[:2])) for v in (MINIMUM, version))
    return (
        f"Sashwright needs Python {wanted} or newer, and this is Python {given}: "
        "install a newer Python and run start.py with it."
    )


def venv_python(venv: Path, os_name: str = os.name) -> Path:
    """The Python inside a virtual environment."""
    return venv / "Scripts" / "python.exe" if os_name == "nt" else venv / "bin" / "python"


def is_usable(python: Path) -> bool:
    """Whether a virtual environment's Python runs, is new enough and has pip.

    It may not after the computer's own Python was replaced, or a first try broke off.
    """
    probe = f"import pip, sys; sys.exit(sys.version_info < {MINIMUM})"
    try:
        return (
            subprocess.run([python, "-c", probe], capture_output=True, check=False).returncode == 0
        )
    except OSError:
        return False


def ensure_venv() -> Path:
    """Make the virtual environment where there is no good one; answer its Python."""
    python = venv_python(VENV)
    if not is_usable(python):
        say("Setting up Sashwright in .venv; the first time takes a minute or two.")
        run(
            [sys.executable, "-m", "venv", "--clear", VENV],
            "Python could not make its virtual environment in .venv; "
            "on Debian and Ubuntu the package python3-venv must be installed.",
        )
    return python


# --- packages ---------------------------------------------------------------------


def digest(root: Path, requirements: Path) -> str:
    """A mark that changes whenever the packages must be installed anew.

    The place counts too: the package is installed as a pointer to this folder.
    """
    parts = (str(root).encode(), requirements.read_bytes(), (root / "pyproject.toml").read_bytes())
    return hashlib.sha256(b"\0".join(hashlib.sha256(part).digest() for part in parts)).hexdigest()


def is_installed(stamp: Path, mark: str) -> bool:
    """Whether the stamp left by the last full installation carries this mark."""
    return stamp.is_file() and stamp.read_text(encoding="utf-8").strip() == mark


def ensure_packages(python: Path, kind: str) -> None:
    """Install requirements/<kind>.txt and the package itself, unless nothing changed."""
    requirements = ROOT / "requirements" / f"{kind}.txt"
    stamp = VENV / f"sashwright-{kind}.stamp"
    mark = digest(ROOT, requirements)
    if is_installed(stamp, mark):
        return
    say(f"Installing the packages of requirements/{kind}.txt.")
    pip = [
        str(python),
        "-m",
        "pip",
        "--disable-pip-version-check",
        "install",
        "--quiet",
        "--no-input",
    ]
    run(
        [*pip, "--require-hashes", "-r", str(requirements)],
        f"The packages of requirements/{kind}.txt could not be installed: the message above "
        "says why. The first start needs a connection to the internet.",
    )
    # The build backend is among the packages just installed, so nothing more is fetched.
    run(
        [*pip, "--no-deps", "--no-build-isolation", "-e", str(ROOT)],
        "Sashwright itself could not be installed into .venv: the message above says why.",
    )
    stamp.write_text(mark + "\n", encoding="utf-8")


# --- a browser for the tests ------------------------------------------------------


def usual_browsers(environ: Mapping[str, str], platform: str) -> Iterator[Path]:
    """Where macOS and Windows keep browsers, which they do not put on the path."""
    if platform == "darwin":
        for folder in (Path("/Applications"), Path(environ.get("HOME", "/")) / "Applications"):
            yield from (folder / name for name in MAC_BROWSERS)
    elif platform == "win32":
        for variable in ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA"):
            if variable in environ:
                yield from (Path(environ[variable]) / name for name in WINDOWS_BROWSERS)


def find_browser(
    environ: Mapping[str, str] = os.environ, platform: str = sys.platform
) -> str | None:
    """The browser that was asked for, else the first on the path, else in the usual places."""
    path = environ.get("PATH", "")
    asked = environ.get("SASHWRIGHT_BROWSER")
    if asked:
        found = shutil.which(asked, path=path)
        if found is None:
            raise SetupError(f"SASHWRIGHT_BROWSER says {asked}, but there is no such program.")
        return found
    for name in BROWSER_NAMES:
        found = shutil.which(name, path=path)
        if found is not None:
            return found
    return next((str(p) for p in usual_browsers(environ, platform) if p.is_file()), None)


def playwright_browser(python: Path) -> str | None:
    """The Chromium that Playwright fetched for itself earlier, if it did."""
    ask = (
        "from playwright.sync_api import sync_playwright\n"
        "with sync_playwright() as tool: print(tool.chromium.executable_path)"
    )
    answer = subprocess.run([python, "-c", ask], capture_output=True, text=True, check=False)
    place = answer.stdout.strip()
    return place if place and Path(place).is_file() else None


def install_browser(python: Path) -> str | None:
    """Fetch Chromium: from Debian or Ubuntu where that is allowed, else by Playwright."""
    if install_from_debian("chromium", "Installing Chromium for the browser tests."):
        found = find_browser()
        if found:
            return found
    say("Asking Playwright for a Chromium for the browser tests.")
    succeeds([python, "-m", "playwright", "install", "chromium"])
    return playwright_browser(python)


def ensure_browser(python: Path) -> str | None:
    """A browser for the tests; without one, say so and let the other tests run."""
    try:
        browser = find_browser() or playwright_browser(python) or install_browser(python)
    except SetupError as problem:
        say(str(problem))
        return None
    if browser is None:
        say(NO_BROWSER)
    return browser


# --- a database server for the tests ----------------------------------------------


def find_postgres(environ: Mapping[str, str] = os.environ) -> Path | None:
    """The folder of PostgreSQL's programs: the one asked for, on the path, or Debian's newest."""
    asked = environ.get("SASHWRIGHT_POSTGRES")
    if asked:
        if not (Path(asked) / "initdb").is_file():
            raise SetupError(f"SASHWRIGHT_POSTGRES says {asked}, but there is no initdb in it.")
        return Path(asked)
    found = shutil.which("initdb", path=environ.get("PATH", ""))
    if found is not None:
        return Path(found).resolve().parent
    kept = [path.parent for path in Path("/usr/lib/postgresql").glob("*/bin/initdb")]
    return max(kept, key=lambda path: float(path.parent.name), default=None)


def ensure_postgres() -> None:
    """Fetch a PostgreSQL for the tests from Debian or Ubuntu where there is none and that is allowed."""
    if find_postgres() is None:
        install_from_debian("postgresql", "Installing PostgreSQL for the tests.")


# --- programs from Debian or Ubuntu --------------------------------------------------


def install_from_debian(package: str, sentence: str) -> bool:
    """Fetch a package where that is allowed; whether it was tried."""
    if not (shutil.which("apt-get") and os.geteuid() == 0):
        return False
    say(sentence)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    succeeds(["apt-get", "update", "-qq"], quiet)
    succeeds(["apt-get", "install", "-y", "-qq", package], quiet)
    return True


# --- running ----------------------------------------------------------------------


def say(sentence: str) -> None:
    """Print at once, so that words and the output of programs keep their order."""
    print(sentence, flush=True)


def succeeds(command: Sequence[str | Path], environ: Mapping[str, str] = os.environ) -> bool:
    """Run a program here; whether it ended well."""
    try:
        return subprocess.run(command, cwd=ROOT, env=environ, check=False).returncode == 0
    except OSError:
        return False


def run(command: Sequence[str | Path], sentence: str) -> None:
    """Run a program; when it fails, stop with the sentence."""
    if not succeeds(command):
        raise SetupError(sentence)


def run_checks(python: Path, pytest_words: Sequence[str], environ: Mapping[str, str]) -> int:
    """Run every check, whatever the others say, and sum up at the end."""
    results = {}
    for name, words in CHECKS:
        if pytest_words and name == "postgres":
            continue
        say(f"\n=== {name} ===")
        extra = pytest_words if name == "pytest" else ()
        results[name] = succeeds([python, *words, *extra], environ)
    say("\n=== summary ===")
    for name, good in results.items():
        say(f"{name:<14}{'passed' if good else 'FAILED'}")
    return 0 if all(results.values()) else 1


def run_tests(words: Sequence[str]) -> int:
    """Set up for testing, then run every check."""
    python = ensure_venv()
    ensure_packages(python, "test")
    browser = ensure_browser(python)
    ensure_postgres()
    environ = {**os.environ, **({"SASHWRIGHT_BROWSER": browser} if browser else {})}
    return run_checks(python, words[1:] if words[:1] == ["--"] else words, environ)


def run_program(words: Sequence[str]) -> int:
    """Set up, then hand over to the command line of sashwright."""
    python = ensure_venv()
    ensure_packages(python, "run")
    command = [str(python), "-m", "sashwright.cli.main", *words]
    if os.name == "posix":
        # Become the program, so that stopping this process stops the server.
        os.execv(command[0], command)
    return subprocess.run(command, check=False).returncode


def main(words: Sequence[str]) -> int:
    """The exit code for the words typed after start.py."""
    sentence = version_sentence(sys.version_info[:2])
    if sentence:
        print(sentence, file=sys.stderr)
        return 1
    if words and words[0] in ("-h", "--help"):
        say((__doc__ or "").strip())
        return 0
    try:
        return run_tests(words[1:]) if words[:1] == ["test"] else run_program(words or ["demo"])
    except SetupError as problem:
        print(problem, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
