"""Numbers, lists, hours and days as Quebec and France write them, held against the CLDR where it has them."""

from datetime import date, datetime, time, timedelta

import pytest
from babel import Locale
from babel.dates import format_date, format_time
from babel.lists import format_list
from babel.numbers import format_decimal, format_percent
from hypothesis import example, given
from hypothesis import strategies as st
from lantern_pages import standing

from evaltrack.analysis.standings.standing import ENOUGH_PRACTICES, ENOUGH_TRIES, Call
from evaltrack.language import NO_BREAK, THIN, Language, speaking, tr
from evaltrack.rink import days
from evaltrack.rink.tally_sum import TallySum
from evaltrack.words import sums, wording
from evaltrack.words.below import WHO_IS_JUDGED
from evaltrack.words.season import GOALS_LEGEND

FRENCH = [Language.FRENCH_CANADA, Language.FRENCH_FRANCE]
each_french = pytest.mark.parametrize("tongue", FRENCH)
DAYS = st.dates(date(2000, 1, 1), date(2099, 12, 31))
TIMES = st.times().map(lambda at: at.replace(second=0, microsecond=0))


def cldr(tongue: Language) -> Locale:
    """Return the locale as Babel knows it."""
    return Locale.parse(tongue.replace("-", "_"))


@each_french
@given(number=st.integers(-(10**9), 10**9), digits=st.integers(0, 3))
def test_a_number_has_the_marks_of_its_country(tongue, number, digits):
    """A decimal comma; between thousands a no-break space in Canada and a thin one in France."""
    with speaking(tongue):
        said = wording.decimal(number / 1000, digits)
    pattern = "#,##0" + ("." + "0" * digits if digits else "")
    # both round to even; Babel by the decimal that was written, so one more digit never lies on the edge
    exact = float(f"{number / 1000:.{digits}f}")
    assert said.replace("-0", "0") == format_decimal(exact, pattern, cldr(tongue)).replace("-0", "0")


@each_french
@given(share=st.integers(0, 100))
def test_a_percentage_has_a_no_break_space_before_its_sign(tongue, share):
    """As CLDR has it for both countries."""
    with speaking(tongue):
        assert wording.in_percent(share / 100) == format_percent(share / 100, locale=cldr(tongue))


@given(TIMES)
def test_france_writes_the_hour_as_cldr_has_it(at):
    """18:30."""
    with speaking(Language.FRENCH_FRANCE):
        assert wording.clock_time(at) == format_time(at, "short", locale="fr_FR")


@given(TIMES)
def test_quebec_writes_the_hour_with_an_h(at):
    """18 h 30, with spaces that do not break; without the zeros that CLDR has on the hour and before it."""
    with speaking(Language.FRENCH_CANADA):
        said = wording.clock_time(at)
    known = format_time(at, "short", locale="fr_CA").replace(" ", NO_BREAK)
    hour, minutes = known.split(f"{NO_BREAK}h{NO_BREAK}")
    tail = "" if minutes == "00" else NO_BREAK + minutes
    assert said == f"{int(hour)}{NO_BREAK}h{tail}"


def test_an_hour_is_told_in_each_language():
    """Of a time of day, and of a moment."""
    for tongue, said in zip(Language, ("18:30", f"18{NO_BREAK}h{NO_BREAK}30", "18:30"), strict=True):
        with speaking(tongue):
            assert wording.clock_time(time(18, 30)) == said
            assert wording.clock_time(datetime(2026, 1, 13, 18, 30)) == said


@each_french
@given(DAYS)
@example(date(2026, 7, 1))
def test_days_are_named_as_cldr_names_them(tongue, day):
    """Names of months and weekdays, in full and short; the first of a month is 1er in both."""
    first = day.day == 1
    with speaking(tongue):
        for said, pattern in (
            (wording.long_date(day), "d MMMM y"),
            (wording.short_date(day), "d MMM"),
            (days.in_full(day), "EEEE d MMMM y"),
            (days.weekday_and_short_date(day, day), "EEE d MMM"),
        ):
            # CLDR has juil. for France; its Imprimerie nationale writes juill., as Canada does
            known = format_date(day, pattern, locale=cldr(tongue)).replace("juil.", "juill.")
            assert said == (known.replace("1 ", "1er ", 1) if first else known)


