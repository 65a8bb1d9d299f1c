"""The command line. Exit 0: done; 1: you can put it right, and stderr says how; 2: wrong usage."""

from evaltrack.cli.commands.agreement import agreement
from evaltrack.cli.commands.backup import backup
from evaltrack.cli.commands.calendar import calendar
from evaltrack.cli.commands.catalogue import catalogue
from evaltrack.cli.commands.charts import charts
from evaltrack.cli.commands.check import check
from evaltrack.cli.commands.close_season import close_season
from evaltrack.cli.commands.correct import correct
from evaltrack.cli.commands.coverage import coverage
from evaltrack.cli.commands.demo import demo
from evaltrack.cli.commands.erase import erase
from evaltrack.cli.commands.export import export
from evaltrack.cli.commands.guide import guide
from evaltrack.cli.commands.handover import handover
from evaltrack.cli.commands.join import join
from evaltrack.cli.commands.keep import keep
from evaltrack.cli.commands.lend import lend
from evaltrack.cli.commands.load import load
from evaltrack.cli.commands.meetings import meetings
from evaltrack.cli.commands.new import new
from evaltrack.cli.commands.next_season import next_season
from evaltrack.cli.commands.notes import notes
from evaltrack.cli.commands.open import open_
from evaltrack.cli.commands.pack import pack
from evaltrack.cli.commands.plan import plan
from evaltrack.cli.commands.practices import practices
from evaltrack.cli.commands.restore import restore
from evaltrack.cli.commands.roster import roster
from evaltrack.cli.commands.season import season
from evaltrack.cli.commands.sheet import sheet
from evaltrack.cli.commands.standings import standings
from evaltrack.cli.front import commands

_IN_ORDER = (
    open_,
    demo,
    new,
    roster,
    catalogue,
    guide,
    sheet,
    load,
    practices,
    correct,
    standings,
    coverage,
    season,
    charts,
    calendar,
    plan,
    notes,
    meetings,
    agreement,
    backup,
    restore,
    check,
    export,
    erase,
    keep,
    close_season,
    next_season,
    pack,
    join,
    handover,
    lend,
)
for _command in _IN_ORDER:
    commands.add_command(_command)

__all__ = ["commands"]
