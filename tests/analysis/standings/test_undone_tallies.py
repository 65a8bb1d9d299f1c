"""Undone tallies leave no trace in the standings, in whatever order tallies and withdrawals arrive."""

import random
import shutil
from datetime import timedelta
from itertools import groupby
from pathlib import Path
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from seasons import FIRST, assert_sound, player, skill

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally, Withdrawal
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season

ROSTER = [player(n) for n in range(1, 6)]
SKILLS = [skill("stop"), skill("start", 0.5)]
DRILL = Drill(
    "stops_starts", "Stops and starts", (Step("on_lines", "Lines", ()), Step("on_whistle", "W", ()))
)
PRACTICES = [Practice(day.isoformat(), day) for day in (FIRST + timedelta(weeks=w) for w in range(5))]
OBSERVERS = ("Ines", "Milo")
OUTCOMES = (Outcome.DONE, Outcome.MISSED, Outcome.UNSEEN)


@pytest.fixture(scope="module")
def empty(tmp_path_factory) -> Path:
    """Return a season file of five players, two skills and five practices without a tally."""
    path = tmp_path_factory.mktemp("undone") / "empty.db"
    named = {"team": "Kettle Bay Lanterns", "age_class": "12U"}
    with create_season(path, **named, players=ROSTER, skills=SKILLS, drills=[DRILL]) as season:
        season.practices.add(PRACTICES)
        for name in OBSERVERS:
            season.people.add_observer(name)
    return path


def tallies(chance: random.Random) -> list[Tally]:
    """Return 60 to 100 tallies of every kind; the last practice has few, and may lose them all."""
    return [
        Tally(
            practice=PRACTICES[chance.choices(range(5), (5, 5, 5, 5, 0.5))[0]].key,
            player=chance.choice(ROSTER).id,
            skill=chance.choice(SKILLS).key,
            outcome=chance.choices(OUTCOMES, (6, 3, 1))[0],
            drill=DRILL.key,
            step=chance.choice(DRILL.steps).key,
            observer=chance.choice(OBSERVERS),
            pressure=chance.choice((None, True, False)),
            at=n,
            id=UUID(int=1 + n),
        )
        for n in range(chance.randint(60, 100))
    ]


def arrived(empty: Path, path: Path, facts: list[Tally | Withdrawal]):
    """Return the standings of a season file in which the facts arrived in this order."""
    with open_season(shutil.copy(empty, path)) as season:
        # tallies that follow each other are written at once, which saves the disk
        for kind, run in groupby(facts, type):
            if kind is Tally:
                season.log.add_many([], run)
            else:
                for withdrawal in run:
                    season.log.withdraw(withdrawal)
        return read_standings(season)


def shuffled(chance: random.Random, facts: list[Tally | Withdrawal]) -> list[Tally | Withdrawal]:
    """Return the facts in five deliveries, the withdrawals of each before its tallies."""
    deliveries = [[] for _ in range(5)]
    for fact in chance.sample(facts, len(facts)):
        chance.choice(deliveries).append(fact)
    return [fact for each in deliveries for fact in sorted(each, key=lambda f: isinstance(f, Tally))]


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 100_000), st.sampled_from([0.05, 0.3, 0.8]))
def test_undone_tallies_leave_no_trace(tmp_path_factory, empty, seed, undone):
    """Every figure, call and path is that of a file that never had the tallies that were undone.

    A withdrawal may come before its tally, come twice, or be of a tally that never comes.
    """
    chance, folder = random.Random(seed), tmp_path_factory.mktemp("arrivals")
    everything = tallies(chance)
    gone = {tally.id for tally in everything if chance.random() < undone}
    kept = [tally for tally in everything if tally.id not in gone]
    withdrawals = [Withdrawal(ident, at=n) for n, ident in enumerate([*sorted(gone), UUID(int=10**9)])]
    facts = [*everything, *withdrawals, *withdrawals[:3]]
    standings = arrived(empty, folder / "undone.db", shuffled(chance, facts))
    assert standings == arrived(empty, folder / "never.db", kept)
    assert sum(one.tries for one in standings) == sum(tally.outcome is not Outcome.UNSEEN for tally in kept)
    assert_sound(standings)


def test_what_is_undone_would_have_left_a_trace(tmp_path, empty):
    """The tallies of this file matter: with and without a third of them the standings differ throughout."""
    everything = tallies(random.Random(5))
    whole = arrived(empty, tmp_path / "whole.db", everything)
    part = arrived(empty, tmp_path / "part.db", everything[::3] + everything[1::3])
    assert all(one.doubt is None for one in [*whole, *part])
    assert all(one.share != other.share for one, other in zip(whole, part, strict=True))
