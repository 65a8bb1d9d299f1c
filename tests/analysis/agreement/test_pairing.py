"""Pairing two observers' tries: known offsets are found, and nothing is paired that is not the same try."""

import random
from dataclasses import replace
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evaltrack.analysis.agreement.pairing import FEWEST, WINDOW, pair_practice, pair_two
from evaltrack.rink.tally import Outcome, Tally

START = 1_760_000_000_000
PLAYERS = [UUID(int=number + 1) for number in range(10)]
seeds = st.integers(0, 2**32 - 1)
offsets = st.integers(-150_000, 150_000)


def tally(observer: str, at: int, number: int, player: UUID = PLAYERS[0], **other) -> Tally:
    """Return a tally whose id tells which try it is of."""
    ident = UUID(int=(number << 8) + (observer == "Dev"))
    where = {"practice": "2026-10-06", "drill": "stops_starts", "step": "on_lines", "skill": "stop"}
    return Tally(
        **where | {"outcome": Outcome.DONE} | other, player=player, observer=observer, at=at, id=ident
    )


def watched(seed: int, offset: int = 0, tries: int = 80, missing: float = 0.1) -> tuple[list, list]:
    """Simulate ten minutes that two observers watch; each misses a part of the tries and taps late."""
    dice = random.Random(seed)
    seen = {"Dev": [], "Marit": []}
    for number in range(tries):
        if number % len(PLAYERS) == 0:
            line = dice.sample(PLAYERS, len(PLAYERS))
        moment = START + int(600_000 * (number + dice.random()) / tries)
        for name, clock in (("Dev", 0), ("Marit", offset)):
            late = dice.randrange(500, 2500)
            if dice.random() >= missing:
                seen[name].append(tally(name, moment + late + clock, number, line[number % len(line)]))
    return seen["Dev"], seen["Marit"]


def numbers(pairs) -> list[tuple[int, int]]:
    """Return which try each of a pair is of."""
    return [tuple(one.id.int >> 8 for one in pair) for pair in pairs]


@settings(max_examples=30, deadline=None)
@given(seeds, offsets)
def test_a_known_offset_and_its_pairs_are_found(seed, offset):
    """Of observers who each miss a tenth, the offset comes back within a second, and the very same tries.

    One in twenty may be wrong in a single simulation: when a player goes twice within seconds, and each
    observer misses another of the two, nobody could tell them apart.
    """
    dev, marit = watched(seed, offset)
    found = pair_two(dev, marit)
    assert found.offset == pytest.approx(offset, abs=1000)
    right, both = hits(dev, marit, found)
    assert right >= 0.95 * both
    assert len(found.pairs) - right <= 0.05 * both


def test_nearly_every_try_is_found():
    """Over 200 simulations 999 in 1000 of the tries that both saw are paired, and rightly."""
    trials = [(*watched(seed, 38_000),) for seed in range(200)]
    right, both = zip(*(hits(dev, marit, pair_two(dev, marit)) for dev, marit in trials), strict=True)
    assert sum(right) >= 0.999 * sum(both)


def hits(dev, marit, found) -> tuple[int, int]:
    """Return how many pairs are of one try, and how many tries both saw."""
    both = {t.id.int >> 8 for t in dev} & {t.id.int >> 8 for t in marit}
    return sum(a == b for a, b in numbers(found.pairs)), len(both)


