"""Each text of a family's page with its place, and a page of which every text is printable."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace

from evaltrack.language import mark, tr
from evaltrack.rink.plain_text import printable
from evaltrack.words.family import page_frame, sheet
from evaltrack.words.family.page_language import in_words_of
from evaltrack.words.family.sheet import FamilySheet

_NO_CHARACTERS = re.compile("[\ufdd0-\ufdef\ufffe\uffff]")  # which XML refuses
COACH = mark("the name of the coach")
_REPLACEMENT = "\N{REPLACEMENT CHARACTER}"


@dataclass(frozen=True, slots=True)
class Placed:
    """A text, the words for its place (``"From the coach"``), and whether somebody typed it for this page."""

    where: str
    text: str
    own: bool = False


def placed_texts(page: FamilySheet) -> Iterator[Placed]:
    """Return every text that a page shows, in the order of the page."""
    with in_words_of(page):  # never around a yield: it would be in force where the texts are used
        skills, who = tr(page_frame.SKILLS), page_frame.who(page)
        agreed_cells = [page_frame.cells(one) for one in page.agreed]
    yield Placed(tr("the name of the team"), page.team)
    yield Placed(tr("the name"), page.name)
    yield Placed(tr("the head"), who)
    yield Placed(tr(COACH), page.coach)
    for part in page.parts:
        if part.key != sheet.AGREED:  # whose sentences repeat what its table has
            for one in part.sentences:
                yield Placed(_quoted(part.heading), one.text, one.own)
    for row in page.rows:
        for text in (
            row.name,
            row.looks_like,
            row.count,
            row.share,
            row.direction,
            row.level,
            row.chart_words,
        ):
            yield Placed(_quoted(skills), text)
    yield Placed(_quoted(skills), page.how_to_read)
    yield Placed(_quoted(skills), page.thin)
    heading = _quoted(page.part(sheet.AGREED).heading)
    for *typed, day in agreed_cells:
        yield from (Placed(heading, text, own=True) for text in typed)
        yield Placed(heading, day)
    for footer in page.footers:
        yield Placed(tr("the foot"), footer)


def _quoted(heading: str) -> str:
    return tr('"{heading}"', heading=heading)


def printable_page(page):
    """Return a page of which no text can garble what it is printed or sent in: see `printable`."""
    if isinstance(page, str):
        return _NO_CHARACTERS.sub(_REPLACEMENT, printable(page.replace("\r\n", "\n")))
    if isinstance(page, tuple):
        return tuple(map(printable_page, page))
    if is_dataclass(page) and any(isinstance(getattr(page, f.name), str | tuple) for f in fields(page)):
        return replace(page, **{f.name: printable_page(getattr(page, f.name)) for f in fields(page)})
    return page
