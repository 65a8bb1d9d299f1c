"""What the process beside the app is asked for the meetings with families: their pages, and the evening.

No Kivy here, and nothing heavy before it is asked.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from uuid import UUID

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.meeting_evening import Evening
from evaltrack.rink.note_life import AS_DRAFT, NoteFact, NoteField, NoteKey
from evaltrack.rink.placed_evening import PlacedEvening
from evaltrack.touch.worker.problems import with_problems


def family_pages(path: Path, days: Sequence[date], known: Mapping[date, UUID]) -> tuple:
    """Return what families' pages as of some days are drafted from, as ``LivePages.read`` does."""
    from evaltrack.words.family.live_pages import read_live_pages

    return read_live_pages(path, days, known)


def print_note(path: Path, key: NoteKey, paper: str, form: str, large: bool = False) -> tuple[str, str]:
    """Print a family's page beside the season files, or save it in another form.

    Parameters
    ----------
    paper : ``letter`` or ``a4``.
    form : ``pdf``, ``html``, ``text`` or ``docx``.
    large : in large print.

    Returns
    -------
    A sentence that says where it is or why it is not, and what was printed, empty for nothing.
    """
    from evaltrack.analysis.standings.standings import read_standings
    from evaltrack.device.season_places import notes_folder
    from evaltrack.paper.note.forms import Wanted
    from evaltrack.paper.note.notes import write_notes
    from evaltrack.store.opening import open_season
    from evaltrack.words.family.in_force import read_kept

    with open_season(path) as season:
        player = next(one for one in season.people.everyone() if one.id == key.player)
        standings = [one for one in read_standings(season, key.as_of) if one.player == player.number]
        kept = read_kept(season, standings, [player], key.as_of)
        wanted = Wanted(form, {"letter": "us-letter"}.get(paper, paper), large)
        to = notes_folder(path)
        (note,) = write_notes(season, standings, to, [player], key.as_of, wanted, kept.edits, kept.read)
    if note.path is None:
        return tr("{who}: {what}.", who=f"{player.number} {player.name}", what=note.problem), ""
    said = mark("Printed: {file}.") if kept.read else mark("Printed as a draft: {file}.")
    printed = _form(kept, player.number, form, paper, *(["large"] if large else []))
    return with_problems(tr(said, file=note.path), [note.problem]), printed


def meetings_at(path: Path, evening: Evening) -> PlacedEvening:
    """Return an evening of meetings worked out for the team of a season file."""
    from evaltrack.analysis.meetings.placing import placed
    from evaltrack.rink.player import by_number
    from evaltrack.store.opening import open_season

    with open_season(path) as season:
        return placed(evening, [one.id for one in sorted(season.people.players(), key=by_number)])


def print_meetings(
    path: Path, key: str, folder: Path, paper: str, with_names: bool
) -> tuple[str, list[NoteFact]]:
    """Print all that the evening with this key needs.

    Parameters
    ----------
    folder : in which the evening has a folder of its own, by its day.
    paper : ``letter`` or ``a4``.
    with_names : whether first names stand in the titles of the calendar.

    Returns
    -------
    A sentence that says where it is, and what is to be noted of the families' pages that were printed.
    """
    from evaltrack.analysis.standings.standings import read_standings
    from evaltrack.intake.saving import make_folder
    from evaltrack.paper.meetings.evening_files import write_evening
    from evaltrack.paper.note.batch import write_batch
    from evaltrack.store.opening import open_season

    with open_season(path) as season:
        evening, standings = season.meetings.of(key)[-1], read_standings(season)
        folder = make_folder(folder / evening.day.isoformat())
        files = write_evening(season, evening, standings, folder, paper, with_names)
        notes, problems, printed = _notes_for(season, evening, standings, folder, paper)
        batch = write_batch(evening, notes, folder, paper)
    count = len(files.written) + (batch is not None)
    words = mark("{number} files are in {folder}. Read each note before you give it away.")
    said = tr(words, number=count, folder=folder)
    return with_problems(said, [*files.problems, *problems]), printed


def _notes_for(season, evening: Evening, standings: Sequence[Standing], folder: Path, paper: str) -> tuple:
    """Write the notes of the families of an evening.

    Return what became of each, what is wrong, and that the pages were printed of which something is kept.
    """
    from evaltrack.paper.note.forms import Wanted
    from evaltrack.paper.note.notes import write_notes
    from evaltrack.words.family.in_force import read_kept

    players = {player.id: player for player in season.people.everyone()}
    ordered = [players[player] for player, _ in evening.in_order()]
    kept = read_kept(season, standings, ordered)
    wanted = Wanted(paper={"letter": "us-letter"}.get(paper, paper))
    edits = kept.edits_with(evening.day, ordered)
    written = write_notes(season, standings, folder / "notes", ordered, None, wanted, edits, kept.read)
    alike: dict[str, list[str]] = {}
    for note in written:
        if note.problem:
            alike.setdefault(note.problem, []).append(note.player.number)
    problems = [tr("{who}: {what}", who=", ".join(found), what=problem) for problem, found in alike.items()]
    made = {note.player.id for note in written if note.path}
    printed = [
        NoteFact(NoteKey(one.id, kept.as_of), NoteField.PRINTED, _form(kept, one.number, "pdf", paper))
        for one in ordered
        if one.id in made and one.number in kept.edits
    ]
    return written, [*_drafts_among(written), *problems], printed


def _drafts_among(notes) -> list[str]:
    """Return in a sentence how many of the pages that were written nobody has read; nothing for none."""
    pages = [one.page for one in notes if one.path]
    drafts = sum(page.is_draft for page in pages)
    if not drafts:
        return []
    return [
        tr_many(
            "{number} of {all} notes is still a draft",
            "{number} of {all} notes are still drafts",
            drafts,
            all=len(pages),
        )
    ]


def _form(kept, number: str, *words: str) -> str:
    """Return what was printed of a page, as it is kept of it."""
    return " ".join([*words, *([] if number in kept.read else [AS_DRAFT])])
