"""Closing a season in one step: its children are forgotten, in the file and in all that this tablet keeps."""

import os
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.note_life import NoteField
from evaltrack.rink.practice import local_day

if TYPE_CHECKING:
    from evaltrack.device.backup_places import CopyElsewhere
    from evaltrack.device.files_with_name import NamedFile
    from evaltrack.store.erasing.forgetting import Forgotten


@dataclass(frozen=True)
class Closing:
    """What a closing took away, or would, and what people still have.

    Parameters
    ----------
    forgotten : what went out of the season file.
    deleted : the app's own copies and pages that went, each with its day; ``stuck`` could not be deleted.
    holding : files that hold a name, or may, and are somebody's.
    elsewhere : backups, packs, pages and tables that were written to places of somebody's choice.
    printed : on which days pages of how many families were printed.
    no_backup : why no backup of the season as it is now could be kept; empty where one is.
    """

    forgotten: "Forgotten"
    deleted: list[tuple[Path, date]] = field(default_factory=list)
    stuck: list[Path] = field(default_factory=list)
    holding: "list[NamedFile]" = field(default_factory=list)
    elsewhere: "list[CopyElsewhere]" = field(default_factory=list)
    printed: list[tuple[date, int]] = field(default_factory=list)
    no_backup: str = ""


def close_season(path: Path, day: date, tablet: str, rehearse: bool = False) -> Closing:
    """Let a season file and this tablet know nobody of the season by name any more.

    What the app itself made of the children goes first, then the file: so whatever stops the program, asked
    for again it is done. ``rehearse`` only looks.

    Raises
    ------
    EvaltrackError
        The season is open in a window, was closed already, or the file cannot be changed: it is as it was.
    """
    from evaltrack.device.backup_places import forget_named, given_away
    from evaltrack.store.erased_on_tablet import keep_backup_after
    from evaltrack.store.opening import open_season

    path = Path(path)
    with _held(path):
        with open_season(path) as season:
            if season.life.closed():
                raise EvaltrackError(tr("This season was closed already: it knows no child any more."))
            printed, elsewhere = _printed(season), given_away(season.ident)
            looked = season.forget(day, tablet, rehearse=True)
        own, holding = _files(path, looked)
        deleted = [(copy, _day(copy)) for copy in looked.copies] + [(one.path, one.day) for one in own]
        if rehearse:
            return Closing(looked.taken_out, deleted, [], holding, elsewhere, printed)
        stuck = _delete(own)
        _forget_here()
        with open_season(path) as season:
            ident, done = season.ident, season.forget(day, tablet)
        forget_named(ident, done.names.is_in)
        no_backup = keep_backup_after(path)
        stuck += done.stuck
        went = [pair for pair in deleted if pair[0] not in stuck]
        return Closing(done.taken_out, went, stuck, holding, elsewhere, printed, no_backup)


@contextmanager
def _held(path: Path) -> Iterator[None]:
    from evaltrack.device.season_claim import SeasonClaim

    claim = SeasonClaim()
    try:
        if not claim.take(path):
            raise EvaltrackError(tr("The season is open in a window of the app. Close that window first."))
        yield
    finally:
        claim.leave()


def _printed(season) -> list[tuple[date, int]]:
    """Return on which days pages were printed, and of how many families."""
    of_days = {
        (local_day(fact.at), key.player)
        for key, life in season.notes.all().items()
        for fact in life.facts
        if fact.field is NoteField.PRINTED
    }
    return sorted(Counter(day for day, _ in of_days if day).items())


def _files(path: Path, looked) -> "tuple[list[NamedFile], list[NamedFile]]":
    """Return what the app made of one child alone, and all other files that have a name."""
    from evaltrack.device.files_with_name import files_with_name
    from evaltrack.device.tablet import tablet_file

    here = tablet_file().resolve()  # out of which the name goes by itself
    found = [one for one in files_with_name(path, looked.names, []) if one.path not in [here, *looked.copies]]
    return [one for one in found if one.own], [one for one in found if not one.own]


def _delete(files: "list[NamedFile]") -> list[Path]:
    for one in files:
        with suppress(OSError):
            one.path.unlink()
    return [one.path for one in files if os.path.lexists(one.path)]


def _forget_here() -> None:
    """Forget whom this tablet showed, and who observed."""
    from evaltrack.device.tablet import keep_tablet, load_tablet

    keep_tablet(load_tablet(), player="", observer="")


def _day(path: Path) -> date:
    return date.fromtimestamp(path.stat().st_mtime)
