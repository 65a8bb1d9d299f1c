"""CSV files that people bring from any spreadsheet: a header, then one record to a line."""

import csv
import io
from collections.abc import Iterator, Sequence
from pathlib import Path

from evaltrack.intake.csv_text import unmarked
from evaltrack.intake.text import Complaints, folded, meant, read_text, shown
from evaltrack.language import tr

_SEPARATORS = ",;\t"
_IN_FRENCH = {
    "numéro": "number",
    "numero": "number",
    "nom": "name",
    "poste": "position",
    "année_de_naissance": "birth_year",
    "statut": "status",
    "exercice": "drill",
    "étape": "step",
    "habileté": "skill",
    "joueur": "player",
    "joueuse": "player",
    "résultat": "outcome",
    "pression": "pressure",
    "observateur": "observer",
    "heure": "time",
    "fois": "times",
    "souhait": "wish",
    "autre": "other",
    "valeur": "value",
}


def read_rows(
    path: str | Path, required: Sequence[str], optional: Sequence[str], complaints: Complaints
) -> Iterator[tuple[int, dict[str, str]]]:
    """Yield each record's line and its values by column, trimmed, empty where there is none.

    A mark that keeps a text from being a formula is taken off.
    The separator is a comma, a semicolon or a tab, whichever makes the most of the header. Column names
    may stand in any case and order. Empty lines are passed over. A record that does not fit the header is
    complained of and not yielded.

    Raises
    ------
    IntakeError : the file is no text, or its header cannot be used.
    """
    records = _records(read_text(path), (*required, *optional), complaints)
    line, header = next(records, (1, []))
    columns = _columns(line, header, required, optional, complaints)
    whole = list(columns.values()) == list(range(len(header)))
    for line, cells in records:
        if whole and len(cells) == len(header):
            yield line, dict(zip(columns, map(_value, cells), strict=True))
        elif fault := _surplus(cells, columns, len(header)):
            complaints.add(line, fault)
        else:
            cells += [""] * (len(header) - len(cells))
            yield line, {name: _value(cells[place]) for name, place in columns.items()}


def _value(cell: str) -> str:
    return unmarked(cell.strip())


def _records(text: str, known: Sequence[str], complaints: Complaints) -> Iterator[tuple[int, list[str]]]:
    """Yield the line on which each record begins, and its cells, without the empty ones."""
    stream = io.StringIO(text, newline="")
    separator, skipped = _separator(stream, known)
    reader = csv.reader(stream, delimiter=separator, strict=True)
    while True:
        line = reader.line_num + skipped + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as fault:
            raise complaints.refuse(line, _quoting(str(fault))) from None
        if any(map(str.strip, cells)):
            yield line, cells


def _quoting(fault: str) -> str:
    if "expected after" in fault:
        return tr('text follows a closing quotation mark; inside a quoted field write each " twice')
    if "limit" in fault:
        return tr("a field here is far too long; look for a quotation mark that does not close")
    return tr("a quotation mark opens here and does not close; close it, or take it out")


def _separator(stream: io.StringIO, known: Sequence[str]) -> tuple[str, int]:
    """Return the separator and how many lines to skip; leaves the stream at the line that follows.

    Some spreadsheets write ``sep=;`` above the header: that is believed.
    """
    first = stream.readline().strip("\r\n")
    if first.lower().startswith("sep=") and first[4:5] in tuple(_SEPARATORS):
        return first[4], 1
    stream.seek(0)
    header = next((line for line in stream if line.strip()), "")
    stream.seek(0)

    def worth(separator: str) -> tuple[int, int]:
        names = [_column_name(cell.strip('"')) for cell in header.strip("\r\n").split(separator)]
        return sum(name in known for name in names), len(names)

    return max(_SEPARATORS, key=worth), 0


def _column_name(cell: str) -> str:
    name = folded(cell).casefold().replace(" ", "_").replace("-", "_")
    return _IN_FRENCH.get(name, name)


def _columns(
    line: int, header: list[str], required: Sequence[str], optional: Sequence[str], complaints: Complaints
) -> dict[str, int]:
    """Return the place of every column; raises with every fault of the header at once."""
    known, columns = (*required, *optional), {}
    names = [_column_name(cell) for cell in header]
    if not set(names) & set(known):
        raise complaints.refuse(
            line, tr("the first line must name the columns: {names}", names=",".join(required))
        )
    for place, name in enumerate(names):
        if name in columns:
            complaints.add(line, tr("the column `{name}` stands twice; keep one of them", name=name))
        elif name in known:
            columns[name] = place
        elif name:
            what = tr("unknown column {name}: rename it or take it out", name=shown(header[place]))
            complaints.add(line, what + meant(name, known))
    for name in required:
        if name not in columns:
            complaints.add(line, tr("the column `{name}` is missing; add it", name=name))
    complaints.raise_any()
    return columns


def _surplus(cells: list[str], columns: dict[str, int], width: int) -> str:
    """Say what is wrong with a record that has values where the header names no column."""
    if any(map(str.strip, cells[width:])):
        return tr(
            "{number} values for {width} columns; put a field that holds the separator in quotation marks",
            number=len(cells),
            width=width,
        )
    named = set(columns.values())
    for place, cell in enumerate(cells[:width]):
        if place not in named and cell.strip():
            return tr(
                "{text} stands in a column without a name; name the column or take the value out",
                text=shown(cell),
            )
    return ""
