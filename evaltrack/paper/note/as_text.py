"""A family's page as plain text, for an e-mail that the coach sends."""

import textwrap
from collections.abc import Iterable

from evaltrack.language import tr
from evaltrack.rink.family_note import Agreed
from evaltrack.words.family import page_frame, sheet
from evaltrack.words.family.page_language import in_words_of
from evaltrack.words.family.sheet import FamilySheet, Part, SkillRow

_WIDTH = 76  # so that a quoted line of an e-mail is not broken again


def text_of(page: FamilySheet) -> str:
    """Return the page as plain text in lines of at most 76 characters, each part under its heading."""
    with in_words_of(page):
        return "\n".join(line.rstrip() for line in _lines(page)) + "\n"


def _lines(page: FamilySheet) -> list[str]:
    lines = [*_head(page)]
    for part in page.parts:
        lines += _skills(page) if part.key == sheet.NEXT else ()
        lines += _part(page, part)
    return [*lines, "", "", *_wrapped(" ".join(page.footers)), "", *_wrapped(page_frame.private(page))]


def _head(page: FamilySheet) -> Iterable[str]:
    if page.is_draft:
        yield from (tr(page_frame.DRAFT_LINE), "")
    yield from _wrapped(page_frame.kind(page))
    yield from _underlined(page.name, "=")
    yield from _wrapped(page_frame.who(page))
    if page_frame.meeting(page):
        yield from _wrapped(page_frame.meeting(page))
    yield from _wrapped(page_frame.days(page))


def _part(page: FamilySheet, part: Part) -> Iterable[str]:
    if part.key == sheet.SEEN:
        yield from _wrapped(" ".join(one.text for one in part.sentences))
    elif part.key == sheet.AGREED and page.agreed:
        yield from ("", *_underlined(part.heading, "-"))
        for one in page.agreed:
            yield from _agreed(one)
    elif part.sentences:
        yield from ("", *_underlined(part.heading, "-"))
        for one in part.sentences:
            yield from _paragraphs(one.text) if part.key == sheet.COACH else _item(one.text)


def _skills(page: FamilySheet) -> Iterable[str]:
    if page.rows or page.thin:
        yield from ("", *_underlined(tr(page_frame.SKILLS), "-"))
        for row in page.rows:
            yield from _item(_row_words(row))
        for words in filter(None, (page.thin, page_frame.reading_without_charts(page))):
            yield from ("", *_wrapped(words))


def _row_words(row: SkillRow) -> str:
    told = "; ".join(filter(None, (f"{row.count}, {row.share}", row.direction, row.level)))
    return tr("{skill} ({looks_like}): {told}.", skill=row.name, looks_like=row.looks_like, told=told)


def _agreed(one: Agreed) -> Iterable[str]:
    what, helper, day = page_frame.cells(one)
    yield from _item(what)
    labelled = ((tr(page_frame.HELPER_COLUMN), helper), (tr(page_frame.AGAIN_COLUMN), day))
    for label, words in labelled:
        if words:
            yield from (
                f"  {line}" for line in _wrapped(tr("{label}: {words}", label=label, words=words), _WIDTH - 2)
            )


def _underlined(heading: str, sign: str) -> Iterable[str]:
    return "", heading, sign * min(len(heading), _WIDTH)


def _paragraphs(text: str) -> Iterable[str]:
    for paragraph in text.splitlines():
        yield from (*_wrapped(paragraph), "")


def _item(text: str) -> Iterable[str]:
    first, *others = _wrapped(" ".join(text.splitlines()), _WIDTH - 2) or [""]
    return [f"- {first}", *(f"  {line}" for line in others)]


def _wrapped(text: str, width: int = _WIDTH) -> list[str]:
    # long words stay whole: a broken one would be another word
    return textwrap.wrap(text, width, break_long_words=False, break_on_hyphens=False)
