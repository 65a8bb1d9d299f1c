"""The long work on what is kept of a player, and copies given away. It imports no Kivy."""

from datetime import date
from pathlib import Path
from uuid import UUID

from evaltrack.device.season_places import free_file
from evaltrack.language import tr


def export_team(path: Path, folder: Path) -> str:
    """Write a season as tables into a new folder within this one, and return a sentence that says where."""
    from evaltrack.analysis.standings.standings import read_standings
    from evaltrack.device.backup_places import note_pages
    from evaltrack.paper.export.for_team import team_files
    from evaltrack.paper.export.new_folder import write_folder
    from evaltrack.store.opening import open_season

    target = free_file(folder, f"{path.stem}-tables-{date.today().isoformat()}", "")
    with open_season(path) as season:
        write_folder(target, team_files(season, read_standings(season, left=True)))
        note_pages(season.ident, target)
    return tr("Written: {folder}. It has names in it: give it to whom it is for.", folder=target)


def export_player(path: Path, folder: Path, player: UUID) -> str:
    """Write all that is kept of one player into a new folder within this one; return where it is."""
    from evaltrack.analysis.standings.standings import read_standings
    from evaltrack.device.backup_places import note_pages
    from evaltrack.paper.export.new_folder import write_folder
    from evaltrack.paper.export.own_copy import own_copy
    from evaltrack.store.opening import open_season

    with open_season(path) as season:
        (one,) = [one for one in season.people.everyone() if one.id == player]
        target = free_file(folder, f"for-the-parents-{one.number}-{date.today().isoformat()}", "")
        write_folder(target, own_copy(season, one, read_standings(season, left=True)))
        note_pages(season.ident, target)
    return tr("Written: {folder}. It is of this child alone: give it to the parents.", folder=target)


def erase(path: Path, player: UUID, keep_counts: bool, rehearse: bool) -> list[str]:
    """Erase a player, or only find out what would go; return the receipt in lines."""
    from evaltrack.store.erased_on_tablet import erase_on_tablet
    from evaltrack.store.opening import open_season
    from evaltrack.words.erasing import receipt_lines

    with open_season(path) as season:
        (one,) = [one for one in season.people.everyone() if one.id == player]
        receipt = erase_on_tablet(season, one, keep_counts, rehearse)
    return receipt_lines(f"{one.number} {one.name}", receipt, rehearse)
