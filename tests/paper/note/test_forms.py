"""The same page in four forms: the same facts, the same bytes twice, and nothing that acts."""

import io
import re
import zipfile
from dataclasses import replace
from itertools import pairwise

import docx
import pytest
from docx.oxml.ns import qn
from family_pages import EDITS, HOSTILE, OWN, family_page, standings_of_many
from form_words import PageParser, plain, words_shown
from hypothesis import given, settings
from hypothesis import strategies as st
from lantern_pages import standing
from random_sheets import edits, pages

from evaltrack.analysis.standings.standing import Call
from evaltrack.paper.note.forms import FORMS, Wanted, made
from evaltrack.paper.note.placed import printable_page
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.words.family import page_frame, sheet
from evaltrack.words.family.drafting import draft_sheet

VOID = {"meta", "br", "path", "circle"}


def facts_of(page) -> list[str]:
    """Return everything that a page says in words, in whole pieces."""
    facts = [page.team, page.name, page_frame.who(page), page_frame.meeting(page), page_frame.days(page)]
    for part in page.parts:
        facts += [part.heading] if part.sentences and part.key != sheet.SEEN else []
        facts += [one.text for one in part.sentences] if part.key != sheet.AGREED else []
    facts += [cell for agreed in page.agreed for cell in page_frame.cells(agreed)]
    for row in page.rows:
        facts += [row.name, row.looks_like, f"{row.count}, {row.share}", row.direction, row.level]
    return [*facts, page.thin, *page.footers, page_frame.private(page)]


@pytest.fixture(scope="module")
def page():
    """Return a page with every part that a page can have, a draft."""
    return family_page(is_draft=True)


@pytest.fixture(scope="module")
def files(page):
    """Return that page in each form."""
    return {form: made(page, Wanted(form)).content for form in FORMS}


@pytest.mark.parametrize("form", FORMS)
def test_every_form_says_the_same(page, files, form):
    """Each sentence, count, date and heading of the page stands in each form, in words."""
    shown = words_shown(form, files[form])
    assert [fact for fact in facts_of(page) if plain(fact) not in shown] == []


@settings(max_examples=30)
@given(pages(), edits(), st.booleans())
def test_whatever_a_page_says_the_forms_say(drawn, changed, is_draft):
    """Of random standings and edits: HTML and text lose no fact, and the same page gives the same bytes."""
    page = draft_sheet(*drawn, changed, is_draft)
    for form in ("html", "text"):
        content = made(page, Wanted(form)).content
        shown = words_shown(form, content)
        assert [fact for fact in facts_of(printable_page(page)) if plain(fact).strip() not in shown] == []
        assert made(page, Wanted(form)).content == content


@pytest.mark.parametrize("form", ["pdf", "html", "docx"])
def test_each_chart_has_its_words(page, files, form):
    """Who does not see a chart reads what it shows; plain text has the figures and no chart."""
    shown = words_shown(form, files[form])
    assert all(plain(row.chart_words) in shown for row in page.rows if row.drawn)
    assert page_frame.key_words() in shown


@pytest.mark.parametrize("form", FORMS)
def test_the_same_page_gives_the_same_bytes(page, files, form):
    """Nothing of the moment or the machine is in a file."""
    assert made(page, Wanted(form)).content == files[form]


@pytest.mark.parametrize("form", FORMS)
def test_a_draft_says_so_and_a_page_that_was_read_does_not(files, form):
    """The word stands where nobody overlooks it until the coach has read the page."""
    assert page_frame.DRAFT.casefold() in words_shown(form, files[form]).casefold()
    finished = made(family_page(), Wanted(form)).content
    assert page_frame.DRAFT.casefold() not in words_shown(form, finished).casefold()


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize(
    "standings",
    [
        [],
        [standing("stop", [(3, 1)], call=Call.TOO_FEW)],
        [standing("stop", [(9, 5), (9, 6)], doubt="the fit did not settle")],
    ],
    ids=("nothing", "too few", "no chart"),
)
def test_a_page_with_little_on_it_is_whole_in_every_form(form, standings):
    """Without a row, a chart or a word of the coach nothing is said of what is not there."""
    page = family_page(standings=standings, edits=None)
    shown = words_shown(form, made(page, Wanted(form)).content)
    assert [fact for fact in facts_of(page) if plain(fact) not in shown] == []
    assert page_frame.RING not in shown
    assert (page_frame.SKILLS in shown) == bool(page.rows or page.thin)


