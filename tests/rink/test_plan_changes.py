"""What a coach changes in a plan by hand: the minutes stay the ice time, and nobody gets lost."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st
from lanterns_season import PLAYERS
from planned_cards import card, cards

from evaltrack.rink.plan import Asked, Block, Part, Plan, Tries
from evaltrack.rink.plan_card import STEPS, PlanCard
from evaltrack.rink.plan_changes import (
    can_swap,
    held,
    held_players,
    held_steps,
    kept_from,
    lengthened,
    locked,
    moved,
    swapped,
)


def changed(one: PlanCard, data) -> PlanCard:
    """Return a plan after one change, made by chance."""
    at = data.draw(st.integers(0, len(one.blocks) - 1))
    player = data.draw(st.sampled_from(sorted(one.places)))
    places = [n for n in range(len(one.blocks)) if can_swap(one, n)]
    act = data.draw(st.sampled_from(["longer", "shorter", "swap", "move", "hold", "lock"]))
    match act:
        case "longer" | "shorter":
            return lengthened(one, at, 1 if act == "longer" else -1)
        case "swap":
            pair = data.draw(st.sampled_from(places)), data.draw(st.sampled_from(places))
            return swapped(one, *pair) if pair[0] != pair[1] else one
        case "move":
            return moved(one, player, data.draw(st.integers(0, len(one.starts) - 1)))
        case "hold":
            return held(one, player)
    return locked(one, at)


@settings(deadline=None)
@given(cards(), st.data())
def test_changes_keep_the_ice_time_the_players_and_the_steps(one, data):
    """After ten changes: as many minutes, everybody in a group, each step as often, no block without time."""
    after = one
    for _ in range(10):
        after = changed(after, data)
    assert after.minutes == one.minutes
    assert sorted(p for group in after.groups for p in group) == sorted(one.places)
    assert all(block.minutes >= 1 for block in after.blocks)
    assert [block.part for block in after.blocks] == [block.part for block in one.blocks]
    assert Counter((b.drill, b.step) for b in after.blocks) == Counter((b.drill, b.step) for b in one.blocks)
    rounds = [b for b in after.blocks if b.part in STEPS][: len(after.starts)]
    assert after.starts == tuple((b.drill, b.step) for b in rounds)
    assert len(after.looks) == len(one.looks)


@given(cards(), st.data())
def test_locked_parts_stay_when_the_rest_is_worked_out_anew(one, data):
    """Another plan of the same parts takes over the locks, and the minutes as far as others have enough."""
    anew = one
    for _ in range(6):
        anew = changed(anew, data)
    kept = kept_from(one, anew)
    assert kept.minutes == anew.minutes
    assert [b.locked for b in kept.blocks] == [
        new.locked or old.locked for old, new in zip(one.blocks, anew.blocks, strict=True)
    ]
    assert held_players(kept).keys() == held_players(one).keys()


def test_the_stations_run_at_once_so_their_rounds_grow_and_shrink_together():
    """The warm-up makes up for both; the tries that each can expect go with the minutes."""
    after = lengthened(card(), 1, 1)
    assert [block.minutes for block in after.blocks] == [6, 16, 1, 17]
    assert (after.blocks[1].most, after.blocks[3].most) == (6 * 16 / 15, 3 * 17 / 16)
    assert lengthened(after, 3, -1) == card()
    assert lengthened(locked(card(), 0), 1, 1) == locked(card(), 0)


@given(cards(), st.data())
def test_everybody_comes_by_every_station_once_and_nobody_is_at_two_at_a_time(one, data):
    """While the groups go round; a round of their own afterwards is one more at the first one."""
    player = data.draw(st.sampled_from(sorted(one.places)))
    rounds = [one.times_of(player, at)[0] for at in one.rounds]
    assert sorted(rounds) == list(one.rounds)
    for at in one.rounds:
        more = one.times_of(player, at)[1:]
        assert {one.blocks[n].part for n in more} <= {Part.OWN}
        assert not more or one.places[player].station == one.rounds.index(at)


def test_two_stations_are_swapped_with_who_begins_there_and_whom_to_watch():
    """Whoever is to begin with a step still begins with it; both blocks are locked."""
    one, after = card(), swapped(card(), 1, 3)
    assert [(b.part, b.minutes, b.step) for b in after.blocks] == [
        *((b.part, b.minutes, b.step) for b in one.blocks[:1]),
        ("station", 15, one.blocks[3].step),
        ("changeover", 1, ""),
        ("station", 16, one.blocks[1].step),
    ]
    for group, start in zip(one.groups, one.starts, strict=True):
        assert group == after.groups[after.starts.index(start)]
    assert [(look.block, look.player) for look in after.looks] == [(1, PLAYERS[4].id), (3, PLAYERS[0].id)]
    assert held_steps(after) == tuple((at, *keys) for at, keys in enumerate(after.starts))


def test_a_player_who_is_moved_stays_there():
    """They are locked until somebody lets them go."""
    after = moved(card(), PLAYERS[0].id, 1)
    assert (held_players(after), held_players(held(after, PLAYERS[0].id))) == ({PLAYERS[0].id: 1}, {})


def test_tries_of_all_blocks_add_up():
    """Of each player in each skill, and of nobody else."""
    blocks = [
        Block(Part.STATION, 10, tries=(Tries("7", "stop", 2.5), Tries("9", "stop", 4.0))),
        Block(Part.CHANGEOVER, 1),
        Block(Part.STATION, 10, tries=(Tries("7", "stop", 1.5), Tries("7", "start", 0.5))),
    ]
    plan = Plan(Asked(), tuple(blocks), (), ())
    assert plan.tries_of() == {("7", "stop"): 4.0, ("9", "stop"): 4.0, ("7", "start"): 0.5}
