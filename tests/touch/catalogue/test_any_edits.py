"""Any edits of the skills in any order: season, files and a model in plain Python agree. No window."""

import shutil
import tempfile
from collections import Counter
from dataclasses import replace
from datetime import date
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from seasons_for_touch import new_season

from evaltrack.founding.catalogue_files import write_catalogue
from evaltrack.founding.season import found_season
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.touch.catalogue.skill_draft import SkillDraft, moved
from evaltrack.touch.catalogue.skill_questions import why_not_retired
from evaltrack.touch.desk.desk import Desk

_PARTS = st.sampled_from(["name", "caption", "done", "missed", "looks_like"])
_SAID = st.sampled_from(["Said.", 'With "quotes" and \\', "[[skill]]", "# none", "Ž ö"])


class AnyEdits(RuleBasedStateMachine):
    """``model`` has the skills in use, ``gone`` those that are retired, ``tries`` those in force."""

    @initialize(at=st.just(None))
    def begin(self, at):
        self.folder = Path(tempfile.mkdtemp())
        if not hasattr(AnyEdits, "fresh"):
            AnyEdits.fresh = new_season(Path(tempfile.mkdtemp()) / "fresh.db", 3)
        shutil.copy(AnyEdits.fresh, self.folder / "season.db")
        self.desk = Desk()
        assert self.desk.open(self.folder / "season.db")
        self.model, self.gone = list(self.desk.skills.values()), {}
        self.tries, self.changes, self.made = Counter(), [], 0

    def draft(self, skill):
        return SkillDraft.of(skill, self.desk.skills.values(), self.desk.retired_skills(), self.desk.drills)

    def one(self, at):
        return self.model[at % len(self.model)]

    @rule(at=st.integers(0, 30), by=st.integers(-3, 3))
    def move(self, at, by):
        skills = moved(list(self.desk.skills.values()), self.one(at).key, by)
        assert self.desk.change_catalogue(skills)
        skill = self.model.pop(at % len(self.model))
        self.model.insert(max(0, min(at % (len(self.model) + 1) + by, len(self.model))), skill)

    @rule(at=st.integers(0, 30), part=_PARTS, said=_SAID, same=st.booleans(), up=st.booleans())
    def edit(self, at, part, said, same, up):
        skill = self.one(at)
        draft = self.draft(skill)
        said = f"{said} {skill.key}"[:40]
        draft.texts[part] = said
        draft.raise_target() if up else draft.lower_target()
        assert draft.complaints() == {}
        rewritten = draft.rewritten
        assert self.desk.change_catalogue(draft.skills(), same=[skill.key] if same else [])
        if part in ("done", "missed"):
            changed = replace(skill, definition=replace(skill.definition, **{part: said}))
        else:
            changed = replace(skill, **{part: said})
        if rewritten and not same:
            changed = replace(changed, version=skill.version + 1)
            self.tries.pop(skill.key, None)
        self.model[at % len(self.model)] = replace(changed, target=draft.target)

    @rule(positions=st.sets(st.sampled_from(Position), min_size=1), same_name=st.booleans())
    def add(self, positions, same_name):
        draft = self.draft(None)
        draft.texts |= dict.fromkeys(
            ("caption", "starts", "done", "missed", "not_counted", "looks_like"), "So."
        )
        self.made += 1
        draft.texts["name"] = "New one!" * self.made if same_name else f"New {self.made}"
        for position in positions:
            draft.turn(position)
        if not draft.complaints():
            assert self.desk.change_catalogue(draft.skills())
            self.model.append(draft.made())

    @rule(at=st.integers(0, 30))
    def retire(self, at):
        draft = self.draft(self.one(at))
        if not why_not_retired(draft) and len(self.model) > 1:
            assert self.desk.change_catalogue(*draft.without())
            gone = self.model.pop(at % len(self.model))
            self.gone[gone.key] = gone

    @precondition(lambda self: self.gone)
    @rule(at=st.integers(0, 30))
    def bring_back(self, at):
        key = sorted(self.gone)[at % len(self.gone)]
        (skill,) = [skill for skill in self.desk.retired_skills() if skill.key == key]
        assert self.desk.change_catalogue(self.draft(skill).skills())
        self.model.append(self.gone.pop(key))

    @rule(at=st.integers(0, 30))
    def tally(self, at):
        skill = self.one(at)
        day = Practice("2026-01-06", date(2026, 1, 6))
        where = ("breakout_attack", "two_on_one", "Ines")
        tally = Tally(day.key, self.desk.players[0].id, skill.key, Outcome.DONE, *where)
        self.desk.season.log.add_many([day], [replace(tally, skill_version=skill.version)])
        self.tries[skill.key] += 1

    @rule()
    def written_and_read_back(self):
        folder = write_catalogue(self.desk.season, self.folder / "out")
        place = self.folder / "new.db"
        place.unlink(missing_ok=True)
        files = (folder / "skills.toml", folder / "drills.toml")
        with found_season(place, "Pond", "12U", self.desk.players, *files) as new:
            assert new.catalogue.skills() == [replace(skill, version=1) for skill in self.model]
            assert new.catalogue.drills() == list(self.desk.drills)

    @invariant()
    def the_season_is_the_model(self):
        season = self.desk.season
        assert season.catalogue.skills() == self.model == list(self.desk.skills.values())
        assert {skill.key: skill for skill in self.desk.retired_skills()} == self.gone
        assert season.catalogue_changes.tries() == self.tries
        changes = season.catalogue_changes.all()
        assert changes[: len(self.changes)] == self.changes  # it only grows
        self.changes = changes

    def teardown(self):
        if hasattr(self, "desk"):
            self.desk.close()
            shutil.rmtree(self.folder)


TestAnyEdits = AnyEdits.TestCase
TestAnyEdits.settings = settings(max_examples=5, stateful_step_count=12, deadline=None)
