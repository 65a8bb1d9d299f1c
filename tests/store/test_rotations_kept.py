"""The line of a tablet is played again from the season file, and a correction takes no tally away.

Cases: every change; two tablets; a second start; a clock that is set back; anything at the bench with tallies
in between; a failing write; a process killed at any moment.
"""

import os
import random
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from uuid import UUID

import pytest
from child import environment
from hypothesis import given, settings
from hypothesis import strategies as st
from lanterns_season import DRILLS, PLAYERS, PRACTICES, tally

from evaltrack.errors import NotSavedError
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation.running import RunningRotation, changes_for, replay
from evaltrack.store.opening import open_season

PRACTICE = PRACTICES[0].key
DRILL = DRILLS[0]
SLOTS = [slot.key for slot in DRILL.step("two_on_one").slots]


def first(tablet: str = "bench", at: int = 1, squad=PLAYERS):
    """RunningRotation up these players for the breakout."""
    return RunningRotation.first(DRILLS, Rep(PRACTICE, DRILL.key, "two_on_one", {}, tablet, at), squad)


def keep(season, made) -> RunningRotation:
    """Commit a change as the board does, and return the line after it."""
    line, fact = made
    if fact.change.begins_rep:
        season.reps.begin(line.rep, fact)
    else:
        season.reps.correct(fact)
    return line


def kept(season, tablet: str = "bench") -> RunningRotation | None:
    """Play the tablet's line again from the file."""
    return replay(DRILLS, season.reps.facts(PRACTICE, tablet))


CHANGES = [
    lambda line: line.next_rep(2),
    lambda line: line.swap("wall_f", PLAYERS[4].id, 3),
    lambda line: line.leave(PLAYERS[2].id, 4),
    lambda line: line.arrive(replace(PLAYERS[2], position=Position.FORWARD), 5),
    lambda line: line.empty("line_d", 6),
    lambda line: line.back(7),
    lambda line: line.change_step(DRILL.key, "three_on_one", True, 8),
    lambda line: line.change_step(DRILL.key, "two_on_one", False, 9),
]


def test_every_change_is_played_again(season_path):
    """After each kind of change a file opened again gives the same slots, lines, turns and rep."""
    with open_season(season_path) as season:
        line = keep(season, first())
    for change in CHANGES:
        with open_season(season_path) as season:
            line = keep(season, change(line))
        with open_season(season_path) as season:
            again = kept(season)
            assert (again, again.rep.id) == (line, line.rep.id)


def test_reps_with_their_slots(season):
    """Each rep stands in the file with who was in the slots when it began, whatever was corrected later."""
    begun = [keep(season, first())]
    keep(season, begun[0].swap("wall_f", PLAYERS[4].id, 2))
    begun.append(keep(season, begun[0].next_rep(3)))
    assert season.reps.all(PRACTICE) == [line.rep for line in begun]
    assert {rep.tablet for rep in season.reps.all(PRACTICE)} == {"bench"}


def test_two_tablets_keep_two_lines(season):
    """Two stations at one practice do not know of each other."""
    bench, boards = keep(season, first()), keep(season, first("boards", squad=PLAYERS[:3]))
    for _ in range(3):
        bench = keep(season, bench.next_rep(2))
    boards = keep(season, boards.leave(PLAYERS[0].id, 2))
    assert (kept(season), kept(season, "boards"), kept(season, "nobody")) == (bench, boards, None)
    assert [fact.nth for fact in season.reps.facts(PRACTICE, "boards")] == [1, 2]


def test_lining_up_anew_begins_anew(season):
    """Only what came after the last start is read."""
    line = keep(season, first())
    for _ in range(5):
        line = keep(season, line.next_rep(2))
    again = keep(season, first(at=3, squad=PLAYERS[::-1]))
    assert len(season.reps.facts(PRACTICE, "bench")) == 1
    assert kept(season) == again
    assert len(season.reps.all(PRACTICE)) == 7


def test_what_a_correction_moved(season):
    """Each change has its number, told when it is kept and read with it, and the tallies it moved."""
    line, fact = first()
    assert season.reps.begin(line.rep, fact) == 1
    swapped, fact = line.swap("wall_f", PLAYERS[4].id, 2)
    pairs = [(UUID(int=n), UUID(int=n + 100)) for n in (1, 2)]
    assert season.reps.correct(fact, pairs) == 2
    _, fact = swapped.back(3)
    again = [(becomes, UUID(int=becomes.int + 100)) for _, becomes in pairs]
    assert season.reps.correct(fact, again) == 3
    assert [fact.nth for fact in season.reps.facts(PRACTICE, "bench")] == [1, 2, 3]
    assert season.reps.moved(PRACTICE, "bench") == {2: pairs, 3: again}
    assert season.reps.moved(PRACTICE, "another") == {}


def test_a_clock_set_back_changes_no_order(season):
    """The changes count in the order in which they were made, whatever the tablet's clock said."""
    line = keep(season, first(at=10**12))
    for at in (5, 10**13, 4):
        line = keep(season, line.next_rep(at))
    line = keep(season, line.swap("wall_f", PLAYERS[3].id, 1))
    assert kept(season) == line


