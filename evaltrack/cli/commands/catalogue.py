"""The command that shows skills, drills and targets, writes them out, and changes them in mid-season."""

from collections.abc import Sequence
from pathlib import Path

import click

from evaltrack.cli.asking import command, dry_run, option, season_file
from evaltrack.cli.catalogue_files import Files, read_files, refuse_unasked
from evaltrack.cli.kinds import FILE
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import opened, refuse_open_window
from evaltrack.language import tr
from evaltrack.rink.catalogue_change import CatalogueChange

_CATALOGUE = """\b
Example:  evaltrack catalogue lanterns.db --out mine
          evaltrack catalogue lanterns.db --skills mine/skills.toml --dry-run
          evaltrack catalogue lanterns.db --skills mine/skills.toml --same-series outlet_pass
"""


@command(epilog=_CATALOGUE)
@season_file
@option("--skills", type=FILE, metavar="TOML", help="The skills from now on, all of them.")
@option("--drills", type=FILE, metavar="TOML", help="The drills from now on, all of them.")
@option("--out", "folder", type=FILE, metavar="DIR", help="Write skills.toml and drills.toml there.")
@option("--same-series", multiple=True, metavar="KEY", help="Its definition says the same as before.")
@option("--new-series", multiple=True, metavar="KEY", help="Something else counts from now on.")
@dry_run
def catalogue(
    season_file: Path,
    skills: Path | None,
    drills: Path | None,
    folder: Path | None,
    same_series: tuple[str, ...],
    new_series: tuple[str, ...],
    dry_run: bool,
) -> None:
    """Show the skills with their targets and the drills, write them out, or change them to what files say.

    A file is taken whole or not at all. What it has no entry for is retired: its history stays.
    """
    changes = bool(skills or drills)
    if changes and folder:
        raise click.UsageError(tr("name --out, or --skills and --drills"))
    if not skills and (same_series or new_series):
        raise click.UsageError(tr("--same-series and --new-series belong to --skills"))
    if not changes and dry_run:
        raise click.UsageError(tr("--dry-run belongs to --skills and --drills"))
    with opened(season_file) as season:
        if changes:
            said = _changed(season, read_files(season, skills, drills), (same_series, new_series), dry_run)
        else:
            said = _written(season, folder) if folder else _shown(season)
    tell(said)


def _shown(season) -> str:
    from evaltrack.paper.tables.catalogue import as_table

    table = season.catalogue
    used = {one.key for one in table.skills()}, {one.key for one in table.drills()}
    drills = {one.key: one for one in (*table.drills(retired=True), *table.drills())}
    return as_table(table.skills(retired=True), list(drills.values()), used)


def _written(season, folder: Path) -> str:
    from evaltrack.founding.catalogue_files import write_catalogue
    from evaltrack.words.wording import counted

    skills = counted(len(season.catalogue.skills()), "skill")
    drills = counted(len(season.catalogue.drills()), "drill")
    return tr("{name}: {what}", name=write_catalogue(season, folder), what=f"{skills}, {drills}")


def _changed(season, files: Files, told: tuple, dry_run: bool) -> str:
    """Change the catalogue, or rehearse it, and return in words what changed."""
    from evaltrack.device.tablet import load_tablet
    from evaltrack.words.catalogue import change_lines

    tries = season.catalogue_changes.tries()
    same = refuse_unasked(season, files, told, tries)
    before = {skill.key: skill.target for skill in season.catalogue.skills(retired=True)}

    def put(rehearse: bool) -> list[CatalogueChange]:
        made = files.skills, files.drills, same, load_tablet().id, files.texts, rehearse
        return season.catalogue_changes.set_to(*made)

    changes = put(rehearse=True)
    below = _below(season, changes, before) if dry_run else {}
    if changes and not dry_run:
        with refuse_open_window(season, tr("skills and drills")):
            put(rehearse=False)
    return _told(change_lines(changes, tries, below), dry_run)


def _below(season, changes: Sequence[CatalogueChange], before: dict[str, float]) -> dict[str, tuple]:
    """Return, for each other target, how many players are below the old and the new one."""
    targets = {change.key: float(change.becomes) for change in changes if change.field == "target"}
    if not targets:
        return {}
    from evaltrack.analysis.standings.below_target import read_below

    say(tr("working out the standings ..."))
    return read_below(season, {key: (before[key], target) for key, target in targets.items()})


def _told(lines: Sequence[str], dry_run: bool) -> str:
    if not lines:
        return tr("the season has these skills and drills already; nothing is to be changed")
    head, *tail = (tr("would change:"), tr("Nothing was changed.")) if dry_run else (tr("changed:"),)
    return "\n".join([head, *(f"  {line}" for line in lines), *tail])
