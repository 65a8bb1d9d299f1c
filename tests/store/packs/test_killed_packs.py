"""A process that is killed while it packs or joins leaves what was before, or what is after.

Cases: a join killed at many of its statements; a pack killed before and while its file takes its place.
"""

import os
import shutil
import signal
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from lanterns_season import PLAYERS, station, tally
from planned_cards import DAY
from three_tablets import NOON, shared

from evaltrack import private_file
from evaltrack.intake.saving import save
from evaltrack.rink.ident import new_id
from evaltrack.rink.practice import Attendance, Practice
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import read_pack

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="it takes a process that can be split")
KEY = DAY.isoformat()


def kill() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def in_a_child(act) -> bool:
    """Do something in a process of its own; say whether it was killed."""
    child = os.fork()
    if child == 0:
        try:
            act()
        finally:
            os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL


def content(path: Path) -> dict[str, list]:
    """Return all that tablets share, of a file that must be sound."""
    open_season(path).close()
    with closing(sqlite3.connect(path)) as file:
        assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert file.execute("PRAGMA foreign_key_check").fetchall() == []
        return shared(file)


def test_a_join_is_there_whole_or_not_at_all(pair, tmp_path):
    """Whichever statement is the last one; and joined again it is there."""
    for season, name, at in ((pair.one, "one", NOON), (pair.two, "two", NOON + 10**8 // 4)):
        marks = [Attendance(player.id, True, n, at) for n, player in enumerate(PLAYERS)]
        season.practices.begin(Practice(KEY, DAY), marks, station(practice=KEY, tablet=name, at=at))
        season.log.add_many([], [tally(n, practice=KEY, tablet=name, id=new_id()) for n in range(5)])
    pack = [("1", read_pack("1", pair.one.packs.pack("one", at=NOON)))]
    pair.two.close()
    before, (done,) = content(pair.paths[1]), [Path(shutil.copy(pair.paths[1], tmp_path / "done.db"))]
    asked = []
    with open_season(done) as season:
        season._connection.set_trace_callback(asked.append)
        season.packs.join(pack, now=NOON)
        season._connection.set_trace_callback(None)
    after = content(done)
    assert before != after
    changing = [n for n, sql in enumerate(asked) if sql.startswith(("INSERT", "UPDATE", "DELETE", "COMMIT"))]
    deadly = [*changing[:: max(1, len(changing) // 12)], changing[-1]]
    for nth in deadly:
        path = Path(shutil.copy(pair.paths[1], tmp_path / f"{nth}.db"))

        def act(path=path, nth=nth) -> None:
            season, left = open_season(path), iter(range(nth))
            season._connection.set_trace_callback(lambda _: next(left, None) is None and kill())
            season.packs.join(pack, now=NOON)

        assert in_a_child(act)
        assert content(path) == before, "its last statement was no commit"
        with open_season(path) as season:
            season.packs.join(pack, now=NOON)
        assert content(path) == after
    assert asked[changing[-1]] == "COMMIT"
    committed = Path(shutil.copy(pair.paths[1], tmp_path / "committed.db"))

    def join_and_be_killed() -> None:
        open_season(committed).packs.join(pack, now=NOON)
        kill()

    assert in_a_child(join_and_be_killed)
    assert content(committed) == after


@pytest.mark.parametrize("moment", ["fsync", "before its place", "in its place"])
def test_a_pack_file_is_there_whole_or_not_at_all(pair, tmp_path, monkeypatch, moment):
    """An earlier pack of the name stays until the new one is whole."""
    target, earlier = tmp_path / "a.pack", pair.one.packs.pack("one", at=NOON)
    save(target, earlier)
    pair.one.log.add(tally(1))
    later, put = pair.one.packs.pack("one", at=NOON), private_file._put

    def at_the_moment(*paths) -> None:
        if moment == "in its place":
            put(*paths)
        kill()

    if moment == "fsync":
        monkeypatch.setattr(os, "fsync", lambda _: kill())
    monkeypatch.setattr(private_file, "_put", at_the_moment)
    assert in_a_child(lambda: save(target, later))
    assert target.read_bytes() == (later if moment == "in its place" else earlier)
