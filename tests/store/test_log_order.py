"""The log only grows, and the order in which facts arrive never matters.

Cases: any tallies and withdrawals, twice over in two orders, give the same log and the cells that plain
counting gives; adding twice; withdrawing before, twice, and what is not there; cells up to a date.
"""

import shutil
from collections import Counter
from dataclasses import replace
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lanterns_season import DRILLS, OBSERVERS, PLAYERS, PRACTICES, SKILLS, STEPS, definition, tally

from evaltrack.rink.player import Position
from evaltrack.rink.practice import Amendment, Correction, Rep
from evaltrack.rink.rotation.running import RunningRotation
from evaltrack.rink.tally import Outcome, Tally, Withdrawal
from evaltrack.store.log import CELL_COLUMNS
from evaltrack.store.opening import open_season

HELD_ON = {practice.key: practice.held_on.isoformat() for practice in PRACTICES}
VERSIONS = {"outlet_pass": 1, "wall_puck_feet": 1, "shot_on_net": 2}


@pytest.fixture(scope="module")
def two_versions(season_template, tmp_path_factory) -> Path:
    """Return a season file in which the definition of shot_on_net was changed once."""
    path = Path(shutil.copy(season_template, tmp_path_factory.mktemp("versions") / "lanterns.db"))
    with open_season(path) as season:
        season.catalogue.write([replace(SKILLS[2], definition=definition("In."))], [])
    return path


@st.composite
def facts(draw) -> list[Tally | Withdrawal]:
    """Draw tallies with distinct ids, and withdrawals of some of them and of one that never comes."""
    n_tallies = draw(st.integers(0, 12))
    tallies = [draw(tallies_numbered(n)) for n in range(n_tallies)]
    withdrawn = draw(st.sets(st.integers(0, n_tallies), max_size=4))
    return [*tallies, *(Withdrawal(UUID(int=1000 + n), "bench", at=n) for n in withdrawn)]


@st.composite
def tallies_numbered(draw, n: int) -> Tally:
    """Draw a tally out of few players, skills, practices and steps, so that cells hold several."""
    skill = draw(st.sampled_from(sorted(VERSIONS)))
    drill, step = draw(st.sampled_from(STEPS))
    return tally(
        n,
        draw(st.sampled_from(Outcome)),
        player=draw(st.sampled_from(PLAYERS[:2])).id,
        practice=draw(st.sampled_from(sorted(HELD_ON))),
        skill=skill,
        skill_version=draw(st.integers(1, VERSIONS[skill])),
        drill=drill,
        step=step,
        pressure=draw(st.sampled_from([None, True, False])),
        observer=draw(st.sampled_from(OBSERVERS)),
    )


@settings(max_examples=30, deadline=None)
@given(facts=facts(), data=st.data())
def test_any_order_and_repeats_give_the_same_log_and_cells(two_versions, facts, data):
    """Tallies and withdrawals in any two orders with repeats: one log, and the cells counted by hand."""
    repeats = data.draw(st.lists(st.sampled_from(facts), max_size=4)) if facts else []
    orders = [data.draw(st.permutations(facts + repeats)) for _ in range(2)]
    withdrawn = {fact.tally for fact in facts if isinstance(fact, Withdrawal)}
    counted = [fact for fact in facts if isinstance(fact, Tally) and fact.id not in withdrawn]
    for order in orders:
        log, cells = _arrive(two_versions, order)
        assert log == counted
        assert _by_name(cells) == _cells_by_hand(counted)
        assert len(cells) == len(_by_name(cells))


@settings(max_examples=15, deadline=None)
@given(facts=facts())
def test_no_try_is_lost_or_made(two_versions, facts):
    """Summed over all cells, tries and dones are those of the tallies that count."""
    withdrawn = {fact.tally for fact in facts if isinstance(fact, Withdrawal)}
    tries = [
        fact.outcome
        for fact in facts
        if isinstance(fact, Tally)
        and fact.id not in withdrawn
        and fact.outcome is not Outcome.UNSEEN
        and fact.skill_version == VERSIONS[fact.skill]
    ]
    _, cells = _arrive(two_versions, facts)
    assert sum(cell[CELL_COLUMNS.index("tries")] for cell in cells) == len(tries)
    assert sum(cell[CELL_COLUMNS.index("done")] for cell in cells) == tries.count(Outcome.DONE)


def _arrive(file: Path, order: list) -> tuple[list[Tally], list[tuple]]:
    with TemporaryDirectory() as folder, open_season(shutil.copy(file, folder)) as season:
        for fact in order:
            season.log.withdraw(fact) if isinstance(fact, Withdrawal) else season.log.add(fact)
        log = season.log.tallies()
        assert season.log.count() == len(log)
        return log, season.log.cells()


def _by_name(cells: list[tuple]) -> dict[tuple, tuple[int, int]]:
    return {cell[:-2]: cell[-2:] for cell in cells}


def _cells_by_hand(tallies: list[Tally]) -> dict[tuple, tuple[int, int]]:
    tries, done = Counter(), Counter()
    for t in tallies:
        if t.outcome is Outcome.UNSEEN or t.skill_version != VERSIONS[t.skill]:
            continue
        pressure = None if t.pressure is None else int(t.pressure)
        day = HELD_ON[t.practice]
        key = (t.player.bytes, t.skill, t.practice, day, t.drill, t.step, pressure, t.observer, None)
        tries[key] += 1
        done[key] += t.outcome is Outcome.DONE
    return {key: (tries[key], done[key]) for key in tries}


