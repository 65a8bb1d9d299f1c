"""Who is named as much stricter than the other observers, or as noting mostly failures."""

from collections import Counter, defaultdict

import numpy as np
import pytest
from by_hand import OBSERVER
from known_moves import MovesWorld, known_season
from scipy.stats import t as student
from season_by_hand import SKILLS, World, Z
from seasons import cell, player

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.severity import MUCH, SURE, severities, strict_observers
from evaltrack.analysis.standings.standings import positions_of

ROSTER = [player(n) for n in range(1, 11)]


def named(seed: int, world: MovesWorld) -> list:
    """Return who is named in a season whose law is known."""
    known = known_season(np.random.default_rng(seed), world)
    cells = known.cells()
    return strict_observers(cells, fit_season(cells, positions_of(known.roster)), ["s0", "s1", "s2", "s3"])


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("observers", [2, 3])
def test_who_notes_every_miss_and_few_dones_is_named(seed, observers):
    """And nobody else is."""
    found = named(seed, MovesWorld(players=12, skills=4, observers=observers, noted=0.3))
    assert [one.observer for one in found] == [f"o{observers - 1}"]
    (one,) = found
    assert one.others == tuple(f"o{n}" for n in range(observers - 1))
    assert one.low < one.severity < one.high
    assert one.severity > MUCH
    assert one.p_strict >= SURE


@pytest.mark.parametrize("seed", range(8))
def test_honest_observers_are_not_named(seed):
    """Though they differ a little from skill to skill."""
    assert named(seed, MovesWorld(players=12, skills=4)) == []


def test_the_counts_are_of_skills_that_others_watched_too():
    """All tries and those of the others, in the order asked for, without skills that nobody else watched."""
    rows = []
    for who in ROSTER:
        for week in range(10):
            rows.append(cell(who, "stop", week, 4, 1, observer="Marit"))
            rows.append(cell(who, "stop", week, 3, 3, observer="Ines"))
            rows.append(cell(who, "gap", week, 5, 1, observer="Marit"))
            rows.append(cell(who, "gap", week, 2, 2, observer="Ines"))
            rows.append(cell(who, "start", week, 2, 0, observer="Marit"))
    cells = cells_frame(rows)
    (one,) = strict_observers(cells, fit_season(cells), ["start", "stop", "gap"])
    assert (one.observer, one.others, one.tries) == ("Marit", ("Ines",), 900)
    told = [(c.skill, c.tries, c.done, c.tries_without, c.done_without) for c in one.counts]
    assert told == [("stop", 700, 400, 300, 300), ("gap", 700, 300, 200, 200)]


def test_one_observer_cannot_be_seen():
    """Nor two who never watched the same skill; and an empty season names nobody."""
    apart = {"stop": "Marit", "gap": "Ines"}
    for by in ({"stop": "Marit", "gap": "Marit"}, apart):
        rows = [
            cell(who, key, week, 4, 0, observer=by[key]) for who in ROSTER for key in by for week in range(9)
        ]
        cells = cells_frame(rows)
        assert strict_observers(cells, fit_season(cells), list(by)) == []
    assert strict_observers(cells, {}, list(apart)) == []


@pytest.mark.parametrize("shared", [True, False])
@pytest.mark.parametrize("seed", [0, 3])
def test_severity_is_the_mean_over_skills_written_out_by_hand(seed, shared):
    """Each skill by the observer's tries, the others of a skill by theirs; the doubt by the covariance."""
    world = World(seed, shared)
    by_hand, found = world.by_hand, severities(next(iter(world.fits.values())))
    tries = defaultdict(Counter)
    for tried in by_hand.tried:
        tries[tried.skill][tried.observer] += tried.tries
    mean, cov = by_hand.moments()
    start = len(by_hand.fit.fixed) + sum(map(len, by_hand.fit.effects[:OBSERVER]))
    place = {pair: start + number for number, pair in enumerate(by_hand.observers)}
    assert set(tries) <= set(SKILLS)
    for number, name in enumerate(found.observers):
        contrast, mine = np.zeros(len(mean)), {k: c[name] for k, c in tries.items() if c[name] and len(c) > 1}
        for key, count in mine.items():
            weight, others = count / sum(mine.values()), tries[key].total() - count
            contrast[place[key, name]] -= weight
            for other, part in tries[key].items():
                if other != name:
                    contrast[place[key, other]] += weight * part / others
        assert found.severity[number] == pytest.approx(contrast @ mean, abs=1e-9)
        sd = np.sqrt(contrast @ cov @ contrast)
        assert found.sd[number] == pytest.approx(sd, abs=1e-9)
        law = student(len(by_hand.observers))
        assert found.p_strict[number] == pytest.approx(law.sf((0.3 - found.severity[number]) / sd), abs=1e-9)
        assert found.interval[1][number] > found.severity[number] + Z * sd
