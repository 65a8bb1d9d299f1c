"""Who was at a practice: whoever was noted as here, and whoever has a tally there after all corrections.

Cases: noted and gone; a tally by somebody whom nobody noted; one who went off with a tally; tallies given to
another player, whose presence was noted by the app or for a tally alone, and taken back; set aside; moved to
the other practice of a day; who noted how much; any corrections in any order, against a plain model.
"""

from uuid import UUID

from hypothesis import given, settings
from hypothesis import strategies as st
from lanterns_season import PLAYERS, PRACTICES, tally

from evaltrack.rink.practice import Attendance
from evaltrack.rink.tally_correction import Change, Stood, correction_of
from evaltrack.store.opening import open_season

ONE, TWO, THREE = (player.id for player in PLAYERS[:3])
ORDERS = st.randoms(use_true_random=False)
KEY, OTHER = (practice.key for practice in PRACTICES[:2])


def give(season, change: Change, value, *tallies):
    """Put these tallies right and return the correction as the file has it."""
    wanted = correction_of(map(Stood, tallies), change, value, KEY)
    season.tally_corrections.add(wanted)
    return season.tally_corrections.all()[-1]


def there(season, key: str = KEY) -> set[UUID]:
    """Return who was at a practice."""
    return season.turnout.there(key).get(key, set())


def test_who_was_noted_as_here_was_there_and_who_was_noted_as_gone_was_not(season):
    """At each practice by itself, and all of them at once."""
    for practice in PRACTICES:
        season.practices.mark(practice.key, [Attendance(ONE, True, 0), Attendance(TWO, False, 1)])
    assert season.turnout.there() == {practice.key: {ONE} for practice in PRACTICES}
    assert there(season, OTHER) == {ONE}
    assert season.turnout.there("1999-01-01") == {}


def test_whoever_has_a_tally_was_there(season):
    """Somebody whom nobody noted, and one who went off after a try."""
    season.practices.mark(KEY, [Attendance(ONE, True, 0), Attendance(TWO, False, 1)])
    for number, player in enumerate((TWO, THREE)):
        season.log.add(tally(number, practice=KEY, player=player))
    assert there(season) == {ONE, TWO, THREE}


def test_a_tally_given_to_another_player_brings_them_there_and_leaves_who_was_noted(season):
    """The one who was noted as here stays; taken back, all is as before."""
    season.practices.mark(KEY, [Attendance(ONE, True, 0, at=5)])
    noted = tally(0, practice=KEY, player=ONE)
    season.log.add(noted)
    made = give(season, Change.PLAYER, TWO, noted)
    assert there(season) == {ONE, TWO}
    season.tally_corrections.put_in_force(made, False)
    assert there(season) == {ONE}


def test_whoever_is_known_from_loaded_tallies_alone_was_not_there_when_they_were_anothers(season):
    """All of theirs must be away: with one left they were there. Set aside is away too."""
    loaded = [tally(n, practice=KEY, player=ONE) for n in range(2)]
    season.log.add_many([], loaded)
    first = give(season, Change.PLAYER, TWO, loaded[0])
    assert there(season) == {ONE, TWO}
    second = give(season, Change.ASIDE, True, loaded[1])
    assert there(season) == {TWO}
    season.tally_corrections.put_in_force(second, False)
    season.tally_corrections.put_in_force(first, False)
    assert there(season) == {ONE}


def test_tallies_of_another_practice_take_their_players_along(season):
    """Nobody was at the one that is empty now, as far as only tallies told."""
    loaded = [tally(n, practice=KEY, player=player) for n, player in enumerate((ONE, TWO))]
    season.log.add_many([], loaded)
    made = give(season, Change.PRACTICE, OTHER, *loaded)
    assert (there(season), there(season, OTHER)) == (set(), {ONE, TWO})
    season.tally_corrections.put_in_force(made, False)
    assert (there(season), there(season, OTHER)) == ({ONE, TWO}, set())


def test_of_some_practices_just_those_are_told(season):
    """One, several or all: a tally that was moved counts where it stands now, and nowhere else."""
    loaded = [tally(n, practice=KEY, player=player) for n, player in enumerate((ONE, TWO))]
    season.log.add_many([], loaded)
    give(season, Change.PRACTICE, OTHER, loaded[0])
    assert season.turnout.there(KEY) == {KEY: {TWO}}
    assert season.turnout.there(OTHER) == {OTHER: {ONE}}
    assert season.turnout.there(KEY, OTHER) == season.turnout.there() == {KEY: {TWO}, OTHER: {ONE}}


def test_each_observers_tallies_are_counted_as_they_stand(season):
    """By practice; those that were set aside count no more."""
    made = [tally(n, practice=KEY, observer=("Ines", "Tuomo")[n % 2]) for n in range(5)]
    season.log.add_many([], made)
    assert season.turnout.by_observer() == {(KEY, "Ines"): 3, (KEY, "Tuomo"): 2}
    give(season, Change.ASIDE, True, made[0])
    give(season, Change.PRACTICE, OTHER, made[1])
    assert season.turnout.by_observer() == {(KEY, "Ines"): 2, (KEY, "Tuomo"): 1, (OTHER, "Tuomo"): 1}


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 3), st.sampled_from([ONE, TWO, THREE, True])), max_size=6), ORDERS)
def test_any_corrections_taken_back_in_any_order_leave_nothing_behind(make_season, moves, orders):
    """At each moment those with a tally that counts were there; in the end all is as before."""
    loaded = [tally(n, practice=KEY, player=(ONE, TWO)[n % 2]) for n in range(4)]
    with open_season(make_season()) as season:
        season.log.add_many([], loaded)
        for at, value in moves:
            change = Change.ASIDE if value is True else Change.PLAYER
            stands = [one for one in season.log.stands(KEY) if one.tally.id == loaded[at].id]
            wanted = correction_of(stands, change, value, KEY)
            if wanted:
                season.tally_corrections.add(wanted)
            assert there(season) == {one.player for one in season.log.tallies(KEY)}
        made = season.tally_corrections.all()
        for one in orders.sample(made, len(made)):
            season.tally_corrections.put_in_force(one, False)
            assert there(season) == {one.player for one in season.log.tallies(KEY)}
        assert there(season) == {ONE, TWO}
