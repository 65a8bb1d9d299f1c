"""A season that was closed: no name in any byte, every count as it was, and nothing that a kill could split.

Cases: names of players, edited ones, of those who left, of observers, in every encoding, in the file, its
journals and the tablet's folders; figures of the team before and after; who was nobody before; a pack; a
table of a later version; each step about to be taken when the process is killed.
"""

import os
import shutil
import sqlite3
from collections import Counter
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from erasable_season import EARLIER, WORDS, ZORA, noted, scatter
from erasing_killed import in_a_child, kill
from lanterns_season import OBSERVERS, PLAYERS
from name_search import where_named

from evaltrack.analysis.team.courses import read_courses
from evaltrack.errors import EvaltrackError
from evaltrack.rink.name_pattern import STRUCK
from evaltrack.rink.player import Status
from evaltrack.store.backups.restoring import lost_by
from evaltrack.store.erasing import erasing
from evaltrack.store.erasing.forgetting import STAYS, forget_children
from evaltrack.store.erasing.whose_names import pattern_of_all
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import read_pack

DAY = date(2026, 4, 10)
# "Ines" is in "lines", which stands in every catalogue
NAMES = (ZORA.name, *EARLIER, *(player.name for player in PLAYERS), "Tuomo")
STEPS = ("pattern_of_all", "forget_children", "_prove", "forget_copies", "_put", "_put_on_disk")


@pytest.fixture(scope="module")
def whole(tmp_path_factory) -> Path:
    """Keep a season of 5,000 tallies, with names wherever they can stand."""
    path = noted(tmp_path_factory.mktemp("closing") / "lanterns.db", tallies=5000, practices=20)
    with open_season(path) as season:
        season.people.change([replace(PLAYERS[2], status=Status.LEFT)], DAY, "bench")
    scatter(path)
    return path


@pytest.fixture(scope="module")
def small(tmp_path_factory) -> Path:
    """Keep a season of a few practices, with names wherever they can stand."""
    return noted(tmp_path_factory.mktemp("small") / "lanterns.db")


def copied(path: Path, folder: Path) -> Path:
    folder.mkdir()
    return Path(shutil.copy(path, folder / "lanterns.db"))


@pytest.fixture
def large(whole, tmp_path) -> Path:
    """Return a copy of the season of 5,000 tallies, in a folder of its own."""
    return copied(whole, tmp_path / "large")


@pytest.fixture
def path(small, tmp_path) -> Path:
    """Return a copy of the small one, in a folder of its own."""
    return copied(small, tmp_path / "closed")


def forget(path: Path):
    with open_season(path) as season:
        return season.forget(DAY, "bench").taken_out


def cells(season) -> Counter:
    """Return tries and dones by all but for who tried and who noted."""
    found = Counter()
    for row in season.log.cells():
        found[row[1:7], "tries"] += row[-2]
        found[row[1:7], "done"] += row[-1]
    return found


def each_apart(season) -> list:
    """Return the tries of each player by skill, and of each observer, of whomever."""
    players, observers = {}, Counter()
    for row in season.log.cells():
        players.setdefault(row[0], Counter())[row[1]] += row[-2]
        observers[row[7]] += row[-2]
    return [sorted(sorted(one.items()) for one in players.values()), sorted(observers.values())]


def test_no_name_is_in_any_byte(large, tablet_home):
    """Of file, journals and tablet; in all cases, composed or not, in UTF-8 and UTF-16."""
    left = large.with_name("lanterns.db.before-version-9")
    shutil.copy(large, left)
    assert where_named(large.parent, *NAMES)
    forget(large)
    assert where_named(large.parent, *NAMES) == where_named(tablet_home, *NAMES) == []
    assert [one.name for one in large.parent.iterdir()] == ["lanterns.db"]
    with closing(sqlite3.connect(large)) as file:
        texts = {text for (text,) in file.execute("SELECT name FROM observer")}
    assert texts == {"Observer 1", "Observer 2"}


def test_the_team_is_as_it_was(whole, large):
    """Every count by skill, practice, step and pressure; each one's tries stay together."""
    forgotten = forget(large)
    assert (forgotten.players, forgotten.observers) == (len(PLAYERS) + 1, len(OBSERVERS))
    with open_season(whole) as before, open_season(large) as after:
        assert after.log.count() == before.log.count() == forgotten.tallies
        assert cells(after) == cells(before)
        assert each_apart(after) == each_apart(before)
        assert after.people.everyone() == after.log.tallies() == []
        assert after.comments.all() == after.turnout.there() == {}
        assert after.plans.every() == after.calendar.all() == []
        assert after.checks.findings() == []
        assert after.life.closed() == DAY
        assert before.life.closed() is None
        assert [one.key for one in after.catalogue.skills()] == [one.key for one in before.catalogue.skills()]