@pytest.mark.parametrize(
    "wanted",
    [{}, {"practice": PRACTICES[0].key}, {"player": PLAYERS[0].id}],
    ids=["all", "of a practice", "of a player"],
)
def test_the_log_goes_by_what_was_made_first_whatever_the_clock_said(season, wanted):
    """A clock that was set back, and tallies that arrive late, leave the order in which they were made."""
    made = [
        tally(n, at=1_759_600_000_000 + moment, tablet=("stand", "bench")[n % 2])
        for n, moment in enumerate((5000, 9000, 1000, 1000, 4000))
    ]
    for one in (made[3], made[0], made[4], made[2], made[1]):
        season.log.add(one)
    assert season.log.tallies(**wanted) == made


def test_adding_many_twice_adds_nothing(season):
    """Loading the same tallies again reports no new one and leaves the log alone."""
    tallies = [tally(n) for n in range(5)]
    assert season.log.add_many(PRACTICES, tallies) == 5
    assert season.log.add_many(PRACTICES, [*tallies, tally(5)]) == 1
    assert season.log.tallies() == [*tallies, tally(5)]


def test_adding_many_counts_a_tally_named_twice_once(season):
    """A tally that comes twice in one load is new once."""
    assert season.log.add_many([], [tally(0), tally(0)]) == 1


def test_presence_does_not_hang_on_the_order_of_arrival(season_template, tmp_path):
    """A player with a tally was there from the first one, in whatever order the tallies arrive."""
    seen = []
    for name, order in (("a", [4, 2, 3]), ("b", [2, 3, 4])):
        with open_season(shutil.copy(season_template, tmp_path / name)) as season:
            season.log.add_many([], [tally(n) for n in order])
            seen.append(season.practices.attendance(PRACTICES[0].key))
    assert seen[0] == seen[1]
    assert [a.at for a in seen[0]] == [tally(2).at]


def test_everyone_who_comes_with_a_load_gets_a_place_of_his_own(season):
    """Nobody is left out because a place is taken."""
    season.log.add_many([], [tally(n, player=player.id) for n, player in enumerate(PLAYERS[:3])])
    found = season.practices.attendance(PRACTICES[0].key)
    assert {one.player for one in found} == {player.id for player in PLAYERS[:3]}
    assert [one.place for one in found] == [0, 1, 2]


def test_the_count_leaves_out_a_practice_that_was_set_aside(season):
    """As the list of all tallies and the cells do; asked for by its key, its tallies are there."""
    season.log.add_many([], [tally(0), tally(1, practice=PRACTICES[1].key)])
    key, day = PRACTICES[0].key, PRACTICES[0].held_on
    season.corrections.add(Correction(key, Amendment.SET_ASIDE, day, day))
    assert season.log.count() == len(season.log.tallies()) == len(season.log.cells()) == 1
    assert season.log.tallies(player=PLAYERS[0].id) == [tally(1, practice=PRACTICES[1].key)]
    assert season.log.tallies(practice=key) == [tally(0)]


def test_the_newest_identifier_of_a_tablet_is_of_a_tally_or_a_rep(season):
    """Whichever it made last, and none of another tablet."""
    assert season.log.newest("bench") is None
    season.log.add_many([], [tally(0), tally(1, tablet="other")])
    assert season.log.newest("bench") == tally(0).id
    players = [player for player in PLAYERS if player.position is not Position.GOALIE]
    rep = Rep(PRACTICES[0].key, *STEPS[0], {}, "bench", id=UUID(int=5000))
    season.reps.begin(*_first_of(rep, players))
    assert season.log.newest("bench") == rep.id


def _first_of(rep: Rep, players: list) -> tuple:
    line, fact = RunningRotation.first(DRILLS, rep, players)
    return line.rep, fact


def test_a_withdrawal_may_arrive_before_its_tally(season):
    """An undo that overtakes its tally on the way from another tablet still takes it back."""
    season.log.withdraw(Withdrawal(tally(0).id))
    season.log.add(tally(0))
    assert season.log.tallies() == []
    assert season.log.cells() == []
    assert season.log.count() == 0


def test_withdrawing_twice_is_withdrawing_once(season):
    """Two undos of one tally take one tally back, not two."""
    season.log.add_many([], [tally(0), tally(1)])
    for at in (1, 2):
        season.log.withdraw(Withdrawal(tally(1).id, at=at))
    assert season.log.tallies() == [tally(0)]


def test_cells_end_with_the_day_asked_for(season):
    """Cells as of a day hold that day's practice and none after it."""
    season.log.add_many([], [tally(0), tally(1, Outcome.MISSED), tally(2, practice=PRACTICES[1].key)])
    column = CELL_COLUMNS.index
    first, *rest = season.log.cells(as_of=date(2025, 10, 4))
    assert not rest
    assert (first[column("tries")], first[column("done")]) == (2, 1)
    assert season.log.cells(as_of=date(2025, 10, 3)) == []
    assert len(season.log.cells(as_of=date(2025, 10, 11))) == len(season.log.cells()) == 2
