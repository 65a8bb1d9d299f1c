"""The demo team that is shipped: whole, readable, and made by the script beside it."""

import os
import shutil
import subprocess
import sys
from collections import Counter, defaultdict
from itertools import pairwise
from pathlib import Path

import pytest

from evaltrack.intake.catalogue import OUT, read_drills, read_skills
from evaltrack.intake.roster import read_roster
from evaltrack.intake.tallies import read_tallies
from evaltrack.places import sample_roster
from evaltrack.rink.player import Position, Status
from evaltrack.rink.tally import Outcome

SKILLS = {
    "D": "outlet_pass gap_at_line gap_up support_distance escape_turn",
    "F": "wall_puck_feet indirect_pass lane_fill open_target entry_wide",
    "DF": "receive_pass shot_on_net stop start",
    "G": "rebound_control set_before_shot",
}
STEPS = {
    "breakout_attack": ["two_on_one", "three_on_one", "two_regroups"],
    "stops_starts": ["on_lines", "on_whistle"],
    "wall_work": ["free", "pressured"],
    "small_area": ["two_on_two", "three_on_three"],
}


@pytest.fixture(scope="module")
def skills():
    """Return the shipped skills."""
    return read_skills(sample_roster() / "skills.toml")


@pytest.fixture(scope="module")
def drills(skills):
    """Return the shipped drills."""
    return read_drills(sample_roster() / "drills.toml", skills)


@pytest.fixture(scope="module")
def players():
    """Return the shipped roster."""
    return read_roster(sample_roster() / "roster.csv")


@pytest.fixture(scope="module")
def loaded(players, skills, drills):
    """Return the shipped tallies."""
    return read_tallies(sample_roster() / "tallies.csv", players, skills, drills)


def test_skills_and_whom_they_are_for(skills):
    """The fixed keys are there, each for its position groups."""
    expected = {key: letters for letters, keys in SKILLS.items() for key in keys.split()}
    assert {skill.key: "".join(skill.positions) for skill in skills} == expected


def test_words_of_a_skill(skills):
    """Every skill has all its words, and one or two things to try at home."""
    for skill in skills:
        assert len(skill.caption) <= 48
        assert len(skill.looks_like) <= 80
        assert skill.looks_like[0].islower()
        assert 1 <= len(skill.at_home) <= 2
        said = (skill.definition.starts, skill.definition.done, skill.definition.missed)
        assert all(len(sentence.split()) >= 4 for sentence in said), skill.key
        assert not {"hit", "hits", "check", "checks", "checking"} & set(" ".join(said).lower().split()), (
            skill.key
        )


def test_drills_and_steps(drills):
    """The fixed drills and steps are there, easy to hard."""
    assert {drill.key: [step.key for step in drill.steps] for drill in drills} == STEPS


def test_steps_can_be_watched(drills, skills):
    """A step shows two to six skills, its name fits a button, and every skill is shown somewhere."""
    steps = [step for drill in drills for step in drill.steps]
    assert all(2 <= len(step.skills) <= 6 and len(step.name) <= 16 for step in steps)
    assert {key for step in steps for key in step.skills} == {skill.key for skill in skills}
    in_goal = [slot for step in steps for slot in step.slots if slot.position is Position.GOALIE]
    assert in_goal
    assert all(slot.skills and slot.next is None for slot in in_goal)


def test_two_regroups_rotation(drills):
    """Common practice: a defender plays one rep as the new one, the next as the old one, then goes out."""
    step = next(drill for drill in drills if drill.key == "breakout_attack").step("two_regroups")
    onward = {slot.key: slot.next or OUT for slot in step.slots if slot.position is Position.DEFENCE}
    assert onward == {"new_d": "old_d", "old_d": "out"}


def test_roster(players):
    """Nineteen players, one goalie, born in two years, with 0 and 00 among the numbers."""
    assert len(players) == 19
    assert Counter(player.position for player in players) == {"G": 1, "D": 7, "F": 11}
    assert {player.birth_year for player in players} == {2014, 2015}
    assert {"0", "00"} < {player.number for player in players}
    assert [player.number for player in players if player.status is Status.AWAY] == ["19"]


