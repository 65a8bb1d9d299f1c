"""The sheets for a clipboard as a PDF, one page for each."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from evaltrack.paper.clipboard.board_sheet import BoardSheet, board_words
from evaltrack.paper.clipboard.rep_sheet import RepSheet, rep_words
from evaltrack.paper.render import Printed, print_pdf

_HERE = Path(__file__).resolve().parent


def print_boards(sheets: Sequence[BoardSheet]) -> Printed:
    """Return the sheets of one occasion."""
    return print_pdf(_HERE / "board_sheet.typ", board_words(sheets), sheets[0].occasion.day or date.today())


def print_reps(sheets: Sequence[RepSheet]) -> Printed:
    """Return the pages of one step by rep."""
    return print_pdf(_HERE / "rep_sheet.typ", rep_words(sheets), sheets[0].occasion.day or date.today())