def test_what_is_told_of_the_team_is_told_as_before(tmp_path):
    """Shares, trends and steps, where nobody had left and nobody met anybody."""
    path = noted(tmp_path / "lanterns.db", tallies=600, practices=8)
    with open_season(path) as season:
        before, goals = read_courses(season)
    forget(path)
    with open_season(path) as season:
        after, same = read_courses(season)
    assert [one.skill for one in after] == [one.skill for one in before] != []
    assert same == goals
    for one, other in zip(before, after, strict=True):
        assert other.seen == one.seen
        assert (other.trend, len(other.path), len(other.costs)) == (one.trend, len(one.path), len(one.costs))
        assert other.path[-1].share == pytest.approx(one.path[-1].share, abs=1e-6)


def test_whoever_was_nobody_before_is_another_nobody(path):
    """Tries of a player who was erased count on, and the file says nothing of who is who."""
    with open_season(path) as season:
        season.erase(ZORA.id, keep_counts=True)
    with open_season(path) as season:
        before = each_apart(season)
        ids = {row[0] for row in season.log.cells()}
    forget(path)
    with open_season(path) as season:
        assert each_apart(season) == before
        assert not ids & {row[0] for row in season.log.cells()}


def test_a_rehearsal_changes_nothing(path):
    """It says the same, and everybody is there."""
    before = len(path.read_bytes())
    with open_season(path) as season:
        told = season.forget(DAY, "bench", rehearse=True).taken_out
    assert len(path.read_bytes()) == before
    with open_season(path) as season:
        assert len(season.people.everyone()) == len(PLAYERS) + 1
        assert set(WORDS) & set(season.comments.all().values())
    assert forget(path) == told


def test_no_pack_brings_a_name_back(small, path):
    """It is refused in a sentence; and the pack of the closed season tells others who is to go."""
    with open_season(small) as other:
        pack = read_pack("old", other.packs.pack("other"))
    forget(path)
    with open_season(path) as season:
        with pytest.raises(EvaltrackError, match="was closed"):
            season.packs.join([("old", pack)])
        closed = read_pack("closed", season.packs.pack("bench"))
        ids = {player.id.hex for player in (*PLAYERS, ZORA)}
        assert ids <= {fact[0] for fact in closed.facts["erased"]}


def test_a_season_is_closed_on_every_tablet(small, path, tmp_path):
    """What the first one's pack brings, numbered observers among it, keeps nobody from closing it."""
    other = copied(small, tmp_path / "other")
    forget(path)
    with open_season(path) as season:
        closed = read_pack("closed", season.packs.pack("bench"))
    with open_season(other) as season:
        season.packs.join([("closed", closed)])
    forget(other)
    assert where_named(other.parent, *NAMES) == []


def test_a_backup_from_before_brings_back_as_many_as_it_knows(small, path):
    """Whose tries stay as nobody's is no further player, neither gone nor back."""
    forget(path)
    with open_season(small) as backup:
        lost = lost_by(backup, path)
        assert lost["erased players"] == len(backup.people.everyone())
        assert "players" not in lost


def test_what_a_later_version_keeps_goes_too(path):
    """A table is emptied unless it is named among those that stay."""
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        file.execute("CREATE TABLE photo (player BLOB REFERENCES player (id), title TEXT) STRICT")
        file.execute("INSERT INTO photo SELECT id, name FROM player")
        file.execute("BEGIN")
        forget_children(file, pattern_of_all(file), DAY, "bench", 1)
        tables = [n for (n,) in file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        full = {n for n in tables if file.execute(f"SELECT EXISTS (SELECT 1 FROM {n})").fetchone()[0]}
        file.execute("ROLLBACK")
    assert full <= STAYS
    assert "photo" in tables


def test_a_name_in_words_that_stay_is_struck_out(path):
    """A skill's words belong to the team; the child in them does not."""
    with open_season(path) as season:
        skills = season.catalogue.skills()
        skills[0] = replace(skills[0], looks_like=f"As {ZORA.name} does it, says Tuomo.")
        season.catalogue_changes.set_to(skills, None, [skills[0].key], "bench")
    forget(path)
    with open_season(path) as season:
        assert season.catalogue.skills()[0].looks_like == f"As {STRUCK} does it, says {STRUCK}."


@pytest.mark.skipif(not hasattr(os, "fork"), reason="it takes a process that can be split")
@pytest.mark.parametrize("step", STEPS)
def test_a_killed_closing_is_whole_or_not_at_all(path, monkeypatch, step):
    """Whichever step was about to be taken; and asked for again, it is done."""
    with monkeypatch.context() as patched:
        patched.setattr(erasing, step, lambda *_, **__: kill())
        assert in_a_child(lambda: forget(path))
    with open_season(path) as season:
        there = len(season.people.everyone())
    assert there == (0 if step == "_put_on_disk" else len(PLAYERS) + 1)
    if there:
        forget(path)
    assert where_named(path.parent, *NAMES) == []
