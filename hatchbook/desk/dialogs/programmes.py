"""Programmes: those of the trade to read, with their sources side by side, and the breeder's own to change."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QTreeWidget, QTreeWidgetItem, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.edit_table import dialog_size, text_scale
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.dialogs.list_parts import RowDelegate, scrolling
from hatchbook.desk.dialogs.programme_form import ProgrammeForm
from hatchbook.desk.dialogs.programme_view import ProgrammeView
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel
from hatchbook.desk.widgets.rules import VLine
from hatchbook.desk.words.codes import species_word
from hatchbook.desk.words.history import change_sentence
from hatchbook.figures.own_programmes import copy_of, kept_programmes
from hatchbook.journal import Change, OwnProgramme
from hatchbook.trade.programme import Programme
from hatchbook.trade.programmes import Species, load_species

_SIZE = QSize(1040, 660)
_LIST_WIDTH = 236
_CODE, _UID = Qt.ItemDataRole.UserRole + 1, Qt.ItemDataRole.UserRole + 2
_KINDS = frozenset({"programme", "batch", "past_batch"})


class ProgrammesDialog(FramedDialog):
    """Species with their programmes at the left, what is chosen at the right."""

    def __init__(self, context: DeskContext, parent: QWidget | None) -> None:
        super().__init__(self.tr("Programmes"), parent)
        self.resize(dialog_size(_SIZE, self.screen().availableSize()))
        self._context = context
        self._species = load_species()
        fahrenheit = context.settings.get(settings.TEMPERATURE_UNIT) == "F"
        self.list = QTreeWidget()
        self.view = ProgrammeView("F" if fahrenheit else "C")
        self.form = ProgrammeForm(context)
        self.stored = ElidedLabel("", ink="ink2")
        self.take_back = LinkButton(self.tr("Take back"), TypeRole.BODY)
        self._build()
        self._fill()
        self.list.currentItemChanged.connect(lambda _new, _old: self._show_chosen())
        self.list.itemActivated.connect(lambda _item, _column: self._enter())
        self.view.copy_wanted.connect(self._copy)
        self.form.copy_wanted.connect(self._copy)
        self.take_back.clicked.connect(lambda: self._context.door.undo())
        context.door.changed.connect(self._refresh)
        self.view.copy.setEnabled(not context.door.journal.read_only)
        self._choose_first()
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        self.list.setHeaderHidden(True)
        self.list.setRootIsDecorated(False)
        self.list.setItemsExpandable(False)
        self.list.setIndentation(12)
        self.list.setFixedWidth(round(_LIST_WIDTH * text_scale()))
        self.list.setItemDelegate(RowDelegate(self.list))
        self.list.setAccessibleName(self.tr("Programmes by species"))
        self.stack = QStackedWidget()
        self.area = scrolling(self.view)
        # There is nothing else in it to bring into view by keyboard.
        self.area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.stack.addWidget(self.area)
        self.stack.addWidget(scrolling(self.form))
        columns = QHBoxLayout()
        columns.setSpacing(14)
        columns.addWidget(self.list)
        columns.addWidget(VLine())
        columns.addWidget(self.stack, 1)
        self.set_content(columns)
        self.add_leave_button(self.tr("Close"))
        self.share_foot(self.stored, self.take_back)
        self.take_back.setVisible(False)

    # ---------------------------------------------------------------- the list

    def _fill(self) -> None:
        """Every species with the trade's programmes, then the breeder's own."""
        own: dict[str, list[OwnProgramme]] = {}
        for kept in kept_programmes(self._context.door.journal):
            own.setdefault(kept.record.species, []).append(kept.record)
        blocked = self.list.blockSignals(True)
        self.list.clear()
        trade = {species.code: species.programmes for species in self._species}
        for code in dict.fromkeys([*trade, *own]):
            head = QTreeWidgetItem([species_word(code)])
            head.setFlags(Qt.ItemFlag.ItemIsEnabled)
            head.setFont(0, role_font(TypeRole.SECTION))
            self.list.addTopLevelItem(head)
            for programme in trade.get(code, ()):
                self._add_item(head, programme.title, _CODE, programme.code)
            for record in own.get(code, ()):
                title = self.tr("{programme}, my own").format(programme=record.title)
                self._add_item(head, title, _UID, record.uid)
            head.setExpanded(True)
        self.list.blockSignals(blocked)

    @staticmethod
    def _add_item(head: QTreeWidgetItem, text: str, role: int, value: str) -> None:
        item = QTreeWidgetItem([text])
        item.setData(0, role, value)
        item.setToolTip(0, text)
        head.addChild(item)

    def items(self) -> list[QTreeWidgetItem]:
        """The programmes in the list, in its order."""
        heads = (self.list.topLevelItem(row) for row in range(self.list.topLevelItemCount()))
        found = (head.child(row) for head in heads if head is not None for row in range(head.childCount()))
        return [item for item in found if item is not None]

    def choose(self, *, code: str | None = None, uid: str | None = None) -> bool:
        """Chooses a programme of the trade by its code, or an own one by its uid; False where there is none."""
        for item in self.items():
            if item.data(0, _CODE) == code and item.data(0, _UID) == uid:
                self.list.setCurrentItem(item)
                self._show_chosen()
                return True
        return False

    def _choose_first(self) -> None:
        self.list.setCurrentItem(self.items()[0])
        self._show_chosen()

    def _show_chosen(self) -> None:
        item = self.list.currentItem()
        if item is None:
            return
        code, uid = item.data(0, _CODE), item.data(0, _UID)
        if uid is not None:
            self.form.show_record(uid)
            self.stack.setCurrentIndex(1)
        elif code is not None:
            species, programme = self._programme(code)
            self.view.show_programme(species, programme)
            self.area.verticalScrollBar().setValue(0)
            self.area.setAccessibleName(
                self.tr("{programme}: values and sources").format(programme=programme.title)
            )
            self.stack.setCurrentIndex(0)

    def _programme(self, code: str) -> tuple[Species, Programme]:
        return next(
            (species, programme)
            for species in self._species
            for programme in species.programmes
            if programme.code == code
        )

    def _enter(self) -> None:
        """Enter in the list leads to what is shown."""
        if self.stack.currentIndex() == 1:
            self.form.focus_first()
        else:
            self.view.copy.setFocus(Qt.FocusReason.TabFocusReason)

    def done(self, result: int) -> None:
        """What was typed last is stored, whichever way the dialog is left."""
        if self.stack.currentIndex() == 1 and self._context.door.is_open:
            self.form.store()
        super().done(result)

    # ---------------------------------------------------------------- copying, and what was stored

    def _copy(self, programme: Programme) -> None:
        """Adds an own programme like another one, ready to be renamed and changed."""
        title = self.tr("{programme} (copy)").format(programme=programme.title)
        own = copy_of(self._context.door.journal, programme, title)
        if self._context.door.run(lambda journal: journal.programmes.add(own)) is None:
            self.tell(self.tr("The programme was not stored."))
            return
        self.tell("")
        self.choose(uid=own.uid)
        self.form.focus_first()

    def _refresh(self, change: Change) -> None:
        if not change.kinds & _KINDS:
            return
        item = self.list.currentItem()
        code, uid = (None, None) if item is None else (item.data(0, _CODE), item.data(0, _UID))
        self.stored.setText(change_sentence(change, self._context.zone))
        self.take_back.setVisible(change.direction != "undone")
        own = self.form.is_storing
        self._fill()
        blocked = self.list.blockSignals(True)
        found = next(
            (one for one in self.items() if (one.data(0, _CODE), one.data(0, _UID)) == (code, uid)), None
        )
        self.list.setCurrentItem(found if found is not None else self.items()[0])
        self.list.blockSignals(blocked)
        # What the form itself has stored stands in it already, and may be typed on.
        if not own or found is None:
            self._show_chosen()
