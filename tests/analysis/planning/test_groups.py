"""Groups are the best of all that keep the rules, in every small case that can be looked through."""

from dataclasses import replace

import numpy as np
import pytest
from invented_groups import costs_by_hand, drawn_team, every_assignment, that_keep

from evaltrack.analysis.planning.group_rules import Member, Place, bounds, broken_rules, cost_of
from evaltrack.analysis.planning.grouping import grouped
from evaltrack.rink.plan import Grouping, Wish, WishKind
from evaltrack.rink.player import Position

D, F, G = Position.DEFENCE, Position.FORWARD, Position.GOALIE
SMALL = [(players, stations) for players in range(1, 10) for stations in range(1, 4)]


@pytest.mark.parametrize(("players", "stations"), SMALL)
def test_no_groups_at_all_are_cheaper(players, stations):
    """With wishes, contact and missing positions, the cost is the least of all groups that keep the rules."""
    every = every_assignment(players, stations)
    for seed in range(2):
        rng = np.random.default_rng([seed, players, stations])
        members, places, wishes = drawn_team(rng, players, stations, 3 * seed)
        kept = that_keep(every, members, places, wishes)
        for grouping in Grouping:
            found = grouped(members, places, grouping, wishes)
            if not len(kept):
                assert found is None
                continue
            least = costs_by_hand(kept, members, places, grouping).min()
            assert found.proven
            assert found.cost == pytest.approx(least, abs=1e-6)
            assert broken_rules(found.station, members, places, wishes) == []


def test_cost_counted_in_the_house_is_that_by_hand():
    """Of groups that nobody would choose, too."""
    rng = np.random.default_rng(3)
    members, places, _ = drawn_team(rng, 7, 3, 0)
    every = every_assignment(7, 3)
    for grouping in Grouping:
        by_hand = costs_by_hand(every, members, places, grouping)
        for at in rng.integers(len(every), size=20):
            assert cost_of(every[at], members, places, grouping) == pytest.approx(by_hand[at])


def member(number: int, position=F, gain=(0.0, 0.0), level=0.0, limited=False) -> Member:
    """Return a member of whom only what is said matters."""
    return Member(str(number), position, gain, level, limited)


def test_by_need_each_is_where_the_need_is():
    """Four players whom another station serves than the other four."""
    team = [member(n, gain=(1.0, 0.0) if n % 2 else (0.0, 1.0)) for n in range(8)]
    assert grouped(team, [Place(), Place()], Grouping.NEED).station == (1, 0) * 4


def test_mixed_groups_have_of_each_third_alike():
    """Nine players by level: each of three groups has one of the lowest, middle and highest three."""
    team = [member(n, gain=(0.0,) * 3, level=float(n)) for n in range(9)]
    station = grouped(team, [Place()] * 3, Grouping.MIXED).station
    assert all(set(station[third : third + 3]) == {0, 1, 2} for third in (0, 3, 6))


def test_alike_groups_go_up_with_the_level():
    """The lowest are at the first station, the easiest; defenders and forwards each for themselves."""
    team = [member(n, (D, F)[n % 2], (0.0,) * 3, float(n)) for n in range(12)]
    assert grouped(team, [Place()] * 3, Grouping.ALIKE).station == (0,) * 4 + (1,) * 4 + (2,) * 4


def test_goalies_and_defenders_are_spread():
    """Three goalies and three defenders at three stations, whatever their need."""
    team = [member(n, (G, D, F)[n // 3], (1.0, 0.0, 0.0)) for n in range(9)]
    station = grouped(team, [Place()] * 3, Grouping.NEED).station
    assert {*station[:3]} == {*station[3:6]} == {0, 1, 2}


def test_defenders_are_where_a_station_needs_them():
    """A step without a slot for defenders gets none as long as they fit elsewhere."""
    team = [member(n, D if n < 2 else F, (0.0, 1.0)) for n in range(6)]
    station = grouped(team, [Place(), Place(takes=frozenset({F}))], Grouping.NEED).station
    assert station[:2] == (0, 0)


def test_a_limited_player_has_no_contact_whatever_the_need():
    """And where there is contact everywhere no groups are found."""
    team = [member(n, gain=(0.0, 9.0), limited=n == 0) for n in range(4)]
    assert grouped(team, [Place(), Place(contact=True)], Grouping.NEED).station[0] == 0
    assert grouped(team, [Place(contact=True)] * 2, Grouping.NEED) is None
    assert grouped(team, [Place(contact=True)] * 2, Grouping.NEED, contact=False).proven


def test_who_is_held_stays_and_the_others_are_the_best_round_them():
    """Looked at every one: the cheapest groups in which the first player is at the last station."""
    rng = np.random.default_rng(5)
    members, places, _ = drawn_team(rng, 8, 3, 0)
    members[0] = replace(members[0], held=2, limited=False)
    every = that_keep(every_assignment(8, 3), members, places, [])
    every = every[every[:, 0] == 2]
    for grouping in Grouping:
        found = grouped(members, places, grouping)
        assert found.station[0] == 2
        assert found.cost == pytest.approx(costs_by_hand(every, members, places, grouping).min(), abs=1e-6)


def test_more_may_be_held_than_a_group_would_have():
    """Five of eight at one of three stations: the other three are spread over the other two."""
    team = [replace(member(n, gain=(0.0,) * 3), held=1 if n < 5 else None) for n in range(8)]
    assert bounds(team, 3) == [(1, 2), (5, 5), (1, 2)]
    station = grouped(team, [Place()] * 3, Grouping.NEED).station
    assert station[:5] == (1,) * 5
    assert sorted(station[5:]) in ([0, 0, 2], [0, 2, 2])
    assert bounds([replace(one, held=0) for one in team], 3) == [(8, 8), (0, 0), (0, 0)]


def test_what_a_limit_of_time_leaves_is_said():
    """Groups that are not proven the best tell their gap, and still keep every rule."""
    rng = np.random.default_rng(8)
    members, places, _ = drawn_team(rng, 40, 8, 0)
    wishes = [Wish(WishKind.APART, str(n), str(n + 1)) for n in range(0, 38, 2)]
    found = grouped(members, places, Grouping.MIXED, wishes, seconds=0.0)
    assert broken_rules(found.station, members, places, wishes) == []
    assert found.proven or found.gap > 0


def test_rules_are_checked_in_plain_python():
    """Each broken rule is told: size, station, contact, wish."""
    team = [member(0, limited=True), member(1), member(2), member(3)]
    places = [Place(contact=True), Place()]
    wishes = [Wish(WishKind.TOGETHER, "0", "3"), Wish(WishKind.APART, "1", "2")]
    assert broken_rules((1, 0, 1, 0), team, places, []) == []
    told = " ".join(broken_rules((0, 0, 0, 1), team, places, wishes))
    for part in ("station 0 has 3", "0 has contact", "0 and 3 are not together", "1 and 2 are not apart"):
        assert part in told
