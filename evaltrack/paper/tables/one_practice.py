"""All that is known of one practice: to read, and for other programs."""

from datetime import datetime
from uuid import UUID

from evaltrack.language import Language, mark, speaking, tr
from evaltrack.paper.tables.for_programs import json_text
from evaltrack.paper.tables.practices import Held, correction_words, plain_held, state_behind
from evaltrack.rink.days import in_full
from evaltrack.rink.player import Player, by_number
from evaltrack.rink.practice import Practice
from evaltrack.rink.practice_story import Count, Story, Stretch, story_of
from evaltrack.words.corrections import Names, what_changed
from evaltrack.words.plan_card import ICE
from evaltrack.words.practices import by_skill, clocks, gap_words, of_player, stretch_words
from evaltrack.words.sums import kinds_words

_UNDER = "  "  # before what belongs to the line above


def as_details(row: Held, season, agreed: list[str]) -> str:
    """Return when it ran, who was here, what was watched and tallied, what was put right.

    ``agreed`` are the sentences on the agreement of its observers.
    """
    one, names = row.practice, Names.read(season, row.practice.held_on)
    story, here = story_of(season.log.tallies(practice=one.key)), here_at(season, one.key, names)
    lines = [
        tr("{name}: {what}", name=one.key, what=f"{in_full(one.held_on)}, {tr(ICE[one.surface])}")
        + state_behind(row),
        *_times(one),
        *([tr("comment: {text}", text=row.comment)] if row.comment else []),
        tr("here: {names}", names=_names(here)),
        f"{_sum(row)}{_by_skill(story, names)}",
        *_watched(story, names),
        *_of_each(story, here, names),
        *agreed,
        *(correction_words(correction) for correction in row.corrections),
        *(f"{number}. {line}" for number, line in enumerate(_of_tallies(row, names), 1)),
    ]
    return "\n".join(lines) + "\n"


@speaking(Language.ENGLISH)
def as_json(row: Held, season, agreed: list[str]) -> str:
    """Return a list with the practice as in the list of all, and what is known of it besides."""
    key, names = row.practice.key, Names.read(season, row.practice.held_on)
    story, here = story_of(season.log.tallies(practice=key)), here_at(season, key, names)
    more = {
        "here": [player.number for player in here],
        "without_tallies": [player.number for player in _without(story, here)],
        "watched": [_plain_stretch(stretch) for stretch in story.stretches],
        "pauses": [{"from": _clock(first), "to": _clock(last)} for first, last in story.gaps],
        "without_time": story.without_time,
        "counts": [
            _plain_count(names, pair, story.counts[pair]) for pair in sorted(story.counts, key=names.by_place)
        ],
        "agreement": agreed,
    }
    return json_text([plain_held(row) | more])


def here_at(season, key: str, names: Names) -> list[Player]:
    """Return who was at a practice, in order of number."""
    return names.of_players(season.turnout.there(key).get(key, set()))


def _without(story: Story, here: list[Player]) -> list[Player]:
    seen = story.players()
    return [player for player in here if player.id not in seen]


def _watched(story: Story, names: Names) -> list[str]:
    moments = [
        (one.first or datetime.max, f"{_when(one)}  {stretch_words(one, names)}") for one in story.stretches
    ]
    moments += [(first, gap_words(first, last)) for first, last in story.gaps]
    lines = [_UNDER + line for _, line in sorted(moments, key=lambda pair: pair[0])]
    return [tr("watched:"), *lines] if lines else []


def _when(stretch: Stretch) -> str:
    return clocks(stretch.first, stretch.last)


def _of_each(story: Story, here: list[Player], names: Names) -> list[str]:
    seen = sorted((names.players[ident] for ident in story.players()), key=by_number)
    lines = [
        _UNDER + tr("{name}: {what}", name=f"{p.number} {p.name}", what=of_player(story, p.id, names))
        for p in seen
    ]
    without = _without(story, here)
    return [*lines, tr("without a tally: {names}", names=_names(without))] if without else lines


def _of_tallies(row: Held, names: Names) -> list[str]:
    return [_of_tally(one, names) for one in row.of_tallies]


def _of_tally(correction, names: Names) -> str:
    moment = datetime.fromtimestamp(correction.at / 1000)
    told = {"moment": f"{moment:%Y-%m-%d %H:%M}", "what": what_changed(correction, names)}
    if correction.in_force:
        return tr("corrected {moment}: {what}", **told)
    return tr("corrected {moment}: {what}, taken back", **told)


def _times(one: Practice) -> list[str]:
    moments = (
        (mark("started: {moment}"), one.started_at),
        (mark("ended: {moment}"), one.ended_at),
    )
    return [
        tr(sentence, moment=f"{datetime.fromtimestamp(at / 1000):%Y-%m-%d %H:%M}")
        for sentence, at in moments
        if at is not None
    ]


def _names(players: list[Player]) -> str:
    return ", ".join(f"{player.number} {player.name}" for player in players) or tr("nobody")


def _sum(row: Held) -> str:
    """Return ``tallies: 43``, and of how many tries they are where not all of them are tries."""
    parts = kinds_words(row.sum)
    return tr("tallies: {number}", number=row.tallies) + (f", {parts}" if parts else "")


def _by_skill(story: Story, names: Names) -> str:
    told = [f"{name} {count.tallies}" for name, count in by_skill(story, names)]
    return f" ({', '.join(told)})" if told else ""


def _clock(moment: datetime | None) -> str | None:
    return None if moment is None else f"{moment:%H:%M:%S}"


def _plain_stretch(one: Stretch) -> dict:
    times = {"from": _clock(one.first), "to": _clock(one.last)}
    return {"observer": one.observer, "drill": one.drill, "step": one.step, "tallies": one.tallies} | times


def _plain_count(names: Names, pair: tuple[UUID, str], count: Count) -> dict:
    player, skill = pair
    of = {"player": names.players[player].number, "skill": skill}
    return of | {"tries": count.tries, "done": count.done, "unseen": count.unseen}
