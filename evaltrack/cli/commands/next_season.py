"""The command that begins the season after."""

from pathlib import Path

from evaltrack.cli.asking import argument, command, option, season_file
from evaltrack.cli.kinds import FILE, Numbers, Words
from evaltrack.cli.telling import say, tell, warn
from evaltrack.cli.working import opened, refuse_unknown, worked_out
from evaltrack.intake.roster import LONGEST_NAME
from evaltrack.language import tr
from evaltrack.words.wording import counted

_NEXT = """\b
Example:  evaltrack next-season lanterns.db lanterns-2027.db
          evaltrack next-season lanterns.db lanterns-2027.db --age-class 14U \\
              --leave-out 4,11 --standings-as-comments
"""


@command("next-season", epilog=_NEXT)
@season_file
@argument("new_file", metavar="NEW.db", type=FILE)
@option("--team", metavar="NAME", type=Words("the team", LONGEST_NAME), help="If it has another name.")
@option("--age-class", metavar="CLASS", type=Words("the age class", LONGEST_NAME), help="If it is another.")
@option("--leave-out", type=Numbers(), metavar="NUMBERS", default=(), help="Who does not come along.")
@option(
    "--standings-as-comments", "comments", is_flag=True, help="Note with each player what was counted last."
)
def next_season(
    season_file: Path,
    new_file: Path,
    team: str | None,
    age_class: str | None,
    leave_out: tuple[str, ...],
    comments: bool,
) -> None:
    """Begin the season after: NEW.db has the roster, the skills, drills and targets, and who observes.

    It has no tally, practice, note, plan or meeting of the season before. With --standings-as-comments each
    player has a short comment with what was counted in the skills that could be judged. SEASON.db stays as
    it is: close-season lets its names go.
    """
    from evaltrack.device.tablet import load_tablet
    from evaltrack.founding.next_season import NextSeason, begin_next_season
    from evaltrack.words.last_season import comments_of_season

    with opened(season_file) as season:
        if season.life.closed():
            warn(
                tr(
                    "this season was closed and knows no child any more, so nobody comes along: write the "
                    "roster anew"
                )
            )
        players = season.people.players()
        for number in leave_out:
            refuse_unknown("player", number, [player.number for player in players])
        leaving = [player.id for player in players if player.number in leave_out]
        noted = comments_of_season(season, worked_out(season)) if comments else {}
        say(tr("making the next season ..."))
        whose = team or season.team.name, age_class or season.team.age_class
        wanted = NextSeason(*whose, leaving, noted)
        count = begin_next_season(season, new_file, wanted, load_tablet().id)
        tell(
            tr(
                "{file}: {count} of {all} players come along, {comments}",
                file=new_file,
                count=count,
                all=len(players),
                comments=counted(len(set(noted) - set(leaving)), "comment"),
            )
        )
