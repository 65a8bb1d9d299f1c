"""What the process beside the app is asked to do. No Kivy here, and nothing heavy before it is asked."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from uuid import UUID

from evaltrack.analysis.standings.standing import Standing
from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.rink.player import Player

NOTES = "notes"  # the folder beside the season file
_TOGETHER = 2  # standings in one piece: less than a millisecond of unpickling for the screens' process


def live_standings(
    path: Path, known: UUID | None
) -> Iterator[UUID | list[Standing] | tuple[StrictObserver, ...]]:
    """Yield the edition of a season file's standings, and unless it is ``known`` these in pieces.

    Last of all, as a tuple, come the observers who are much stricter than the others.
    """
    from evaltrack.analysis.standings.live import live_strict, read_live

    edition, standings = read_live(path, known)
    yield edition
    if standings is not None:
        for start in range(0, max(len(standings), 1), _TOGETHER):
            yield standings[start : start + _TOGETHER]
        yield tuple(live_strict())


def agreement_at(path: Path, practice: str) -> list[str]:
    """Return in sentences how far the observers of a practice agreed."""
    from evaltrack.paper.tables.agreement import of_practice
    from evaltrack.store.opening import open_season

    with open_season(path) as season:
        return of_practice(season, practice)


def write_note(path: Path, player: Player, standings: Sequence[Standing]) -> str:
    """Write a player's page beside the season file and return a sentence that says what became of it."""
    from evaltrack.paper.note.notes import write_notes
    from evaltrack.store.opening import open_season

    with open_season(path) as season:
        (note,) = write_notes(season, standings, path.parent / NOTES, players=[player])
    whose = f"{player.number} {player.name}"
    if note.path is None:
        return f"{whose}: {note.problem}."
    remark = f" Look at this first: {note.problem}." if note.problem else ""
    return f"Draft for {whose}: {note.path}. Read it before you give it away.{remark}"


def write_guide(path: Path | None, folder: Path, paper: str) -> str:
    """Write the guide for observers into a folder, and return a sentence that says where it is.

    Parameters
    ----------
    path : the season file whose words stand in it; None for the words that are shipped.
    paper : ``letter`` or ``a4``.
    """
    from contextlib import nullcontext
    from datetime import date

    from evaltrack.device.season_places import season_stem
    from evaltrack.intake.saving import make_folder, save
    from evaltrack.paper.guide.guide import print_guide, read_guide
    from evaltrack.store.opening import open_season

    with open_season(path) if path else nullcontext() as season:
        guide = read_guide(season)
    made = print_guide(guide, paper, date.today())
    target = make_folder(folder) / f"{season_stem('guide', guide.team)}-{paper}.pdf"
    save(target, made.content)
    remark = f" Look at this first: {made.problem}." if made.problem else ""
    return f"The guide is {target}. Print both pages.{remark}"
