"""What imports of files share: a file is chosen or dropped, read, and stored as one step that can be stopped."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QDragEnterEvent, QDragLeaveEvent, QDropEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.importing.drop_hint import DropHint
from hatchbook.desk.importing.file_row import FileRow, dropped_file
from hatchbook.desk.importing.file_work import FileWork, Job
from hatchbook.desk.importing.foot import ImportFoot
from hatchbook.desk.importing.question_bar import QuestionBar
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.rules import HLine
from hatchbook.journal import Change

_LEAST = QSize(860, 560)
_SPACING = 9


class FileImportDialog(FramedDialog):
    """File, how it is read, questions; below, what is in it; at the foot the sum and the button that stores it.

    A dialog for a kind of file fills in what is shown and what a reading, a plan and storing are.
    """

    file_row: FileRow
    nothing: DropHint

    def __init__(self, title: str, context: DeskContext, parent: QWidget | None, size: QSize) -> None:
        super().__init__(title, parent, size)
        self._context = context
        self._path: Path | None = None
        self._work: FileWork
        self.question = QuestionBar()
        self.foot = ImportFoot()
        self.pages = QStackedWidget()
        self.content = QWidget()
        self.shown = QWidget()
        self.setAcceptDrops(True)
        # Else Qt asks for the height that wrapped texts have at the least width.
        self.setMinimumSize(_LEAST)

    # ---------------------------------------------------------------- building

    def _lay_out(
        self,
        top: Iterable[tuple[str, QWidget]],
        notes: Iterable[QWidget],
        preview: QWidget,
        below: QWidget,
    ) -> None:
        """Rows with their labels, notes, then the file's lines over what would come of them."""
        lines = QVBoxLayout(self.shown)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(_SPACING)
        lines.addWidget(preview, 5)
        lines.addWidget(below, 4)
        self.pages.addWidget(self.nothing)
        self.pages.addWidget(self.shown)
        whole = QVBoxLayout(self.content)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(_SPACING)
        whole.addLayout(self._labelled(top))
        whole.addWidget(HLine())
        self._rows.removeWidget(self.note)
        for widget in (self.note, self.question, *notes):
            whole.addWidget(widget)
        whole.addWidget(self.pages, 1)
        self.set_content(self.content)
        self._rows.setSpacing(_SPACING)
        self.share_foot(self.foot)
        self.store = self.add_main_button(self.tr("Import"))
        self.leave = self.add_leave_button(self.tr("Cancel"))

    def _labelled(self, rows: Iterable[tuple[str, QWidget]]) -> QGridLayout:
        top = QGridLayout()
        top.setHorizontalSpacing(14)
        top.setVerticalSpacing(8)
        for row, (text, widget) in enumerate(rows):
            label = Label(text)
            label.setBuddy(widget)
            label.setMinimumHeight(self.file_row.sizeHint().height())
            top.addWidget(label, row, 0, Qt.AlignmentFlag.AlignTop)
            top.addWidget(widget, row, 1)
        top.setColumnStretch(1, 1)
        return top

    def _follow(self, work: FileWork) -> None:
        """Shows what work on the file tells."""
        self._work = work
        work.was_read.connect(self._show_read)
        work.planned.connect(self._show_plan)
        work.imported.connect(self._finish)
        work.stopped.connect(self._tell_stopped)
        work.failed.connect(self._fail)
        work.began.connect(self._begin)
        work.ended.connect(self._show_state)
        work.took_long.connect(self._show_long)
        work.progressed.connect(self.foot.show_progress)

    def _start_with(self, path: Path | None) -> None:
        """Reads the file that was given, or waits for one."""
        self._forget()
        self._show_state()
        if path is not None:
            self.load(path)
        else:
            self.file_row.choose.setFocus(Qt.FocusReason.OtherFocusReason)

    # ---------------------------------------------------------------- what a kind of file fills in

    def load(self, path: Path) -> None:
        """Reads a file; nothing of the one before is kept."""
        raise NotImplementedError

    def _show_read(self, outcome: Any) -> None:
        raise NotImplementedError

    def _show_plan(self, plan: Any) -> None:
        raise NotImplementedError

    def _fail(self, error: BaseException) -> None:
        raise NotImplementedError

    def _forget(self) -> None:
        """Shows nothing of a file."""
        raise NotImplementedError

    def _has_file(self) -> bool:
        """Whether a file was read."""
        raise NotImplementedError

    def _new(self) -> int:
        """How many records would come in; 0 where that is not known."""
        raise NotImplementedError

    def _store_text(self, new: int) -> str:
        """What the button says that stores so many."""
        raise NotImplementedError

    def _job_texts(self) -> dict[Job, str]:
        """What each job is called; ``{file}`` for the file."""
        raise NotImplementedError

    # ---------------------------------------------------------------- state

    def _may_store(self) -> bool:
        return (
            self._work.job is None and self._has_file() and self._new() > 0 and self.question.question is None
        )

    def _show_state(self) -> None:
        self.content.setEnabled(self._work.job is not Job.STORING)
        self.store.setEnabled(self._may_store())
        new = self._new()
        self.store.setText(self._store_text(new) if new else self.tr("Import"))
        if self._work.job is None:
            self.foot.show_rest()
            self.leave.setText(self.tr("Cancel"))
            self.leave.setEnabled(True)

    def _go_on_to_store(self) -> None:
        """Enter stores next, unless the breeder is at work elsewhere."""
        if self.store.isEnabled() and self.focusWidget() in (None, self.file_row.choose):
            self.store.setFocus(Qt.FocusReason.OtherFocusReason)

    def _begin(self, _job: Job) -> None:
        self.foot.show_progress(0.0)
        self._show_state()

    def _show_long(self, job: Job) -> None:
        assert self._path is not None
        if not self._has_file():
            self._forget()
        # How long looking up takes is not known.
        text = self._job_texts()[job].format(file=self._path.name)
        self.foot.show_work(text, measured=job is not Job.PLANNING)
        self.leave.setText(self.tr("Stop"))

    def _finish(self, change: Change) -> None:
        self._context.door.announce(change)
        self.accept()

    def _tell_stopped(self) -> None:
        self.tell(self.tr("The import was stopped. Nothing of it was stored."), "info")

    def reject(self) -> None:
        """Esc and Cancel: stops what goes on for long; else leaves."""
        job = self._work.job
        if job is Job.STORING:
            self.leave.setEnabled(self._work.stop())
            return
        if job is not None and self.foot.bar.isVisible():
            self._work.stop()
            self.tell(self.tr("Reading was stopped."), "info")
            return
        self._work.stop()
        super().reject()

    # ---------------------------------------------------------------- dropping

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """One file may be dropped."""
        if dropped_file(event.mimeData()) is not None and self._work.job is not Job.STORING:
            event.acceptProposedAction()
            self.nothing.set_inviting(True)

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        """It was not dropped."""
        self.nothing.set_inviting(False)
        super().dragLeaveEvent(event)

    def dropEvent(self, event: QDropEvent) -> None:
        """Reads the file that was dropped."""
        self.nothing.set_inviting(False)
        path = dropped_file(event.mimeData())
        if path is not None:
            event.acceptProposedAction()
            self.load(path)


def beside(*parts: tuple[QWidget, int]) -> QWidget:
    """Widgets beside each other, each with its share of the width."""
    whole = QWidget()
    row = QHBoxLayout(whole)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(16)
    for widget, share in parts:
        row.addWidget(widget, share)
    return whole
