"""Until when names are kept, in the file: the last word counts, within bounds that no clock moves."""

from datetime import date, timedelta

import pytest

from evaltrack.errors import EvaltrackError, SeasonFileError
from evaltrack.rink.practice import Practice
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import read_pack


@pytest.fixture
def season(season_path):
    with open_season(season_path) as season:
        season.practices.add([Practice("2026-01-20", date(2026, 1, 20))])
        yield season


def test_the_last_word_counts_and_goes_with_the_file(season, season_path):
    """Before anybody has chosen it is what is usual."""
    usual, held = season.life.retention(), [one.held_on for one in season.practices.all()]
    assert (usual.chosen, usual.last) == (False, date(2026, 1, 20))
    assert usual.until == min(held) + timedelta(weeks=48)
    for day in (date(2026, 8, 1), date(2026, 7, 1)):
        season.life.keep_until(day, "bench", at=5)
    with open_season(season_path) as other:
        assert other.life.retention().until == date(2026, 7, 1)
        assert other.life.closed() is None


@pytest.mark.parametrize(
    ("day", "words"), [(date(2026, 1, 19), "still ran"), (date(2028, 1, 19), "two years after")]
)
def test_days_out_of_bounds_are_refused(season, day, words):
    """Before the last practice, and more than two years after it; nothing is written."""
    with pytest.raises(EvaltrackError, match=words):
        season.life.keep_until(day)
    assert not season.life.retention().chosen
    season.life.keep_until(date(2026, 1, 20))
    season.life.keep_until(date(2028, 1, 18))


def test_another_tablet_hears_of_it(season, tmp_path):
    """It goes along with packs, and the later word wins whichever came first."""
    copy = tmp_path / "other.db"
    season.copies.write(copy)
    with open_season(copy) as other:
        season.life.keep_until(date(2026, 5, 1), "a", at=1_000)
        other.life.keep_until(date(2026, 6, 1), "b", at=2_000)
        packs = season.packs.pack("a", at=3_000), other.packs.pack("b", at=3_000)
        season.packs.join([("b", read_pack("b", packs[1]))], now=4_000)
        other.packs.join([("a", read_pack("a", packs[0]))], now=4_000)
        assert season.life.retention() == other.life.retention()
        assert season.life.retention().until == date(2026, 6, 1)


def test_a_day_that_is_none_is_told(season):
    """As every value of a file that may come from anywhere."""
    season._connection.execute("INSERT INTO season_fact VALUES (1, '', 'keep_until', 'soon', 1)")
    with pytest.raises(SeasonFileError, match="kept"):
        season.life.retention()
