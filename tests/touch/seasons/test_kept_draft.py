"""What was typed of a new season outlives the app, and goes when the season file is made."""

import sys

import pytest
from counted_taps import Counted, rows_of
from hypothesis import given, settings
from hypothesis import strategies as st
from pressing import press
from test_first_steps import SHEET

from evaltrack.intake.roster_lines import RosterLine, pasted
from evaltrack.touch.seasons.kept_draft import forget, keep, kept
from evaltrack.touch.seasons.season_draft import SeasonDraft

CELLS = st.text(max_size=20)


@settings(deadline=None, max_examples=30)
@given(st.tuples(CELLS, CELLS, CELLS), st.lists(st.tuples(*[CELLS] * 5), max_size=10))
def test_what_is_kept_comes_back_as_it_was(tmp_path_factory, words, lines):
    """Any words and lines, in any letters; after it is let go of there is nothing."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("EVALTRACK_HOME", str(tmp_path_factory.mktemp("tablet")))
        lines = [RosterLine(*line) for line in lines]
        keep(words, lines)
        assert kept() == (words, lines)
        forget()
        assert kept() == (("", "", ""), [])


@pytest.mark.parametrize(
    "text", ["", "[1]", '{"team": 7, "lines": 3}', '{"lines": [[1, 2], ["7"], null, "abcde"]}']
)
def test_a_file_that_was_changed_costs_no_more_than_what_is_in_it(tablet_home, text):
    """What makes no sense is passed over."""
    (tablet_home / "new-season.json").write_text(text)
    assert kept() == (("", "", ""), [])


def test_a_folder_that_cannot_be_written_to_keeps_nobody_from_typing(read_only_folder, monkeypatch):
    """The roster is in hand all the same."""
    with read_only_folder() as folder:
        monkeypatch.setenv("EVALTRACK_HOME", str(folder))
        draft = SeasonDraft()
        draft.add([RosterLine("7", "Bo", "D")])
        assert len(draft.players) == 1


def test_an_app_that_ends_in_the_midst_goes_on_with_the_roster_at_the_next_start(counted, drive, tablet_home):
    """Team, class and every line are there again; once the season is made, nothing of it lies beside it."""
    press(counted, "Start our season")
    counted.type_in(counted.screen.ids.team, "Kestrels")
    press(counted, "12U")
    press(counted, "Next: the roster")
    counted.app.season_draft.add(pasted(SHEET).lines)
    counted.close()
    kept_in = tablet_home / "new-season.json"
    if sys.platform != "win32":
        assert kept_in.stat().st_mode & 0o077 == 0
    again = Counted(drive())
    press(again, "Start our season")
    assert again.screen.ids.team.text == "Kestrels"
    press(again, "Next: the roster")
    assert len(rows_of(again)) == 17
    press(again, "Make the season")
    again.wait(lambda: again.screen.name == "home")
    assert len(again.app.desk.players) == 17
    assert not kept_in.exists()
