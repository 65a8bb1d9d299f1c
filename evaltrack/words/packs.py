"""What a pack holds and what a join brought, in words."""

from collections.abc import Mapping
from datetime import datetime
from uuid import UUID

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.days import long_date
from evaltrack.rink.plain_text import one_line
from evaltrack.rink.practice import local_day
from evaltrack.store.packs.joined import Joined, Lost, Written
from evaltrack.words.backups import day_words
from evaltrack.words.wording import clock_time, counted, listed

_MINUTE, _HOUR, _DAY = 60_000, 3_600_000, 86_400_000  # ms
_UNITS = (  # with the number from which on the next one is told
    (_MINUTE, 120, lambda n: counted(n, "minute", "minutes")),
    (_HOUR, 48, lambda n: counted(n, "hour", "hours")),
    (_DAY, 2 * 365, lambda n: counted(n, "day", "days")),
    (365.25 * _DAY, float("inf"), lambda n: counted(n, "year", "years")),
)
_LONGEST = 60  # characters of a value in a sentence
_KINDS = {  # of facts; what has no word of its own is told together
    "tally": lambda n: counted(n, "tally", "tallies"),
    "withdrawal": lambda n: counted(n, "tally taken back", "tallies taken back"),
    "rep": lambda n: counted(n, "rep", "reps"),
    "correction": lambda n: counted(n, "correction of a practice", "corrections of practices"),
    "tally_correction": lambda n: counted(n, "correction of tallies", "corrections of tallies"),
    "practice_comment": lambda n: counted(n, "comment", "comments"),
    "practice_plan": lambda n: counted(n, "plan", "plans"),
    "ice_time": lambda n: counted(n, "ice time", "ice times"),
    "note_fact": lambda n: counted(n, "change of a family's page", "changes of families' pages"),
    "meeting_evening": lambda n: counted(
        n, "change of an evening of meetings", "changes of evenings of meetings"
    ),
    "meeting_came": lambda n: counted(n, "mark of who came to a meeting", "marks of who came to a meeting"),
    "player_comment": lambda n: counted(n, "comment on a player", "comments on players"),
    "season_fact": lambda n: counted(
        n, "change of how long names are kept", "changes of how long names are kept"
    ),
    "edit": lambda n: counted(
        n, "change of players, skills, drills or practices", "changes of players, skills, drills or practices"
    ),
}
FIELDS = {
    ("player", "number"): mark("the number of {first}"),
    ("player", "name"): mark("the name of {first}"),
    ("player", "position"): mark("the position of {first}"),
    ("player", "birth_year"): mark("the year in which {first} was born"),
    ("player", "status"): mark("the status of {first}"),
    ("skill", "place"): mark("the place of the skill {first} in the list"),
    ("skill", "name"): mark("the name of the skill {first}"),
    ("skill", "positions"): mark("for whom the skill {first} is"),
    ("skill", "caption"): mark("the short line of the skill {first}"),
    ("skill", "looks_like"): mark("what the skill {first} looks like"),
    ("skill", "at_home"): mark("what to try at home for the skill {first}"),
    ("skill", "target"): mark("the target of the skill {first}"),
    ("skill", "retired"): mark("whether the skill {first} is in use"),
    ("definition", "words"): mark("the definition of the skill {first}"),
    ("drill", "place"): mark("the place of the drill {first} in the list"),
    ("drill", "name"): mark("the name of the drill {first}"),
    ("drill", "retired"): mark("whether the drill {first} is in use"),
    ("step", "place"): mark("the place of the step {second} in the drill {first}"),
    ("step", "name"): mark("the name of the step {second} of the drill {first}"),
    ("step", "surface"): mark("the ice of the step {second} of the drill {first}"),
    ("step", "contact"): mark("whether the step {second} of the drill {first} has contact"),
    ("step", "retired"): mark("whether the step {second} of the drill {first} is in use"),
    ("step", "slots"): mark("the slots of the step {second} of the drill {first}"),
    ("catalogue_text", "text"): mark("the file of the {first}"),
    ("practice", "held_on"): mark("the day of the practice {first}"),
    ("practice", "aside"): mark("whether the practice {first} counts"),
    ("attendance", "here"): mark("whether {second} was at the practice {first}"),
    ("practice_comment", ""): mark("the comment on the practice {first}"),
    ("practice_plan", ""): mark("the plan for {first}"),
    ("ice_time", ""): mark("an ice time"),
    ("note_fact", ""): mark("something on a family's page"),
    ("note_force", ""): mark("whether a change of a family's page holds"),
    ("meeting_evening", ""): mark("an evening of meetings"),
    ("meeting_came", ""): mark("who came to a meeting"),
    ("player_comment", ""): mark("the comment on a player"),
    ("season_fact", ""): mark("how long the names of the season are kept"),
    ("correction_force", ""): mark("whether a correction of tallies counts"),
}
_SOMETHING = mark("something of {first}")
_YES_NO = {
    "retired": (mark("yes"), mark("no")),
    "aside": (mark("yes"), mark("no")),
    "here": (mark("no"), mark("yes")),
    "contact": (mark("no"), mark("yes")),
}  # of 0 and of 1
_UNTOLD = {("step", "slots"), ("catalogue_text", "text"), ("definition", "words"), ("skill", "place"),
           ("drill", "place"), ("step", "place")}  # fmt: skip

