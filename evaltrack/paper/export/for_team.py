"""A season as files that any program opens, with the description of every column."""

from collections.abc import Sequence

from evaltrack.analysis.standings.standing import Standing
from evaltrack.paper.export.as_parquet import as_parquet
from evaltrack.paper.export.team_tables import team_tables
from evaltrack.paper.export.tidy_table import TidyTable, data_package, json_text


def team_files(season, standings: Sequence[Standing], form: str = "csv") -> dict[str, str | bytes]:
    """Return the tables of an open season and their description, by the names of the files.

    Parameters
    ----------
    standings : of the whole team, those who have left among them.
    form : ``csv`` or ``parquet``.

    Raises
    ------
    EvaltrackError : the library that writes Parquet files is not installed.
    """
    write = as_parquet if form == "parquet" else TidyTable.as_csv
    tables = team_tables(season, standings)
    package = data_package("season", str(season.team), tables, form)
    return {f"{table.name}.{form}": write(table) for table in tables} | {
        "datapackage.json": json_text(package)
    }
