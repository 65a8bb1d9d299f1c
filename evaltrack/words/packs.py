"""What a pack holds and what a join brought, in words."""

from collections.abc import Mapping
from datetime import datetime
from uuid import UUID

from evaltrack.language import tr_many
from evaltrack.rink.plain_text import one_line
from evaltrack.rink.practice import local_day
from evaltrack.store.packs.joined import Joined, Lost
from evaltrack.words.wording import counted

_DAY = 24 * 60 * 60 * 1000  # ms
_LONGEST = 60  # characters of a value in a sentence
_KINDS = {  # of facts; what has no word of its own is told together
    "tally": ("tally", "tallies"),
    "withdrawal": ("tally taken back", "tallies taken back"),
    "rep": ("rep", "reps"),
    "correction": ("correction of a practice", "corrections of practices"),
    "tally_correction": ("correction of tallies", "corrections of tallies"),
    "practice_comment": ("comment", "comments"),
    "practice_plan": ("plan", "plans"),
    "ice_time": ("ice time", "ice times"),
    "note_fact": ("change of a family's page", "changes of families' pages"),
    "meeting_evening": ("change of an evening of meetings", "changes of evenings of meetings"),
    "meeting_came": ("mark of who came to a meeting", "marks of who came to a meeting"),
    "player_comment": ("comment on a player", "comments on players"),
    "season_fact": ("change of how long names are kept", "changes of how long names are kept"),
    "edit": (
        "change of players, skills, drills or practices",
        "changes of players, skills, drills or practices",
    ),
}
FIELDS = {
    ("player", "number"): "the number of {0}",
    ("player", "name"): "the name of {0}",
    ("player", "position"): "the position of {0}",
    ("player", "birth_year"): "the year in which {0} was born",
    ("player", "status"): "the status of {0}",
    ("skill", "place"): "the place of the skill {0} in the list",
    ("skill", "name"): "the name of the skill {0}",
    ("skill", "positions"): "for whom the skill {0} is",
    ("skill", "caption"): "the short line of the skill {0}",
    ("skill", "looks_like"): "what the skill {0} looks like",
    ("skill", "at_home"): "what to try at home for the skill {0}",
    ("skill", "target"): "the target of the skill {0}",
    ("skill", "retired"): "whether the skill {0} is in use",
    ("definition", "words"): "the definition of the skill {0}",
    ("drill", "place"): "the place of the drill {0} in the list",
    ("drill", "name"): "the name of the drill {0}",
    ("drill", "retired"): "whether the drill {0} is in use",
    ("step", "place"): "the place of the step {1} in the drill {0}",
    ("step", "name"): "the name of the step {1} of the drill {0}",
    ("step", "surface"): "the ice of the step {1} of the drill {0}",
    ("step", "contact"): "whether the step {1} of the drill {0} has contact",
    ("step", "retired"): "whether the step {1} of the drill {0} is in use",
    ("step", "slots"): "the slots of the step {1} of the drill {0}",
    ("catalogue_text", "text"): "the file of the {0}",
    ("practice", "held_on"): "the day of the practice {0}",
    ("practice", "aside"): "whether the practice {0} counts",
    ("attendance", "here"): "whether {1} was at the practice {0}",
    ("practice_comment", ""): "the comment on the practice {0}",
    ("practice_plan", ""): "the plan for {0}",
    ("ice_time", ""): "an ice time",
    ("note_fact", ""): "something on a family's page",
    ("note_force", ""): "whether a change of a family's page holds",
    ("meeting_evening", ""): "an evening of meetings",
    ("meeting_came", ""): "who came to a meeting",
    ("player_comment", ""): "the comment on a player",
    ("season_fact", ""): "how long the names of the season are kept",
    ("correction_force", ""): "whether a correction of tallies counts",
}
_YES_NO = {
    "retired": ("yes", "no"),
    "aside": ("yes", "no"),
    "here": ("no", "yes"),
    "contact": ("no", "yes"),
}  # of 0 and of 1
_UNTOLD = {("step", "slots"), ("catalogue_text", "text"), ("definition", "words"), ("skill", "place"),
           ("drill", "place"), ("step", "place")}  # fmt: skip

_UNCOUNTED = {"definition", "begun", "observer"}  # what goes along with all else
_DOUBLED = "two players were given the number {wanted}: one of them has {number} until that is put right"
_FAST = (
    "the clock of the tablet {tablet} was {ahead} ahead: what it noted is kept and counts; look at what it "
    "changed, and set its clock"
)
_CLASHES = (
    "two tablets noted different things under one key, and the same one counts on both: they seem to have "
    "the same settings; delete tablet.json on the one that got a copy of them"
)
_ERASED = "{} was erased on another tablet and is still here: erase them here too"


