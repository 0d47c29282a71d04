# made by docs/renew.py from the declarations of the commands; do not edit
from goodflight.interface import ProjectErrors as ProjectErrors
from goodflight.interface import Refused as Refused
from goodflight.interface import demo as demo
from goodflight.interface import draw as draw
from goodflight.interface import load as load
from goodflight.interface import new as new
from goodflight.interface import printout as printout
from goodflight.interface import restore as restore
from goodflight.interface import serve as serve
from goodflight.interface import size as size
from goodflight.interface import versions as versions
from goodflight.page.sent_file import send as send
from goodflight.project.archive import archive as archive
from goodflight.project.archive import open_archive as open_archive
from goodflight.project.logs.kept import logs_of as logs_of
from goodflight.project.logs.read import read_log as read_log
from goodflight.studies.bench.stamps import stamp as stamp
from goodflight.studies.bench.steps import assembly_order as order
from goodflight.studies.debriefing.next_flight import next_flight as next_flight
from goodflight.studies.debriefing.predicting import prediction as prediction
from goodflight.studies.field.card import card as card
from goodflight.studies.field.day import day as day
from goodflight.studies.field.grid import field_grid as field_grid
from goodflight.studies.questions.ballast import ballast as ballast
from goodflight.studies.questions.beside import beside as beside
from goodflight.studies.questions.calendar import calendar as calendar
from goodflight.studies.questions.debrief import debrief as debrief
from goodflight.studies.questions.delay import delay as delay
from goodflight.studies.questions.find import find as find
from goodflight.studies.questions.fly import nominal_flight as fly
from goodflight.studies.questions.layout import layout as layout
from goodflight.studies.questions.ledger import ledger as ledger
from goodflight.studies.questions.motors import motors as motors
from goodflight.studies.questions.rows import rows as rows
from goodflight.studies.questions.scale import weigh as weigh
from goodflight.studies.questions.separation_window import separation_window as separation
from goodflight.studies.questions.spreads import spreads as spreads
from goodflight.studies.questions.todo import todo as todo

__version__: str
__all__ = [
    "ProjectErrors",
    "Refused",
    "__version__",
    "archive",
    "ballast",
    "beside",
    "calendar",
    "card",
    "day",
    "debrief",
    "delay",
    "demo",
    "draw",
    "field_grid",
    "find",
    "fly",
    "layout",
    "ledger",
    "load",
    "logs_of",
    "motors",
    "new",
    "next_flight",
    "open_archive",
    "order",
    "prediction",
    "printout",
    "read_log",
    "restore",
    "rows",
    "send",
    "separation",
    "serve",
    "size",
    "spreads",
    "stamp",
    "todo",
    "versions",
    "weigh",
]
