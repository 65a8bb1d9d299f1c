"""The command that compares observers."""

from functools import partial
from pathlib import Path

from evaltrack.cli.asking import command, one_form, season_file
from evaltrack.cli.telling import say, tell, warn
from evaltrack.cli.working import opened, tell_strict
from evaltrack.language import tr


@command(epilog="\b\nExample:  evaltrack agreement lanterns.db --format csv")
@season_file
@one_form
def agreement(season_file: Path, form: str) -> None:
    """Print how far two observers who watched the same tries agree, though their clocks differ.

    Below stands who is much stricter than the others over the whole season, or notes mostly failures.
    """
    from evaltrack.analysis.agreement.agreement import read_agreement
    from evaltrack.analysis.standings.standings import read_strict_observers
    from evaltrack.paper.tables.agreement import as_csv, as_json, as_table
    from evaltrack.words.agreement import remarks

    with opened(season_file, of_children=True) as season:
        say(tr("matching the observers' tries ..."))
        found = read_agreement(season)
        strict = read_strict_observers(season)
    forms = {"table": as_table, "csv": as_csv, "json": partial(as_json, strict=strict)}
    tell(forms[form](found), end="")
    if form != "json":
        tell_strict(strict, form)
    if form == "csv" or not found.rows:
        for line in remarks(found):
            warn(line)
