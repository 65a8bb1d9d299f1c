"""What is kept of each child, in a folder of its own, for the parents."""

from collections.abc import Sequence
from pathlib import Path

from evaltrack.analysis.standings.standing import Standing
from evaltrack.paper.export.new_folder import write_folder
from evaltrack.paper.export.own_copy import own_copy
from evaltrack.rink.plain_text import plain_words


def write_for_parents(season, standings: Sequence[Standing], folder: Path) -> int:
    """Write a folder for each child into a new or empty one; return how many there are.

    Parameters
    ----------
    standings : of the whole team, those who have left among them.

    Raises
    ------
    EvaltrackError : something is in the folder already, or it cannot be written.
    """
    write_folder(folder, {})
    places: set[Path] = set()
    for player in season.people.everyone():
        place = _free(folder / f"{player.number}-{plain_words(player.name)}", places)
        places.add(place)
        write_folder(place, own_copy(season, player, standings))
    return len(places)


def _free(place: Path, taken: set[Path]) -> Path:
    """Return the place, with a number behind it where another child has it: one of that name who left."""
    number, found = 1, place
    while found in taken:
        number += 1
        found = place.with_name(f"{place.name}-{number}")
    return found
