"""The plan of a practice as a page of text for the staff, and as JSON for other programs."""

from collections import Counter
from collections.abc import Mapping, Sequence
from textwrap import wrap

from evaltrack.language import Language, mark, speaking, tr
from evaltrack.paper.tables.for_programs import json_text
from evaltrack.rink.plan import Block, Part, Plan, Wish
from evaltrack.words.plan_card import GOES_ON, ICE
from evaltrack.words.plan_remarks import remark_words, unmet_words
from evaltrack.words.planning import (
    CLAIM,
    PlanNames,
    groups_words,
    look_words,
    named_words,
    need_words,
    steps_words,
    why_words,
)
from evaltrack.words.wording import counted

_WIDE = 100  # characters of a line
_TITLES = {
    Part.WARM_UP: mark("Warm-up"),
    Part.BOARD: mark("At the board"),
    Part.CHANGEOVER: mark("Changeover"),
    Part.OWN: mark("Each group at its own station"),
}
_TOLD = (Part.STATION, Part.OWN, Part.TOGETHER)  # the others explain themselves


@speaking(Language.ENGLISH)
def as_json(plan: Plan, names: PlanNames) -> str:
    """Return the plan as one object; numbers of players are text, because ``0`` and ``00`` differ."""
    stations = station_keys(plan)
    content = {
        "minutes": plan.asked.minutes,
        "blocks": [_block_object(block, plan, names) for block in plan.blocks],
        "groups": [{"station": stations[g.station], "players": list(g.players)} for g in plan.groups],
        "watch": [
            {"player": look.player, "skill": look.skill, "why": look_words(look)}
            for watch in plan.watch
            for look in watch.looks
        ],
        "unmet": [
            {**_wish(one.wish), "against": [_wish(other) for other in one.against], "why": unmet_words(one)}
            for one in plan.unmet
        ],
        "optimal": plan.optimal,
    }
    return json_text(content)


def station_keys(plan: Plan) -> list[str]:
    """Return each station as ``drill/step``, and ``drill/step 2`` where it is the second with it."""
    found, count = [], Counter()
    for start in plan.starts:
        count[start] += 1
        found.append("/".join(start) + (f" {count[start]}" if count[start] > 1 else ""))
    return found


def _block_object(block: Block, plan: Plan, names: PlanNames) -> dict:
    return {
        "minutes": block.minutes,
        "drill": block.drill or None,
        "step": block.step or None,
        "surface": block.surface,
        "skills": list(block.skills),
        "why": why_words(block, plan, names),
    }


def _wish(wish: Wish) -> dict:
    return {"wish": str(wish.kind), "players": [wish.player, wish.other]}


def as_table(plan: Plan, names: PlanNames, players: Mapping[str, str]) -> str:
    """Return the plan to read. ``players`` are names by number."""
    parts = (
        [_heading(plan)],
        _needs(plan, names),
        _blocks(plan, names),
        _groups(plan, names, players),
        _watch(plan, names, players),
        _tries(plan, names),
        _notes(plan),
    )
    return "\n\n".join("\n".join(lines) for lines in parts if lines) + "\n"


def _heading(plan: Plan) -> str:
    here = counted(sum(len(group.players) for group in plan.groups), "player")
    asked, stations = plan.asked, counted(len(plan.groups), "station")
    return tr(
        "The next practice: {minutes} minutes, {ice}, {here}, {stations}",
        minutes=asked.minutes,
        ice=tr(ICE[asked.surface]),
        here=here,
        stations=stations,
    )


def _needs(plan: Plan, names: PlanNames) -> list[str]:
    if not plan.needs:
        return []
    lines = [tr("What to train"), ""]
    for need in plan.needs:
        lines += _wrapped(need_words(need, names), 5)
        steps = [one for one in plan.forecasts if one.skill == need.skill]
        for said in (named_words(need), steps_words(steps, names)):
            lines += _wrapped(said, 7)
    return lines


