"""Against whom a try was made follows from who stood in the slot that the player's slot meets, in that rep.

Cases: both directions; every kind of tally that has no opponent; a slot that is put right, by hand and back;
anything at the bench; what is withdrawn, under an older definition, of another day; a file of version 3.
"""

import shutil
import sqlite3
from collections import Counter
from contextlib import closing
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lanterns_season import DRILLS, PLAYERS, PRACTICES, SKILLS, tally
from season_v1 import tables_of

from evaltrack.rink.drill import Drill
from evaltrack.rink.practice import Amendment, Correction, Rep
from evaltrack.rink.rotation.running import RunningRotation, replay
from evaltrack.rink.tally import Outcome, Withdrawal
from evaltrack.store.log import CELL_COLUMNS
from evaltrack.store.migrations import Database, season_migrations
from evaltrack.store.opening import open_season
from evaltrack.store.schema import SCHEMA_VERSION
from evaltrack.store.tally_rows import told_apart

PRACTICE = PRACTICES[0].key
MEETS = {"wall_f": "line_d", "line_d": "wall_f"}
ODA, WIM, PETRA, ASE, JUNO = (player.id for player in PLAYERS)


def meeting(drill: Drill) -> Drill:
    """Return the breakout in which the wall F and the line D meet."""
    step, *others = drill.steps
    slots = tuple(replace(slot, against=MEETS.get(slot.key)) for slot in step.slots)
    return replace(drill, steps=(replace(step, slots=slots), *others))


BREAKOUT = meeting(DRILLS[0])
SLOTS = [slot.key for slot in BREAKOUT.steps[0].slots]


@pytest.fixture(scope="module")
def meeting_path(season_template, tmp_path_factory):
    """Keep a closed season file whose breakout says who meets whom."""
    path = shutil.copy(season_template, tmp_path_factory.mktemp("meeting") / "lanterns.db")
    with open_season(path) as season:
        season.catalogue.write([], [BREAKOUT])
    return path


@pytest.fixture
def season(meeting_path, tmp_path):
    """Return an open season file of the test's own."""
    with open_season(shutil.copy(meeting_path, tmp_path / "lanterns.db")) as season:
        yield season


def keep(season, made, before=None) -> RunningRotation:
    """Commit a change as the board does, and return the rotation after it."""
    after, fact = made
    if fact.change.begins_rep:
        season.reps.begin(after.rep, fact)
    else:
        season.reps.correct(fact, stood=after.put_right_since(before))
    return after


def lined_up(season, squad=PLAYERS) -> RunningRotation:
    """Begin the breakout with these players: Petra is the breakout D, Oda the line D, Åse the wall F."""
    rep = Rep(PRACTICE, BREAKOUT.key, "two_on_one", {}, "bench", 1)
    line = keep(season, RunningRotation.first([BREAKOUT], rep, squad))
    return keep(season, line.next_rep(2))


def shot(season, n, line, slot, outcome=Outcome.DONE, /, **changes):
    """Tally a shot on net of whoever is in a slot."""
    stands = {"player": line.rotation.slots.get(slot), "rep": line.rep.id, "slot": slot}
    season.log.add(made := tally(n, outcome, skill="shot_on_net", **stands | changes))
    return made


def met(season, as_of=None) -> dict:
    """Return tries and dones by player and opponent."""
    found = Counter()
    for cell in season.log.cells(as_of):
        named = dict(zip(CELL_COLUMNS, cell, strict=True))
        found[named["player"], named["opponent"], "tries"] += named["tries"]
        found[named["player"], named["opponent"], "done"] += named["done"]
    pairs = {key[:2] for key in found}
    return {pair: (found[*pair, "tries"], found[*pair, "done"]) for pair in pairs}


def of(player, opponent):
    """Return the key of a pair in what was met."""
    return player.bytes, opponent and opponent.bytes


def test_both_meet_each_other(season):
    """The wall F's tries are against the line D, the line D's against the wall F."""
    line = lined_up(season)
    f, d = (line.rotation.slots[slot] for slot in ("wall_f", "line_d"))
    shot(season, 1, line, "wall_f")
    shot(season, 2, line, "wall_f", Outcome.MISSED)
    shot(season, 3, line, "line_d")
    assert met(season) == {of(f, d): (2, 1), of(d, f): (1, 1)}


