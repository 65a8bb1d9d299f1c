"""`evaltrack notes` prints what the coach made of the pages in the app: of the same day, and no other."""

from datetime import date

import pytest

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey
from evaltrack.store.opening import open_season
from evaltrack.words.family.drafting import read_ground
from evaltrack.words.family.in_force import page_in_force

WORDS = "Asks good questions on the bench."


@pytest.fixture
def edited(season):
    """Let the coach have edited the page of number 14 as of the last practice; return that day."""
    with open_season(season) as opened:
        (player,) = [one for one in opened.people.players() if one.number == "14"]
        key = NoteKey(player.id, read_ground(opened).axis.last)
        thing = {"about": "0193a"}
        opened.notes.add(
            [
                NoteFact(key, NoteField.DRAFTED),
                NoteFact(key, NoteField.COACH_WORDS, WORDS),
                NoteFact(key, NoteField.AGREED, "Ten wall passes", **thing),
                NoteFact(key, NoteField.LOOK_AGAIN, "2026-03-03", **thing),
                NoteFact(key, NoteField.WORDS, "", "seen.counts"),
            ]
        )
    return key


def read_it(season, key) -> None:
    """Note that the page was read as it stands."""
    with open_season(season) as opened:
        player = next(one for one in opened.people.players() if one.id == key.player)
        own = [one for one in read_standings(opened, key.as_of) if one.player == player.number]
        _, mark = page_in_force(read_ground(opened, key.as_of), player, own, opened.notes.all()[key])
        opened.notes.add([NoteFact(key, NoteField.READ, str(mark))])


def printed(command, season, folder, *words) -> str:
    """Return the page of number 14 as plain text."""
    result = command("notes", season, "--out", folder, "--player", "14", "--form", "text", *words)
    assert result.exit_code == 0, result.output
    (page,) = folder.glob("*.txt")
    return page.read_text("utf-8")


def test_edits_stand_on_the_page_of_their_day(command, season, edited, tmp_path):
    """The coach's words, what was agreed; a sentence that was left out is not there."""
    text = printed(command, season, tmp_path / "now")
    assert WORDS in text
    assert "Ten wall passes" in text
    assert "3 March 2026" in text
    assert "wrote down" not in text
    assert text == printed(command, season, tmp_path / "again", "--as-of", edited.as_of.isoformat())


def test_another_day_is_another_page(command, season, edited, tmp_path):
    """It has none of these edits, another name, and takes the place of nothing."""
    folder = tmp_path / "notes"
    before = printed(command, season, folder)
    earlier = date.fromordinal(edited.as_of.toordinal() - 1).isoformat()
    result = command("notes", season, "--out", folder, "--player", "14", "--form", "text", "--as-of", earlier)
    assert result.exit_code == 0
    (other,) = (page for page in folder.glob("*.txt") if earlier in page.name)
    assert WORDS not in other.read_text("utf-8")
    (page,) = (page for page in folder.glob("*.txt") if page != other)
    assert page.read_text("utf-8") == before


def test_a_page_that_was_read_carries_no_draft(command, season, edited, tmp_path):
    """Until it is changed, in the app or by a count that is put right."""
    assert "Draft" in printed(command, season, tmp_path / "before")
    read_it(season, edited)
    assert "Draft" not in printed(command, season, tmp_path / "read")
    with open_season(season) as opened:
        opened.notes.add([NoteFact(edited, NoteField.COACH, "Ines")])
    assert "Draft" in printed(command, season, tmp_path / "changed")


def test_printed_twice_the_same_bytes(command, season, edited, tmp_path):
    """As a PDF, with the edits on it."""
    for name in ("one", "two"):
        command("notes", season, "--out", tmp_path / name, "--player", "14")
    (one,), (two,) = ((tmp_path / name).glob("*.pdf") for name in ("one", "two"))
    assert one.read_bytes() == two.read_bytes()