def _blocks(plan: Plan, names: PlanNames) -> list[str]:
    lines, gone, told = [tr("Blocks"), ""], 0, {need.skill for need in plan.needs}
    rounds = [at for at, block in enumerate(plan.blocks) if block.part is Part.STATION]
    for at, block in enumerate(plan.blocks):
        if at in rounds[:1]:
            lines += _wrapped(_round_times(plan, rounds), 7, 19)
        if at in rounds:
            lines.append(
                f"{'':>5}  {tr('station {number}', number=rounds.index(at) + 1):>10}  {_title(block, names)}"
            )
        elif not rounds or not rounds[0] < at < rounds[-1]:
            lines.append(f"{gone:>5}  {counted(block.minutes, 'minute'):>10}  {_title(block, names)}")
        if block.part in _TOLD:
            lines += _wrapped(why_words(block, plan, names, told), 19)
        gone += block.minutes
    return [*lines, f"{gone:>5}  {tr('the end')}"]


def _title(block: Block, names: PlanNames) -> str:
    title = tr(_TITLES.get(block.part, "")) or names.step(block.drill, block.step)
    return tr("{title}, all together", title=title) if block.part is Part.TOGETHER else title


def _round_times(plan: Plan, rounds: Sequence[int]) -> str:
    """Return between which minutes all stations run, round by round."""
    starts = [sum(block.minutes for block in plan.blocks[:at]) for at in rounds]
    each = [
        tr("{low} to {high}", low=start, high=start + plan.blocks[at].minutes)
        for start, at in zip(starts, rounds, strict=True)
    ]
    return tr(
        "{number} stations at once, in rounds: minutes {spans}", number=len(rounds), spans=", ".join(each)
    )


def _groups(plan: Plan, names: PlanNames, players: Mapping[str, str]) -> list[str]:
    lines = [*_wrapped(tr("Groups, {groups}", groups=groups_words(plan)), 0), ""]
    for group in plan.groups:
        who = ", ".join(f"{number} {players[number]}" for number in group.players)
        said = tr("{name}: {what}", name=names.step(*plan.starts[group.station]), what=who)
        lines += _wrapped(f"{group.station + 1}  {said}", 5, 8)
    if any(block.part is Part.STATION for block in plan.blocks):
        lines += _wrapped(tr(GOES_ON), 5)
    return lines


def _watch(plan: Plan, names: PlanNames, players: Mapping[str, str]) -> list[str]:
    lines = [tr("Whom to watch"), ""] if plan.watch else []
    for watch in plan.watch:
        block = plan.blocks[watch.block]
        step = names.step(block.drill, block.step)
        lines.append("     " + tr("{name}: {what}", name=step, what=names.skills[watch.skill]))
        for look in watch.looks:
            lines += _wrapped(
                f"{look.player:>3}  "
                + tr("{name}: {what}", name=players[look.player], what=look_words(look)),
                5,
                10,
            )
    return lines


def _tries(plan: Plan, names: PlanNames) -> list[str]:
    """Return how many tries each player can expect in what is to be trained, else in all skills."""
    wanted = {need.skill for need in plan.needs} or set(names.skills)
    by_player: dict[str, list[str]] = {}
    for (player, skill), tries in plan.tries_of().items():
        if skill in wanted:
            by_player.setdefault(player, []).append(f"{names.skills[skill]} {tries:.0f}")
    order = [number for group in plan.groups for number in group.players]
    lines = [
        line
        for number in order
        if number in by_player
        for line in _wrapped(f"{number:>3}  {', '.join(by_player[number])}", 5, 10)
    ]
    return [tr("Tries that each can expect"), "", *lines] if lines else []


def _notes(plan: Plan) -> list[str]:
    told = [remark_words(*remark) for remark in plan.remarks] + [unmet_words(one) for one in plan.unmet]
    return [line for sentence in (*told, tr(CLAIM)) for line in _wrapped(sentence, 0)]


def _wrapped(text: str, indent: int, further: int | None = None) -> list[str]:
    return wrap(
        text,
        _WIDE,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent if further is None else further),
    )
