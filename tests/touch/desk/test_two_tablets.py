"""Two tablets at the bench of one season, each with its own desk: what each finds after the other's pack.

Cases: both in one practice; a morning and an evening practice of one day, the evening's board gone on with
under its new key.
"""

import shutil
from datetime import date, datetime
from pathlib import Path

import pytest

from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import read_pack
from evaltrack.touch.desk.desk import Desk

TODAY = date(2025, 11, 12)
KEY = TODAY.isoformat()


class Bench:
    """A tablet with its settings, its copy of the season and a clock that stands at an hour of the day."""

    def __init__(self, name: str, path: Path, hour: int, monkeypatch):
        self.home, self.path, self._monkeypatch = path.with_name(f"home-{name}"), path, monkeypatch
        self.now = int(datetime(2025, 11, 12, hour).timestamp() * 1000)

    def desk(self) -> Desk:
        """Open the season, as a start of the app does."""
        self._monkeypatch.setenv("EVALTRACK_HOME", str(self.home))
        desk = Desk(clock=self._clock)
        assert desk.open(self.path), desk.message
        return desk

    def _clock(self) -> int:
        self.now += 1000
        return self.now

    def tap(self, count: int) -> str:
        """Start the practice of the day, or go on with it, and tap so often; return the tablet's id."""
        desk = self.desk()
        if not desk.practice:
            assert desk.begin(TODAY, desk.players[:-1], "breakout_attack", "two_on_one", "Ines")
        for n in range(count):
            desk.tally(desk.players[n].id, Outcome.DONE)
        tablet = desk.tablet.id
        desk.close()
        return tablet

    def pack(self):
        """Return what this tablet has."""
        with open_season(self.path) as season:
            return read_pack(self.home.name, season.packs.pack(self.home.name))

    def join(self, pack) -> None:
        """Take in what another tablet has."""
        with open_season(self.path) as season:
            season.packs.join([("pack", pack)], now=self.now)


@pytest.fixture
def benches(season_path, tmp_path, monkeypatch):
    """Return a maker of two tablets with copies of one season, at two hours of the day."""

    def made(*hours: int) -> list[Bench]:
        paths = [Path(shutil.copy(season_path, tmp_path / f"{hour}-{n}.db")) for n, hour in enumerate(hours)]
        return [Bench(f"{n}", path, hours[n], monkeypatch) for n, path in enumerate(paths)]

    return made


def swap(one: Bench, other: Bench) -> None:
    packs = one.pack(), other.pack()
    one.join(packs[1])
    other.join(packs[0])


def test_two_tablets_in_one_practice_each_go_on_where_they_were(benches):
    """Tiles count the tallies of both, undo takes back one's own, and the practice is one."""
    one, other = benches(18, 18)
    mine, theirs = one.tap(4), other.tap(2)
    assert mine != theirs
    swap(one, other)
    for bench, own, count in ((one, mine, 4), (other, theirs, 2)):
        desk = bench.desk()
        assert (desk.practice.key, desk.tablet.id) == (KEY, own)
        assert [len(desk.season.log.tallies(KEY)), desk.total] == [6, count]
        first = desk.players[0].id
        assert desk.count(first, Outcome.DONE) == 2
        assert desk.undo().tablet == own
        desk.close()
    swap(one, other)
    for bench in (one, other):
        with open_season(bench.path) as season:
            assert [practice.key for practice in season.practices.every()] == [KEY]
            assert season.log.count() == 4


def test_the_evenings_board_goes_on_under_its_new_key(benches):
    """The morning was another tablet's; what is tapped after the join is the evening's all the same."""
    morning, evening = benches(9, 18)
    morning.tap(3)
    tablet = evening.tap(2)
    swap(morning, evening)
    desk = evening.desk()
    assert (desk.practice.key, desk.tablet.id) == (f"{KEY}.2", tablet)
    assert desk.total == 2
    desk.tally(desk.players[5].id, Outcome.MISSED)
    assert desk.end()
    desk.close()
    swap(morning, evening)
    for bench in (morning, evening):
        with open_season(bench.path) as season:
            assert season.log.counts() == {KEY: 3, f"{KEY}.2": 3}
            assert [one.ended_at is None for one in season.practices.held_on(TODAY)] == [True, False]
