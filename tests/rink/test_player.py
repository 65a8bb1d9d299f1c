"""A player's positions, status and days away, as plain values and as the texts that files have."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import product

import pytest

from evaltrack.rink.player import (
    ON_TEAM,
    Player,
    Position,
    Status,
    first_group,
    likely_present,
    may_be_both,
    status_in,
)
from evaltrack.rink.skill import Definition, Skill

D, F, G = Position
BACK = date(2026, 1, 20)
ODA = Player("4", "Oda Marsh", D)
BOTH, TURNED = replace(ODA, also=F), replace(ODA, position=F, also=D)


def test_only_skaters_play_both():
    """Of all pairs of groups two can be: a player of any other pair is not made."""
    made = []
    for first, also in product(Position, Position):
        try:
            made.append(Player("4", "Oda Marsh", first, also=also).position_text)
        except ValueError:
            assert not may_be_both(first, also)
    assert made == ["D/F", "F/D"]


@pytest.mark.parametrize(
    ("player", "groups", "text", "words"),
    [
        (ODA, (D,), "D", "defender"),
        (BOTH, (D, F), "D/F", "defender and forward"),
        (TURNED, (F, D), "F/D", "forward and defender"),
        (replace(ODA, position=G), (G,), "G", "goalie"),
    ],
)
def test_positions_in_files_and_in_words(player, groups, text, words):
    """The group that counts comes first in each, and is found again in the text."""
    assert (player.positions, player.position_text, player.position_words) == (groups, text, words)
    assert first_group(text) is groups[0]


@pytest.mark.parametrize(("positions", "suited"), [((D,), True), ((F,), False), ((F, D), True), ((), False)])
def test_a_skill_suits_whoever_plays_in_one_of_its_groups(positions, suited):
    """One of two groups is enough."""
    skill = Skill("gap_up", "Gap up", (D, G), "", Definition("", "", "", ""), "")
    assert skill.suits(*positions) is suited


@pytest.mark.parametrize(
    ("status", "until", "text"),
    [
        (Status.FULL, None, "full"),
        (Status.LIMITED, None, "limited"),
        (Status.AWAY, None, "away"),
        (Status.AWAY, BACK, "away until 2026-01-20"),
        (Status.LEFT, None, "left"),
    ],
)
def test_a_status_is_written_and_read_back(status, until, text):
    """Only away has a day."""
    assert replace(ODA, status=status, away_until=until).status_text == text
    assert status_in(text) == (status, until)


@pytest.mark.parametrize(
    "text", ["", "hurt", "full until 2026-01-20", "left until 2026-01-20", "away until soon"]
)
def test_what_is_no_status_is_refused(text):
    """A word of ours with a day that it cannot have is none either."""
    with pytest.raises(ValueError, match=r"not a valid|Invalid|until"):
        status_in(text)


def test_who_is_away_is_so_before_the_day_of_coming_back():
    """Without a day always; without a day asked for it is today."""
    away = replace(ODA, status=Status.AWAY, away_until=BACK)
    days = [BACK - timedelta(1), BACK, BACK + timedelta(1)]
    assert [away.is_away(day) for day in days] == [True, False, False]
    assert replace(away, away_until=None).is_away(BACK)
    tomorrow, today = (replace(away, away_until=date.today() + timedelta(n)) for n in (1, 0))
    assert (tomorrow.is_away(), today.is_away()) == (True, False)
    assert likely_present([tomorrow, today, replace(ODA, status=Status.LEFT)]) == [today]


def test_the_statuses_of_who_is_on_the_team():
    """All but one."""
    assert set(ON_TEAM) == set(Status) - {Status.LEFT}
