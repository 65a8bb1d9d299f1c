"""How many tallies of a season are tries that count, and what the others are: noted so, or put right so."""

from dataclasses import replace
from datetime import date

import pytest
from lanterns_season import PLAYERS, PRACTICES, SKILLS, tally

from evaltrack.rink.player import Status
from evaltrack.rink.tally import Outcome
from evaltrack.rink.tally_correction import Change, Stood, correction_of
from evaltrack.rink.tally_sum import TallySum

KEY, OTHER = (practice.key for practice in PRACTICES[:2])
ONE, TWO, GONE = PLAYERS[0].id, PLAYERS[2].id, PLAYERS[4].id


def give(season, change: Change, value, *tallies):
    """Put these tallies right."""
    season.tally_corrections.add(correction_of(map(Stood, tallies), change, value, KEY))


@pytest.fixture
def season_now(season):
    """Return a season in which the outlet pass has other words, the wall puck is retired, and one has left.

    Of each kind there are as many tallies as its place tells: 1 try, 2 unseen, 3 under earlier words, 4 in a
    skill that is retired, 5 of who left.
    """
    kinds = [
        (1, {"skill": "shot_on_net"}),
        (2, {"skill": "shot_on_net", "outcome": Outcome.UNSEEN}),
        (3, {"skill": "outlet_pass"}),
        (4, {"skill": "wall_puck_feet"}),
        (5, {"skill": "shot_on_net", "player": GONE}),
    ]
    made = [tally(10 * n + m, **values) for n, values in kinds for m in range(n)]
    season.log.add_many([], made)
    outlet, _, shot = SKILLS
    words = replace(outlet, definition=replace(outlet.definition, done="It is on the tape."))
    season.catalogue_changes.set_to([words, shot], None, (), "t")
    season.people.change([replace(PLAYERS[4], status=Status.LEFT)], date(2026, 1, 13), "t")
    return season, made


def test_every_tally_is_of_one_kind(season_now):
    """By practice and in all; of one player only theirs."""
    season, _ = season_now
    whole = TallySum(tries=1, unseen=2, earlier=7, left=5)
    assert season.tally_sums.by_practice() == {KEY: whole}
    assert season.tally_sums.of_season() == whole
    assert season.tally_sums.of_season(ONE) == replace(whole, left=0)
    assert season.tally_sums.of_season(GONE) == TallySum(left=5)


def test_what_was_put_right_is_counted_as_it_stands(season_now):
    """Given to another player, or to one who has left; unseen and earlier words stay what they are."""
    season, made = season_now
    give(season, Change.PLAYER, TWO, *made)
    assert season.tally_sums.of_season() == TallySum(tries=6, unseen=2, earlier=7)
    assert season.tally_sums.of_season(ONE) == TallySum()
    give(season, Change.PLAYER, GONE, *made[:3])
    assert season.tally_sums.of_season(GONE) == TallySum(unseen=2, left=1)
    assert season.tally_sums.of_season(TWO) == TallySum(tries=5, earlier=7)
    give(season, Change.PRACTICE, OTHER, made[0])
    assert season.tally_sums.by_practice()[OTHER] == TallySum(left=1)
