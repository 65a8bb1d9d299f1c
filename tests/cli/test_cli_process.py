"""The command line as a process of its own: the demo, help, what is loaded, and the way into the app."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import evaltrack
from evaltrack.analysis.standings.standing import COLUMNS
from evaltrack.cli import commands

# a process started in another folder must find the package that is tested, installed or not
_ENVIRONMENT = os.environ | {"PYTHONPATH": str(Path(evaltrack.__file__).parents[1])}


def _python(*words: object, cwd: Path) -> subprocess.CompletedProcess:
    line = [sys.executable, *map(str, words)]
    return subprocess.run(
        line, cwd=cwd, env=_ENVIRONMENT, capture_output=True, text=True, encoding="utf-8", timeout=120
    )


def _process(*words: object, cwd: Path) -> subprocess.CompletedProcess:
    return _python("-m", "evaltrack", *words, cwd=cwd)


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Make the demo season once, and take its time.

    The processor's time, since on the clock a machine that is busy with other things would be measured.
    """
    folder = tmp_path_factory.mktemp("rink")
    before = os.times()
    result = _process("demo", cwd=folder)
    after = os.times()
    spent = after.children_user + after.children_system - before.children_user - before.children_system
    return folder, result, spent


def test_the_demo_is_whole_and_quick(demo):
    """The demo makes season file, standings and notes in 20 seconds' work, and says what to open next."""
    folder, result, seconds = demo
    assert result.returncode == 0, result.stderr
    assert (folder / "demo/standings.csv").read_text(encoding="utf-8").startswith(",".join(COLUMNS))
    assert len(list((folder / "demo/notes").glob("*.pdf"))) >= 15
    assert "evaltrack open" in result.stdout
    assert "invented" in result.stdout
    assert seconds < 20


def test_the_demo_does_not_replace_a_season(demo):
    """A second demo in the same folder is refused with the way on, and the season file stays as it is."""
    folder, _, _ = demo
    season = folder / "demo/kettle-bay-lanterns-12u.db"
    before = season.read_bytes()
    again = _process("demo", cwd=folder)
    assert again.returncode == 1
    assert "is there already" in again.stderr
    assert "evaltrack open" in again.stderr
    assert "Traceback" not in again.stderr
    assert season.read_bytes() == before


def test_the_demo_standings_are_those_of_the_command(demo):
    """standings.csv of the demo is what the standings command prints for its season file."""
    folder, _, _ = demo
    printed = _process("standings", "demo/kettle-bay-lanterns-12u.db", "--format", "csv", cwd=folder).stdout
    assert printed == (folder / "demo/standings.csv").read_text(encoding="utf-8")


def test_a_refusal_in_a_process_has_no_traceback(tmp_path):
    """A refusal leaves the process with exit 1 and sentences on stderr alone."""
    result = _process("standings", "no.db", cwd=tmp_path)
    assert (result.returncode, result.stdout) == (1, "")
    assert result.stderr.startswith("there is no file")
    assert "Traceback" not in result.stderr


@pytest.mark.parametrize("name", list(commands.commands))
def test_every_help_has_an_example(command, name):
    """The help of every command shows an example of itself."""
    result = command(name, "--help")
    assert result.exit_code == 0
    assert f"Example:  evaltrack {name} " in result.stdout


def test_help_loads_nothing_heavy(tmp_path):
    """Printing the help imports neither pandas, scipy, matplotlib, typst, sqlite-utils nor Kivy."""
    code = (
        "import sys; import evaltrack.__main__ as m\n"
        "try: m.commands.main(['--help'], prog_name='evaltrack')\n"
        "except SystemExit: pass\n"
        "heavy = ('numpy', 'pandas', 'scipy', 'matplotlib', 'typst', 'sqlite_utils', 'kivy')\n"
        "sys.exit(' '.join(name for name in heavy if name in sys.modules) or None)"
    )
    result = _python("-c", code, cwd=tmp_path)
    assert (result.returncode, result.stderr) == (0, "")


def test_without_a_command_the_app_opens(command):
    """Without a command the app is asked for, with no season named."""
    asked = []
    assert command(app=asked.append).exit_code == 0
    assert asked == [None]


def test_open_hands_the_season_to_the_app(command, empty_season):
    """The open command hands its season file to the app."""
    asked = []
    assert command("open", empty_season, app=asked.append).exit_code == 0
    assert asked == [empty_season]


def test_the_demo_opens_the_app_when_asked(command, tmp_path):
    """demo --open hands the season that it made to the app."""
    asked = []
    result = command("demo", tmp_path / "trial", "--open", app=asked.append)
    assert result.exit_code == 0, result.stderr
    assert asked == [tmp_path / "trial/kettle-bay-lanterns-12u.db"]


def test_the_version_is_that_of_the_package(tmp_path):
    """--version works from a checkout too, and agrees with the packaging."""
    stated = (Path(evaltrack.__file__).parents[1] / "pyproject.toml").read_text(encoding="utf-8")
    version = tomllib.loads(stated)["project"]["version"]
    assert _process("--version", cwd=tmp_path).stdout == f"evaltrack {version}\n"


def test_a_command_that_is_none_is_wrong_usage(command):
    """A command that does not exist ends with 2 and points to the help."""
    result = command("bogus")
    assert result.exit_code == 2
    assert "--help" in result.stderr
