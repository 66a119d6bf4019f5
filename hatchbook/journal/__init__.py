"""The journal file: everything a breeder keeps, in one SQLite file. No Qt.

``Journal.create`` and ``Journal.open`` give the file; its collections (``journal.batches``, ``journal.eggs`` …)
give frozen records and take changes, each as one step of history in one transaction.
"""

from hatchbook.journal.backups import BackupInfo
from hatchbook.journal.batch_setting import EggChanges, NewHolding, change_batch, set_batch_with_holding
from hatchbook.journal.batches import Batch, BatchLine, BatchPhase, plan_records
from hatchbook.journal.break_outs import BreakOut, BreakOutMark
from hatchbook.journal.candlings import Candling, Finding
from hatchbook.journal.check import CheckReport, check_file
from hatchbook.journal.duties import Duty
from hatchbook.journal.eggs import Egg
from hatchbook.journal.errors import (
    BackupError,
    DiskError,
    DiskFullError,
    JournalBusyError,
    JournalDamagedError,
    JournalError,
    JournalExistsError,
    JournalMissingError,
    JournalMovedError,
    JournalReadOnlyError,
    JournalUnreadableError,
    NeedsWritingError,
    NewerJournalError,
    NotAJournalError,
    NothingToUndoError,
    RecordMissingError,
    RecordRefusedError,
)
from hatchbook.journal.events import Event
from hatchbook.journal.hatchings import Hatching, Removal
from hatchbook.journal.history import Change, ChangeInfo, StepInfo
from hatchbook.journal.imports import ImportCancelledError, ImportRun, NewReadings, Overlap
from hatchbook.journal.journal import Journal
from hatchbook.journal.machines import Channel, Machine
from hatchbook.journal.past_batches import PastBatch
from hatchbook.journal.pens import Pen, PenMember
from hatchbook.journal.probes import Probe, ProbeCheck, ProbePlacement, Stay
from hatchbook.journal.problems import Problem
from hatchbook.journal.programmes import OwnProgramme
from hatchbook.journal.readings import Reading, ReadingSeries
from hatchbook.journal.uses import UseCount
from hatchbook.journal.weighings import EggMass, Weighing

__all__ = [
    "BackupError",
    "BackupInfo",
    "Batch",
    "BatchLine",
    "BatchPhase",
    "BreakOut",
    "BreakOutMark",
    "Candling",
    "Change",
    "ChangeInfo",
    "Channel",
    "CheckReport",
    "DiskError",
    "DiskFullError",
    "Duty",
    "Egg",
    "EggChanges",
    "EggMass",
    "Event",
    "Finding",
    "Hatching",
    "ImportCancelledError",
    "ImportRun",
    "Journal",
    "JournalBusyError",
    "JournalDamagedError",
    "JournalError",
    "JournalExistsError",
    "JournalMissingError",
    "JournalMovedError",
    "JournalReadOnlyError",
    "JournalUnreadableError",
    "Machine",
    "NeedsWritingError",
    "NewHolding",
    "NewReadings",
    "NewerJournalError",
    "NotAJournalError",
    "NothingToUndoError",
    "Overlap",
    "OwnProgramme",
    "PastBatch",
    "Pen",
    "PenMember",
    "Probe",
    "ProbeCheck",
    "ProbePlacement",
    "Problem",
    "Reading",
    "ReadingSeries",
    "RecordMissingError",
    "RecordRefusedError",
    "Removal",
    "Stay",
    "StepInfo",
    "UseCount",
    "Weighing",
    "change_batch",
    "check_file",
    "plan_records",
    "set_batch_with_holding",
]
