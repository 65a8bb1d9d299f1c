"""What was saved of a damaged season file, what is lost, and what nobody can know, in sentences."""

from evaltrack.language import mark, tr, tr_many
from evaltrack.store.salvage.salvaging import Saved
from evaltrack.words.wording import counted

_OF_A_PLAN = "plan_block", "plan_station", "plan_place", "plan_look", "plan_reason"
# what a table is called; rows that belong to others are told with these
_NAMES = {
    "season": mark("The name of the team"),
    "player": mark("Players"),
    "observer": mark("Observers"),
    "skill": mark("Skills"),
    "definition": mark("Definitions of skills"),
    "drill": mark("Drills"),
    "step": mark("Steps of drills"),
    "slot": mark("Slots of drills"),
    "practice": mark("Practices"),
    "attendance": mark("Who was at a practice"),
    "rep": mark("Reps"),
    "rep_slot": mark("Who stood in a slot"),
    "tally": mark("Tallies"),
    "withdrawal": mark("Tallies that were undone"),
    "station": mark("What was watched when"),
    "line_fact": mark("Changes of a rotation"),
    "line_start": mark("Who lined up"),
    "moved": mark("Tallies that went with a slot"),
    "stood": mark("Who stood in a slot after it was put right"),
    "correction": mark("Corrections of practices"),
    "tally_correction": mark("Corrections of tallies"),
    "corrected_tally": mark("Tallies that were put right"),
    "correction_force": mark("Corrections that were taken back"),
    "practice_comment": mark("Comments"),
    "roster_change": mark("Changes of the roster"),
    "catalogue_change": mark("Changes of skills and drills"),
    "catalogue_text": mark("The files of skills and drills"),
    "practice_plan": mark("Plans of practices"),
    "ice_time": mark("Entries of the calendar"),
    "plan_wish": mark("Wishes for groups"),
    "note_fact": mark("Changes of families' pages"),
    "note_force": mark("Changes of families' pages that were taken back"),
    "meeting_evening": mark("Evenings of meetings"),
    "meeting_wish": mark("Wishes for meetings"),
    "meeting_slot": mark("Times of meetings"),
    "meeting_came": mark("Marks of who came to a meeting"),
    "player_comment": mark("Comments on players"),
    "last_look": mark("Standings as of the last look"),
    "season_fact": mark("How long the names of the season are kept"),
    "loan": mark("Until when the season is lent"),
    "edit": mark("Earlier values of players, skills, drills and practices"),
    "lost_edit": mark("Changes that lost against newer ones"),
    "begun": mark("Which practice began when"),
    "erased": mark("Players who were erased"),
    "foreign_fact": mark("Facts of a newer evaltrack"),
}
_STOOD_IN = {
    "tally": mark(
        "{number} tallies could be read from an index alone: they count, and when, in which rep and in which"
        " slot each was made is lost."
    ),
    "player": mark(
        "{number} players are lost, of whom there are tallies: they stand in the roster as “not readable”, "
        "with numbers from 901 on. Write their names anew."
    ),
    "practice": mark(
        "{number} practices are lost, of which there are tallies: they stand under the day of their key."
    ),
    "skill": mark(
        "{number} skills are lost, of which there are tallies: they stand under their key. Write them anew."
    ),
    "definition": mark("{number} definitions of skills are lost. Write them anew."),
    "drill": mark("{number} drills are lost, of which there are tallies: they stand under their key."),
    "step": mark(
        "{number} steps of drills are lost, of which there are tallies: they stand under their key."
    ),
    "rep": mark(
        "{number} tallies have lost the rep and the slot in which they were made; they count all the same."
    ),
    "attendance": mark("{number} times it is lost that somebody was there, and follows from a tally."),
    "slot": mark(
        "{number} slots of drills have lost where they lead, whom they meet or what is watched there."
    ),
}
CANNOT_BE_SEEN = mark(
    "A name, a text, a target, a moment or a slot in which one letter or figure was changed looks like a "
    "right one: nobody can see that. Look through the roster, and compare with a backup where there is one."
)


def saved_words(saved: Saved) -> str:
    """Return how much was saved."""
    kept = saved.kept
    return tr(
        "{tallies}, {practices}, {players} saved",
        tallies=counted(kept.get("tally", 0), "tally", "tallies"),
        practices=counted(kept.get("practice", 0), "practice"),
        players=counted(kept.get("player", 0), "player"),
    )


def loss_words(saved: Saved) -> list[str]:
    """Return what is lost, what stands in for it, and what nobody can know."""
    told = []
    if saved.pages:
        told.append(tr_many("{number} page cannot be read.", "{number} pages cannot be read.", saved.pages))
    tables = dict.fromkeys((*_NAMES, *saved.kept))
    told += [words for table in tables if table not in _OF_A_PLAN and (words := _loss(saved, table))]
    if any(saved.lost.get(table) or table in saved.unknown for table in _OF_A_PLAN):
        told.append(tr("Parts of plans of practices are lost."))
    told += [
        tr(words, number=saved.stood_in[kind])
        for kind, words in _STOOD_IN.items()
        if saved.stood_in.get(kind)
    ]
    if saved.journal:
        told.append(
            tr(
                "What lies in {journal} beside the file was not read: keep it, it may hold what is newer.",
                journal=saved.journal,
            )
        )
    told += [tr("In the new file: {finding}", finding=finding) for finding in saved.findings]
    if not told:
        told.append(tr("Every row of the file could be read."))
    return [*told, tr(CANNOT_BE_SEEN)]


def _loss(saved: Saved, table: str) -> str:
    what = tr(_NAMES[table]) if table in _NAMES else table.replace("_", " ").capitalize()
    kept, lost = saved.kept.get(table, 0), saved.lost.get(table, 0)
    if table in saved.unknown:
        return tr("{what}: {kept} saved, and nobody can say how many are lost.", what=what, kept=kept)
    return tr("{what}: {kept} saved, {lost} lost.", what=what, kept=kept, lost=lost) if lost else ""
