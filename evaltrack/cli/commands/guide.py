"""The command that prints two pages for a new observer."""

from contextlib import nullcontext
from datetime import date
from pathlib import Path

import click

from evaltrack.cli.asking import argument, command, one_paper, option
from evaltrack.cli.kinds import FILE
from evaltrack.cli.telling import say, tell, warn
from evaltrack.cli.working import opened
from evaltrack.intake.saving import save
from evaltrack.language import tr
from evaltrack.words.wording import counted


@command(epilog="\b\nExample:  evaltrack guide lanterns.db --out guide.pdf --paper a4")
@argument("season_file", metavar="[SEASON.db]", required=False, type=FILE)
@option("--out", "target", required=True, type=FILE, metavar="FILE", help="The PDF to write.")
@one_paper
def guide(season_file: Path | None, target: Path, paper: str) -> None:
    """Print two pages to hand to a new observer: how to tally, and the team's words on each skill.

    Without a season file it has the words that are shipped. No player is in it.
    """
    from evaltrack.paper.guide.guide import print_guide, read_guide

    if target.suffix.casefold() != ".pdf":
        raise click.BadParameter(tr("write a name that ends in .pdf"), param_hint="'--out'")
    with opened(season_file) if season_file else nullcontext() as season:
        words = read_guide(season)
    say(tr("printing ..."))
    made = print_guide(words, paper, date.today())
    save(target, made.content)
    if made.problem:
        warn(made.problem)
    pages, skills = counted(made.pages, "page"), counted(len(words.skills), "skill")
    tell(tr("{name}: {what}", name=target, what=f"{pages} ({paper}), {skills}"))
