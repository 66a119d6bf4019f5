"""The days that part early, mid and late deaths in a batch."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QLocale, QSize
from PySide6.QtWidgets import QFormLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.dialogs.with_trouble import focus, show_edge
from hatchbook.desk.widgets.announce import announce
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.numbers import number
from hatchbook.desk.words.survival import bounds_sentence
from hatchbook.desk.words.typing import number_sentence
from hatchbook.figures.outcomes import bounds_of
from hatchbook.journal import Batch
from hatchbook.trade.stages import StageBounds
from hatchbook.trade.units import NumberError, parse_number


class StageBoundsDialog(FramedDialog):
    """Two days, and what follows from them; the losses are sorted anew as soon as they are stored."""

    def __init__(self, context: DeskContext, batch: Batch, parent: QWidget | None) -> None:
        title = self.tr("Early, mid and late in {label} {name}").format(label=batch.label, name=batch.name)
        super().__init__(title, parent, QSize(460, 0))
        self._context = context
        self._batch = batch
        self.early = self._field(self.tr("Last day of the early deaths"))
        self.mid = self._field(self.tr("Last day of the mid deaths"))
        self.follows = Label("", ink="ink2", wraps=True)
        customary = StageBounds.for_incubation(batch.incubation_days)
        self.customary = LinkButton(
            self.tr("Customary: day {early} and day {mid}").format(
                early=number(customary.early_until_day), mid=number(customary.mid_until_day)
            )
        )
        form = QFormLayout()
        form.addRow(self.tr("&Early until day"), self.early)
        form.addRow(self.tr("&Mid until day"), self.mid)
        rows = QVBoxLayout()
        rows.setSpacing(10)
        rows.addLayout(form)
        rows.addWidget(self.follows)
        rows.addWidget(self.customary)
        rows.addWidget(
            Label(
                self.tr(
                    "The customary days are those of hens, 1–7, 8–14 and 15–21, at the same share of the "
                    "incubation; others are in use too. Compare only figures with the same days."
                ),
                "caption",
                "ink2",
                wraps=True,
            )
        )
        rows.addStretch(1)
        self.set_content(rows)
        self.add_main_button(self.tr("Use these days")).clicked.connect(self._store)
        self.add_leave_button(self.tr("Leave them"))
        self._show(bounds_of(batch))
        self.customary.clicked.connect(lambda: self._show(customary))
        for field in (self.early, self.mid):
            field.textChanged.connect(lambda _text: self._look())
        focus(self.early)

    @staticmethod
    def _field(name: str) -> QLineEdit:
        field = QLineEdit()
        field.setMaximumWidth(90)
        field.setMaxLength(12)
        # Its red edge takes none of its height.
        field.setMinimumHeight(field.sizeHint().height())
        field.setAccessibleName(name)
        return field

    def _show(self, bounds: StageBounds) -> None:
        self._shown = bounds
        for field, text in zip((self.early, self.mid), _texts(bounds), strict=True):
            field.setText(text)
        self._look()

    def _look(self) -> StageBounds | None:
        """What was typed, or None; what is wrong is said in its place."""
        early, early_trouble = _day(self.early.text())
        mid, mid_trouble = _day(self.mid.text())
        ends = self._batch.incubation_days
        if early is not None and not 0 < early < ends:
            early_trouble = self.tr("A day after setting and before day {end}.").format(end=number(ends, 0))
        if mid is not None and early is not None and not early_trouble and not early < mid < ends:
            mid_trouble = self.tr("A day after day {early} and before day {end}.").format(
                early=number(early, 0 if early == int(early) else 1), end=number(ends, 0)
            )
        for field, trouble in ((self.early, early_trouble), (self.mid, mid_trouble)):
            show_edge(field, bad=bool(trouble))
            field.setAccessibleDescription(trouble)
        if early is None or mid is None or early_trouble or mid_trouble:
            self._say(early_trouble or mid_trouble, "bad")
            return None
        bounds = StageBounds(early, mid, ends)
        if (self.early.text(), self.mid.text()) == _texts(self._shown):
            bounds = self._shown  # with the decimals that are not shown
        self._say(bounds_sentence(bounds), "ink2")
        return bounds

    def _say(self, text: str, ink: str) -> None:
        """What follows from the days, or what is wrong with them, in one place."""
        if text == self.follows.text():
            return
        self.follows.setText(text)
        self.follows.set_ink(ink)
        if self.isVisible():
            announce(self.follows, text)

    def _store(self) -> None:
        bounds = self._look()
        if bounds is None:
            focus(self.early if self.early.accessibleDescription() else self.mid)
            return
        changed = replace(
            self._batch, early_until_day=bounds.early_until_day, mid_until_day=bounds.mid_until_day
        )
        if self._context.door.run(lambda journal: journal.batches.replace(changed)) is not None:
            self.accept()
        else:
            self.tell(self.tr("This was not stored; what you typed is still here."))


def _texts(bounds: StageBounds) -> tuple[str, str]:
    early, mid = (
        QLocale().toString(round(day, 2), "g", 6) for day in (bounds.early_until_day, bounds.mid_until_day)
    )
    return early, mid


def _day(text: str) -> tuple[float | None, str]:
    """The typed day, and what is wrong with it."""
    try:
        return parse_number(text, below=1000.0), ""
    except NumberError as error:
        return None, number_sentence(error)
