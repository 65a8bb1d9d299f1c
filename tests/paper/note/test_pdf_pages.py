"""A family's page as PDF: its pages, its tags, its order of reading, and whose it says it is."""

import io
import shutil
import subprocess
from collections import Counter
from dataclasses import replace
from datetime import date

import pikepdf
import pypdf
import pytest
from family_pages import EDITS, OWN, family_page, standings_of_many
from form_words import plain, tags_of
from lantern_pages import skills, standing
from printed_words import words_of

from evaltrack.analysis.standings.standing import Call
from evaltrack.paper.note.as_pdf import print_sheets
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.player import Player, Position
from evaltrack.words.family import page_frame
from evaltrack.words.family.page_language import in_words_of

LONG = NoteEdits(coach_words="\n".join(f"Kind words number {place} about skating." for place in range(60)))
DAY = date(2026, 1, 20)
LETTER, A4 = (612, 792), (595, 842)
_MM = 25.4 / 72


def _pages(printed) -> list:
    return list(pypdf.PdfReader(io.BytesIO(printed.content)).pages)


def _texts(printed) -> list[str]:
    return [plain(page.extract_text()) for page in _pages(printed)]


@pytest.mark.parametrize(("paper", "size"), [("us-letter", LETTER), ("a4", A4)])
@pytest.mark.parametrize("large_print", [False, True])
@pytest.mark.parametrize("language", ["en", "fr-CA"])
def test_a_page_is_on_the_paper_and_in_the_type_that_was_asked_for(paper, size, large_print, language):
    """Usual pages are one page in type of 9 to 10 points; large print has 12 and as many as it takes."""
    printed = print_sheets([family_page(edits=replace(EDITS, language=language))], paper, large_print)
    pages = _pages(printed)
    assert {(round(page.mediabox.width), round(page.mediabox.height)) for page in pages} == {size}
    assert printed.problem is None
    assert printed.pages == len(pages)
    assert len(pages) == 1 or large_print
    sizes = Counter()
    pages[0].extract_text(
        visitor_text=lambda text, _c, _t, _f, size: sizes.update({round(size, 1): len(text)})
    )
    body = {size for size, letters in sizes.items() if letters > 300}
    assert max(body) == 12 if large_print else 9 <= max(body) <= 10


@pytest.mark.parametrize("language", ["en", "fr-CA"])
def test_pages_are_tagged(language):
    """Language, title, one first heading, second headings, lists, a table with heads, words for charts."""
    page = family_page(edits=replace(EDITS, language=language))
    content = print_sheets([page]).content
    with pikepdf.open(io.BytesIO(content)) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert pdf.Root.Lang == page.language
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        with in_words_of(page):
            assert str(pdf.docinfo.Title) == page_frame.title(page)
            key_words = page_frame.key_words()
        assert str(pdf.docinfo.Author) == page.team
        tags = tags_of(pdf)
        with pdf.open_metadata() as xmp:
            assert xmp["pdfuaid:part"] == "1"
    kinds = [kind for kind, _ in tags]
    assert kinds.count("/H1") == 1
    assert {"/H2", "/P", "/L", "/LI", "/Table", "/TR", "/TH", "/TD", "/Figure"} <= set(kinds)
    assert not {"/H3", "/H4"} & set(kinds)
    assert kinds.index("/H1") < kinds.index("/H2") < kinds.index("/Table") < kinds.index("/Figure")
    told = [alt for kind, alt in tags if kind == "/Figure"]
    assert told == [*(row.chart_words for row in page.rows if row.drawn), key_words]


@pytest.mark.skipif(not shutil.which("pdftotext"), reason="needs pdftotext of poppler-utils")
def test_the_words_come_out_in_the_order_of_reading(tmp_path):
    """Each part stands under its heading, strengths first, for who copies the words or hears them."""
    page, file = family_page(), tmp_path / "page.pdf"
    file.write_bytes(print_sheets([page]).content)
    text = plain(
        subprocess.check_output(["pdftotext", "-raw", file, "-"], text=True, stderr=subprocess.DEVNULL)
    )
    wanted = [page.name, page_frame.who(page)]
    for part in page.parts:
        if part.key == "next":
            wanted += [page_frame.SKILLS, *(row.name + " " + row.looks_like for row in page.rows)]
        wanted += [part.heading] if part.key != "seen" else []
        wanted += [one.text for one in part.sentences] if part.key != "agreed" else []
    wanted += [agreed.what for agreed in page.agreed] + list(page.footers)
    places = [text.find(plain(words)) for words in wanted]
    assert -1 not in places, [words for words, place in zip(wanted, places, strict=True) if place < 0]
    # a heading may also be a word of a sentence, so each is looked for after the one before it
    at = 0
    for words in wanted:
        at = text.index(plain(words), at)


def test_a_long_comment_goes_on_on_a_second_page_with_a_head():
    """The type stays at 10 points; the second page says whose it is, that it goes on, and its number."""
    page = family_page(edits=LONG, is_draft=True)
    first, second, *_ = _texts(print_sheets([page]))
    assert page_frame.continued(page) in second
    assert page_frame.continued(page) not in first
    assert (f"{page.name} · page 1" in first, f"{page.name} · page 2" in second) == (True, True)
    assert page_frame.DRAFT in second
    assert page_frame.private(page) in second


