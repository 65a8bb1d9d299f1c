"""The team from the fits of the standings at hand: the same figures as from nothing, no fit of its own."""

from datetime import date, timedelta

import numpy as np
import pytest
from seasons import player, skill

from evaltrack.analysis.standings import live as live_standings
from evaltrack.analysis.standings.live import LiveStandings, read_live, read_live_coverage
from evaltrack.analysis.team.courses import read_courses
from evaltrack.analysis.team.live_team import read_live_course, read_live_season
from evaltrack.analysis.team.season_view import read_season_view
from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season

DRILL = Drill("regroup", "Regroup", (Step("easy", "Easy", ()), Step("hard", "Hard", ())))


@pytest.fixture
def path(tmp_path):
    """Return the path of a season of eight players, two skills and six practices."""
    roster, made = [player(n) for n in range(1, 9)], [skill("stop"), skill("start"), skill("unseen")]
    words = {"team": "Lanterns", "age_class": "12U", "players": roster, "skills": made, "drills": [DRILL]}
    create_season(tmp_path / "s.db", **words).close()
    tally(tmp_path / "s.db", range(6))
    return tmp_path / "s.db"


def tally(path, weeks):
    """Add practices with three tries of everyone in each of two skills, at random."""
    rng = np.random.default_rng(7)
    days = [date(2026, 9, 14) + timedelta(weeks=week) for week in weeks]
    with open_season(path) as season:
        tallies = [
            Tally(day.isoformat(), who.id, key, rng.choice([Outcome.DONE, Outcome.MISSED]), DRILL.key,
                  str(rng.choice(["easy", "hard"])), "Ines", pressure=bool(rng.random() < 0.4))
            for day in days for who in season.people.players() for key in ("stop", "start") for _ in range(3)
        ]  # fmt: skip
        season.log.add_many([Practice(day.isoformat(), day) for day in days], tallies)


@pytest.fixture
def fits(monkeypatch):
    """Return the list that grows by one with every fit; the standings of this process begin anew."""
    made, fit_season = [], live_standings.fit_season
    monkeypatch.setattr(live_standings, "_live", LiveStandings())
    monkeypatch.setattr(live_standings, "fit_season", lambda *a, **k: made.append(1) or fit_season(*a, **k))
    return made


def test_nothing_is_fitted_beside_the_standings_at_hand(path, fits):
    """Whatever is asked of the team, until somebody writes to the file; then once for all."""
    read_live(path)
    assert read_live_course(path, "stop").practices == 6
    assert read_live_course(path, "unseen") is None
    assert [one.skill for one in read_live_season(path).skills] == ["stop", "start"]
    assert len(read_live_coverage(path)) == 8 * 3
    assert len(fits) == 1
    tally(path, [6])
    assert read_live_course(path, "stop").practices == 7
    read_live(path)
    assert len(fits) == 2


def test_the_season_and_a_skill_are_as_from_nothing(path, fits):
    """Figure by figure; and one skill alone is told as among the others."""
    view = read_live_season(path)
    with open_season(path) as season:
        assert view == read_season_view(season)
        assert read_courses(season, skill="start")[0] == [read_live_course(path, "start")]
    assert [read_live_course(path, one.skill) for one in view.skills] == list(view.skills)
    assert [len(one.compared) for one in view.skills] == [3, 3]  # two steps, and pressure
    assert len(fits) == 1
