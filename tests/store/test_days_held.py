"""Practices by the day on which they were held, and the tallies that a season file knows."""

from dataclasses import replace
from datetime import date

from lanterns_season import PRACTICES, tally

from evaltrack.rink.ident import new_id, now_ms
from evaltrack.rink.practice import Amendment, Correction, Practice
from evaltrack.rink.tally import Withdrawal


def test_a_day_has_the_practices_that_were_held_on_it_and_count(season):
    """By the day and not by the key, in order of keys, without those set aside."""
    first, second = PRACTICES[0], PRACTICES[1]
    more = Practice(f"{first.key}.2", first.held_on)
    season.practices.add([more])
    season.corrections.add(Correction(second.key, Amendment.TO_DATE, second.held_on, first.held_on))
    assert [one.key for one in season.practices.held_on(first.held_on)] == sorted(
        [first.key, second.key, more.key]
    )
    season.corrections.add(Correction(more.key, Amendment.SET_ASIDE, more.held_on, more.held_on))
    assert more.key not in [one.key for one in season.practices.held_on(first.held_on)]
    assert season.practices.held_on(date(2010, 1, 1)) == []


def test_another_day_does_not_bring_back_what_was_set_aside(season):
    """Two corrections of one practice are two things: a day for a practice that counts for nothing."""
    key, first, second = PRACTICES[0].key, PRACTICES[0].held_on, date(2025, 10, 5)
    season.corrections.add(Correction(key, Amendment.SET_ASIDE, first, first))
    season.corrections.add(Correction(key, Amendment.TO_DATE, first, second))
    (one,) = [one for one in season.practices.every() if one.key == key]
    assert (one.aside, one.held_on) == (True, second)
    season.corrections.add(Correction(key, Amendment.BRING_BACK, second, second))
    assert season.practices.held_on(second) == [replace(PRACTICES[0], held_on=second)]


def test_corrections_come_out_as_they_came(season):
    """Of two tablets by their clocks."""
    key, day = PRACTICES[0].key, PRACTICES[0].held_on
    made = [
        Correction(key, Amendment.SET_ASIDE, day, day, "zamboni", 1_000),
        Correction(key, Amendment.BRING_BACK, day, day, "bench", 2_000),
        Correction(key, Amendment.SET_ASIDE, day, day, "zamboni", 3_000),
    ]
    for correction in made:
        season.corrections.add(correction)
    assert season.corrections.all(key) == season.corrections.all() == made
    assert season.corrections.all(PRACTICES[1].key) == []


def test_a_tally_is_known_wherever_it_is_filed(season):
    """Withdrawn, or in a practice that was set aside: it is there all the same."""
    tallies = [tally(n) for n in range(3)]
    season.log.add_many([], tallies)
    season.log.withdraw(Withdrawal(tallies[0].id))
    key, day = tallies[0].practice, PRACTICES[0].held_on
    season.corrections.add(Correction(key, Amendment.SET_ASIDE, day, day))
    unknown = replace(tallies[0], id=new_id()).id
    assert season.log.known([unknown, *(one.id for one in tallies)]) == {one.id for one in tallies}


def test_a_season_file_knows_when_it_was_made(season):
    """A little while ago, by this machine's clock."""
    assert 0 <= now_ms() - season.created_at < 3_600_000
