"""When a batch is set: given itself, or planned back from the day on which chicks are wanted."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from hatchbook.desk.dialogs.with_trouble import WithTrouble
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.dates import date_time_of_year
from hatchbook.trade.instants import InstantError
from hatchbook.trade.plan import instant_of_day, set_at_for_hatch
from hatchbook.trade.programme import Programme

SETTING, HATCH = "setting", "hatch"


class TimingFields(QObject):
    """The fields of setting and hatch; the form lays them out.

    Signals:
        edited: the instant of setting may be another.
    """

    edited = Signal()

    def __init__(self, zone: ZoneInfo, at: int, parent: QWidget) -> None:
        super().__init__(parent)
        self._zone = zone
        self._programme: Programme | None = None
        self.way = Segmented(
            [(SETTING, self.tr("from setting")), (HATCH, self.tr("back from the hatch"))],
            name=self.tr("Plan from"),
        )
        self.at = InstantEdit(zone, at)
        self.field = WithTrouble(self.at, edged=self.at.field)
        self.title = Label("")
        self.title.setBuddy(self.at.field)
        self.other_title = Label("", ink="ink2")
        self.other = Label("", ink="ink2")
        self.way.chosen.connect(self._turn_round)
        self.at.edited.connect(self._edited)
        self._name()

    @property
    def plans_back(self) -> bool:
        """Whether the wanted hatch day is what is given."""
        return self.way.current() == HATCH

    def show_programme(self, programme: Programme) -> None:
        """What is given stays, what follows from it moves with the length of the incubation."""
        self._programme = programme
        self._name()

    def show_setting(self, at: int) -> None:
        """Gives the instant of setting."""
        self.way.choose(SETTING)
        self.at.set_instant(at)
        self._name()

    def set_at(self) -> int:
        """The instant of setting, UTC seconds.

        Raises:
            InstantError: the clock never showed the time that stands in the field.
        """
        at = self.at.instant()
        if self.plans_back and self._programme is not None:
            return set_at_for_hatch(self._programme, at)
        return at

    def _turn_round(self, way: object) -> None:
        """The other end is given from now on; the batch stays where it is."""
        try:
            at = self.at.instant()
        except InstantError:
            at = None
        if at is not None and self._programme is not None:
            if way == HATCH:
                at = instant_of_day(at, self._programme.incubation_days)
            else:
                at = set_at_for_hatch(self._programme, at)
            blocked = self.at.blockSignals(True)
            self.at.set_instant(at)
            self.at.blockSignals(blocked)
        self._edited()

    def _edited(self) -> None:
        self._name()
        self.edited.emit()

    def _name(self) -> None:
        back = self.plans_back
        self.title.setText(self.tr("Hatch &on") if back else self.tr("Set &on"))
        self.at.set_accessible_name(self.tr("Wanted hatch day") if back else self.tr("Set on"))
        self.other_title.setText(self.tr("Set on") if back else self.tr("Hatch due"))
        try:
            at = self.at.instant()
        except InstantError as error:
            self.field.tell(str(error))
            self.other.setText("")
            return
        self.field.tell("")
        if self._programme is not None:
            days = self._programme.incubation_days
            other = set_at_for_hatch(self._programme, at) if back else instant_of_day(at, days)
            self.other.setText(date_time_of_year(other, self._zone))

    # ---------------------------------------------------------------- keeping what was typed

    def state(self) -> dict[str, object]:
        """What is given: which end, and when; None where the clock never showed that time."""
        try:
            at: int | None = self.at.instant()
        except InstantError:
            at = None
        return {"way": str(self.way.current()), "at": at}

    def restore(self, state: dict[str, object]) -> None:
        """Gives again what was given."""
        self.way.choose(str(state["way"]))
        if state["at"] is not None:
            self.at.set_instant(int(str(state["at"])))
        self._name()