def test_who_has_no_opponent(season):
    """The slot meets nobody, or one that is left empty; the tally has no rep or slot, or another step."""
    line = lined_up(season)
    f, back = (line.rotation.slots[slot] for slot in ("wall_f", "breakout_d"))
    shot(season, 1, line, "breakout_d")
    shot(season, 2, line, "wall_f", rep=None)
    shot(season, 3, line, "wall_f", slot=None)
    shot(season, 4, line, "wall_f", step="three_on_one")
    emptied = keep(season, line.empty("line_d", 3), line)
    shot(season, 5, emptied, "wall_f", Outcome.MISSED)
    assert met(season) == {of(back, None): (1, 1), of(f, None): (4, 3)}


def test_a_cell_is_split_by_opponent(season):
    """Tries of one kind against two opponents and against nobody known are three cells, and all the tries."""
    line = lined_up(season)
    f, first = line.rotation.slots["wall_f"], line.rotation.slots["line_d"]
    shot(season, 1, line, "wall_f")
    line = keep(season, line.next_rep(3))
    second = line.rotation.slots["line_d"]
    shot(season, 2, line, "wall_f", Outcome.MISSED, player=f)
    shot(season, 3, line, "wall_f", player=f, rep=None)
    assert first != second
    assert met(season) == {of(f, first): (1, 1), of(f, second): (1, 0), of(f, None): (1, 1)}


def test_a_slot_that_is_put_right_moves_the_opponent(season):
    """Who stands there after all has been met all rep long; taken back, it is as before."""
    line = lined_up(season)
    f, wrong = line.rotation.slots["wall_f"], line.rotation.slots["line_d"]
    right = next(player for player in (ODA, PETRA) if player != wrong)
    shot(season, 1, line, "wall_f")
    swapped = keep(season, line.swap("line_d", right, 3), line)
    shot(season, 2, swapped, "wall_f")
    assert met(season) == {of(f, right): (2, 2)}
    keep(season, swapped.back(4), swapped)
    assert met(season) == {of(f, wrong): (2, 2)}


def test_who_leaves_has_been_met(season):
    """A defender who goes off after a try was its opponent, whoever steps in."""
    line = lined_up(season)
    f, d = line.rotation.slots["wall_f"], line.rotation.slots["line_d"]
    shot(season, 1, line, "wall_f")
    left = keep(season, line.leave(d, 3), line)
    assert left.rotation.slots.get("line_d") != d
    assert met(season) == {of(f, d): (1, 1)}


def test_what_counts_counts_against_an_opponent_too(season):
    """Not what was withdrawn or unseen, of a later day, of a practice set aside, of an older definition."""
    line = lined_up(season)
    f, d = line.rotation.slots["wall_f"], line.rotation.slots["line_d"]
    season.log.withdraw(Withdrawal(shot(season, 1, line, "wall_f").id))
    shot(season, 2, line, "wall_f", Outcome.UNSEEN)
    shot(season, 3, line, "wall_f")
    assert met(season) == {of(f, d): (1, 1)}
    assert met(season, date(2025, 10, 3)) == {}
    day = date(2025, 10, 4)
    season.corrections.add(Correction(PRACTICE, Amendment.SET_ASIDE, day, day))
    assert met(season) == {}
    season.corrections.add(Correction(PRACTICE, Amendment.BRING_BACK, day, day))
    words = replace(SKILLS[2].definition, done="Into the net.")
    season.catalogue.write([replace(SKILLS[2], definition=words)], [])
    assert met(season) == {}


def test_a_drill_without_opponents_has_none(season):
    """When the catalogue takes `against` out again, nobody meets anybody, also in what was tallied before."""
    line = lined_up(season)
    f = shot(season, 1, line, "wall_f").player
    season.catalogue.write([], DRILLS)
    assert met(season) == {of(f, None): (1, 1)}


