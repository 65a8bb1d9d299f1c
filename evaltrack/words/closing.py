"""What a season's closing takes away, what stays, and whom to ask, in sentences."""

from collections.abc import Mapping

from evaltrack.founding.closing import Closing
from evaltrack.language import mark, tr
from evaltrack.rink.days import in_full
from evaltrack.words.erasing import DEVICE, NO_BACKUP, elsewhere_lines, file_lines
from evaltrack.words.wording import counted, listed

FIRST = mark(
    "Do before it what needs names: give parents the copies that they want, and begin the next season, which"
    " takes the roster along."
)
FOR_GOOD = mark("This cannot be undone: there is no way to bring the names back.")
REHEARSED = mark("Nothing was changed. Say --yes to close the season.")
ASK_OTHERS = mark(
    "On each other tablet of this season close it too. Ask those who have printed pages, packs, copies or"
    " backups to delete them."
)
FIGURES = mark(
    "The team’s figures keep every count. Shares can move a little where it was noted by rep who met whom:"
    " that is forgotten too."
)


def before_lines(closing: Closing) -> list[str]:
    """Return what would go, and what would stay."""
    what = closing.forgotten
    return [
        tr(
            "These would go: the names, numbers and birth years of {players}, and the names of {observers}.",
            **_who(what),
        ),
        *_rest(closing),
        _stays(what),
        tr(FIGURES),
    ]


def after_lines(closing: Closing) -> list[str]:
    """Return what went, and what stays."""
    what = closing.forgotten
    return [
        tr("The season is closed. It has forgotten {players} and {observers}.", **_who(what)),
        *_rest(closing),
        _stays(what),
    ]


def _who(what) -> dict[str, str]:
    return {"players": counted(what.players, "player"), "observers": counted(what.observers, "observer")}


def _stays(what) -> str:
    return tr(
        "These stay: {tallies} of {practices}, as nobody’s; skills, drills and targets.",
        tallies=counted(what.tallies, "tally", "tallies"),
        practices=counted(what.practices, "practice"),
    )


def _rest(closing: Closing) -> list[str]:
    struck = sum(closing.forgotten.struck.values())
    lines = [_along(_written(closing.forgotten.rows))]
    if struck:
        lines.append(
            tr("A name is struck out of {texts} that the staff wrote.", texts=counted(struck, "text"))
        )
    return lines


def _written(rows: Mapping[str, int]) -> list[str]:
    """Return how much was written or planned, of each kind of which there is any."""
    comments, pages = rows["practice_comment"] + rows["player_comment"], rows["note_fact"]
    evenings, plans = rows["meeting_evening"], rows["practice_plan"]
    said = [
        (comments, counted(comments, "comment")),
        (pages, counted(pages, "change of a family’s page", "changes of families’ pages")),
        (
            evenings,
            counted(evenings, "change of an evening of meetings", "changes of evenings of meetings"),
        ),
        (plans, counted(plans, "plan")),
    ]
    return [words for number, words in said if number]


def _along(written: list[str]) -> str:
    if not written:
        return tr("Along with them who was there, corrections and reps.")
    return tr(
        "Along with them what was written or planned ({counts}), who was there, corrections and reps.",
        counts=listed(written),
    )


def asked_lines(closing: Closing, rehearsed: bool) -> list[str]:
    """Return which files go, and which others hold a name or may, with their dates: people can be asked."""
    lines = file_lines(closing.holding, closing.deleted, closing.stuck, rehearsed)
    lines += elsewhere_lines(closing.elsewhere)
    lines += [
        tr(
            "Pages of {families} were printed on {day}: ask for them.",
            families=counted(count, "family", "families"),
            day=in_full(day),
        )
        for day, count in closing.printed
    ]
    lines += [tr(NO_BACKUP, why=closing.no_backup)] if closing.no_backup else []
    return [*lines, tr(ASK_OTHERS), tr(DEVICE)]
