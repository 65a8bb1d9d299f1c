"""The life of a family's page in words: how far it has come, and what was done to it."""

from collections.abc import Mapping
from datetime import date

from evaltrack.rink.family_note import Agreed
from evaltrack.rink.note_life import AS_DRAFT, NoteFact, NoteField, NoteLife, Since, Stage
from evaltrack.rink.practice import local_day
from evaltrack.words.family.sheet import FamilySheet
from evaltrack.words.wording import long_date

NO_PAGE = "No page yet."
_STAGES = {
    Stage.READ: "Read, and not printed yet.",
    Stage.PRINTED: "Read and printed.",
}
_DRAFTS = {
    Since.NEVER_READ: "A draft: nobody has read it yet.",
    Since.EDITED: "A draft again: it was changed after it was read.",
    Since.SEASON_CHANGED: "A draft again: the season behind it has changed since it was read.",
}
_ADVICE = {
    Since.NEVER_READ: "This is a draft. Read it, change what is not right, then tap I have read it.",
    Since.EDITED: "It was changed after it was read, so it is a draft again. Read it once more.",
    Since.SEASON_CHANGED: (
        "The season behind this page has changed since it was read: a count was put right, or a name, or the "
        "words of a skill or of this app. So it is a draft again. Read it once more."
    ),
    Since.AS_READ: "You have read it as it stands here. Print it, or change it and read it again.",
}


def due_words(life: NoteLife, today: date) -> str:
    """Return in a sentence that something that was agreed is to be looked at again by now."""
    first = min(life.things[about].look_again for about in life.due(today))
    return f"Look again: it was agreed for {long_date(first)}."


def stage_words(life: NoteLife, stage: Stage, since: Since) -> str:
    """Return in a sentence or two how far a page has come on which nothing is due."""
    again = life.next_look()
    if stage is Stage.DISCUSSED:
        told = f"Talked over on {long_date(life.discussed)}."
        return f"{told} Look again on {long_date(again)}." if again else told
    return _DRAFTS[since] if stage is Stage.DRAFT else _STAGES[stage]


def advice(since: Since) -> str:
    """Return what to do with a page next."""
    return _ADVICE[since]


def thing_words(one: Agreed) -> str:
    """Return who helps with what was agreed, and when it is looked at again."""
    who = f"Who helps: {one.who_helps.rstrip('.')}." if one.who_helps else "Nobody named who helps."
    again = f"Look again on {long_date(one.look_again)}." if one.look_again else "No day to look again."
    return f"{who} {again}"


def looked_words(life: NoteLife, about: str) -> str:
    """Return what was agreed, with who helps, and whether it was looked at again."""
    one = life.things[about]
    if not life.looked_at(about):
        return f"{one.what}\n{thing_words(one)}"
    at = local_day(life.in_force[NoteField.LOOKED_BACK, about].at)
    return f"{one.what}\nLooked at again on {long_date(at)}." if at else f"{one.what}\nLooked at again."


def look_back_heading(life: NoteLife) -> str:
    """Return when something was agreed: at the meeting, or else by the page of which day."""
    day = life.discussed or life.edits.meeting
    if day:
        return f"Agreed on {long_date(day)}"
    return f"Agreed on the page with counts up to {long_date(life.key.as_of)}"


def what_was_done(fact: NoteFact, life: NoteLife, page: FamilySheet, names: Mapping[str, str]) -> str:
    """Return in a sentence what was done to a page.

    Parameters
    ----------
    page : gives the parts their headings.
    names : of the skills, by key.
    """
    if fact.field is NoteField.WORDS:
        return _of_sentence(fact, page, names)
    if fact.field in (NoteField.STRENGTHS, NoteField.NEXT_SKILLS):
        return _of_choice(fact, names)
    if fact.field is NoteField.PRINTED:
        form = ", ".join(word for word in fact.value.split() if word != AS_DRAFT)
        return f"Printed as a draft: {form}." if AS_DRAFT in fact.value.split() else f"Printed: {form}."
    if fact.field is NoteField.LOOKED_BACK:
        return f"Looked at again: {_thing(fact, life)}."
    if fact.field in _DAYS:
        said, without = _DAYS[fact.field]
        return said.format(long_date(date.fromisoformat(fact.value))) if fact.value else without
    if fact.field in _TEXTS:
        said, without = _TEXTS[fact.field]
        return said.format(" ".join(fact.value.split())) if fact.value else without
    return _EVENTS[fact.field].format(long_date(fact.note.as_of))


def _of_sentence(fact: NoteFact, page: FamilySheet, names: Mapping[str, str]) -> str:
    part, _, rest = fact.about.partition(".")
    headings = {one.key: one.heading for one in page.parts}
    skill = names.get(rest.partition(".")[0], "")
    place = ", ".join(filter(None, (headings.get(part, part), skill)))
    if fact.value is None:
        return f"{place}: our words put back."
    return f"{place}: in your words, “{fact.value}”" if fact.value else f"{place}: a sentence left out."


def _of_choice(fact: NoteFact, names: Mapping[str, str]) -> str:
    drafted, none, some = _CHOICES[fact.field]
    if fact.value is None:
        return drafted
    picked = ", ".join(names.get(key, key) for key in fact.value.split())
    return some.format(picked) if picked else none


def _thing(fact: NoteFact, life: NoteLife) -> str:
    """Return what was agreed, as it was said last, whether or not that is still in force."""
    said = [
        one.value
        for one in life.facts
        if (one.field, one.about) == (NoteField.AGREED, fact.about) and one.value
    ]
    return said[-1].rstrip(".") if said else "what was agreed"


_CHOICES = {
    NoteField.STRENGTHS: (
        "The strengths as drafted.",
        "No skill under going well.",
        "Under going well: {}.",
    ),
    NoteField.NEXT_SKILLS: (
        "The next steps as drafted.",
        "No skill to work on next.",
        "To work on next: {}.",
    ),
}
_DAYS = {
    NoteField.LOOK_AGAIN: ("Agreed to look again on {}.", "No day on which to look again."),
    NoteField.MEETING: ("The meeting is on {}.", "No day of the meeting."),
    NoteField.DISCUSSED: ("Talked over on {}.", "Not talked over yet."),
}
_TEXTS = {
    NoteField.COACH_WORDS: ("Your own words: “{}”", "Your own words taken out."),
    NoteField.AGREED: ("Agreed: {}", "Something agreed taken out."),
    NoteField.WHO_HELPS: ("Who helps: {}", "Nobody named who helps."),
    NoteField.COACH: ("The coach on the page: {}", "No coach on the page."),
    NoteField.LANGUAGE: ("The language of the page: {}", "The language of the page: en"),
}
_EVENTS = {
    NoteField.DRAFTED: "Drafted, with all counts up to {}.",
    NoteField.READ: "Read.",
}
