"""What is told before a page is printed: other children, letters without a font, characters that hide."""

import re
from dataclasses import replace

import pytest
from added_font import added_font
from family_pages import EDITS, HOSTILE, OWN, family_page, others, standings_of_many
from form_words import everything_in, words_shown

from evaltrack.device.added_fonts import added_fonts, fonts_folder
from evaltrack.paper.note.concerns import concerns
from evaltrack.paper.note.filenames import note_name
from evaltrack.paper.note.forms import FORMS, Wanted, made
from evaltrack.paper.note.letters import missing_letters
from evaltrack.paper.note.notes import write_page
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.plain_text import folded
from evaltrack.rink.player import Player, Position


def _told(page, on_paper=True):
    return [one.sentence for one in concerns(page, OWN, others(), on_paper)]


def test_a_usual_page_has_no_concern():
    """Whoever keeps to the child is asked nothing, whatever their own name is."""
    assert _told(family_page()) == []


@pytest.mark.parametrize("form", FORMS)
def test_no_file_holds_the_name_of_another(form):
    """Words, alternative texts, properties, all that is packed into a file: no name and no part of one."""
    content = everything_in(form, made(family_page(is_draft=True), Wanted(form)).content)
    assert OWN.name in content
    flat = folded(content).casefold()
    for other in others():
        assert folded(other.name).casefold() not in flat
        for part in folded(other.name).casefold().split():
            assert not re.search(rf"\b{re.escape(part)}\b", flat), part


@pytest.mark.parametrize("form", FORMS)
def test_a_whole_name_stops_every_form(tmp_path, form):
    """Wherever it was typed: no file is made, and who is meant is said with its place."""
    for edits, place in (
        (NoteEdits(coach_words="Plays well with minh nguyen."), '"From the coach"'),
        (NoteEdits(words={"seen.counts": "As good as MINH NGUYỄN"}), '"What we watched"'),
        (NoteEdits(agreed=(Agreed("Wall passes", "Minh  Nguyễn"),)), '"What we agreed"'),
    ):
        target = tmp_path / f"page.{form}"
        note = write_page(family_page(edits=edits), OWN, others(), target, Wanted(form))
        assert (note.path, note.pages, target.exists()) == (None, 0, False)
        assert note.problem == f"no page: {place} names another child (Minh Nguyễn)"


def test_a_coach_may_have_a_childs_name():
    """Of a parent who coaches it is asked, and no page is refused; a last name alone is no question."""
    told = concerns(family_page(edits=NoteEdits(coach="Minh Nguyễn")), OWN, others())
    assert [(one.sentence, one.stops) for one in told] == [
        ("does the name of the coach name another child? (Minh Nguyễn)", False)
    ]
    assert concerns(family_page(edits=NoteEdits(coach="Ottmar Nguyễn")), OWN, others()) == []


@pytest.mark.parametrize("form", FORMS)
def test_a_file_can_be_read_by_its_owner_only(tmp_path, form):
    """Whatever its form; where a system has no such rights the file is made all the same."""
    note = write_page(family_page(), OWN, others(), tmp_path / "page", Wanted(form))
    assert note.path.stat().st_mode & 0o077 == 0 or note.path.drive


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        ("Ayşe helps him.", "Ayşe"),
        ("ayse helps him.", "ayse"),
        ("Next to Şahin in line.", "Şahin"),
        ("She and #3 talk.", "#3"),
        ("She and number 4 talk.", "#4"),
        ("She and Vermeuler talk.", "Vermeuler"),
    ],
)
def test_whoever_may_be_meant_is_asked_about_with_the_place(words, asked):
    """A first or last name, small or with capitals, a short form, a number: asked, and printed."""
    assert _told(family_page(edits=NoteEdits(coach_words=words))) == [
        f'does "From the coach" name another child? ({asked})'
    ]