ANYTHING = st.one_of(
    st.tuples(st.just("next_rep")),
    st.tuples(st.just("back")),
    st.tuples(st.just("leave"), st.sampled_from([p.id for p in PLAYERS])),
    st.tuples(st.just("arrive"), st.sampled_from(PLAYERS)),
    st.tuples(st.just("empty"), st.sampled_from(SLOTS)),
    st.tuples(st.just("swap"), st.sampled_from(SLOTS), st.sampled_from([p.id for p in PLAYERS])),
)


@given(st.lists(ANYTHING, max_size=12))
@settings(max_examples=25, deadline=None)
def test_opponents_after_anything_at_the_bench(meeting_path, tmp_path_factory, happenings):
    """Whatever happens, each try is against who is known in the end to have stood in the slot it met.

    The rotation that is played again from the file knows the same.
    """
    path = shutil.copy(meeting_path, tmp_path_factory.mktemp("any") / "lanterns.db")
    made, stood = [], {}
    with open_season(path) as season:
        line = lined_up(season)
        stood[line.rep.id] = line.stood
        for what, *values in happenings:
            for slot in line.rotation.slots:
                made.append(shot(season, len(made), line, slot))
            line = keep(season, getattr(line, what)(*values), line)
            stood[line.rep.id] = line.stood
    expected = Counter()
    for one in made:
        opponent = stood[one.rep].get(MEETS.get(one.slot))
        expected[of(one.player, None if opponent == one.player else opponent)] += 1
    with open_season(path) as season:
        assert {pair: tries for pair, (tries, _) in met(season).items()} == expected
        assert replay([BREAKOUT], season.reps.facts(PRACTICE, "bench")).stood == line.stood


def test_tries_that_are_in_one_count_only_are_damage(refused):
    """An index that lacks a tally, or gives it another outcome, is damage and no lower count."""
    cell = (ASE.bytes, "stop", PRACTICE, PRACTICE, "breakout_attack", "two_on_one", None, "Ines")
    every, against = (*cell, None, 2, 1), (*cell, ODA.bytes, 1, 1)
    assert told_apart([every, against]) == [(*cell, None, 1, 0), against]
    for odd in ((*cell, ODA.bytes, 3, 1), (*cell, ODA.bytes, 2, 2), (*cell, ODA.bytes, 2, 0)):
        with refused("the season file is damaged", "backup"):
            told_apart([every, odd])
    with refused("the season file is damaged", "backup"):
        told_apart([against])


@pytest.fixture
def version_three(season_path, tmp_path):
    """Return a file of version 3 with a rep, its slots and a tally, made by the steps up to that version."""
    with open_season(season_path) as season:
        line = lined_up(season)
        shot(season, 1, line, "wall_f")
    path = tmp_path / "older.db"
    with closing(sqlite3.connect(path)) as file, closing(sqlite3.connect(season_path)) as newer:
        season_migrations.apply(Database(file), stop_before="know_who_meets_whom")
        file.execute("DELETE FROM epoch")
        for table in tables_of(file):
            columns = [row[1] for row in file.execute(f"PRAGMA table_info({table})")]
            rows = newer.execute(f"SELECT {', '.join(columns)} FROM {table}").fetchall()
            if not table.startswith("_"):
                marks = ", ".join("?" * len(columns))
                file.executemany(f"INSERT INTO {table} VALUES ({marks})", rows)
        file.execute("PRAGMA user_version = 3")
        file.commit()
    return path


def test_a_file_of_version_three_is_brought_up_to_date(version_three):
    """It keeps every fact; nobody meets anybody until the catalogue says so, then its old reps tell it."""
    with open_season(version_three) as season:
        assert {slot.against for drill in season.catalogue.drills() for slot in drill.steps[0].slots} == {
            None
        }
        ((f, nobody),) = met(season)
        assert nobody is None
        season.catalogue.write([], [BREAKOUT])
        assert season.catalogue.drills()[0] == BREAKOUT
        ((player, opponent),) = met(season)
        assert player == f
        assert opponent == season.reps.all(PRACTICE)[-1].slots["line_d"].bytes
    assert version_three.with_name(f"older.db.before-version-{SCHEMA_VERSION}").exists()
