"""Season files in the states that the tests of the store start from."""

import shutil
import sqlite3
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from lanterns_season import DRILLS, OBSERVERS, PLAYERS, PRACTICES, SKILLS, TEAM, tally

from evaltrack.errors import SeasonFileError
from evaltrack.store import connection
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season

JARGON = ("Traceback", "Error", "Errno", "sqlite3", "SQLITE", "constraint", "PRAGMA", "()", "\n")


@pytest.fixture(scope="session")
def season_template(tmp_path_factory) -> Path:
    """Keep a closed season file with players, catalogue, two practices and observers, to be copied."""
    path = tmp_path_factory.mktemp("template") / "lanterns.db"
    with create_season(path, **TEAM, players=PLAYERS, skills=SKILLS, drills=DRILLS) as season:
        season.practices.add(PRACTICES)
        for name in OBSERVERS:
            season.people.add_observer(name)
    return path


@pytest.fixture
def season_path(season_template, tmp_path) -> Path:
    """Return a season file of the test's own, closed, without a tally."""
    return Path(shutil.copy(season_template, tmp_path / "lanterns.db"))


@pytest.fixture(scope="session")
def make_season(season_template, tmp_path_factory):
    """Return a maker of season files without a tally, each in its own folder, for tests of properties."""

    def make() -> Path:
        return Path(shutil.copy(season_template, tmp_path_factory.mktemp("season") / "lanterns.db"))

    return make


@pytest.fixture(scope="session")
def another_season_path(tmp_path_factory) -> Path:
    """Keep a season file that was made by itself, of the same team."""
    path = tmp_path_factory.mktemp("another") / "lanterns.db"
    create_season(path, **TEAM, players=PLAYERS, skills=SKILLS, drills=DRILLS).close()
    return path


@pytest.fixture
def season(season_path):
    """Return the open season file, without a tally."""
    with open_season(season_path) as season:
        yield season


@pytest.fixture
def tallied_path(season_path) -> Path:
    """Return a closed season file with three tallies."""
    with open_season(season_path) as season:
        season.log.add_many([], [tally(n) for n in range(3)])
    return season_path


@pytest.fixture
def impatient(monkeypatch):
    """Wait for nobody's lock, so that the tests of locks need no second each."""
    monkeypatch.setattr(connection, "BUSY_SECONDS", 0.0)


@pytest.fixture
def refused():
    """Return a context that expects a refusal in one plain sentence with these words in it."""

    @contextmanager
    def refusal(*words: str, kind: type[Exception] = SeasonFileError):
        with pytest.raises(kind) as caught:
            yield caught
        text = str(caught.value)
        for word in words:
            assert word in text
        assert not [jargon for jargon in JARGON if jargon in text], text

    return refusal


@pytest.fixture
def contents():
    """Return a reader of all that a file holds, as SQL text, by a connection of its own."""

    def read(path: Path) -> list[str]:
        with closing(sqlite3.connect(path)) as other:
            return list(other.iterdump())

    return read