_UNCOUNTED = {"definition", "begun", "observer"}  # what goes along with all else
_DOUBLED = mark(
    "two players were given the number {wanted}: one of them has {number} until that is put right"
)
_FAST = mark(
    "the clock of the tablet {tablet} was {ahead} ahead: what it noted is kept and counts; look at what it "
    "changed, and set its clock"
)
_CLASHES = mark(
    "two tablets noted different things under one key, and the same one counts on both: they seem to have "
    "the same settings; delete tablet.json on the one that got a copy of them"
)
_ERASED = mark("{player} was erased on another tablet and is still here: erase them here too")
_TO_READ = mark(
    "somebody was erased here whose name this pack does not tell; read these texts over, whether it stands "
    "there:"
)


def content_words(counts: Mapping[str, int], new: bool = False) -> str:
    """Return ``212 tallies, 3 comments and 41 more facts``; ``nothing`` for none at all."""
    said = [words(counts[kind]) for kind, words in _KINDS.items() if counts.get(kind)]
    others = sum(count for kind, count in counts.items() if kind not in _UNCOUNTED | _KINDS.keys())
    if others:
        said.append(counted(others, "other fact"))
    if not said:
        return tr("nothing new") if new else tr("nothing")
    return listed(said)


def joined_lines(joined: Joined, names: Mapping[UUID, str], rehearsed: bool = False) -> list[str]:
    """Return what a join brought, what lost against newer changes, and what is to be looked at.

    Parameters
    ----------
    names : of the players, such as ``12 Oda Marsh``.
    """
    content = content_words(joined.new, new=True)
    lines = [
        tr("would bring: {facts}", facts=content) if rehearsed else tr("brought: {facts}", facts=content)
    ]
    if joined.practices > 0:
        lines.append(tr("new: {practices}", practices=counted(joined.practices, "practice")))
    lines += [
        tr("the practice {old} has the key {new} now", old=old, new=new)
        for old, new in sorted(joined.renamed.items())
    ]
    if joined.lost:
        lines.append(
            tr("changed on two tablets; the newer change counts, the other one is kept with the season:")
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
            practice=day_words(practice),
            observer=one_line(observer),
        )
        for (practice, observer), count in sorted(tallies.items())
    ]


def _to_look_at(joined: Joined, names: Mapping[UUID, str]) -> list[str]:
    lines = [tr(_DOUBLED, wanted=wanted, number=number) for wanted, number in joined.doubled]
    lines += [
        tr(_FAST, tablet=_tablet(tablet), ahead=apart_words(ms))
        for tablet, ms in sorted(joined.ahead.items())
    ]
    if joined.clashes:
        lines.append(tr(_CLASHES))
    lines += _of_erased(joined, names)
    return lines + [tr(_ERASED, player=names.get(player, tr("a player"))) for player in joined.erased]


def _of_erased(joined: Joined, names: Mapping[UUID, str]) -> list[str]:
    lines = []
    if joined.struck:
        lines.append(
            tr_many(
                "the name of somebody who was erased was struck out in {number} text that came in",
                "the names of those who were erased were struck out in {number} texts that came in",
                joined.struck,
            )
        )
    if joined.to_read:
        lines += [tr(_TO_READ), *(f"  {_written_line(one, names)}" for one in joined.to_read)]
    return lines


def _tablet(ident: str) -> str:
    return ident or tr("of no name")


def apart_words(ms: int) -> str:
    """Return by how much two clocks differ, in the largest unit of which there are two at least."""
    return next(words(round(ms / unit)) for unit, most, words in _UNITS if round(ms / unit) < most)


def lost_lines(lost: list[Lost], names: Mapping[UUID, str]) -> list[str]:
    """Return one line for each change that lost: of what, what it was, when and where it was made."""
    return [_lost_line(one, names) for one in lost]


def _lost_line(one: Lost, names: Mapping[UUID, str]) -> str:
    won = one.won and _value(one, one.won)
    if not (won and _value(one, one.value)):
        return _written_line(one, names)
    return tr(
        "{what}: {was}, of {moment} on the tablet {tablet}, lost against {won} of the tablet {other}",
        won=won,
        other=_tablet(one.won_tablet),
        was=_value(one, one.value),
        **_made(one, names),
    )


def _written_line(one: Written, names: Mapping[UUID, str]) -> str:
    if said := _value(one, one.value):
        return tr("{what}: {was}, of {moment} on the tablet {tablet}", was=said, **_made(one, names))
    return tr("{what}: a change of {moment} on the tablet {tablet}", **_made(one, names))


def _made(one: Written, names: Mapping[UUID, str]) -> dict[str, str]:
    first, second = (*_key_words(one, names), "", "")[:2]
    what = tr(FIELDS.get((one.kind, one.field), _SOMETHING), first=first, second=second)
    return {"what": what, "moment": _moment(one.clock), "tablet": _tablet(one.tablet)}


def _key_words(one: Written, names: Mapping[UUID, str]) -> list[str]:
    ids = {"player": 0, "attendance": 1}.get(one.kind)
    return [_name(part, names) if at == ids else str(part) for at, part in enumerate(one.key)]


def _name(part: object, names: Mapping[UUID, str]) -> str:
    return next((name for player, name in names.items() if player.hex == part), tr("a player"))


def _value(one: Written, value: tuple) -> str:
    if one.kind == "practice_comment":
        return _short(f'"{value[-2]}"')
    if not one.field or (one.kind, one.field) in _UNTOLD:
        return ""
    if one.field in _YES_NO and value[0] is not None:
        return tr(_YES_NO[one.field][bool(value[0])])
    return _short("/".join(str(part) for part in value if part is not None) or tr("none"))


def _short(words: str) -> str:
    return words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"


def _moment(clock: int) -> str:
    day = local_day(clock)
    if not day:
        return tr("an unknown day")
    return f"{long_date(day)}, {clock_time(datetime.fromtimestamp(clock / 1000))}"
