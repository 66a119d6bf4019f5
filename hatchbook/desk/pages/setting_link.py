"""The line under what to hold: which water and vent setting gives it, as soon as that is reckoned."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from hatchbook.desk.context import DeskContext
from hatchbook.desk.latest_work import LatestWork
from hatchbook.desk.tasks import Task
from hatchbook.desk.words.guide import expected_text, setting_text
from hatchbook.figures.guide_results import GuideCell
from hatchbook.figures.results import BatchFigures, BatchState
from hatchbook.journal import Journal

_SETTLE_MS = 400
"""While entries follow each other nothing is reckoned."""


class SettingLink(QObject):
    """Reckons the setting for the batch that is shown, beside; the figures never wait for it.

    Signals:
        found: the sentence, for the batch that was asked about last.
    """

    found = Signal(str)

    def __init__(self, context: DeskContext, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work = LatestWork(context, self)
        self._work.answered.connect(self._tell)
        self._work.failed.connect(self._raise)

    def ask(self, figures: BatchFigures | None) -> None:
        """Asks for the setting of a batch that runs; of any other there is none."""
        if figures is None or figures.state is not BatchState.RUNNING:
            self._work.stop()
            return
        uid, now = figures.batch.uid, figures.now

        def reckon(journal: Journal, _task: Task) -> GuideCell | None:
            from hatchbook.figures.guide import advised_setting

            return advised_setting(journal, uid, now) if journal.batches.find(uid) else None

        self._work.read_soon(reckon, _SETTLE_MS)

    def _tell(self, cell: GuideCell) -> None:
        text = self.tr("{setting}: {humidity}")
        setting = setting_text((cell.channels, cell.vent))
        self.found.emit(text.format(setting=setting, humidity=expected_text(cell.humidity)))

    @staticmethod
    def _raise(error: BaseException) -> None:
        raise error
