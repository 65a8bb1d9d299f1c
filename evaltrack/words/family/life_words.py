"""The life of a family's page in words: how far it has come, and what was done to it."""

from collections.abc import Mapping
from datetime import date

from evaltrack.language import mark, tr
from evaltrack.rink.family_note import Agreed
from evaltrack.rink.note_life import AS_DRAFT, NoteFact, NoteField, NoteLife, Since, Stage
from evaltrack.rink.practice import local_day
from evaltrack.words.family.page_language import language_name
from evaltrack.words.family.sheet import FamilySheet
from evaltrack.words.wording import long_date

NO_PAGE = mark("No page yet.")
_PRINTED = {"large": mark("large"), "text": mark("text"), "letter": mark("letter")}  # other words are names
_STAGES = {
    Stage.READ: mark("Read, and not printed yet."),
    Stage.PRINTED: mark("Read and printed."),
}
_DRAFTS = {
    Since.NEVER_READ: mark("A draft: nobody has read it yet."),
    Since.EDITED: mark("A draft again: it was changed after it was read."),
    Since.SEASON_CHANGED: mark("A draft again: the season behind it has changed since it was read."),
}
_ADVICE = {
    Since.NEVER_READ: mark("This is a draft. Read it, change what is not right, then tap I have read it."),
    Since.EDITED: mark("It was changed after it was read, so it is a draft again. Read it once more."),
    Since.SEASON_CHANGED: mark(
        "The season behind this page has changed since it was read: a count was put right, or a name, or the "
        "words of a skill or of this app. So it is a draft again. Read it once more."
    ),
    Since.AS_READ: mark("You have read it as it stands here. Print it, or change it and read it again."),
}


def due_words(life: NoteLife, today: date) -> str:
    """Return in a sentence that something that was agreed is to be looked at again by now."""
    first = min(life.things[about].look_again for about in life.due(today))
    return tr("Look again: it was agreed for {day}.", day=long_date(first))


def stage_words(life: NoteLife, stage: Stage, since: Since) -> str:
    """Return in a sentence or two how far a page has come on which nothing is due."""
    again = life.next_look()
    if stage is Stage.DISCUSSED:
        told = tr("Talked over on {day}.", day=long_date(life.discussed))
        return f"{told} {tr('Look again on {day}.', day=long_date(again))}" if again else told
    return tr(_DRAFTS[since] if stage is Stage.DRAFT else _STAGES[stage])


def advice(since: Since) -> str:
    """Return what to do with a page next."""
    return tr(_ADVICE[since])


def thing_words(one: Agreed) -> str:
    """Return who helps with what was agreed, and when it is looked at again."""
    who, again = tr("Nobody named who helps."), tr("No day to look again.")
    if one.who_helps:
        who = tr("Who helps: {who}.", who=one.who_helps.rstrip("."))
    if one.look_again:
        again = tr("Look again on {day}.", day=long_date(one.look_again))
    return f"{who} {again}"


def looked_words(life: NoteLife, about: str) -> str:
    """Return what was agreed, with who helps, and whether it was looked at again."""
    one = life.things[about]
    if not life.looked_at(about):
        return f"{one.what}\n{thing_words(one)}"
    at = local_day(life.in_force[NoteField.LOOKED_BACK, about].at)
    looked = tr("Looked at again on {day}.", day=long_date(at)) if at else tr("Looked at again.")
    return f"{one.what}\n{looked}"


def look_back_heading(life: NoteLife) -> str:
    """Return when something was agreed: at the meeting, or else by the page of which day."""
    day = life.discussed or life.edits.meeting
    if day:
        return tr("Agreed on {day}", day=long_date(day))
    return tr("Agreed on the page with counts up to {day}", day=long_date(life.key.as_of))


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
        words = fact.value.split()
        form = ", ".join(tr(_PRINTED.get(word, word)) for word in words if word != AS_DRAFT)
        return (
            tr("Printed as a draft: {form}.", form=form)
            if AS_DRAFT in words
            else tr("Printed: {form}.", form=form)
        )
    if fact.field is NoteField.LOOKED_BACK:
        return tr("Looked at again: {what}.", what=_thing(fact, life))
    if fact.field in _DAYS:
        said, without = _DAYS[fact.field]
        return tr(said, said=long_date(date.fromisoformat(fact.value))) if fact.value else tr(without)
    if fact.field in _TEXTS:
        said, without = _TEXTS[fact.field]
        return tr(said, said=" ".join(fact.value.split())) if fact.value else tr(without)
    if fact.field is NoteField.LANGUAGE:
        return tr("The language of the page: {language}.", language=language_name(fact.value or ""))
    return tr(_EVENTS[fact.field], said=long_date(fact.note.as_of))


def _of_sentence(fact: NoteFact, page: FamilySheet, names: Mapping[str, str]) -> str:
    part, _, rest = fact.about.partition(".")
    headings = {one.key: one.heading for one in page.parts}
    skill = names.get(rest.partition(".")[0], "")
    place = ", ".join(filter(None, (headings.get(part, part), skill)))
    if fact.value is None:
        return tr("{place}: our words put back.", place=place)
    if fact.value:
        return tr("{place}: in your words, “{words}”", place=place, words=fact.value)
    return tr("{place}: a sentence left out.", place=place)


def _of_choice(fact: NoteFact, names: Mapping[str, str]) -> str:
    drafted, none, some = _CHOICES[fact.field]
    if fact.value is None:
        return tr(drafted)
    picked = ", ".join(names.get(key, key) for key in fact.value.split())
    return tr(some, said=picked) if picked else tr(none)


def _thing(fact: NoteFact, life: NoteLife) -> str:
    """Return what was agreed, as it was said last, whether or not that is still in force."""
    said = [
        one.value
        for one in life.facts
        if (one.field, one.about) == (NoteField.AGREED, fact.about) and one.value
    ]
    return said[-1].rstrip(".") if said else tr("what was agreed")


_CHOICES = {
    NoteField.STRENGTHS: (
        mark("The strengths as drafted."),
        mark("No skill under going well."),
        mark("Under going well: {said}."),
    ),
    NoteField.NEXT_SKILLS: (
        mark("The next steps as drafted."),
        mark("No skill to work on next."),
        mark("To work on next: {said}."),
    ),
}
_DAYS = {
    NoteField.LOOK_AGAIN: (mark("Agreed to look again on {said}."), mark("No day on which to look again.")),
    NoteField.MEETING: (mark("The meeting is on {said}."), mark("No day of the meeting.")),
    NoteField.DISCUSSED: (mark("Talked over on {said}."), mark("Not talked over yet.")),
}
_TEXTS = {
    NoteField.COACH_WORDS: (mark("Your own words: “{said}”"), mark("Your own words taken out.")),
    NoteField.AGREED: (mark("Agreed: {said}"), mark("Something agreed taken out.")),
    NoteField.WHO_HELPS: (mark("Who helps: {said}"), mark("Nobody named who helps.")),
    NoteField.COACH: (mark("The coach on the page: {said}"), mark("No coach on the page.")),
}
_EVENTS = {
    NoteField.DRAFTED: mark("Drafted, with all counts up to {said}."),
    NoteField.READ: mark("Read."),
}