def test_a_change_that_is_not_kept_leaves_nothing(season, refused):
    """A player whom the season file does not know stops the whole rep."""
    line = keep(season, first())
    stranger = replace(PLAYERS[0], id=UUID(int=404))
    with refused("not saved", kind=NotSavedError):
        keep(season, line.arrive(stranger, 2))
    with refused("not saved", kind=NotSavedError):
        keep(season, first(squad=[stranger]))
    assert kept(season) == line
    assert len(season.reps.all(PRACTICE)) == 1


ANYTHING = st.one_of(
    st.tuples(st.just("next_rep")),
    st.tuples(st.just("back")),
    st.tuples(st.just("leave"), st.sampled_from([p.id for p in PLAYERS])),
    st.tuples(st.just("arrive"), st.sampled_from(PLAYERS)),
    st.tuples(st.just("empty"), st.sampled_from(SLOTS)),
    st.tuples(st.just("swap"), st.sampled_from(SLOTS), st.sampled_from([p.id for p in PLAYERS])),
    st.tuples(st.just("change_step"), st.just(DRILL.key), st.sampled_from([s.key for s in DRILL.steps])),
)


@given(st.lists(ANYTHING, max_size=12))
@settings(max_examples=15, deadline=None)
def test_no_change_takes_a_tally_away(season_file, happenings):
    """Tallies between any changes stay, each with its player and with a rep that the file has."""
    path, made = season_file()
    with open_season(path) as season:
        line = keep(season, first())
        for what, *values in happenings:
            for who in line.rotation.slots.values():
                made.append(tally(len(made), player=who, rep=line.rep.id))
                season.log.add(made[-1])
            line = keep(season, getattr(line, what)(*values))
    with open_season(path) as season:
        assert season.log.tallies() == made
        assert {t.rep for t in made} <= {rep.id for rep in season.reps.all(PRACTICE)}
        assert kept(season) == line


@pytest.fixture(scope="module")
def season_file(season_template, tmp_path_factory):
    """Return a maker of season files of one example each, with an empty list of tallies."""
    folder = tmp_path_factory.mktemp("lines")

    def make():
        path = folder / "lanterns.db"
        path.write_bytes(season_template.read_bytes())
        return path, []

    return make


def test_attendance_marked_but_the_line_not_told(season):
    """Killed between the two writes, the line is brought up to who is here when it is opened again."""
    line = keep(season, first())
    present = [p for p in PLAYERS if p.id != line.rotation.slots["wall_f"]]
    for made in changes_for(kept(season), present, 2):
        line = keep(season, made)
    assert kept(season) == line
    assert line.rotation.groups.keys() == {p.id for p in present}


BENCH = """
import os, random, sys
sys.path.insert(0, sys.argv[2])
from test_rotations_kept import PLAYERS, SLOTS, first, keep, kept, shown
from evaltrack.store.opening import open_season
season, chance = open_season(sys.argv[1]), random.Random(int(sys.argv[3]))
line = kept(season) or keep(season, first())
while True:
    what = chance.choice(["next_rep", "next_rep", "swap", "leave", "arrive"])
    who = chance.choice(PLAYERS)
    values = {"swap": [chance.choice(SLOTS), who.id], "leave": [who.id], "arrive": [who]}.get(what, [])
    line = keep(season, getattr(line, what)(*values))
    os.write(1, shown(line).encode())
"""


def shown(line: RunningRotation) -> str:
    """Return a line as the process tells it."""
    slots = ",".join(f"{slot}={who.int}" for slot, who in line.rotation.slots.items())
    lines = "|".join(",".join(str(who.int) for who in waiting) for waiting in line.rotation.queues.values())
    return f"{line.rep.id} {slots} {lines} .\n"


@pytest.mark.skipif(os.name == "nt", reason="Windows has no SIGKILL")
def test_killed_at_any_moment_it_is_the_line_that_was_shown(season_path):
    """Four kills: the file gives the last line that was told, or the one after it, which was on its way."""
    for seed in range(4):
        told = _change_and_kill(season_path, seed)
        with open_season(season_path) as season:
            facts = season.reps.facts(PRACTICE, "bench")
        lines = [shown(replay(DRILLS, facts)), shown(replay(DRILLS, facts[:-1]))]
        assert told in lines


def _change_and_kill(path: Path, seed: int) -> str:
    """Let a process change the line until a moment of chance, kill it, and return the last line it told."""
    command = [sys.executable, "-c", BENCH, path, Path(__file__).parent, str(seed)]
    chance = random.Random(seed)
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment()) as bench:
        lines = [bench.stdout.readline() for _ in range(chance.randint(1, 60))]
        moment = time.perf_counter() + chance.uniform(0, 0.002)
        while time.perf_counter() < moment:
            pass
        bench.kill()
        lines += bench.stdout.readlines()
    assert bench.returncode == -9
    return [line for line in lines if line.endswith(".\n")][-1]
