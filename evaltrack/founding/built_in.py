"""The skills and drills that are shipped, in the language in force; what a coach wrote stays as it is."""

import tomllib
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from evaltrack.errors import EvaltrackError
from evaltrack.language import Language, language, speaking, tr
from evaltrack.places import sample_roster
from evaltrack.rink.drill import Drill
from evaltrack.rink.skill import Definition, Skill

# of these words in the translation: a skill called Stop is another thing than a key called Stop
CONTEXT = "catalogue"
_OF_CONTEXT = CONTEXT + "\x04"  # as gettext writes it
_TEXTS = ("name", "caption", "starts", "done", "missed", "not_counted", "looks_like", "at_home")


def in_words(text: str) -> str:
    """Return a shipped name or text in the language in force, and any other one as it is.

    A season that was founded in French has the French ones: in English they are the English ones again.
    """
    if language() is Language.ENGLISH:
        return text if text in shipped_texts() else _english().get(text, text)
    return _looked_up(text)


def skill_in_words(skill: Skill) -> Skill:
    """Return a skill to be shown or founded: its own words in the language in force, its key as it is."""
    told = skill.definition
    return replace(
        skill,
        name=in_words(skill.name),
        caption=in_words(skill.caption),
        definition=Definition(*map(in_words, (told.starts, told.done, told.missed, told.not_counted))),
        looks_like=in_words(skill.looks_like),
        at_home=tuple(map(in_words, skill.at_home)),
    )


def drill_in_words(drill: Drill) -> Drill:
    """Return a drill with the names of itself, its steps and its slots in the language in force."""
    steps = [
        replace(
            step,
            name=in_words(step.name),
            slots=tuple(replace(slot, name=in_words(slot.name)) for slot in step.slots),
        )
        for step in drill.steps
    ]
    return replace(drill, name=in_words(drill.name), steps=tuple(steps))


@cache
def shipped_texts() -> frozenset[str]:
    """Return every English name and text of the shipped skills and drills."""
    files = ((sample_roster() / name).read_text("utf-8") for name in ("skills.toml", "drills.toml"))
    return frozenset(text for file in files for text in _texts_in(tomllib.loads(file)))


def _texts_in(found) -> Iterator[str]:
    if isinstance(found, list):
        for one in found:
            yield from _texts_in(one)
    elif isinstance(found, dict):
        for name, value in found.items():
            if name in _TEXTS:
                yield from [value] if isinstance(value, str) else value
            else:
                yield from _texts_in(value)


def _looked_up(text: str) -> str:
    key = _OF_CONTEXT + text
    found = tr(key)
    return text if found == key else found


@cache
def _english() -> dict[str, str]:
    try:
        with speaking(Language.FRENCH_CANADA):
            return {_looked_up(text): text for text in shipped_texts()}
    except EvaltrackError:  # without the French words here, none of them can be known again
        return {}