@settings(max_examples=40, deadline=None)
@given(seeds, offsets, offsets)
def test_a_shift_of_one_clock_changes_no_pair(seed, offset, shift):
    """When one clock is shifted the offset follows it to the millisecond, and the pairs stay."""
    dev, marit = watched(seed, offset // 2)
    before = pair_two(dev, marit)
    after = pair_two(dev, [replace(t, at=t.at + shift // 2) for t in marit])
    assert after.offset == before.offset + shift // 2
    assert numbers(after.pairs) == numbers(before.pairs)


@settings(max_examples=40, deadline=None)
@given(seeds, offsets)
def test_it_does_not_matter_who_is_first(seed, offset):
    """With the observers changed over, the offset has the other sign and the pairs are the same."""
    dev, marit = watched(seed, offset)
    one, other = pair_two(dev, marit), pair_two(marit, dev)
    assert one.offset == -other.offset
    assert sorted(numbers(one.pairs)) == sorted((a, b) for b, a in numbers(other.pairs))


@settings(max_examples=40, deadline=None)
@given(seeds, st.randoms())
def test_outcomes_and_order_play_no_part(seed, dice):
    """The same tries are paired whatever was seen, in whatever order the tallies come."""
    dev, marit = watched(seed, 38_000)
    turned = [replace(t, outcome=dice.choice([Outcome.DONE, Outcome.MISSED])) for t in dev + marit]
    dice.shuffle(turned)
    (before,), (after,) = pair_practice(dev + marit), pair_practice(turned)
    assert (after.offset, numbers(after.pairs)) == (before.offset, numbers(before.pairs))


@settings(max_examples=40, deadline=None)
@given(seeds)
def test_nobody_is_paired_twice_or_with_another_player(seed):
    """A try is in one pair at most, and both of a pair are the same player's, within the window."""
    found = pair_two(*watched(seed, -61_000, missing=0.3))
    for side in (0, 1):
        assert len({pair[side].id for pair in found.pairs}) == len(found.pairs)
    for one, other in found.pairs:
        assert one.player == other.player
        assert abs(other.at - one.at - found.offset) < WINDOW


def test_a_greedy_choice_would_be_wrong():
    """The nearest two are not paired when that would cost a pair: the whole sum decides.

    Ten plain tries fix the clocks. Then Dev taps at 0 and 4 s and Marit at 3.5 and 8 s: the nearest pair,
    4 and 3.5 s, would leave 0 and 8 s alone.
    """
    plain = [(START + 30_000 * n, START + 30_000 * n, n) for n in range(10)]
    times = [*plain, (START + 400_000, START + 403_500, 20), (START + 404_000, START + 408_000, 21)]
    found = pair_two([tally("Dev", a, n) for a, _, n in times], [tally("Marit", b, n) for _, b, n in times])
    assert found.offset == 0
    assert numbers(found.pairs)[-2:] == [(20, 20), (21, 21)]


def test_unseen_is_not_a_try():
    """What one observer did not see is in no pair and in no count."""
    dev, marit = watched(5, 38_000, missing=0)
    dev[7] = replace(dev[7], outcome=Outcome.UNSEEN)
    (found,) = pair_practice(dev + marit)
    assert (found.first_tries, found.second_tries, len(found.pairs)) == (79, 80, 79)
    assert 7 not in [a for a, _ in numbers(found.pairs)]


def test_different_tries_are_not_paired():
    """Two observers who watched the same players at unrelated moments give no offset: 40 simulated times."""
    found = [pair_two(watched(seed)[0], watched(seed + 1000)[1]) for seed in range(40)]
    assert [(one.offset, one.pairs) for one in found] == [(None, ())] * 40


def test_clocks_too_far_apart_are_said_not_to_fit():
    """An hour between the clocks is not bridged: it might as well be another station."""
    found = pair_two(*watched(3, 3_600_000))
    assert (found.offset, found.pairs) == (None, ())


def test_rounds_that_repeat_are_not_taken_for_one_another():
    """Players who go by a whistle in one order coincide again each round; the true offset wins, or none.

    Within five minutes the offset comes back; with ten minutes between the clocks no round is offered in
    place of the true one.
    """
    times = [START + 12_000 * n for n in range(60)]
    dev = [tally("Dev", at, n, PLAYERS[n % 5]) for n, at in enumerate(times)]
    for offset, found_offset in ((240_000, 240_000), (600_000, None)):
        marit = [tally("Marit", at + offset, n, PLAYERS[n % 5]) for n, at in enumerate(times)]
        assert pair_two(dev, marit).offset == found_offset


def test_tallies_without_a_time_are_left_out():
    """A list in which every tally has the same moment has no order to pair by."""
    dev, marit = watched(4)
    assert pair_practice([replace(t, at=START) for t in dev + marit]) == []


def test_another_definition_is_not_the_same_skill():
    """Tries under another version of the definition are not paired with those under the old one."""
    dev, marit = watched(4)
    assert pair_practice(dev + [replace(t, skill_version=2) for t in marit]) == []


def test_one_observer_on_two_tablets_is_not_two():
    """Tablets of one observer are not compared with each other."""
    dev, marit = watched(4)
    assert pair_practice(dev + [replace(t, observer="Dev", tablet="b") for t in marit]) == []


def test_the_first_of_two_is_the_first_by_name():
    """Names go as a reader orders them: Dev before Łucja before Marit, whatever the capitals."""
    dev, marit = watched(6, missing=0)
    for one, two in (("Łucja", "Marit"), ("dev", "Marit"), ("Dev", "Øyvind")):
        renamed = [replace(t, observer=two) for t in dev] + [replace(t, observer=one) for t in marit]
        (found,) = pair_practice(renamed)
        assert (found.first, found.second) == (one, two)


def test_each_tablet_has_its_own_clock():
    """When the second observer takes another tablet, both offsets are found."""
    dev, marit = watched(6, 38_000, missing=0)
    late = [replace(t, at=t.at - 60_000, tablet="b") for t in marit[40:]]
    found = pair_practice(dev + marit[:40] + late)
    assert [round(one.offset / 1000) for one in found] == [38, -22]
    assert [len(one.pairs) for one in found] == [40, 40]


def test_too_few_tries_are_no_pairing():
    """Fewer than the fewest tries in common say nothing."""
    dev, marit = watched(6, missing=0)
    assert pair_two(dev[: FEWEST - 1], marit[: FEWEST - 1]) is None
