"""The families' notes as one PDF for the printer, in the order of the meetings.

A page that was typeset goes into another typst document only as a picture, without its words, so the finished
pages are put together by pypdf instead. Each note fills whole sheets: where it ends on a front, a blank back
follows, and no sheet holds two families.
"""

from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

from evaltrack.language import mark

TITLE = mark("Family notes in the order of the meetings")


def batch_of(notes: Sequence[Path]) -> bytes:
    """Return one PDF of these, each beginning on a front."""
    from pypdf import PdfReader, PdfWriter

    writer = PdfWriter()
    for note in notes:
        pages = PdfReader(note).pages
        for page in pages:
            writer.add_page(page)
        if len(pages) % 2:
            box = pages[-1].mediabox
            writer.add_blank_page(box.width, box.height)
    writer.add_metadata({"/Title": TITLE})
    made = BytesIO()
    writer.write(made)
    return made.getvalue()
