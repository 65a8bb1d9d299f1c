"""Tallies put right and back again, in any order: the file agrees with a model in plain Python.

Cases: random corrections of every kind, taken back and made again, tallies added, withdrawn and loaded twice,
practices re-dated and set aside; what each reading of the log says; the same file opened anew.
"""

import sqlite3
from collections import Counter
from contextlib import closing
from dataclasses import replace
from datetime import date
from uuid import UUID

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from lanterns_season import OBSERVERS, PLAYERS, PRACTICES, SKILLS, STEPS, tally

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.errors import SeasonFileError
from evaltrack.paper.tables.practices import read_held
from evaltrack.rink.practice import Amendment, Correction
from evaltrack.rink.tally import Outcome, Withdrawal
from evaltrack.rink.tally_correction import Change, Stood, TallyCorrection, correction_of
from evaltrack.rink.tally_sum import TallySum
from evaltrack.store.opening import open_season

FIRST, SECOND = (practice.key for practice in PRACTICES)
GROWS = ("tally", "withdrawal", "tally_correction", "corrected_tally", "correction_force", "correction")
VALUES = {
    Change.PLAYER: [player.id for player in PLAYERS],
    Change.SKILL: [(skill.key, 1) for skill in SKILLS],
    Change.OUTCOME: list(Outcome),
    Change.STEP: STEPS,
    Change.PRESSURE: [None, True, False],
    Change.PRACTICE: [FIRST, SECOND],
    Change.ASIDE: [True, False],
}
any_change = st.sampled_from([(change, value) for change, values in VALUES.items() for value in values])


def facts(path) -> dict[str, set]:
    """Return every row of the tables that only grow, read by a connection of its own."""
    with closing(sqlite3.connect(path)) as file:
        return {table: set(file.execute(f"SELECT * FROM {table}")) for table in GROWS}


class Model:
    """What was noted, in lists and dicts: worked out anew from all of it at each question."""

    def __init__(self):
        self.noted, self.withdrawn, self.corrections = {}, set(), []
        self.days = {practice.key: practice.held_on for practice in PRACTICES}
        self.aside = set()

    def stands(self) -> list[dict]:
        """Return each tally that was not withdrawn as a dict, with what is in force of its corrections."""
        found = []
        for ident, noted in sorted(self.noted.items()):
            now = dict(noted)
            for correction in self.corrections:
                if correction["in_force"] and ident in correction["tallies"]:
                    now.update(correction["becomes"])
            if ident not in self.withdrawn:
                found.append(now)
        return found

    def cells(self) -> Counter:
        """Return tries and dones by what a cell is of."""
        count = Counter()
        for one in self.stands():
            if one["aside"] or one["practice"] in self.aside or one["outcome"] == "unseen":
                continue
            day = self.days[one["practice"]].isoformat()
            names = ("player", "skill", "practice", "drill", "step", "pressure", "observer")
            key = (day, *(one[name] for name in names))
            count[(*key, "tries")] += 1
            count[(*key, "done")] += one["outcome"] == "done"
        return +count


def as_dict(one) -> dict:
    """Return a tally as the model has it."""
    names = ("player", "skill", "practice", "drill", "step", "pressure", "observer", "outcome", "rep", "at")
    return {"aside": False} | {name: getattr(one, name) for name in names}


def changed(change, value) -> dict:
    """Return which keys of a tally's dict a correction changes, and to what."""
    if change is Change.SKILL:
        return {"skill": value[0]}
    if change is Change.STEP:
        return {"drill": value[0], "step": value[1]}
    return {str(change): value}