@pytest.mark.parametrize("form", FORMS)
def test_what_is_typed_is_shown_as_it_was_typed(form):
    """Marks of typst, HTML and XML are words like all others: in names, sentences and agreements."""
    words = " ".join(HOSTILE)
    player = replace(OWN, name='Zoë #panic[x] <b>"Ł"</b> *a*')
    edits = replace(EDITS, coach_words=words, coach=HOSTILE[0], agreed=(Agreed(HOSTILE[1], HOSTILE[0]),))
    page = family_page(player, standings_of_many(player), edits, team="Lanterns & <Co> #x")
    shown = words_shown(form, made(page, Wanted(form)).content)
    # a reader of PDF gives right-to-left words in the order of the eye, so these are asked for apart
    for typed in (*HOSTILE[:2], player.name, page.team, "Łódź, Ελλάδα, Москва"):
        assert plain(typed) in shown
    if form == "html":
        assert not PageParser(made(page, Wanted(form)).content).every("script")


@pytest.mark.parametrize("form", FORMS)
def test_hidden_characters_become_a_sign_that_shows(form):
    """Overrides of direction, bells and what XML refuses can neither turn a line nor break a file."""
    edits = NoteEdits(
        coach_words="left\u202etfel \u0007bell \ufffeno \u200bzero", words={"seen.counts": "a\rb\x00c"}
    )
    shown = words_shown(form, made(family_page(edits=edits), Wanted(form)).content)
    assert not re.search("[\u202e\u0007\ufffe\u200b\x00]", shown)
    assert "left�tfel" in shown


@pytest.mark.parametrize("form", FORMS)
def test_ten_thousand_characters_are_all_there(form):
    """However much the coach writes, none of it is cut."""
    sentences = [f"Sentence {place} of many about skating and waiting." for place in range(230)]
    page = family_page(edits=NoteEdits(coach_words="\n".join(sentences)))
    assert sum(map(len, sentences)) > 10_000
    shown = words_shown(form, made(page, Wanted(form)).content)
    assert [one for one in sentences if one not in shown] == []


def test_html_is_one_file_that_a_screen_reader_can_walk_through(page, files):
    """A language, a title, one first heading, tables told by their captions and heads, and no address."""
    content = files["html"]
    html = PageParser(content)
    levels = [int(tag[1]) for tag, _ in html.tags if re.fullmatch("h[1-6]", tag)]
    assert html.every("html") == [{"lang": page.language}]
    assert f"<title>{page_frame.title(page)}</title>" in content.decode()
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert len(html.every("table")) == len(html.every("caption")) == 2
    assert {one.get("scope") for one in html.every("th")} == {"col", "row"}
    assert all(one["role"] == "img" and one["aria-label"] for one in html.every("svg"))
    assert not re.search(rb"https?:|src=|href=|url\(|@import", content)
    assert not any("id" in attrs for _, attrs in html.tags)
    opened = sorted(tag for tag, _ in html.tags if tag not in VOID)
    assert opened == sorted(tag for tag in html.closed if tag not in VOID)


def test_large_print_and_paper_reach_each_form():
    """HTML and docx are set in the size and for the paper that was asked for."""
    page = family_page()
    large = made(page, Wanted("html", "a4", large_print=True)).content.decode()
    assert "size: A4" in large
    assert "font: 12pt" in large
    word = docx.Document(io.BytesIO(made(page, Wanted("docx", "a4", large_print=True)).content))
    assert word.styles["Normal"].font.size.pt == 12
    assert round(word.sections[0].page_height.mm) == 297


def test_docx_can_be_read_by_a_screen_reader(page, files):
    """Language, title, headings without a gap, header rows, and words for each picture."""
    word = docx.Document(io.BytesIO(files["docx"]))
    levels = [int(p.style.name[-1]) for p in word.paragraphs if p.style.name.startswith("Heading")]
    language = word.styles.element.find(f".//{qn('w:rPrDefault')}//{qn('w:lang')}")
    core = word.core_properties
    assert (core.language, language.get(qn("w:val"))) == (page.language, page.language)
    assert (core.title, core.author) == (page_frame.title(page), page.team)
    assert (core.comments, core.last_modified_by) == ("", "")
    assert levels == [1] + [2] * (len(levels) - 1)
    assert all(table.rows[0]._tr.trPr.find(qn("w:tblHeader")) is not None for table in word.tables)
    drawn = [node for node in word.element.body.iter() if node.tag == qn("wp:docPr")]
    assert len(drawn) == sum(row.drawn for row in page.rows) + 1
    assert all(node.get("descr") for node in drawn)


def test_no_part_of_a_docx_tells_when_it_was_made(files):
    """Only the day up to which is counted is in it."""
    with zipfile.ZipFile(io.BytesIO(files["docx"])) as parts:
        assert {part.date_time for part in parts.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert docx.Document(io.BytesIO(files["docx"])).core_properties.created.year == 2026


def test_plain_text_fits_an_e_mail(page, files):
    """Lines of at most 76 characters, and no more than words and line ends."""
    lines = files["text"].decode().split("\n")
    assert max(map(len, lines)) <= 76
    assert not any(line != line.rstrip() for line in lines)
    assert lines[0] == page_frame.DRAFT_LINE