@pytest.mark.parametrize("words", [[], ["a"], ["a", "b"], ["a", "b", "c", "d"]])
def test_a_list_ends_with_and(words):
    """Without a comma before it, in each language, as CLDR has it for French and for British English."""
    for tongue, locale in zip(Language, ("en_GB", "fr_CA", "fr_FR"), strict=True):
        with speaking(tongue):
            assert wording.listed(words) == format_list(words, locale=locale)
            assert wording.either(words) == format_list(words, "or", locale=locale)


def test_english_numbers_are_marked_in_english():
    """A comma between thousands, a point before the decimals, none that are nothing where asked."""
    assert (wording.decimal(1234.5), wording.decimal(7, trim=True), wording.decimal(7.25, 2)) == (
        "1,234.5", "7", "7.25",
    )  # fmt: skip
    assert wording.in_percent(0.725, 1) == "72.5 %"


def test_france_has_a_thin_space_between_thousands():
    """And Canada one that is as wide as any other."""
    told = []
    for tongue in FRENCH:
        with speaking(tongue):
            told.append(wording.decimal(1234.5))
    assert told == [f"1{NO_BREAK}234,5", f"1{THIN}234,5"]


@pytest.mark.parametrize("sentence", [wording.ENOUGH, WHO_IS_JUDGED])
def test_what_is_enough_is_what_the_rule_asks(sentence):
    """Each sentence names the numbers of the rule, in each language."""
    assert wording.ENOUGH in sentence
    assert WHO_IS_JUDGED in GOALS_LEGEND
    for tongue in Language:
        with speaking(tongue):
            said = wording.tr(sentence)
        assert [int(word) for word in said.split() if word.isdigit()] == [ENOUGH_TRIES, ENOUGH_PRACTICES]


def test_a_standing_in_french_says_what_it_says_in_english():
    """The count, the share, its interval, the day and the direction."""
    one = standing("stop", [(20, 14), (17, 12)], low=0.41, high=0.79, share=0.62)
    last = one.path[-1].on if one.path else one.seen[-1].on
    few = standing("stop", [(6, 3)], call=Call.TOO_FEW, practices=2)
    with speaking(Language.FRENCH_CANADA):
        assert wording.told(one) == "26 sur 37, environ 7 sur 10"
        assert (
            wording.state_words(one, last)
            == "maintenant environ 6 sur 10 (4 à 8); pas encore de changement net"
        )
        assert wording.state_words(few, last) == (
            f"trop peu encore{NO_BREAK}: 4 essais de plus, en 1 séance de plus"
        )
        assert wording.now_words(one, last + timedelta(days=400)).startswith("le ")
        assert wording.level_words(one) == "4 à 8 sur 10"


@given(st.integers(0, 10**9))
def test_every_count_of_a_sentence_has_its_thousands_apart(number):
    """As CLDR has it in Canada and France, with a comma in English; who says it does nothing."""
    for tongue, locale in zip(Language, ("en", "fr_CA", "fr_FR"), strict=True):
        with speaking(tongue):
            written = format_decimal(number, locale=locale)
            assert wording.counted(number, "tally", "tallies").startswith(f"{written} ")
            assert tr("{number} of players", number=number) == f"{written} of players"


def test_what_is_no_count_is_written_as_it_is():
    """A year and a line of a file, which say so, and what is given as text."""
    assert tr("born {year:d}, number {number}", year=2014, number="1001") == "born 2014, number 1001"


def test_the_kinds_of_tallies_can_be_told_alone():
    """With no blank left over, whatever stands before a colon in the language in force."""
    found = TallySum(tries=1320, unseen=50)
    for tongue in Language:
        with speaking(tongue):
            words, kinds = sums.tallies_words(found), sums.kinds_words(found)
            assert (words, kinds) == (words.strip(), kinds.strip())
            assert sums.sum_words(found) in (f"{words}: {kinds}", f"{words}{NO_BREAK}: {kinds}")
    assert sums.kinds_words(TallySum(tries=7)) == ""


@pytest.mark.parametrize(
    ("done", "words"),
    [
        (0, "encore aucun"),
        (1, "moins de 1 sur 10"),
        (2, "environ 1 sur 10"),
        (26, "environ 7 sur 10"),
        (36, "plus de 9 sur 10"),
        (37, "tous"),
    ],
)
def test_a_share_is_told_in_french_as_in_english(done, words):
    """None, all, and the tenths between, of 37 tries; without any try nothing was seen."""
    with speaking(Language.FRENCH_CANADA):
        assert wording.share_words(done, 37) == words
        assert wording.share_words(0, 0) == "aucun essai vu"