class Corrected(RuleBasedStateMachine):
    """Random facts and corrections, into a season file and into the model."""

    make = None

    def __init__(self):
        super().__init__()
        self.path = self.make()
        self.season = open_season(self.path)
        self.model, self.count, self.facts = Model(), 0, facts(self.path)

    def teardown(self):
        """At the end the standings too have the tries and dones of the model."""
        tried, done = Counter(), Counter()
        for (_, player, skill, *_, what), count in self.model.cells().items():
            (tried if what == "tries" else done)[player, skill] += count
        ids = {player.number: player.id for player in PLAYERS}
        found = {(ids[one.player], one.skill): (one.tries, one.done) for one in read_standings(self.season)}
        assert found == {key: (tries, done[key]) for key, tries in tried.items()}
        self.season.close()

    @initialize()
    def begin(self):
        """Begin with some tallies."""
        for n in range(6):
            self.add(n % 3, n % 2, n % 2 == 0, n % 3)

    @rule(player=st.integers(0, 4), practice=st.integers(0, 1), done=st.booleans(), skill=st.integers(0, 2))
    def add(self, player, practice, done, skill):
        """Tap once more."""
        outcome = Outcome.DONE if done else Outcome.MISSED
        where = {"practice": PRACTICES[practice].key, "player": PLAYERS[player].id}
        one = tally(self.count, outcome, skill=SKILLS[skill].key, **where)
        self.count += 1
        self.season.log.add(one)
        self.model.noted[one.id] = as_dict(one)

    @rule(number=st.integers(0, 20))
    def withdraw(self, number):
        """Undo a tap, whatever was put right of it."""
        ident = UUID(int=1000 + number % self.count)
        self.season.log.withdraw(Withdrawal(ident))
        self.model.withdrawn.add(ident)

    @rule()
    def load_again(self):
        """Add all that was noted once more, as a file that is loaded twice."""
        noted = [
            tally(ident.int - 1000, one["outcome"], **{k: one[k] for k in ("practice", "player", "skill")})
            for ident, one in self.model.noted.items()
        ]
        assert self.season.log.add_many([], noted) == 0

    @rule(key=st.sampled_from([FIRST, SECOND]), what=any_change, of=st.sets(st.integers(0, 30), min_size=1))
    def correct(self, key, what, of):
        """Put some tallies of a practice right, as they stand."""
        change, value = what
        stands = [s for s in self.season.log.stands(key) if s.tally.id.int - 1000 in of]
        correction = correction_of(stands, change, value, key, "bench")
        if correction:
            self.season.tally_corrections.add(correction)
            tallies = set(correction.was)
            self.model.corrections.append(
                {"tallies": tallies, "becomes": changed(change, value), "in_force": True}
            )

    @precondition(lambda self: self.model.corrections)
    @rule(number=st.integers(0, 50), in_force=st.booleans())
    def take_back(self, number, in_force):
        """Take any correction back, or let it count again."""
        number %= len(self.model.corrections)
        correction = self.season.tally_corrections.all()[number]
        self.season.tally_corrections.put_in_force(correction, in_force, "bench")
        self.model.corrections[number]["in_force"] = in_force

    @rule(number=st.integers(0, 1), day=st.integers(1, 28))
    def redate(self, number, day):
        """Let a practice have been held on another day."""
        key, day = PRACTICES[number].key, date(2025, 11, day)
        was = self.model.days[key]
        self.season.corrections.add(Correction(key, Amendment.TO_DATE, was, day))
        self.model.days[key] = day

    @rule(number=st.integers(0, 1), aside=st.booleans())
    def set_aside(self, number, aside):
        """Set a practice aside whole, or bring it back."""
        key = PRACTICES[number].key
        change = Amendment.SET_ASIDE if aside else Amendment.BRING_BACK
        day = self.model.days[key]
        self.season.corrections.add(Correction(key, change, day, day))
        (self.model.aside.add if aside else self.model.aside.discard)(key)

    @rule()
    def open_again(self):
        """Close the file and open it anew."""
        self.season.close()
        self.season = open_season(self.path)

    @invariant()
    def the_log_only_grows(self):
        """Every row of before is there, to the letter."""
        now = facts(self.path)
        assert all(rows <= now[table] for table, rows in self.facts.items())
        self.facts = now

    @invariant()
    def every_reading_agrees(self):
        """Cells, counts, observers and tallies are those of the model."""
        log, stands = self.season.log, [one for one in self.model.stands() if not one["aside"]]
        found = Counter()
        for player, skill, key, day, drill, step, pressure, observer, _, tries, done in log.cells():
            pressed = None if pressure is None else bool(pressure)
            name = (day, UUID(bytes=player), skill, key, drill, step, pressed, observer)
            assert (*name, "tries") not in found
            found[(*name, "tries")], found[(*name, "done")] = tries, done
        assert +found == self.model.cells()
        assert log.counts() == Counter(one["practice"] for one in stands)
        counting = [one for one in stands if one["practice"] not in self.model.aside]
        assert log.count() == len(counting)
        assert [as_dict(one) for one in log.tallies()] == counting
        for key in (FIRST, SECOND):
            assert [as_dict(one) for one in log.tallies(key)] == [s for s in stands if s["practice"] == key]
        assert log.tallies(player=PLAYERS[0].id) == [t for t in log.tallies() if t.player == PLAYERS[0].id]
        assert set(log.observers()) == {one["practice"] for one in stands}

    @invariant()
    def sums_tell_tries_and_unseen(self):
        """Of each practice and of one player: how many tallies, and how many of them are tries."""
        stands = [one for one in self.model.stands() if not one["aside"]]
        counting = [one for one in stands if one["practice"] not in self.model.aside]
        sums = self.season.tally_sums
        for key, found in sums.by_practice().items():
            own = [one["outcome"] == "unseen" for one in stands if one["practice"] == key]
            assert found == TallySum(tries=len(own) - sum(own), unseen=sum(own))
        for player in (None, PLAYERS[0].id):
            own = [one["outcome"] == "unseen" for one in counting if player in (None, one["player"])]
            assert sums.of_season(player) == TallySum(tries=len(own) - sum(own), unseen=sum(own))

    @invariant()
    def practices_are_listed(self):
        """Their days, tallies, observers, and how many tallies are put right."""
        stands = [one for one in self.model.stands() if not one["aside"]]
        for row in read_held(self.season):
            key = row.practice.key
            own = [one for one in stands if one["practice"] == key]
            assert (row.practice.held_on, row.practice.aside) == (
                self.model.days[key],
                key in self.model.aside,
            )
            assert (row.tallies, row.observers) == (len(own), (OBSERVERS[0],) if own else ())

    @invariant()
    def corrections_are_listed(self):
        """Each with its tallies and whether it is in force, in the order in which they came."""
        listed = self.season.tally_corrections.all()
        assert [(set(one.was), one.in_force) for one in listed] == [
            (one["tallies"], one["in_force"]) for one in self.model.corrections
        ]


