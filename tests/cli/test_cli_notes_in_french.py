"""`evaltrack notes --language`: each form in French and tagged so; else in the family's language."""

import subprocess
import sys
import zipfile
from datetime import date

import pikepdf
import pytest
from form_words import PageParser, everything_in, words_shown

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.language import Language, speaking
from evaltrack.paper.note.forms import FORMS, SUFFIXES
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey
from evaltrack.store.opening import open_season
from evaltrack.words.family.drafting import read_ground
from evaltrack.words.family.in_force import page_in_force

ENGLISH = ("Going well", "Skills we watched", "Working on next", "tries", "Draft", "practice", "The counts")
FRENCH = ("Ce qui va bien", "Les habiletés observées", "À travailler ensuite", "essais", "Brouillon")


def written(command, season, folder, *words):
    """Write the page of number 14, and return the file."""
    result = command("notes", season, "--out", folder, "--player", "14", *words)
    assert result.exit_code == 0, result.output
    (page,) = folder.iterdir()
    return page


def say(season, *facts, as_of=None):
    """Note something of the page of number 14, as of the last practice; return its key."""
    with open_season(season) as opened:
        (player,) = [one for one in opened.people.players() if one.number == "14"]
        key = NoteKey(player.id, as_of or read_ground(opened).axis.last)
        opened.notes.add([NoteFact(key, NoteField.DRAFTED), *(NoteFact(key, *fact) for fact in facts)])
    return key


@pytest.mark.parametrize("form", FORMS)
def test_each_form_is_in_french_and_says_so(command, season, tmp_path, form):
    """No English word of ours is left, in the text, the title, or the words for the charts."""
    page = written(command, season, tmp_path / "out", "--language", "fr", "--form", form)
    content = page.read_bytes()
    shown = words_shown(form, content)
    assert page.suffix == SUFFIXES[form]
    assert [words for words in FRENCH if words.casefold() not in shown.casefold()] == []
    assert [words for words in ENGLISH if words in everything_in(form, content)] == []


def test_the_language_is_tagged(command, season, tmp_path):
    """As a BCP 47 tag with the country, where a form has a place for it; titles are French too."""
    content = {
        form: written(command, season, tmp_path / form, "--language", "fr", "--form", form) for form in FORMS
    }
    with pikepdf.open(content["pdf"]) as pdf:
        assert str(pdf.Root.Lang) == "fr-CA"
        assert str(pdf.docinfo.Title).startswith("Brouillon de la page de la famille")
    html = content["html"].read_text("utf-8")
    assert PageParser(html.encode()).every("html") == [{"lang": "fr-CA"}]
    assert "<title>Brouillon de la page de la famille" in html
    with zipfile.ZipFile(content["docx"]) as parts:
        assert b'w:lang w:val="fr-CA"' in parts.read("word/styles.xml")
        assert b"<dc:language>fr-CA</dc:language>" in parts.read("docProps/core.xml")


@pytest.mark.parametrize(
    ("tag", "lang"), [("fr-CA", "fr-CA"), ("fr-FR", "fr-FR"), ("en", "en"), ("fr_BE", "fr-CA")]
)
def test_a_country_may_be_named(command, season, tmp_path, tag, lang):
    """French without one is that of Canada."""
    page = written(command, season, tmp_path / "out", "--language", tag, "--form", "html")
    assert f'<html lang="{lang}">' in page.read_text("utf-8")


def test_no_other_language_is_taken(command, season, tmp_path):
    """With a sentence that says which there are, and nothing is written."""
    result = command("notes", season, "--out", tmp_path / "out", "--language", "de")
    assert result.exit_code == 2
    assert "fr-FR" in result.stderr
    assert not (tmp_path / "out").exists()


def test_a_page_is_in_the_language_that_was_chosen_for_the_family(command, season, tmp_path):
    """Also on the page of another day; the other families' pages stay as they are."""
    key = say(season, (NoteField.LANGUAGE, "fr-CA"), (NoteField.COACH_WORDS, "Ask about the camp."))
    text = written(command, season, tmp_path / "now", "--form", "text").read_text("utf-8")
    assert "Ce qui va bien" in text
    assert "Ask about the camp." in text
    earlier = date.fromordinal(key.as_of.toordinal() - 1).isoformat()
    other = written(command, season, tmp_path / "then", "--form", "text", "--as-of", earlier)
    assert "Ce qui va bien" in other.read_text("utf-8")
    assert command("notes", season, "--out", tmp_path / "all", "--form", "text").exit_code == 0
    all_pages = [page.read_text("utf-8") for page in (tmp_path / "all").iterdir()]
    assert sorted("Ce qui va bien" in one for one in all_pages) == [False] * (len(all_pages) - 1) + [True]


def test_a_page_in_another_language_than_it_was_read_in_is_a_draft(command, season, tmp_path):
    """Nobody has read those words; and a coach who turns the language must read it again, too."""
    key = say(season)
    with open_season(season) as opened:
        player = next(one for one in opened.people.players() if one.id == key.player)
        own = [one for one in read_standings(opened, key.as_of) if one.player == "14"]
        _, mark = page_in_force(read_ground(opened, key.as_of), player, own, opened.notes.all()[key])
        opened.notes.add([NoteFact(key, NoteField.READ, str(mark))])
    assert "Draft" not in written(command, season, tmp_path / "read", "--form", "text").read_text("utf-8")
    french = written(command, season, tmp_path / "fr", "--form", "text", "--language", "fr")
    assert "Brouillon" in french.read_text("utf-8")
    say(season, (NoteField.LANGUAGE, "fr-CA"))
    turned = written(command, season, tmp_path / "turned", "--form", "text").read_text("utf-8")
    assert "Brouillon" in turned


def test_where_nothing_is_said_it_is_the_language_in_force(command, season, tmp_path):
    """A coach who works in French gets French pages."""
    with speaking(Language.FRENCH_CANADA):
        page = written(command, season, tmp_path / "out", "--form", "text")
    assert "Ce qui va bien" in page.read_text("utf-8")


def test_the_same_french_page_is_the_same_bytes(command, season, tmp_path):
    """As the English one is."""
    one, two = (written(command, season, tmp_path / name, "--language", "fr") for name in ("one", "two"))
    assert one.read_bytes() == two.read_bytes()


def test_before_the_first_practice_it_is_said_once_that_there_is_no_page(command, season, tmp_path):
    """Not of each player anew."""
    result = command("notes", season, "--out", tmp_path / "out", "--as-of", "2020-01-01")
    assert result.exit_code == 1
    assert result.stderr.count("no practice was held by then") == 1
    assert "2, 7" in result.stderr


def test_the_screens_do_not_wait_for_french():
    """An English page reads no French file."""
    code = (
        "from evaltrack import language\n"
        "from evaltrack.founding.built_in import in_words\n"
        "assert in_words('Gap up') == 'Gap up'\n"
        "assert list(language.catalogues) == [language.Language.ENGLISH]\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
