"""Wishes that cannot be met: as few as possible, each told with a smallest set that it does not go with."""

import numpy as np
import pytest
from invented_groups import drawn_team, every_assignment, that_keep

from evaltrack.analysis.planning.conflicts import met_and_unmet
from evaltrack.analysis.planning.group_rules import Member, Place
from evaltrack.rink.plan import Wish, WishKind
from evaltrack.rink.player import Position

TOGETHER, APART, NOT_AGAIN = WishKind.TOGETHER, WishKind.APART, WishKind.NOT_AGAIN


def team(count: int, limited: str = "") -> list[Member]:
    """Return so many forwards; those in ``limited`` take no contact."""
    return [Member(str(n), Position.FORWARD, (0.0, 0.0), limited=str(n) in limited) for n in range(count)]


def test_what_goes_together_is_kept():
    """And nothing is unmet."""
    wishes = [Wish(TOGETHER, "0", "1"), Wish(APART, "0", "2")]
    assert met_and_unmet(team(4), [Place(), Place()], wishes) == (wishes, [])


def test_a_contradiction_is_named_with_its_parts():
    """0 with 1, 1 with 2, 0 without 2: one is given up, the two others are what it does not go with."""
    wishes = [
        Wish(TOGETHER, "0", "1"),
        Wish(TOGETHER, "1", "2"),
        Wish(APART, "0", "2"),
        Wish(APART, "4", "5"),
    ]
    kept, (unmet,) = met_and_unmet(team(8), [Place(), Place()], wishes)
    assert {unmet.wish, *unmet.against} == set(wishes[:3])
    assert set(kept) == set(wishes) - {unmet.wish}


def test_a_chain_that_is_too_long_for_a_group():
    """Four in a chain, groups of three: the whole chain is told."""
    wishes = [Wish(TOGETHER, str(n), str(n + 1)) for n in range(3)]
    _, (unmet,) = met_and_unmet(team(6), [Place(), Place()], wishes)
    assert {unmet.wish, *unmet.against} == set(wishes)


def test_contact_is_named_where_it_stands_against_a_wish():
    """Two limited players and one calm station: they cannot be apart."""
    wish = Wish(APART, "0", "1")
    _, (unmet,) = met_and_unmet(team(4, "01"), [Place(), Place(contact=True)], [wish])
    assert unmet.wish == wish
    assert unmet.contact == ("0", "1")


def test_not_again_asks_nothing_of_those_who_were_apart():
    """It means apart for two who were in one group last time, and is told as it was wished."""
    wishes = [Wish(NOT_AGAIN, "0", "1"), Wish(NOT_AGAIN, "0", "2"), Wish(TOGETHER, "0", "1")]
    before = [frozenset("01"), frozenset("23")]
    kept, (unmet,) = met_and_unmet(team(4), [Place(), Place()], wishes, before)
    assert len(kept) == 1
    assert {unmet.wish, *unmet.against} == {wishes[0], wishes[2]}


def test_wishes_about_who_is_not_here_are_left_out():
    """They are neither met nor unmet."""
    assert met_and_unmet(team(4), [Place(), Place()], [Wish(TOGETHER, "0", "9")]) == ([], [])


@pytest.mark.parametrize("seed", range(12))
def test_as_few_as_possible_are_given_up(seed):
    """By looking at all groups: no fewer can be broken; what is told cannot be met, none of it spared."""
    rng = np.random.default_rng(seed)
    members, places, wishes = drawn_team(rng, 7, 3, 9, limited=0.15)
    every = that_keep(every_assignment(7, 3), members, places, [])
    if not len(every):
        return
    kept, unmet = met_and_unmet(members, places, wishes)
    broken = [len(wishes) - met for met in _met(every, wishes)]
    assert len(unmet) == min(broken)
    assert len(kept) + len(unmet) == len(wishes)
    assert len(that_keep(every, members, places, kept))
    free = every_assignment(7, 3)
    for one in unmet:
        rules = [one.wish, *one.against]
        assert not len(_with(free, members, places, rules, one.contact))
        for at in range(1, len(rules)):
            assert len(_with(free, members, places, rules[:at] + rules[at + 1 :], one.contact))
        for number in one.contact:
            assert len(_with(free, members, places, rules, set(one.contact) - {number}))


def _met(every, wishes):
    same = [every[:, int(w.player)] == every[:, int(w.other)] for w in wishes]
    kept = [one if w.kind is TOGETHER else ~one for one, w in zip(same, wishes, strict=True)]
    return np.sum(kept, axis=0)


def _with(every, members, places, wishes, limited):
    some = [Member(m.number, m.position, m.gain, limited=m.number in limited) for m in members]
    return that_keep(every, some, places, wishes)
