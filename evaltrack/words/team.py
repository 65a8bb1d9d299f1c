"""The team in one skill, in sentences that claim no more than the numbers do."""

from collections.abc import Mapping

from evaltrack.analysis.standings.standing import Cause, Trend
from evaltrack.analysis.standings.team_skill import KindCost, TeamSkill
from evaltrack.rink.skill import Skill
from evaltrack.words.reasons import cost_words, move_words
from evaltrack.words.wording import DIRECTIONS, count_words, group_word, share_words

NO_TRY = "no try yet"
NO_SHARE = "Of nobody can a share be told yet, so nothing can be said of the team"
ONE_KIND = "There is nothing to compare yet: all tries were of one kind, or too few."


def team_sentences(one: TeamSkill) -> list[str]:
    """Return what the team does now and at the start, and whether that is a change."""
    count = f"{count_words(one.done, one.tries)} {'try' if one.tries == 1 else 'tries'} came off"
    if not one.players:
        return [f"{count}. {NO_SHARE}."]
    who = "One player's share" if one.players == 1 else f"The mean share of {one.players} players"
    now, start = (share_words(_thousandths(share), 1000) for share in (one.share, one.start_share))
    return [f"{count}. {who}: {now} now, {start} at each one's start.", f"{_change(one)}."]


def _thousandths(share: float) -> int:
    return min(max(round(1000 * share), 1), 999)


def _change(one: TeamSkill) -> str:
    move = move_words(one.change, one.change_low, one.change_high)
    direction = DIRECTIONS[one.trend].capitalize()
    return f"{direction}: {move}" if one.trend is Trend.NO_CLEAR_CHANGE else f"{direction}, by {move}"


def cost_sentences(one: TeamSkill, steps: Mapping[str, str]) -> list[str]:
    """Return what each step and pressure cost the team, the dearest first; of two steps the dearer one.

    ``steps`` has the names of steps by ``drill/step``.
    """
    of_steps = [cost for cost in one.costs if cost.cause is Cause.STEP]
    others = [cost for cost in one.costs if cost.cause is not Cause.STEP]
    of_steps.sort(key=lambda cost: -cost.cost)
    told = [*others, *(of_steps[:1] if len(of_steps) == 2 else of_steps)]
    return [_of_kind(cost, steps) for cost in told]


def _of_kind(cost: KindCost, steps: Mapping[str, str]) -> str:
    name = "Pressure" if cost.cause is Cause.PRESSURE else f"The step {steps.get(cost.named, cost.named)}"
    share = count_words(cost.tries, cost.tries + cost.others)
    unsure = "perhaps " if cost.cost_low <= 0 <= cost.cost_high else ""
    return f"{name} ({share} tries) {unsure}{cost_words(cost)}."


def definition_lines(skill: Skill) -> list[str]:
    """Return the definition as the season has it: when a try starts, what is done, missed, not counted."""
    said = skill.definition
    parts = (("Starts", said.starts), ("Done", said.done), ("Missed", said.missed))
    return [f"{word}: {text}" for word, text in (*parts, ("Not counted", said.not_counted))]


def whom_words(skill: Skill) -> str:
    """Return for whom a skill is and what the coach asks for: ``Defenders and forwards; target 60 %``."""
    groups = [group_word(group) for group in skill.positions]
    who = f"{', '.join(groups[:-1])} and {groups[-1].lower()}" if len(groups) > 1 else "".join(groups)
    return f"{who}; target {100 * skill.target:.0f} %"