def test_every_page_of_a_draft_carries_the_word():
    """A sheet that lies about alone says that nobody has read it."""
    page = family_page(edits=LONG, is_draft=True)
    assert all("draft" in text.casefold() for text in _texts(print_sheets([page])))
    assert not any(
        "draft" in text.casefold() for text in _texts(print_sheets([replace(page, is_draft=False)]))
    )


@pytest.mark.parametrize("blank_backs", [False, True])
def test_in_a_batch_no_page_names_two_families(blank_backs):
    """Each family's pages are counted anew, and with blank backs each begins on the front of a leaf."""
    players = [
        OWN,
        Player("9", "Minh Nguyễn", Position.FORWARD),
        Player("11", "Ayşe Şahin", Position.DEFENCE),
    ]
    pages = [
        family_page(player, standings_of_many(player), edits)
        for player, edits in zip(players, (EDITS, LONG, None), strict=True)
    ]
    texts = _texts(print_sheets(pages, blank_backs=blank_backs))
    owners = [[p.name for p in players if p.name in text] for text in texts]
    assert all(
        len(names) == 1 or (blank_backs and text == "") for names, text in zip(owners, texts, strict=True)
    )
    firsts = [place for place, text in enumerate(texts) if "page 1" in text]
    assert [owners[place][0] for place in firsts] == [player.name for player in players]
    assert not blank_backs or all(place % 2 == 0 for place in firsts)
    assert ("" in texts) == blank_backs


@pytest.mark.parametrize("name", ["محمد العلي", "דוד לוי"])
def test_names_from_right_to_left_are_shaped_and_in_order(name):
    """The letters stand in the file as they are typed, no font lacks one, and none is lost."""
    player = replace(OWN, name=name)
    edits = replace(EDITS, coach_words=f"{name} is a joy.\nשלום مرحبا", agreed=(Agreed("ثقة"),))
    printed = print_sheets([family_page(player, standings_of_many(player), edits)])
    assert printed.problem is None
    with pikepdf.open(io.BytesIO(printed.content)) as pdf:
        assert str(pdf.docinfo.Title) == f"Family note: {name}"
    assert set(f"{name}שלום مرحبا ثقة") <= set(_texts(printed)[0])


@pytest.mark.parametrize(
    "name", ["Wolfeschlegelstein-Hausenbergerdorff Maximiliana Konstantina-Alexandra von und zu Kettlebay"]
)
def test_the_longest_name_breaks_and_is_whole(name):
    """It takes more lines and pushes nothing off the paper."""
    player = replace(OWN, name=name)
    printed = print_sheets([family_page(player, standings_of_many(player), is_draft=True)])
    assert name in _texts(printed)[0]
    assert printed.pages <= 2
    assert all(44 * _MM <= word.x + 0.01 for words in words_of(printed.content) for word in words)


@pytest.mark.parametrize("language", ["en", "fr-CA"])
@pytest.mark.parametrize("position", [Position.DEFENCE, Position.FORWARD])
def test_a_draft_with_all_skills_is_one_page(language, position):
    """A long name, three strengths that are told at length, and two next steps: what is to be filled in is
    on the front, and nobody has to turn the paper at the table."""
    player = replace(OWN, name="Abdelrahman-Christopher Featherstonehaugh-W", position=position)
    calls = [Call.WORK_ON] * 2 + [Call.SOLID] + [Call.IN_BETWEEN] * 9
    own = [one.key for one in skills() if one.suits(position)]
    told = [
        standing(
            key,
            [(7, 2 if call is Call.WORK_ON else 5)] * 3,
            call=call,
            p_below=0.9 if call is Call.WORK_ON else 0.1,
        )
        for key, call in zip(own, calls, strict=False)
    ]
    page = family_page(player, told, NoteEdits(language=language, meeting=DAY), is_draft=True)
    assert len(page.part("next").sentences) == 2
    assert len(page.part("going_well").sentences) == 3
    assert print_sheets([page]).pages == 1


def test_a_word_longer_than_the_paper_is_broken():
    """In the coach's words, in what was agreed, and in a name: all its letters lie on the paper."""
    long = "".join(f"{place:04}" for place in range(300))
    edits = replace(EDITS, coach_words=long, agreed=(Agreed(long, long[:400]),))
    player = replace(OWN, name=long[:120])
    printed = print_sheets([family_page(player, standings_of_many(player), edits)])
    texts = ["".join(text.split()) for text in _texts(printed)]
    assert "".join(texts).replace("\u200b", "").count(long[:100]) >= 4
    for page in _pages(printed):
        ends = []
        page.extract_text(visitor_text=lambda t, _c, m, _f, size, ends=ends: ends.append((m[4], t, size)))
        # half the size is about the mean width of a letter in this condensed type, a third what is safe
        assert max(x + len(t.strip()) * size / 3 for x, t, size in ends if t.strip()) < LETTER[0]


def test_a_page_without_charts_has_no_key_to_them():
    """Months, scale and key stand only where something is drawn."""
    page = family_page(
        standings=[standing("stop", [(9, 5), (9, 6)], doubt="the fit did not settle")], edits=None
    )
    content = print_sheets([page]).content
    with pikepdf.open(io.BytesIO(content)) as pdf:
        assert "/Figure" not in [kind for kind, _ in tags_of(pdf)]
    words = plain(pypdf.PdfReader(io.BytesIO(content)).pages[0].extract_text())
    assert not any(
        text in words for text in (*page_frame.TICKS, page_frame.RING, page_frame.LINE, page_frame.SHADE)
    )
    assert "11 of 18" in words
