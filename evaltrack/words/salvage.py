"""What was saved of a damaged season file, what is lost, and what nobody can know, in sentences."""

from evaltrack.store.salvage.salvaging import Saved

_OF_A_PLAN = "plan_block", "plan_station", "plan_place", "plan_look", "plan_reason"
# what a table is called; rows that belong to others are told with these
_NAMES = {
    "season": "The name of the team",
    "player": "Players",
    "observer": "Observers",
    "skill": "Skills",
    "definition": "Definitions of skills",
    "drill": "Drills",
    "step": "Steps of drills",
    "slot": "Slots of drills",
    "practice": "Practices",
    "attendance": "Who was at a practice",
    "rep": "Reps",
    "rep_slot": "Who stood in a slot",
    "tally": "Tallies",
    "withdrawal": "Tallies that were undone",
    "station": "What was watched when",
    "line_fact": "Changes of a rotation",
    "line_start": "Who lined up",
    "moved": "Tallies that went with a slot",
    "stood": "Who stood in a slot after it was put right",
    "correction": "Corrections of practices",
    "tally_correction": "Corrections of tallies",
    "corrected_tally": "Tallies that were put right",
    "correction_force": "Corrections that were taken back",
    "practice_comment": "Comments",
    "roster_change": "Changes of the roster",
    "catalogue_change": "Changes of skills and drills",
    "catalogue_text": "The files of skills and drills",
    "practice_plan": "Plans of practices",
    "ice_time": "Entries of the calendar",
    "plan_wish": "Wishes for groups",
    "note_fact": "Changes of families' pages",
    "note_force": "Changes of families' pages that were taken back",
    "meeting_evening": "Evenings of meetings",
    "meeting_wish": "Wishes for meetings",
    "meeting_slot": "Times of meetings",
    "meeting_came": "Marks of who came to a meeting",
    "player_comment": "Comments on players",
    "last_look": "Standings as of the last look",
    "season_fact": "How long the names of the season are kept",
    "edit": "Earlier values of players, skills, drills and practices",
    "lost_edit": "Changes that lost against newer ones",
    "begun": "Which practice began when",
    "erased": "Players who were erased",
    "foreign_fact": "Facts of a newer evaltrack",
}
_STOOD_IN = {
    "tally": (
        "{} tallies could be read from an index alone: they count, and when, in which rep and in which slot "
        "each was made is lost."
    ),
    "player": (
        "{} players are lost, of whom there are tallies: they stand in the roster as “not readable”, with "
        "numbers from 901 on. Write their names anew."
    ),
    "practice": "{} practices are lost, of which there are tallies: they stand under the day of their key.",
    "skill": "{} skills are lost, of which there are tallies: they stand under their key. Write them anew.",
    "definition": "{} definitions of skills are lost. Write them anew.",
    "drill": "{} drills are lost, of which there are tallies: they stand under their key.",
    "step": "{} steps of drills are lost, of which there are tallies: they stand under their key.",
    "rep": "{} tallies have lost the rep and the slot in which they were made; they count all the same.",
    "attendance": "{} times it is lost that somebody was there, and follows from a tally.",
    "slot": "{} slots of drills have lost where they lead, whom they meet or what is watched there.",
}
CANNOT_BE_SEEN = (
    "A name, a text, a target, a moment or a slot in which one letter or figure was changed looks like a "
    "right one: nobody can see that. Look through the roster, and compare with a backup where there is one."
)


def saved_words(saved: Saved) -> str:
    """Return how much was saved."""
    kept = saved.kept
    counts = (
        _counted(kept.get("tally", 0), "1 tally", "{} tallies"),
        _counted(kept.get("practice", 0), "1 practice", "{} practices"),
        _counted(kept.get("player", 0), "1 player", "{} players"),
    )
    return f"{', '.join(counts)} saved"


def loss_words(saved: Saved) -> list[str]:
    """Return what is lost, what stands in for it, and what nobody can know."""
    told = []
    if saved.pages:
        told.append(_counted(saved.pages, "1 page cannot be read.", "{} pages cannot be read."))
    tables = dict.fromkeys((*_NAMES, *saved.kept))
    told += [words for table in tables if table not in _OF_A_PLAN and (words := _loss(saved, table))]
    if any(saved.lost.get(table) or table in saved.unknown for table in _OF_A_PLAN):
        told.append("Parts of plans of practices are lost.")
    told += [
        words.format(f"{saved.stood_in[kind]:,}")
        for kind, words in _STOOD_IN.items()
        if saved.stood_in.get(kind)
    ]
    if saved.journal:
        told.append(
            f"What lies in {saved.journal} beside the file was not read: keep it, it may hold what is newer."
        )
    told += [f"In the new file: {finding}" for finding in saved.findings]
    if not told:
        told.append("Every row of the file could be read.")
    return [*told, CANNOT_BE_SEEN]


def _loss(saved: Saved, table: str) -> str:
    what = _NAMES.get(table, table.replace("_", " ").capitalize())
    kept, lost = saved.kept.get(table, 0), saved.lost.get(table, 0)
    if table in saved.unknown:
        return f"{what}: {kept:,} saved, and nobody can say how many are lost."
    return f"{what}: {kept:,} saved, {lost:,} lost." if lost else ""


def _counted(count: int, one: str, several: str) -> str:
    return one if count == 1 else several.format(f"{count:,}")
