"""What becomes of each table of a season file when two tablets meet. A table without an entry is a fault.

A further table of facts is one entry: with its parts, if it has tables that belong to its rows, and with what
it is `about`, if of several facts about one thing the last one is in force.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum


class Own(Enum):
    """What no pack carries, and why."""

    SEASON = "the same on every tablet, or it is another season"
    JOURNAL = "of this file and its journal"
    VALUES = "what is in force, worked out from the values that fields ever had (see `edits`)"
    HERE = "of this tablet: what its joins have found, and what was looked at"
    PART = "goes with the rows that it belongs to"
    FOREIGN = "passed on as it came"
    LOAN = "says of this file that it is lent"


@dataclass(frozen=True, slots=True)
class Facts:
    """Rows that are written once and never changed: all tablets' together are the truth.

    Where two tablets have different facts under one key, which only a copied tablet id or a name struck out
    can bring about, the heavier one stays (see `same_clock`), on every tablet the same.

    Parameters
    ----------
    parts : the tables with what belongs to a row, and their columns that name it, in the order of its key.
    about : the columns that say what a fact is about, where the last one is in force; its number is ``nth``.
    always : whether a pack since another one has them all, because others are read by them.
    quiet : whether it is nothing remarkable that two tablets have different ones.
    """

    parts: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    about: tuple[str, ...] = ()
    always: bool = False
    quiet: bool = False


_NTH = ("nth", "tablet")
_OF_LINE = ("practice", "tablet", "nth")

RULES: dict[str, Facts | Own] = {
    "season": Own.SEASON,
    "epoch": Own.JOURNAL,
    "player": Own.VALUES,
    "skill": Own.VALUES,
    "drill": Own.VALUES,
    "step": Own.VALUES,
    "slot": Own.VALUES,
    "practice": Own.VALUES,
    "attendance": Own.VALUES,
    "catalogue_text": Own.VALUES,
    "erased": Facts(always=True),
    "edit": Facts(always=True),
    "begun": Facts(always=True, quiet=True),
    "definition": Facts(always=True, quiet=True),
    "observer": Facts(),
    "station": Facts(),
    "rep": Facts(parts={"rep_slot": ("rep",)}),
    "rep_slot": Own.PART,
    "line_fact": Facts(parts={"line_start": _OF_LINE, "moved": _OF_LINE}),
    "line_start": Own.PART,
    "moved": Own.PART,
    "stood": Facts(),
    "tally": Facts(),
    "withdrawal": Facts(quiet=True),
    "correction": Facts(),
    "tally_correction": Facts(parts={"corrected_tally": _NTH}),
    "corrected_tally": Own.PART,
    "correction_force": Facts(about=("correction", "made_on"), always=True),
    "practice_comment": Facts(about=("practice",), always=True),
    "roster_change": Facts(),
    "catalogue_change": Facts(),
    "practice_plan": Facts(
        parts={
            "plan_block": _NTH,
            "plan_station": _NTH,
            "plan_place": _NTH,
            "plan_look": _NTH,
            "plan_reason": _NTH,
            "plan_wish": _NTH,
        },
        about=("day",),
    ),
    "plan_block": Own.PART,
    "plan_station": Own.PART,
    "plan_place": Own.PART,
    "plan_look": Own.PART,
    "plan_reason": Own.PART,
    "plan_wish": Own.PART,
    "note_fact": Facts(about=("player", "as_of", "field", "about")),
    "note_force": Facts(about=("fact", "made_on")),
    "meeting_evening": Facts(parts={"meeting_wish": _NTH, "meeting_slot": _NTH}, about=("evening",)),
    "meeting_wish": Own.PART,
    "meeting_slot": Own.PART,
    "meeting_came": Facts(about=("evening", "player")),
    "ice_time": Facts(about=("uid",), always=True),
    "player_comment": Facts(about=("player",)),
    "season_fact": Facts(about=("field",), always=True),
    "last_look": Own.HERE,
    "lost_edit": Own.HERE,
    "foreign_fact": Own.FOREIGN,
    "loan": Own.LOAN,
}
# tables of which a fact changes nothing of another, in the order in which they name one another
PLAIN = ("observer", "station", "rep", "line_fact", "stood", "tally", "withdrawal")
# what is noted at the boards: all that a loan gives back, and of changed fields only those of LENT_FIELDS.
# Names and words that were left out of it must not come back as if somebody had changed them
LENT_FACTS = (
    "begun", "definition", "edit", "observer", "station", "rep", "line_fact", "stood", "tally", "withdrawal",
)  # fmt: skip
LENT_FIELDS = ("practice", "attendance")
FACTS: dict[str, Facts] = {table: rule for table, rule in RULES.items() if isinstance(rule, Facts)}