def test_any_corrections_in_any_order_agree_with_a_model(make_season):
    """Random walks of facts, corrections and their reversal; see `Corrected`."""

    class Walk(Corrected):
        make = staticmethod(make_season)

    run_state_machine_as_test(Walk, settings=settings(max_examples=15, stateful_step_count=25, deadline=None))


def test_taking_everything_back_leaves_the_cells_as_they_were(season):
    """Bytes, order and all: the estimates depend on both."""
    season.log.add_many(
        [], [tally(n, player=PLAYERS[n % 4].id, pressure=[None, True][n % 2]) for n in range(40)]
    )
    before = season.log.cells()
    for change, values in VALUES.items():
        stands = [one for key in (FIRST, SECOND) for one in season.log.stands(key)]
        made = [correction_of(stands, change, value, FIRST) for value in values]
        season.tally_corrections.add(next(filter(None, made)))
    assert len(season.tally_corrections.all()) == len(Change)
    assert season.log.cells() != before
    for correction in season.tally_corrections.all():
        season.tally_corrections.put_in_force(correction, False)
    assert season.log.cells() == before


def test_a_correction_keeps_what_each_tally_was(season):
    """It comes out as it went in, with its number."""
    season.log.add_many([], [tally(0), tally(1, Outcome.MISSED)])
    was = {tally(0).id: Outcome.DONE, tally(1).id: Outcome.MISSED}
    made = TallyCorrection(FIRST, Change.OUTCOME, Outcome.UNSEEN, was, "bench", 1_000)
    assert season.tally_corrections.add(made) == made.at
    assert season.tally_corrections.all(FIRST) == [replace(made, nth=made.at)]
    assert season.tally_corrections.all(SECOND) == []


def test_a_correction_changes_only_what_it_changes():
    """Tallies that have the value already are none of its own; with none left there is no correction."""
    stands = [Stood(tally(0)), Stood(tally(1, Outcome.MISSED))]
    made = correction_of(stands, Change.OUTCOME, Outcome.MISSED, FIRST)
    assert dict(made.was) == {tally(0).id: Outcome.DONE}
    assert correction_of(stands[1:], Change.OUTCOME, Outcome.MISSED, FIRST) is None


def test_a_tally_keeps_its_rep_and_slot(season):
    """Whose it is changes, and not where in which rep it was made."""
    one = tally(0, slot="line_d")
    season.log.add(one)
    stands = season.log.stands(FIRST)
    season.tally_corrections.add(correction_of(stands, Change.PLAYER, PLAYERS[2].id, FIRST))
    assert season.log.tallies(FIRST) == [replace(one, player=PLAYERS[2].id)]


@pytest.mark.parametrize("statement", [
    "UPDATE tally_correction SET becomes = 'nobody'",
    "UPDATE tally_correction SET becomes = '00'",
    "UPDATE tally_correction SET change = 'skill', becomes = 'outlet_pass 2'",
    "UPDATE tally_correction SET change = 'skill', becomes = 'outlet_pass ²'",
    "UPDATE tally_correction SET change = 'step', becomes = 'breakout_attack'",
    "UPDATE tally_correction SET change = 'pressure', becomes = 'some'",
    "UPDATE corrected_tally SET was = '1'",
    "UPDATE corrected_tally SET tally = x'00'",
])  # fmt: skip
def test_a_damaged_correction_is_told(season_path, statement, refused):
    """A value that names nothing that the file knows is damage, in one sentence."""
    with open_season(season_path) as season:
        season.log.add(tally(0))
        stands = season.log.stands(FIRST)
        season.tally_corrections.add(correction_of(stands, Change.PLAYER, PLAYERS[2].id, FIRST))
    with closing(sqlite3.connect(season_path, isolation_level=None)) as file:
        file.execute(statement)
    with open_season(season_path) as season, refused("damaged", kind=SeasonFileError):
        season.log.cells()
