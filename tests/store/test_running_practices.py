"""Which practices run, when they were heard of last, and who was at them."""

from dataclasses import replace
from datetime import date

import pytest
from lanterns_season import PLAYERS, PRACTICES, station, tally

from evaltrack.rink.practice import Amendment, Attendance, Correction, Practice, Surface
from evaltrack.rink.tally import Withdrawal

SATURDAY, SUNDAY = (Practice(f"2025-11-0{day}", date(2025, 11, day)) for day in (1, 2))


def begin(season, practice: Practice, tablet: str = "bench", at: int = 1_762_000_000_000) -> None:
    """Start a practice at a tablet, with the first player here."""
    marks = [Attendance(PLAYERS[0].id, True, 0, at)]
    season.practices.begin(practice, marks, station(practice=practice.key, tablet=tablet, at=at))


def ended(season) -> dict[str, int | None]:
    """Return when each practice of that weekend ended, by its key."""
    days = (SATURDAY.key, SUNDAY.key)
    return {one.key: one.ended_at for one in season.practices.every() if one.key in days}


def test_a_start_ends_what_this_tablet_alone_was_in(season):
    """At the moment of the start; the practice that begins runs."""
    begin(season, SATURDAY, at=1_000)
    begin(season, SUNDAY, at=2_000)
    assert ended(season) == {SATURDAY.key: 2_000, SUNDAY.key: None}


@pytest.mark.parametrize("other", ["another", "zamboni"])
def test_a_start_leaves_alone_what_another_tablet_is_in(season, other):
    """Alone or together with this one, whichever name comes first in the alphabet."""
    begin(season, SATURDAY, other, at=1_000)
    begin(season, SUNDAY, at=2_000)
    assert ended(season)[SATURDAY.key] is None
    begin(season, SATURDAY, at=3_000)
    begin(season, SUNDAY, at=4_000)
    assert ended(season)[SATURDAY.key] is None


def test_a_start_does_not_move_the_end_of_what_was_ended(season):
    """Whoever ended it has said when."""
    begin(season, SATURDAY, at=1_000)
    season.practices.end(SATURDAY.key, 1_500)
    begin(season, SUNDAY, at=2_000)
    assert ended(season)[SATURDAY.key] == 1_500


def test_a_practice_that_is_gone_on_with_keeps_its_start(season):
    """It runs again, on as much ice as there is now."""
    begin(season, replace(SATURDAY, started_at=1_000))
    season.practices.end(SATURDAY.key, 1_500)
    begin(season, replace(SATURDAY, started_at=2_000, surface=Surface.HALF))
    practice, _ = season.practices.running_at("bench")
    assert practice == replace(SATURDAY, started_at=1_000, surface=Surface.HALF)


def test_a_practice_that_was_set_aside_runs_nowhere(season):
    """Neither for the file nor for the tablet that was in it; brought back, it runs for both."""
    begin(season, SATURDAY)
    for change, runs in ((Amendment.SET_ASIDE, False), (Amendment.BRING_BACK, True)):
        season.corrections.add(Correction(SATURDAY.key, change, SATURDAY.held_on, SATURDAY.held_on))
        assert bool(season.practices.running()) is runs
        assert bool(season.practices.running_at("bench")) is runs


def test_a_practice_was_heard_of_last_with_whatever_its_tablet_wrote(season):
    """A tally, its withdrawal or what is watched; never by what another tablet wrote of it."""
    begin(season, SATURDAY, at=1_000)

    def last() -> int:
        return season.practices.last_moment(SATURDAY.key, "bench")

    assert last() == 1_000
    season.log.add(tally(0, practice=SATURDAY.key, at=2_000))
    assert last() == 2_000
    season.log.add(tally(1, practice=SATURDAY.key, at=9_000, tablet="other"))
    season.log.withdraw(Withdrawal(tally(0).id, "other", 9_000))
    assert last() == 2_000
    season.log.withdraw(Withdrawal(tally(1).id, "bench", 3_000))
    assert last() == 3_000
    season.practices.watch(station(practice=SATURDAY.key, at=4_000))
    assert last() == 4_000
    assert season.practices.last_moment(SATURDAY.key, "third") is None


def test_a_player_keeps_the_place_that_he_has(season):
    """Whatever place comes with a later note; where others point to it, it must not move."""
    key, player = PRACTICES[0].key, PLAYERS[0].id
    season.practices.mark(key, [Attendance(player, True, 2, 1_000)])
    season.practices.mark(key, [Attendance(player, False, 5, 2_000)])
    assert season.practices.attendance(key) == [Attendance(player, False, 2, 2_000)]
