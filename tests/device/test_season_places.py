"""Where season files lie and which are known: names that every disk takes, and none that is taken."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evaltrack.device.recent_seasons import MOST_RECENT, KnownSeason, note_season, recent_seasons
from evaltrack.device.season_places import demo_folder, free_place, season_stem, seasons_folder
from evaltrack.device.tablet import tablet_folder


@given(st.text(), st.text(max_size=300), st.text())
def test_any_team_gives_a_name_that_every_disk_takes(team, age_class, season):
    """Plain small letters, digits and hyphens, never empty, never long, no hyphen at an end."""
    stem = season_stem(team, age_class, season)
    assert stem
    assert len(stem) <= 60
    assert stem == stem.strip("-")
    assert all(c in "abcdefghijklmnopqrstuvwxyz0123456789-" for c in stem)


def test_a_name_is_still_read_by_people():
    """Accents go, words stay."""
    assert season_stem("Zoë's Łódź Kestrels", "12U", "2026/27") == "zoes-lodz-kestrels-12u-2026-27"


@pytest.mark.parametrize("beside", ["", "-wal", "-journal"])
def test_a_taken_name_gets_a_number(tmp_path, beside):
    """Also where only the journal of a file that went away is there: it would be played into the new one."""
    assert free_place(tmp_path, "kestrels") == tmp_path / "kestrels.db"
    (tmp_path / f"kestrels.db{beside}").touch()
    assert free_place(tmp_path, "kestrels") == tmp_path / "kestrels-2.db"
    (tmp_path / "kestrels-2.db").mkdir()
    assert free_place(tmp_path, "kestrels") == tmp_path / "kestrels-3.db"


def test_a_teams_own_season_lies_where_its_owner_finds_it(monkeypatch, tmp_path):
    """In the documents where there are some, the invented one in the app's own folder."""
    assert seasons_folder().parent == demo_folder().parent == tablet_folder()
    monkeypatch.delenv("EVALTRACK_HOME")
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert seasons_folder() == tmp_path / "evaltrack"
    (tmp_path / "Documents").mkdir()
    assert seasons_folder() == tmp_path / "Documents" / "evaltrack"


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(0, 20), max_size=40))
def test_the_seasons_known_here_are_those_opened_last(tmp_path_factory, opened):
    """However often each is opened: the latest first, each once, no more than are kept."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("EVALTRACK_HOME", str(tmp_path_factory.mktemp("tablet")))
        for number in opened:
            note_season(Path(f"/seasons/{number}.db"), f"Team {number}")
        latest = list(dict.fromkeys(reversed(opened)))[:MOST_RECENT]
        assert recent_seasons() == [KnownSeason(Path(f"/seasons/{n}.db"), f"Team {n}") for n in latest]


def test_a_list_that_was_changed_by_hand_costs_no_more_than_its_entries(tablet_home):
    """What is no path and no team is passed over."""
    note_season(Path("/seasons/a.db"), "Team A")
    file = tablet_home / "seasons.json"
    file.write_text('{"/b.db": 7, "/c\\u0007.db": "C", "/d.db": "D"}')
    assert recent_seasons() == [KnownSeason(Path("/d.db"), "D")]
    file.write_text("[1")
    assert recent_seasons() == []


def test_a_file_that_went_away_is_known_to_be_away(tmp_path):
    """A folder in its place is no season file either."""
    path = tmp_path / "a.db"
    assert not KnownSeason(path, "").is_there
    path.touch()
    assert KnownSeason(path, "").is_there
    path.unlink()
    path.mkdir()
    assert not KnownSeason(path, "").is_there
    assert not KnownSeason(Path("a\x00b"), "").is_there
