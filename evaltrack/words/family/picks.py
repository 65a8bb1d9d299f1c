"""The skills of the page after the coach's picks. A pick that a call contradicts is refused in a sentence."""

from collections.abc import Iterable, Mapping, Sequence

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.language import tr
from evaltrack.rink.family_note import NoteEdits
from evaltrack.rink.skill import Skill
from evaltrack.words.family.choice import MOST_NEXT, MOST_STRENGTHS, Choice, choose, next_step, strength
from evaltrack.words.wording import is_firm


def picked(standings: Sequence[Standing], edits: NoteEdits) -> Choice:
    """Return what stands on the page: the coach's picks as far as they are allowed, else as drafted.

    What was picked for one part is not drafted for the other. Picked for both it stands under going well.
    """
    own, drafted = {s.skill: s for s in standings}, choose(standings)
    strengths, steps = drafted.strengths, drafted.next_skills
    if edits.strengths is not None:
        strengths = _allowed(own, edits.strengths, strength)[:MOST_STRENGTHS]
        steps = tuple(s for s in steps if s not in strengths)
    if edits.next_skills is not None:
        taken = strengths if edits.strengths is not None else ()
        steps = tuple(s for s in _allowed(own, edits.next_skills, next_step) if s not in taken)[:MOST_NEXT]
        strengths = tuple(s for s in strengths if s not in steps)
    return Choice(strengths, steps)


def _allowed(own: Mapping[str, Standing], keys: Iterable[str], reason) -> tuple[Standing, ...]:
    return tuple(own[key] for key in dict.fromkeys(keys) if key in own and reason(own[key]))


def contradictions(skills: Mapping[str, Skill], standings: Sequence[Standing], edits: NoteEdits) -> list[str]:
    """Return a sentence for each pick that cannot stand on the page; empty when all of them can."""
    own = {s.skill: s for s in standings}
    strengths, steps = edits.strengths or (), edits.next_skills or ()
    told = [_no_strength(skills, key, own.get(key)) for key in strengths]
    told += [_no_next_step(skills, key, own.get(key)) for key in steps]
    told += [_in_both(_name(skills, key)) for key in strengths if key in steps]
    if len(set(strengths)) > MOST_STRENGTHS:
        told.append(
            tr("The page has room for {most} skills that go well; leave out the others.", most=MOST_STRENGTHS)
        )
    if len(set(steps)) > MOST_NEXT:
        told.append(tr("The page has room for {most} next steps; leave out the others.", most=MOST_NEXT))
    return list(dict.fromkeys(filter(None, told)))


def _no_strength(skills: Mapping[str, Skill], key: str, standing: Standing | None) -> str:
    name = _name(skills, key)
    if standing is None or not is_firm(standing):
        return _too_little(name)
    if standing.call is Call.WORK_ON:
        return tr("{name} is called “work on”, so the page cannot say that it goes well.", name=name)
    if strength(standing):
        return ""
    return tr("{name} is going down, so the page cannot say that it goes well.", name=name)


def _no_next_step(skills: Mapping[str, Skill], key: str, standing: Standing | None) -> str:
    name = _name(skills, key)
    if standing is None or not is_firm(standing):
        return _too_little(name)
    if next_step(standing):
        return ""
    return tr("{name} is called “solid”, so it is no next step.", name=name)


def _too_little(name: str) -> str:
    return tr(
        "{name} has no call yet, so the page can say nothing of it; watch it more often first.", name=name
    )


def _in_both(name: str) -> str:
    return tr("{name} cannot both go well and be a next step; choose one of the two.", name=name)


def _name(skills: Mapping[str, Skill], key: str) -> str:
    return skills[key].name if key in skills else key
