"""CSV as we write it: no text in it becomes a formula in a spreadsheet, and each comes back as it was."""

import csv
import re
from collections.abc import Iterable, Sequence
from types import SimpleNamespace

# what a spreadsheet takes for a formula, after the marks that keep it from doing so
_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_MARKED = re.compile(r"'+[=+\-@\t\r]")
_MARK = "'"
_LINE_END = "\r\n"


def csv_text(header: Sequence[str], rows: Iterable[Iterable], line_end: str = "\n") -> str:
    """Return a header and rows as CSV.

    A text that a spreadsheet would take for a formula goes out with a ``'`` in front, and with one more
    where it has some there already; ``unmarked`` takes it off. Numbers go out as they are, None as nothing.
    """
    lines: list[str] = []
    # a text with half of the writer's own line end in it is quoted only where that is the long one
    writer = csv.writer(SimpleNamespace(write=lines.append), lineterminator=_LINE_END)
    writer.writerow(header)
    writer.writerows([_marked(cell) for cell in row] for row in rows)
    return "".join(line.removesuffix(_LINE_END) + line_end for line in lines)


def unmarked(cell: str) -> str:
    """Return a cell as it was before ``csv_text`` wrote it."""
    return cell[1:] if _MARKED.match(cell) else cell


def _marked(cell):
    return _MARK + cell if isinstance(cell, str) and _FORMULA.match(cell) else cell
