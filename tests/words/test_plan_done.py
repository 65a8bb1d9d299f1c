"""What was planned stands beside what was done, told by the tallies."""

from dataclasses import replace

from lanterns_season import DRILLS, PLAYERS, SKILLS, tally
from planned_cards import card

from evaltrack.words.plan_done import done_lines
from evaltrack.words.planning import plan_names

NAMES = plan_names(SKILLS, DRILLS)
FIRST = ("breakout_attack", "two_on_one")


def noted(number: int, key: tuple[str, str], skill: str, player: int):
    drill, step = key
    return replace(tally(number), drill=drill, step=step, skill=skill, player=PLAYERS[player].id)


def test_each_block_and_what_was_not_planned():
    """Tallies in the step, those in the skill to watch, who of the first ones was seen; then other steps."""
    tallies = [
        *(noted(n, FIRST, "outlet_pass", 0) for n in range(3)),
        noted(3, FIRST, "shot_on_net", 4),
        noted(4, ("stops_starts", "on_lines"), "shot_on_net", 0),
    ]
    assert done_lines(card(), tallies, NAMES) == [
        "Station 1  Breakout and attack, 2 v 1: 4 tallies, 3 in Outlet pass; seen 1 of 1 to look at first",
        "Station 2  Breakout and attack, 3 v 1: nothing was noted in it",
        "Not planned  Stops and starts, On lines: 1 tally",
    ]


def test_a_step_that_is_gone_is_told_by_its_keys():
    """A plan outlives the catalogue that it was made of."""
    lines = done_lines(card(), [], plan_names(SKILLS, []))
    assert lines[0] == "Station 1  breakout_attack, two_on_one: nothing was noted in it"
