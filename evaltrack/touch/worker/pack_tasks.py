"""The long work on packs and loans. It runs in a process beside the app, and imports no Kivy."""

from datetime import date, datetime
from pathlib import Path

from evaltrack.device.season_places import free_file
from evaltrack.language import tr


def give_back(path: Path, folder: Path, tablet: str) -> str:
    """Write all that was noted in a loan into a folder, as a pack, and return a sentence that says where."""
    from evaltrack.device.given_back import note_given
    from evaltrack.intake.saving import save
    from evaltrack.store.opening import open_season

    target = free_file(folder, f"{path.stem}-tallies-{date.today().isoformat()}", ".pack")
    with open_season(path) as season:
        amount, loan = season.copies.amount(), season.loan
        save(target, season.packs.pack(tablet))
    note_given(loan.id, amount)
    return tr("Written: {file}. Take it to the tablet that lent the season, which takes it in.", file=target)


def lend(path: Path, folder: Path, names: str, last_day: date) -> str:
    """Write a loan of a season into a folder, and return sentences that say where and what to do."""
    from evaltrack.device.backup_places import note_elsewhere
    from evaltrack.rink.loan import LentNames
    from evaltrack.store.lending import lend
    from evaltrack.store.opening import open_season
    from evaltrack.words.lending import lent_words, take_back_words

    target = free_file(folder, f"{path.stem}-loan-{last_day.isoformat()}", ".db")
    with open_season(path) as season:
        loan, ident = lend(season, target, LentNames(names), last_day), season.ident
    note_elsewhere(ident, target.absolute(), False, datetime.now())
    return f"{lent_words(target, loan)}. {take_back_words()}"


def write_pack(path: Path, folder: Path, tablet: str, passphrase: str, since: Path | None) -> str:
    """Write a pack of a season into a folder, and return a sentence that says where and what is in it.

    Parameters
    ----------
    passphrase : seals it, and opens the earlier one; empty for none.
    since : an earlier pack; None for all that was noted.
    """
    from evaltrack.device.backup_places import note_elsewhere
    from evaltrack.device.sealing import refuse_short, sealed
    from evaltrack.intake.saving import save
    from evaltrack.store.opening import open_season
    from evaltrack.store.packs.pack_file import read_pack
    from evaltrack.store.packs.season_packs import pack_in
    from evaltrack.words.packs import content_words

    if passphrase:
        refuse_short(passphrase)
    ending = ".pack.age" if passphrase else ".pack"
    target = free_file(folder, f"{path.stem}-{date.today().isoformat()}", ending)
    with open_season(path) as season:
        earlier = pack_in(since, lambda: passphrase) if since else None
        content, ident = season.packs.pack(tablet, earlier), season.ident
    made = content_words(read_pack(str(target), content).counts())  # what cannot be read is not given away
    save(target, sealed(content, passphrase) if passphrase else content)
    note_elsewhere(ident, target.absolute(), bool(passphrase), datetime.now())
    if passphrase:
        return tr("Written, sealed under the passphrase: {file} ({what}).", file=target, what=made)
    return tr("Written: {file} ({what}). Whoever has it can read it.", file=target, what=made)


def needs_passphrase(pack: Path) -> bool:
    """Say whether a pack is sealed."""
    from evaltrack.device.ordinary_file import open_ordinary
    from evaltrack.device.sealing import is_sealed
    from evaltrack.device.system_words import system_reason
    from evaltrack.errors import EvaltrackError

    try:
        with open_ordinary(pack) as file:
            return is_sealed(file.read(64))
    except OSError as error:
        raise EvaltrackError(
            tr("{file} cannot be read: {why}", file=pack.name, why=system_reason(error))
        ) from error


def look_into(path: Path, pack: Path, passphrase: str) -> list[str]:
    """Return in lines what a pack would bring; nothing is changed."""
    from evaltrack.store.opening import open_season
    from evaltrack.store.packs.season_packs import pack_in
    from evaltrack.words.packs import joined_lines, noted_by_lines
    from evaltrack.words.wording import as_sentence

    with open_season(path) as season:
        read = pack_in(pack, lambda: passphrase)
        noted = season.packs.new_tallies(read)
        lines = joined_lines(season.packs.join([(pack.name, read)], rehearse=True), _names(season), True)
    return list(map(as_sentence, [*lines[:1], *noted_by_lines(noted), *lines[1:]]))


def take_in(path: Path, pack: Path, passphrase: str) -> list[str]:
    """Take a pack in, after a backup was kept, and return in lines what it brought."""
    from evaltrack.device.backup_places import Why
    from evaltrack.store.backups.keeping import keep_backup
    from evaltrack.store.opening import open_season
    from evaltrack.store.packs.season_packs import pack_in
    from evaltrack.words.packs import joined_lines
    from evaltrack.words.wording import as_sentence

    with open_season(path) as season:
        read = pack_in(pack, lambda: passphrase)
        if not season.invented:
            keep_backup(season, Why.JOIN)
        lines = joined_lines(season.packs.join([(pack.name, read)]), _names(season))
    return list(map(as_sentence, lines))


def lost_so_far(path: Path) -> list[str]:
    """Return in lines every change that lost against a newer one in any join."""
    from evaltrack.store.opening import open_season
    from evaltrack.words.packs import lost_lines
    from evaltrack.words.wording import as_sentence

    with open_season(path) as season:
        return list(map(as_sentence, lost_lines(season.packs.lost(), _names(season))))


def _names(season) -> dict:
    return {player.id: f"{player.number} {player.name}" for player in season.people.everyone()}
