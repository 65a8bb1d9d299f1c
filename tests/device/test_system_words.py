"""Why a file was refused is told in the user's language, where it is one of the usual reasons."""

import errno
import os
from pathlib import Path

import pytest

import evaltrack
from evaltrack.device.system_words import FULL, USUAL, system_reason
from evaltrack.errors import EvaltrackError
from evaltrack.intake.saving import save
from evaltrack.language import Language, speaking


def test_a_usual_reason_is_told_in_french(tmp_path):
    """A folder that is none, as the system really refuses it."""
    (tmp_path / "file").write_text("in the way")
    with speaking(Language.FRENCH_CANADA), pytest.raises(EvaltrackError, match="ce n’est pas un dossier"):
        save(tmp_path / "file" / "plan.pdf", b"%PDF")


@pytest.mark.skipif(os.name == "nt", reason="the words of POSIX")
@pytest.mark.parametrize(
    "code",
    [errno.EACCES, errno.EROFS, errno.ENOENT, errno.EISDIR, errno.ENOTDIR, errno.EEXIST],
)
def test_the_usual_reasons_are_those_that_the_system_gives(code):
    """The list has them as this system writes them, not as somebody remembers them."""
    if os.uname().sysname == "Linux":
        assert os.strerror(code) in USUAL


@pytest.mark.parametrize("code", [errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)])
def test_a_full_disk_is_told_in_the_same_words_whoever_found_it(code):
    """A quota that is used up is a full disk to whoever must make room; SQLite says it so too."""
    assert system_reason(OSError(code, os.strerror(code))) == FULL


def test_an_unusual_reason_stays_as_it_is():
    """What nobody translated is better told in English than not at all; no reason is none."""
    with speaking(Language.FRENCH_CANADA):
        assert system_reason(OSError(1, "the wind has turned")) == "the wind has turned"
        assert system_reason(ValueError("embedded null byte")) == ""


def test_no_sentence_has_the_words_of_the_system_untranslated():
    """Wherever a reason goes into a sentence, it goes by `system_reason`."""
    package = Path(evaltrack.__file__).parent
    raw = [path.name for path in package.rglob("*.py") if "strerror" in path.read_text(encoding="utf-8")]
    assert raw == ["system_words.py"]
