"""Machines, probes and pens: what the breeder has, with every change stored as soon as its field is left."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QStackedWidget,
    QTreeWidget,
    QTreeWidgetItem,
    QWidget,
)

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.edit_table import dialog_size, text_scale
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.dialogs.list_parts import RowDelegate, scrolling
from hatchbook.desk.dialogs.machine_form import MachineForm
from hatchbook.desk.dialogs.pen_form import PenForm
from hatchbook.desk.dialogs.probe_form import ProbeForm
from hatchbook.desk.dialogs.record_form import RecordForm
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel
from hatchbook.desk.widgets.rules import VLine
from hatchbook.desk.words.history import change_sentence
from hatchbook.journal import Change

_SIZE = QSize(920, 640)
_LIST_WIDTH = 230
_KINDS = frozenset(
    {"machine", "channel", "probe", "probe_placement", "probe_check", "pen", "pen_member", "batch", "egg"}
)
_UID, _SECTION = Qt.ItemDataRole.UserRole + 1, Qt.ItemDataRole.UserRole + 2


class HoldingDialog(FramedDialog):
    """Three sections at the left, the form of what is chosen at the right."""

    def __init__(self, context: DeskContext, parent: QWidget | None) -> None:
        super().__init__(self.tr("Machines, probes and pens"), parent)
        self.resize(dialog_size(_SIZE, self.screen().availableSize()))
        self._context = context
        self.forms: tuple[RecordForm, ...] = (MachineForm(context), ProbeForm(context), PenForm(context))
        self.list = QTreeWidget()
        self.stored = ElidedLabel("", ink="ink2")
        self.take_back = LinkButton(self.tr("Take back"), TypeRole.BODY)
        self._build()
        self._fill()
        self.list.currentItemChanged.connect(lambda _new, _old: self._show_chosen())
        context.door.changed.connect(self._refresh)
        for section, form in enumerate(self.forms):
            form.record_added.connect(lambda uid, section=section: self._choose(section, uid))
        self.list.itemActivated.connect(lambda _item, _column: self.form.focus_first())
        self._choose_first()
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        self.list.setHeaderHidden(True)
        self.list.setRootIsDecorated(False)
        self.list.setItemsExpandable(False)
        self.list.setIndentation(12)
        self.list.setFixedWidth(round(_LIST_WIDTH * text_scale()))
        self.list.setItemDelegate(RowDelegate(self.list))
        self.list.setAccessibleName(self.tr("Machines, probes and pens"))
        self.stack = QStackedWidget()
        for form in self.forms:
            self.stack.addWidget(scrolling(form))
        columns = QHBoxLayout()
        columns.setSpacing(14)
        columns.addWidget(self.list)
        columns.addWidget(VLine())
        columns.addWidget(self.stack, 1)
        self.set_content(columns)
        self.add_leave_button(self.tr("Close"))
        self.share_foot(self.stored, self.take_back)
        self.take_back.setVisible(False)
        self.take_back.clicked.connect(lambda: self._context.door.undo())

    # ---------------------------------------------------------------- the list

    def _fill(self) -> None:
        journal = self._context.door.journal
        sections: Sequence[tuple[str, str, Sequence[tuple[str, str, bool]]]] = (
            (
                self.tr("Machines"),
                self.tr("New machine…"),
                [(one.uid, one.name, one.retired_on is not None) for one in journal.machines.all()],
            ),
            (
                self.tr("Probes"),
                self.tr("New probe…"),
                [(one.uid, one.name, one.retired_on is not None) for one in journal.probes.all()],
            ),
            (
                self.tr("Pens"),
                self.tr("New pen…"),
                [(one.uid, one.name, one.until_on is not None) for one in journal.pens.all()],
            ),
        )
        blocked = self.list.blockSignals(True)
        self.list.clear()
        faint = scheme_of(self).ink3
        for section, (title, new, records) in enumerate(sections):
            head = QTreeWidgetItem([title])
            head.setFlags(Qt.ItemFlag.ItemIsEnabled)
            head.setFont(0, role_font(TypeRole.SECTION))
            self.list.addTopLevelItem(head)
            for uid, name, retired in records:
                item = QTreeWidgetItem([self.tr("{name} (retired)").format(name=name) if retired else name])
                item.setData(0, _UID, uid)
                item.setData(0, _SECTION, section)
                if retired:
                    item.setForeground(0, faint)
                head.addChild(item)
            item = QTreeWidgetItem([new])
            item.setData(0, _SECTION, section)
            item.setForeground(0, faint)
            head.addChild(item)
            head.setExpanded(True)
        self.list.blockSignals(blocked)

    def _items(self) -> list[QTreeWidgetItem]:
        heads = (self.list.topLevelItem(row) for row in range(self.list.topLevelItemCount()))
        found = (head.child(row) for head in heads if head is not None for row in range(head.childCount()))
        return [item for item in found if item is not None]

    def _choose(self, section: int, uid: str | None) -> bool:
        """Chooses a record, or what adds one; False where there is no such record."""
        for item in self._items():
            if item.data(0, _SECTION) == section and item.data(0, _UID) == uid:
                self.list.setCurrentItem(item)
                self._show_chosen()
                return True
        return False

    def _choose_first(self) -> None:
        first = self._items()[0]
        self.list.setCurrentItem(first)
        self._show_chosen()

    def _show_chosen(self) -> None:
        item = self.list.currentItem()
        if item is None or item.data(0, _SECTION) is None:
            return
        section = item.data(0, _SECTION)
        self.stack.setCurrentIndex(section)
        self.forms[section].show_record(item.data(0, _UID))

    @property
    def form(self) -> RecordForm:
        """The form that is shown."""
        return self.forms[self.stack.currentIndex()]

    # ---------------------------------------------------------------- what was stored

    def _refresh(self, change: Change) -> None:
        if not change.kinds & _KINDS:
            return
        section, uid = self.stack.currentIndex(), self.form.uid
        self.stored.setText(change_sentence(change, self._context.zone))
        self.take_back.setVisible(change.direction != "undone")
        own = self.form.is_storing
        self._fill()
        item = next(
            (one for one in self._items() if one.data(0, _SECTION) == section and one.data(0, _UID) == uid),
            None,
        )
        blocked = self.list.blockSignals(True)
        self.list.setCurrentItem(item if item is not None else self._items()[0])
        self.list.blockSignals(blocked)
        # What the form itself has stored stands in it already, and may be typed on.
        if not own or item is None:
            self._show_chosen()
