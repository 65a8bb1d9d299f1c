"""The pages of the families of an evening as one PDF for the printer, in the order of the meetings."""

from collections.abc import Iterable
from pathlib import Path

from evaltrack.intake.saving import save
from evaltrack.paper.note.as_pdf import print_sheets
from evaltrack.paper.note.notes import WrittenNote
from evaltrack.paper.note.placed import printable_page
from evaltrack.rink.meeting_evening import Evening

_PAPERS = {"letter": "us-letter", "a4": "a4"}


def write_batch(
    evening: Evening, notes: Iterable[WrittenNote], folder: Path, paper: str = "letter"
) -> Path | None:
    """Write one PDF of the families' notes in the order of the meetings; None where there is none.

    Each begins on the front of a leaf, so that none holds two families when it is printed on both sides, and
    each is in its family's language.

    Parameters
    ----------
    notes : what became of each; those of which no page was written stay out.
    """
    pages = {one.player.id: printable_page(one.page) for one in notes if one.path and one.page}
    ordered = [pages[player] for player, _ in evening.in_order() if player in pages]
    if not ordered:
        return None
    target = folder / f"notes-to-print-{evening.day.isoformat()}.pdf"
    save(target, print_sheets(ordered, _PAPERS[paper], blank_backs=True).content)
    return target