def content_words(counts: Mapping[str, int], new: bool = False) -> str:
    """Return ``212 tallies, 3 comments and 41 more facts``; ``nothing`` for none at all."""
    said = [_counted(counts[kind], *words) for kind, words in _KINDS.items() if counts.get(kind)]
    others = sum(count for kind, count in counts.items() if kind not in _UNCOUNTED | _KINDS.keys())
    if others:
        said.append(_counted(others, "other fact", "other facts"))
    if not said:
        return "nothing new" if new else "nothing"
    return f"{', '.join(said[:-1])} and {said[-1]}" if len(said) > 1 else said[0]


def _counted(count: int, one: str, several: str) -> str:
    return f"{count:,} {one if count == 1 else several}"


def joined_lines(joined: Joined, names: Mapping[UUID, str], rehearsed: bool = False) -> list[str]:
    """Return what a join brought, what lost against newer changes, and what is to be looked at.

    Parameters
    ----------
    names : of the players, such as ``12 Oda Marsh``.
    """
    lines = [f"{'would bring' if rehearsed else 'brought'}: {content_words(joined.new, new=True)}"]
    if joined.practices > 0:
        lines.append(f"new: {counted(joined.practices, 'practice')}")
    lines += [f"the practice {old} has the key {new} now" for old, new in sorted(joined.renamed.items())]
    if joined.lost:
        lines.append(
            "changed on two tablets; the newer change counts, the other one is kept with the season:"
        )
        lines += [f"  {line}" for line in lost_lines(joined.lost, names)]
    return lines + _to_look_at(joined, names)


def noted_by_lines(tallies: Mapping[tuple[str, str], int]) -> list[str]:
    """Return one line for each practice and observer with new tallies: how many."""
    return [
        tr_many(
            "{practice}, noted by {observer}: {number} tally",
            "{practice}, noted by {observer}: {number} tallies",
            count,
            practice=practice,
            observer=one_line(observer),
        )
        for (practice, observer), count in sorted(tallies.items())
    ]


def _to_look_at(joined: Joined, names: Mapping[UUID, str]) -> list[str]:
    lines = [_DOUBLED.format(wanted=wanted, number=number) for wanted, number in joined.doubled]
    lines += [
        _FAST.format(tablet=_tablet(tablet), ahead=_ahead(ms)) for tablet, ms in sorted(joined.ahead.items())
    ]
    if joined.clashes:
        lines.append(_CLASHES)
    return lines + [_ERASED.format(names.get(player, "a player")) for player in joined.erased]


def _tablet(ident: str) -> str:
    return ident or "of no name"


def _ahead(ms: int) -> str:
    return counted(max(1, round(ms / _DAY)), "day")


def lost_lines(lost: list[Lost], names: Mapping[UUID, str]) -> list[str]:
    """Return one line for each change that lost: of what, what it was, when and where it was made."""
    return [_lost_line(one, names) for one in lost]


def _lost_line(one: Lost, names: Mapping[UUID, str]) -> str:
    what = FIELDS.get((one.kind, one.field), "something of {0}").format(*_key_words(one, names), "", "")
    made = f"{_moment(one.clock)} on the tablet {_tablet(one.tablet)}"
    said, won = _value(one, one.value), one.won and _value(one, one.won)
    if not said:
        return f"{what}: a change of {made}"
    if not won:
        return f"{what}: {said}, of {made}"
    return f"{what}: {said}, of {made}, lost against {won} of the tablet {_tablet(one.won_tablet)}"


def _key_words(one: Lost, names: Mapping[UUID, str]) -> list[str]:
    ids = {"player": 0, "attendance": 1}.get(one.kind)
    return [_name(part, names) if at == ids else str(part) for at, part in enumerate(one.key)]


def _name(part: object, names: Mapping[UUID, str]) -> str:
    return next((name for player, name in names.items() if player.hex == part), "a player")


def _value(one: Lost, value: tuple) -> str:
    if one.kind == "practice_comment":
        return _short(f'"{value[-2]}"')
    if not one.field or (one.kind, one.field) in _UNTOLD:
        return ""
    if one.field in _YES_NO and value[0] is not None:
        return _YES_NO[one.field][bool(value[0])]
    return _short("/".join(str(part) for part in value if part is not None) or "none")


def _short(words: str) -> str:
    return words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"


def _moment(clock: int) -> str:
    day = local_day(clock)
    return f"{datetime.fromtimestamp(clock / 1000):%Y-%m-%d %H:%M}" if day else "an unknown day"