def test_half_season(loaded):
    """24 practices from September to mid-January, with a gap over the holidays and two observers."""
    days = [practice.held_on for practice in loaded.practices]
    assert len(days) == 24
    assert (days[0].isoformat(), days[-1].isoformat()) == ("2025-09-09", "2026-01-13")
    assert max(later - earlier for earlier, later in pairwise(days)).days == 21
    assert Counter(tally.observer for tally in loaded.tallies).keys() == {"Marit", "Dev"}
    assert {tally.pressure for tally in loaded.tallies} == {None, True, False}
    assert 5500 <= len(loaded.tallies) <= 6500


def test_watching_is_concentrated(loaded):
    """A practice has two to four skills in focus, as one bench can watch."""
    focus = defaultdict(set)
    for tally in loaded.tallies:
        focus[tally.practice].add(tally.skill)
    assert all(2 <= len(skills) <= 4 for skills in focus.values())


def test_tries_of_a_typical_skater(loaded, players):
    """Most skaters who were there all season have eight or nine skills with 12 to 60 tries."""
    tries = Counter((t.player, t.skill) for t in loaded.tallies if t.outcome is not Outcome.UNSEEN)
    whole = [p for p in players if p.position is not Position.GOALIE and p.number not in ("19", "21")]
    known = [sum(12 <= n <= 60 for (who, _), n in tries.items() if who == player.id) for player in whole]
    assert sum(n >= 8 for n in known) >= 0.9 * len(whole)


def test_comers_and_goers(loaded, players):
    """One player joined in November, one is away since December."""
    ids = {player.number: player.id for player in players}
    days = {
        number: [t.practice for t in loaded.tallies if t.player == ids[number]] for number in ("21", "19")
    }
    assert min(days["21"]) >= "2025-11-01"
    assert max(days["19"]) < "2025-12-01"


def test_some_improve_and_some_need_work(loaded, players):
    """What the script puts in can be seen in plain counts."""
    ids = {player.number: player.id for player in players}

    def share(number: str, skill: str | None, begin: str, end: str) -> float:
        seen = [
            tally.outcome is Outcome.DONE
            for tally in loaded.tallies
            if tally.player == ids[number] and tally.outcome is not Outcome.UNSEEN
            if begin <= tally.practice < end and skill in (None, tally.skill)
        ]
        return sum(seen) / len(seen)

    assert share("9", None, "2025-11", "2026-02") > share("9", None, "2025-09", "2025-11") + 0.1
    assert share("17", "stop", "2025-09", "2026-02") < 0.4
    assert share("22", "outlet_pass", "2025-09", "2026-02") < 0.4


def test_both_observers_watch_one_station(loaded):
    """Once a month both observers tally the same tries, so that their agreement can be known."""
    watched = defaultdict(Counter)
    for tally in loaded.tallies:
        watched[tally.practice, tally.drill, tally.step, tally.skill][tally.observer] += 1
    together = [counts for counts in watched.values() if len(counts) == 2]
    assert len(together) >= 4
    assert sum(counts["Dev"] == counts["Marit"] for counts in together) >= 4


@pytest.mark.parametrize("zone", ["UTC", "America/Edmonton"])
def test_script_makes_the_shipped_file(zone, tmp_path):
    """The script writes the shipped bytes, in any time zone."""
    folder = sample_roster()
    for name in ("make_tallies.py", "roster.csv", "skills.toml", "drills.toml"):
        shutil.copy(folder / name, tmp_path)
    package = Path(__file__).parents[2]
    made = subprocess.run(
        [sys.executable, tmp_path / "make_tallies.py"],
        env={**os.environ, "TZ": zone, "PYTHONPATH": str(package)},
        capture_output=True,
        text=True,
    )
    assert made.returncode == 0, made.stderr
    assert (tmp_path / "tallies.csv").read_bytes() == (folder / "tallies.csv").read_bytes()
