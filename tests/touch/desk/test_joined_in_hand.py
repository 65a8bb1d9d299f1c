"""Packs that are joined while the app has the season in hand.

Cases: tallies count on at once and nothing else changes; a practice that gets another key is tapped in under
that one; a player who joined there is known here; a pack that is refused changes nothing.
"""

import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from seasons_for_touch import new_season

from evaltrack.errors import EvaltrackError
from evaltrack.rink.ident import new_id
from evaltrack.rink.player import Player, Position
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import read_pack
from evaltrack.touch.desk.desk import Desk

DAY = date(2026, 1, 20)


@pytest.fixture
def desk(tmp_path):
    """Return a desk in a practice, everyone here."""
    found = Desk()
    assert found.open(new_season(tmp_path / "season.db"))
    assert found.begin(DAY, found.players, "breakout_attack", "two_on_one", "Ines")
    yield found
    found.close()


@pytest.fixture
def other(desk, tmp_path):
    """Return the season on another tablet, as it was when the practice had begun."""
    desk.rest()
    with open_season(shutil.copy(desk.season.path, tmp_path / "other.db")) as season:
        yield season


def pack(season):
    return read_pack("news", season.packs.pack("other"))


def tallied(desk, season, count: int = 3) -> None:
    for _ in range(count):
        tally = desk.tally(desk.here()[0].id, Outcome.DONE)
        desk.undo()
        season.log.add(replace(tally, id=new_id(), tablet="other"))


def test_tallies_of_another_tablet_count_at_once(desk, other):
    """Beside one's own, which can still be undone and done again."""
    desk.take_in("news", pack(other))  # what every field was, which both have
    tallied(desk, other)
    player, counted = desk.here()[0].id, []
    desk.bind(on_counted=lambda *_: counted.append(desk.others))
    practice = desk.practice
    assert desk.take_in("news", pack(other)).new["tally"] == 3
    assert (counted, desk.others, desk.count(player, Outcome.DONE)) == ([3], 3, 3)
    assert desk.practice is practice
    assert desk.undone.last
    assert desk.take_in("news", pack(other)).new.total() == 0
    assert counted == [3]


def test_taps_go_on_in_a_practice_that_has_another_key_now(desk, tmp_path):
    """Two practices of a day that both called the same: no tap goes to the other one's."""
    path = new_season(tmp_path / "again.db")
    desk.close()
    theirs = Path(shutil.copy(path, tmp_path / "theirs.db"))
    with open_season(theirs) as season:
        from lanterns_season import station

        from evaltrack.rink.practice import Attendance, Practice

        early = desk.now() - 6 * 3_600_000
        who = season.people.players()
        marks = [Attendance(player.id, True, n, early) for n, player in enumerate(who)]
        skill = next(iter(season.catalogue.skills())).key
        first = replace(
            station(practice=DAY.isoformat(), tablet="other", at=early), skill=skill,
            drill="breakout_attack", step="two_on_one",
        )  # fmt: skip
        season.practices.begin(Practice(DAY.isoformat(), DAY, started_at=early), marks, first)
        assert desk.open(path)
        assert desk.begin(DAY, desk.players, "breakout_attack", "two_on_one", "Ines")
        before = desk.tally(desk.here()[0].id, Outcome.DONE)
        desk.take_in("news", pack(season))
    assert desk.practice.key == f"{before.practice}.2" == desk.station.practice
    assert desk.tally(desk.here()[0].id, Outcome.DONE).practice == desk.practice.key
    assert desk.season.log.counts() == {desk.practice.key: 2}
    assert desk.total == 2


def test_who_joined_there_is_known_here(desk, other):
    """In the roster, and the practice goes on."""
    new = Player("77", "Wren Alder", Position.FORWARD, id=new_id())
    other.people.change([new], DAY, "other")
    desk.take_in("news", pack(other))
    assert new.id in {player.id for player in desk.players}
    assert desk.practice
    assert desk.station


def test_a_pack_that_is_refused_changes_nothing(desk, other):
    """And says why."""
    tallied(desk, other, 1)
    wrong = pack(other)
    wrong.facts["tally"][0][2] = "00" * 16
    with pytest.raises(EvaltrackError, match="nothing was taken in"):
        desk.take_in("news", wrong)
    assert desk.others == 0
