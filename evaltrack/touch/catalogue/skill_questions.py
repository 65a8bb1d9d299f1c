"""What is asked before a skill is saved or retired, in words. No widgets."""

from typing import NamedTuple

from evaltrack.rink.catalogue_fit import watched_in, without_skill
from evaltrack.touch.catalogue.skill_draft import SkillDraft
from evaltrack.words.catalogue import places
from evaltrack.words.wording import counted

SAME, NEW = "The same skill in better words", "A new series"
_PARTS = {"starts": "when a try starts", "done": "done", "missed": "missed", "not_counted": "not counted"}


class Question(NamedTuple):
    """A question, and what one should know before the answer, line by line."""

    words: str
    lines: list[str]


def of_series(draft: SkillDraft, parts: list[str], tries: int) -> Question:
    """Return what is asked when these parts of the definition change, and tries stand under the old words."""
    stand, verb = counted(tries, "try", "tries"), "stands" if tries == 1 else "stand"
    named = ", ".join(_PARTS[part] for part in parts)
    return Question(
        f"Other words ({named}), and {stand} {verb} under the old ones. What do the new ones mean?",
        [
            *(f"Until now, {_PARTS[part]}: {getattr(draft.skill.definition, part)}" for part in parts),
            f"{SAME}: a try is what it was, and the {stand} count together with those to come.",
            f"{NEW}: something else counts from now on. The {stand} so far stay, and are not mixed in.",
        ],
    )


def of_retiring(draft: SkillDraft) -> Question:
    """Return what is asked before a skill is taken out of use, and out of the drills that watch it."""
    lines = [
        "From then on it is on no board and in no chart. What was tallied stays, and it can be brought back."
    ]
    if watched := [one for one in watched_in(draft.drills) if one.skill == draft.key]:
        lines.append(f"These steps do not watch it any more, even when it is back: {places(watched)}.")
    if draft.changed:
        lines.append("What was changed in the form is not saved.")
    return Question(f"Retire {draft.skill.name}?", lines)


def why_not_retired(draft: SkillDraft) -> str:
    """Return why a skill cannot be retired: a step would have nothing to watch; empty when it can."""
    for drill in without_skill(draft.drills, draft.key):
        for step in drill.steps:
            if not step.skills:
                return f"{step.name} of {drill.name} watches nothing else; give it another skill first."
    return ""
