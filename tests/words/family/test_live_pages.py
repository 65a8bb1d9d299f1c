"""What pages are drafted from, as of several days, while the season goes on."""

from datetime import date

import pytest
from seasons_for_touch import new_season
from watched_for_notes import AFTER, BEFORE, watch

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.rink.tally import Withdrawal
from evaltrack.store.opening import open_season
from evaltrack.words.family.live_pages import LivePages


@pytest.fixture
def path(tmp_path):
    """Return a season of which three players were watched up to January."""
    path = new_season(tmp_path / "season.db")
    watch(path)
    return path


def test_days_are_worked_out_as_of_themselves(path):
    """The last practice is always there, and days before the first practice have nothing to tell."""
    watch(path, AFTER)
    day = BEFORE[-1]
    latest, found = LivePages().read(path, [day, date(2025, 1, 1)], {})
    assert (latest, list(found)) == (AFTER[-1], [day, AFTER[-1]])
    with open_season(path) as season:
        assert found[day].standings == read_standings(season, as_of=day)
    assert found[day].ground.axis.last == day


def test_what_is_known_is_not_sent_again_until_it_changes(path):
    """Tallies after the day change nothing of it; one withdrawn on it does."""
    pages, day = LivePages(), BEFORE[-1]
    _, found = pages.read(path, [], {})
    known = {day: found[day].edition}
    assert pages.read(path, [day], known) == (day, {day: None})
    watch(path, AFTER[:1])
    latest, found = pages.read(path, [day], known)
    assert (latest, found[day]) == (AFTER[0], None)
    with open_season(path) as season:
        season.log.withdraw(Withdrawal(season.log.tallies(practice=day.isoformat())[0].id))
    _, found = pages.read(path, [day], known)
    assert found[day].edition != known[day]


def test_a_season_without_a_practice_has_no_ground(tmp_path):
    """And another file is begun anew."""
    pages = LivePages()
    assert pages.read(new_season(tmp_path / "empty.db"), [BEFORE[0]], {}) == (None, {})
