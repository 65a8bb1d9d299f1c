"""The command line as a function of its words, and a season made by it."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pond_team import roster_file, tallies_file

from evaltrack.cli import commands


def run(*words: object, app=None) -> Result:
    """Run a command line in this process; an exception that is no refusal fails the test."""
    result = CliRunner().invoke(commands, [str(word) for word in words], obj=app)
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


@pytest.fixture(scope="session")
def command():
    """Give ``run``."""
    return run


@pytest.fixture
def empty_season(tmp_path: Path) -> Path:
    """Make a season file of the pond team without any tally."""
    path = tmp_path / "pond.db"
    made = run("new", path, "--team", "Pond", "--age-class", "12U", "--roster", roster_file(tmp_path))
    assert made.exit_code == 0, made.stderr
    return path


@pytest.fixture
def season(empty_season: Path) -> Path:
    """Make a season file of the pond team with its tallies."""
    loaded = run("load", empty_season, tallies_file(empty_season.parent))
    assert loaded.exit_code == 0, loaded.stderr
    return empty_season
