"""Each text of a family's page with its place, and a page of which every text is printable."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace

from evaltrack.rink.plain_text import printable
from evaltrack.words.family import page_frame, sheet
from evaltrack.words.family.sheet import FamilySheet

_NO_CHARACTERS = re.compile("[\ufdd0-\ufdef\ufffe\uffff]")  # which XML refuses
COACH = "the name of the coach"
_REPLACEMENT = "\N{REPLACEMENT CHARACTER}"


@dataclass(frozen=True, slots=True)
class Placed:
    """A text, the words for its place (``"From the coach"``), and whether somebody typed it for this page."""

    where: str
    text: str
    own: bool = False


def placed_texts(page: FamilySheet) -> Iterator[Placed]:
    """Return every text that a page shows, in the order of the page."""
    yield Placed("the name of the team", page.team)
    yield Placed("the name", page.name)
    yield Placed("the head", page_frame.who(page))
    yield Placed(COACH, page.coach)
    for part in page.parts:
        if part.key != sheet.AGREED:  # whose sentences repeat what its table has
            for one in part.sentences:
                yield Placed(f'"{part.heading}"', one.text, one.own)
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
            yield Placed(f'"{page_frame.SKILLS}"', text)
    yield Placed(f'"{page_frame.SKILLS}"', page.how_to_read)
    yield Placed(f'"{page_frame.SKILLS}"', page.thin)
    for agreed in page.agreed:
        *typed, day = page_frame.cells(agreed)
        yield from (Placed(f'"{page.part(sheet.AGREED).heading}"', text, own=True) for text in typed)
        yield Placed(f'"{page.part(sheet.AGREED).heading}"', day)
    for footer in page.footers:
        yield Placed("the foot", footer)


def printable_page(page):
    """Return a page of which no text can garble what it is printed or sent in: see `printable`."""
    if isinstance(page, str):
        return _NO_CHARACTERS.sub(_REPLACEMENT, printable(page.replace("\r\n", "\n")))
    if isinstance(page, tuple):
        return tuple(map(printable_page, page))
    if is_dataclass(page) and any(isinstance(getattr(page, f.name), str | tuple) for f in fields(page)):
        return replace(page, **{f.name: printable_page(getattr(page, f.name)) for f in fields(page)})
    return page