def test_edited_sentences_and_what_was_agreed_are_looked_over_too():
    """Each place is told of once, with all that is asked there."""
    edits = NoteEdits(
        words={"seen.counts": "Kai and Wren watched."},
        agreed=(Agreed("Passes", "Kai"), Agreed("Skates", "Wren")),
    )
    assert _told(family_page(edits=edits)) == [
        'does "What we watched" name another child? (Kai, Wren)',
        'does "What we agreed" name another child? (Kai, Wren)',
    ]


def test_a_letter_without_a_font_is_told_with_its_place_before_printing():
    """Of emoji too; on paper only, since a browser or a mail has fonts of its own."""
    page = family_page(edits=replace(EDITS, coach_words="Thank you, 王 🏒."))
    (told,) = _told(page)
    assert told.startswith(
        'no font has the letter 王, 🏒 in "From the coach", so it is an empty box on paper'
    )
    assert str(fonts_folder()) in told
    assert _told(page, on_paper=False) == []


def test_what_is_told_of_letters_is_what_happens(tmp_path):
    """With the letter the page is printed and told of once; without it nothing is told."""
    player = replace(OWN, name="김 민준")
    note = write_page(family_page(player, standings_of_many(player)), player, others(), tmp_path / "page.pdf")
    assert note.path.exists()
    assert "no font has the letter" in note.problem
    assert "the name, so it is an empty box" in note.problem
    for text in (
        "Łódź Ţ ș Ñandú Þór Ẽ ệ",
        "Ελλάδα Ἀθῆναι",
        "Київ Қазақ Ђорђе",
        "שלום בן־לוי",
        "مرحبا پژمان گل",
    ):
        assert missing_letters(text) == []


def test_hidden_characters_are_told_and_shown():
    """An override of direction could make a page say something else than the coach typed."""
    (told,) = _told(family_page(edits=NoteEdits(coach_words="left\u202etfel")))
    assert told == '"From the coach" has a character that shows nothing (U+202E); � stands in its place'


def test_what_was_kept_of_a_hidden_character_is_told():
    """A page's words come from the season file with the sign in its place, and that is no word of a coach."""
    (told,) = _told(family_page(edits=NoteEdits(coach_words="Skates l�eft.")))
    assert told == '"From the coach" has � where a character stood that shows nothing; type it again'


@pytest.mark.parametrize("form", FORMS)
def test_hostile_words_are_printed_or_told(form):
    """Nothing is lost in silence: what does not come out literally is told before."""
    words = " ".join([*HOSTILE, "🏒", "a\u200bb"])
    page = family_page(edits=NoteEdits(coach_words=words))
    shown = words_shown(form, made(page, Wanted(form)).content)
    told = " ".join(_told(page, form == "pdf"))
    kept = set(shown)
    assert {one for one in words if one not in kept and one != " "} <= {
        "\u200b",
        "🏒" if form == "pdf" else "",
    }
    assert "U+200B" in told
    assert ("🏒" in told) == (form == "pdf")


def test_a_font_that_the_club_adds_is_used(tmp_path, monkeypatch):
    """A file in the folder of fonts gives its letters to every page; what is no font there harms nothing."""
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path))
    assert (added_fonts(), missing_letters("王")) == ((), ["王"])
    fonts_folder().mkdir(parents=True)
    added_font(fonts_folder() / "added.ttf", "王")
    (fonts_folder() / "broken.otf").write_text("no font")
    (fonts_folder() / "read me.txt").write_text("no font either")
    assert [font.name for font in added_fonts()] == ["added.ttf", "broken.otf"]
    assert missing_letters("王林") == ["林"]
    page = family_page(edits=NoteEdits(coach_words="Thank you, 王."))
    assert made(page).problem is None
    assert "王" in words_shown("pdf", made(page).content)


def test_files_can_be_named_by_number_only():
    """Whoever sees the folder learns no name."""
    player = Player("7", "Zoë Łukasik", Position.DEFENCE)
    assert note_name(player, EDITS.meeting, by_number=True) == "note-07-2026-01-20"
