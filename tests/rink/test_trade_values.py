"""Players in order of number, drills and steps, skills.

Cases: numbers; the step after; a step and a drill by key; the skills of a step; who a skill suits.
"""

from dataclasses import FrozenInstanceError, replace
from datetime import date
from itertools import permutations
from uuid import UUID

import pytest

from evaltrack.rink.drill import Drill, Slot, Step, drill_named
from evaltrack.rink.player import Player, Position, Status, by_number, likely_present
from evaltrack.rink.practice import Amendment, Correction, Practice, Rep, Station, Surface
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact
from evaltrack.rink.skill import Definition, Skill
from evaltrack.rink.tally import Outcome, Tally, Withdrawal

D, F, G = Position.DEFENCE, Position.FORWARD, Position.GOALIE


def drill_of(*keys: str) -> Drill:
    """Return a drill with steps of these keys and no slots."""
    return Drill("breakout_attack", "Breakout", tuple(Step(key, key, ()) for key in keys))


@pytest.mark.parametrize("numbers", list(permutations(["0", "00", "2", "10"])))
def test_players_go_by_number(numbers):
    """0, 00, 2, 10: numbers count as numbers, and 00 is another shirt than 0."""
    players = [Player(number, "Oda Marsh", D) for number in numbers]
    assert [player.number for player in sorted(players, key=by_number)] == ["0", "00", "2", "10"]


def test_every_position_has_a_word_for_one_player():
    """Screens and paper say the same word, and one that the roster reads."""
    assert [position.word for position in (D, F, G)] == ["defender", "forward", "goalie"]


def test_players_are_equal_by_what_a_coach_sees():
    """Two entries of the same player are equal whatever their ids; another status is a difference."""
    player = Player("7", "Juno Reed", F)
    assert player == Player("7", "Juno Reed", F)
    assert player.id != Player("7", "Juno Reed", F).id
    assert player != replace(player, status=Status.LIMITED)
    with pytest.raises(FrozenInstanceError):
        player.name = "Somebody Else"


@pytest.mark.parametrize("keys", [("a",), ("a", "b"), ("a", "b", "c")])
def test_the_next_step_leads_to_the_last_one(keys):
    """One press a step leads through the whole drill, easy to hard, and ends there."""
    drill, step, seen = drill_of(*keys), drill_of(*keys).step(keys[0]), []
    while step:
        seen.append(step.key)
        step = drill.after(step.key)
    assert seen == list(keys)


def test_steps_and_drills_by_key():
    """A key finds its step and its drill; an unknown one is a KeyError that names it."""
    drill = drill_of("a", "b")
    assert drill.step("b") is drill.steps[1]
    assert drill_named([drill], "breakout_attack") is drill
    for look in (drill.step, drill.after, lambda key: drill_named([drill], key)):
        with pytest.raises(KeyError, match="five_on_none"):
            look("five_on_none")


def test_the_skills_of_a_step_are_those_of_its_slots():
    """Each skill once, in the order in which the slots name them."""
    slots = [
        Slot("breakout_d", "Breakout D", D, "line_d", ("outlet_pass", "receive_pass")),
        Slot("wall_f", "Wall F", F, None, ("wall_puck_feet", "receive_pass")),
        Slot("middle_f", "Middle F", F, None, ()),
    ]
    step = Step("two_on_one", "2 v 1", tuple(slots))
    assert step.skills == ("outlet_pass", "receive_pass", "wall_puck_feet")
    assert Step("free", "Free", ()).skills == ()


def test_away_players_are_not_expected():
    """Whoever can play at all, without contact too, is expected to be here."""
    squad = [Player(str(n), "Oda Marsh", D, status=status) for n, status in enumerate(Status)]
    assert [one.status for one in likely_present(squad)] == [Status.FULL, Status.LIMITED]
    assert Player("7", "Juno Reed", F).status is Status.FULL


def test_what_nobody_has_said_is_not_made_up():
    """Without a word a skill asks for 6 in 10 and is in its first version, and pressure was not noted."""
    skill = Skill("stop", "Stop", (D,), "", Definition("", "", "", ""), "")
    assert (skill.target, skill.version, skill.at_home) == (0.6, 1, ())
    tally = Tally("2026-01-13", UUID(int=1), "stop", Outcome.DONE, "a_drill", "a_step", "Ines")
    assert (tally.pressure, tally.skill_version, tally.rep, tally.slot) == (None, 1, None, None)
    assert (tally.tablet, Withdrawal(tally.id).tablet) == ("", "")
    practice = Practice("2026-01-13", date(2026, 1, 13))
    assert (practice.surface, practice.aside) == (Surface.FULL, False)
    station = Station("2026-01-13", "a_drill", "a_step", "stop", "Ines")
    assert (station.pressure, station.tablet) == (False, "")
    assert Rep("2026-01-13", "a_drill", "a_step", {}).tablet == ""
    day = date(2026, 1, 13)
    assert Correction("2026-01-13", Amendment.SET_ASIDE, day, day).tablet == ""


def test_a_fact_is_the_same_before_and_after_it_is_kept():
    """A rep is equal by what was played, whatever its id, and a fact of a line whatever its number."""
    rep = Rep("2026-01-13", "a_drill", "a_step", {}, at=1)
    again = Rep("2026-01-13", "a_drill", "a_step", {}, at=1)
    assert rep.id != again.id
    assert rep == again != replace(rep, step="other")
    fact = RotationFact("2026-01-13", "bench", "a_drill", "a_step", Change.NEXT, rep.id, at=1)
    assert fact == replace(fact, nth=7) != replace(fact, change=Change.BACK)


KEPT = {
    Position: "D F G",
    Status: "full limited away left",
    Outcome: "done missed unseen",
    Surface: "full half cross",
    Amendment: "to_date set_aside bring_back",
    Change: "first next step skip arrive leave swap empty back",
}


@pytest.mark.parametrize("choice", KEPT, ids=lambda choice: choice.__name__)
def test_the_words_that_files_hold_stay(choice):
    """A roster, a season file or a setting that was written last year is read today."""
    assert [str(member) for member in choice] == KEPT[choice].split()


def test_a_skill_suits_its_positions():
    """A skill is watched in the position groups it is for, and in no other."""
    words = Definition("", "", "", "")
    skill = Skill("shot_on_net", "Shot on net", (D, F), "", words, "")
    assert [skill.suits(position) for position in (D, F, G)] == [True, True, False]
