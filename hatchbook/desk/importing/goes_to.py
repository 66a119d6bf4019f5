"""Whose readings they are: a probe in its place, or a new one; and what of the file falls into which batch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLineEdit, QWidget

from hatchbook.desk.importing.choice_combo import ChoiceCombo
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.labels import Label
from hatchbook.exchange.reading_import import NewProbe, Target
from hatchbook.journal import Journal, Machine, Probe


class GoesTo(QWidget):
    """The choice of a target, the name of a new probe, and a sentence.

    Signals:
        changed: another target was chosen.
    """

    changed = Signal()

    def __init__(self, journal: Journal, now: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._taken = {probe.name for probe in journal.probes.all()}
        self._machines = {machine.uid: machine for machine in journal.machines.all()}
        self.targets = self._all_targets(journal, now)
        self.combo = ChoiceCombo(self.tr("Goes to"))
        self.combo.set_choices(self.targets.items())
        self.combo.setCurrentIndex(0)
        self.name = QLineEdit()
        self.name.setAccessibleName(self.tr("Name of the new probe"))
        self.name.setFixedWidth(160)
        self._name_label = Label(self.tr("named"), ink="ink2")
        self.sentence = Label("", ink="ink2", wraps=True)
        self.trouble = Label("", role="caption", ink="bad")
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(3)
        grid.addWidget(self.combo, 0, 0)
        grid.addWidget(self._name_label, 0, 1)
        grid.addWidget(self.name, 0, 2)
        grid.addWidget(self.sentence, 0, 3)
        grid.addWidget(self.trouble, 1, 2, 1, 2)
        grid.setColumnStretch(3, 1)
        self.trouble.hide()
        self._show_name()
        self.combo.picked.connect(self._choose)
        self.name.textEdited.connect(lambda _text: self.is_named())

    def _all_targets(self, journal: Journal, now: int) -> dict[Target, str]:
        """Every probe in use by name, then new ones for every machine in use and the room."""
        targets: dict[Target, str] = {}
        for probe in journal.probes.all():
            if probe.retired_on is None:
                targets[probe] = self._place(journal, probe, now)
        in_use = [machine for machine in self._machines.values() if machine.retired_on is None]
        for machine in in_use:
            targets[NewProbe(self._free_name(machine), machine.uid)] = self.tr(
                "New probe in {machine}"
            ).format(machine=machine.name)
        targets[NewProbe(self._free_name(None), None)] = self.tr("New probe in the room")
        return targets

    def _place(self, journal: Journal, probe: Probe, now: int) -> str:
        stays = [place for place in journal.probes.placements(probe.uid) if place.from_at <= now]
        if not stays or (stays[-1].until_at is not None and stays[-1].until_at <= now):
            return self.tr("{probe}, put away").format(probe=probe.name)
        if stays[-1].machine is None:
            return self.tr("{probe}, in the room").format(probe=probe.name)
        machine = self._machines[stays[-1].machine]
        return self.tr("{probe}, in {machine}").format(probe=probe.name, machine=machine.name)

    def _free_name(self, machine: Machine | None) -> str:
        name = self.tr("Room logger")
        if machine is not None:
            name = self.tr("{machine} logger").format(machine=machine.name)
        number, free = 2, name
        while free in self._taken:
            free, number = f"{name} {number}", number + 1
        return free

    # ---------------------------------------------------------------- target

    def target(self) -> Target:
        """The chosen target, a new probe with the name that was typed."""
        shown = self.combo.value()
        if isinstance(shown, NewProbe):
            return replace(shown, name=self.name.text().strip())
        assert isinstance(shown, Probe)
        return shown

    def choices(self) -> Sequence[Target]:
        """All that can be chosen."""
        return tuple(self.targets)

    def show_target(self, target: Target) -> None:
        """Shows one of the targets."""
        self.combo.show_value(target)
        self._show_name()

    def is_named(self) -> bool:
        """Whether a new probe has a name that is free; what is wrong is said below the field."""
        target = self.target()
        text = ""
        if isinstance(target, NewProbe) and not target.name:
            text = self.tr("Give the new probe a name.")
        elif isinstance(target, NewProbe) and target.name in self._taken:
            text = self.tr("There is a probe of this name already.")
        self.trouble.setText(text)
        self.trouble.setVisible(bool(text))
        edge = scheme_of(self).hex("bad")
        self.name.setStyleSheet(f"border: 1.5px solid {edge};" if text else "")
        return not text

    def _choose(self, _target: object) -> None:
        self._show_name()
        self.changed.emit()

    def _show_name(self) -> None:
        shown = self.combo.value()
        is_new = isinstance(shown, NewProbe)
        self.name.setText(shown.name if isinstance(shown, NewProbe) else "")
        for widget in (self._name_label, self.name):
            widget.setVisible(is_new)
        self.is_named()
