"""A process that is killed at any step of a backup or a restore leaves the state before or the one after."""

import os

import pytest
from backup_killing import kill_each
from lanterns_season import tally

from evaltrack.store.backups.keeping import write_backup
from evaltrack.store.opening import open_season

pytestmark = pytest.mark.skipif(os.name == "nt", reason="the processes are forked")
# acts on files; what is imported on the way counts among them
OF_RESTORE = [str(step) for step in (1, 20, 40, 50, 54, 58, 62, 66, 70, 73, 75, 77, 80, 400)]
OF_BACKUP = [str(step) for step in (1, 6, 10, 12, 14, 16, 18, 400)]


@pytest.fixture
def season_and_backup(season_path, tmp_path):
    """Return a season with five tallies, and a backup of it with three."""
    backup = tmp_path / "backup.db"
    with open_season(season_path) as season:
        season.log.add_many([], [tally(n) for n in range(3)])
        write_backup(season, backup)
        season.log.add_many([], [tally(n) for n in range(3, 5)])
    return season_path, backup


def test_killed_at_each_step_of_a_restore(season_and_backup, tmp_path):
    """Five tallies or three, never another count; with three, the five are kept."""
    left = kill_each("restore", OF_RESTORE, *season_and_backup, tmp_path)
    assert [one.wrong for one in left] == [()] * len(left)
    assert {one.tallies for one in left} == {3, 5}
    assert {one.ended for one in left} == {"killed", "done"}
    assert all(5 in one.backups for one in left if one.tallies == 3)


def test_killed_at_each_step_of_a_backup(season_and_backup, tmp_path):
    """The season is untouched, and a backup is there whole or not at all."""
    left = kill_each("backup", OF_BACKUP, *season_and_backup, tmp_path)
    assert [one.wrong for one in left] == [()] * len(left)
    assert {one.tallies for one in left} == {5}
    assert {one.backups for one in left} == {(), (5,)}
