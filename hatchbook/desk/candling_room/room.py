"""The candling room: the whole screen dark, one hand on the keys, every verdict stored the moment it is given."""

from __future__ import annotations

import time
from enum import StrEnum
from typing import TypeVar

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QGuiApplication, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QDialog, QVBoxLayout, QWidget

from hatchbook.desk import settings
from hatchbook.desk.candling_room.hands import LAYOUTS, Deed, Hand, next_hand
from hatchbook.desk.candling_room.keyboard import Command, Digit, KeyReader, Pressed
from hatchbook.desk.candling_room.number_entry import NumberEntry
from hatchbook.desk.candling_room.places import KeyPlaces
from hatchbook.desk.candling_room.pointer import PointerHider
from hatchbook.desk.candling_room.room_view import RoomView
from hatchbook.desk.candling_room.round_state import Direction, Order, next_order
from hatchbook.desk.candling_room.sitting import Refusal, Refused, Sitting
from hatchbook.desk.context import DeskContext
from hatchbook.desk.theme.theme import wear_scheme
from hatchbook.desk.theme.tokens import CANDLING_LEVELS, load_scheme
from hatchbook.desk.words import candling as words
from hatchbook.desk.words.dates import batch_day
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.history import step_sentence
from hatchbook.journal import Batch, JournalError
from hatchbook.trade.candling import CandlingLook, first_useful_day, look_on
from hatchbook.trade.codes import FindingCode

_TICK_MS = 5000
_Choice = TypeVar("_Choice", bound=StrEnum)


class CandlingRoom(QDialog):
    """Goes on with the candling of the last hours, or begins one with the first verdict.

    What lies behind it is told of the changes once, when it closes.
    """

    def __init__(
        self,
        context: DeskContext,
        batch: Batch,
        parent: QWidget | None = None,
        *,
        platform: str | None = None,
    ) -> None:
        """``platform``: Qt's name of the platform that sends the keys; None for the one that runs."""
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowFlag(Qt.WindowType.FramelessWindowHint)
        self._context = context
        kept = context.settings
        self._hand = _kept(Hand, kept.get(settings.CANDLING_HAND))
        self._light = min(max(kept.get(settings.CANDLING_LIGHT), 1), len(CANDLING_LEVELS))
        self.sitting = Sitting(
            context.door.journal,
            context.door.run,
            batch,
            context.now,
            order=_kept(Order, kept.get(settings.CANDLING_ORDER)),
            by_whom=kept.get(settings.OBSERVER),
        )
        self._number = NumberEntry()
        self._rests = self.sitting.state.finished
        self._reader = KeyReader(KeyPlaces(platform or QGuiApplication.platformName()))
        self.view = RoomView(context, self.sitting)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.addWidget(self.view)
        title = self.tr("{candling}, {batch}")
        named = f"{batch.label} {batch.name}".strip()
        self.setWindowTitle(title.format(candling=self.view.title, batch=named))
        self._clock = QTimer(self)
        self._clock.setInterval(_TICK_MS)
        self._clock.timeout.connect(self.view.show_time)
        self._clock.start()
        self._pointer = PointerHider(self)
        self._connect()
        self._wear()
        self._show_hand()
        self._greet()
        # Last: what fails before this must not leave the door held.
        self._holding = context.door.hold_back()

    def _connect(self) -> None:
        self.view.head.light_wanted.connect(self._change_light)
        self.view.tray.egg_pointed_at.connect(self._point_at)
        self.view.keys.given.connect(self.press)
        self.view.hints.pressed.connect(self.press)
        self.view.foot.entry_left.connect(self._take_keys)
        self._context.door.refused.connect(self._tell_refused)

    def enter(self) -> None:
        """Opens over the whole screen: no other window is to shine."""
        over = self.parentWidget() or self
        self.setGeometry(over.screen().geometry())
        self.setWindowState(Qt.WindowState.WindowFullScreen)
        self.open()

    def showEvent(self, event: QShowEvent) -> None:
        """The eggs get the keys; the pointer hides when it is not needed."""
        super().showEvent(event)
        self._take_keys()
        self._pointer.watch()

    def done(self, result: int) -> None:
        """Leaves the room; what lies behind it hears what was changed."""
        self._leave()
        super().done(result)

    def closeEvent(self, event: QCloseEvent) -> None:
        """As Esc: everything is stored already."""
        self._leave()
        super().closeEvent(event)

    def _leave(self) -> None:
        self._clock.stop()
        self._pointer.stop()
        self._holding.release()

    # ---------------------------------------------------------------- keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Every key of the room comes here, whatever has the focus; only the entry line keeps its own."""
        if self.view.foot.is_typing:
            return
        pressed = self._reader.read(event, LAYOUTS[self._hand])
        self.view.keys.show_printed(self._reader.printed)
        if pressed is not None:
            self.press(pressed)

    def press(self, pressed: Pressed) -> None:
        """Does what a key means."""
        match pressed:
            case FindingCode():
                self._give(pressed)
            case Deed():
                self._do(pressed)
            case Command():
                self._obey(pressed)
            case Digit():
                current = self.sitting.state.current
                self._number.type(pressed.text, time.monotonic(), "" if current is None else current.uid)
                self._find_number()
            case Direction():
                self._number.close()
                self.sitting.state.step(pressed)
                self._look_at_egg()

    def _do(self, deed: Deed) -> None:
        match deed:
            case Deed.AS_LAST:
                self._give(None)
            case Deed.TAKE_BACK if self._number.text:
                self._number.take_back()
                self._find_number()
            case Deed.TAKE_BACK:
                self._take_back()
            case Deed.SKIP if self._number.text:
                self._close_number()
            case Deed.SKIP if self._rests:
                self.sitting.end()
                self.accept()
            case Deed.SKIP:
                self._skip()
            case Deed.LID:
                if self.sitting.toggle_lid():
                    self.view.show_time()
                    self.view.foot.tell(self.view.head.lid.text())

    def _obey(self, command: Command) -> None:
        keep = self._context.settings.keep
        match command:
            case Command.STOP if self._number.text:
                self._close_number()
            case Command.STOP:
                self.reject()
            case Command.BRIGHTER:
                self._change_light(1)
            case Command.DIMMER:
                self._change_light(-1)
            case Command.HAND:
                self._hand = next_hand(self._hand)
                keep(settings.CANDLING_HAND, str(self._hand))
                self._show_hand()
            case Command.ORDER:
                self.sitting.state.set_order(next_order(self.sitting.state.order))
                keep(settings.CANDLING_ORDER, str(self.sitting.state.order))
                self._show_hand()
            case Command.NOTE:
                self._ask_note()
            case Command.OBSERVER:
                by_whom = self.sitting.candling.by_whom
                self.view.foot.ask(self.tr("Who candles"), by_whom, self._name_observer)

    # ---------------------------------------------------------------- the round

    def _give(self, code: FindingCode | None) -> None:
        """Gives a verdict, None for that of the last time; not while a number is typed that no egg has."""
        current = self.sitting.state.current
        if self._number.number is not None and (current is None or current.number != self._number.number):
            self._find_number()
            return
        self._number.close()
        outcome = self.sitting.give_last() if code is None else self.sitting.give(code)
        if isinstance(outcome, Refused):
            self._tell_why(outcome)
            return
        self._rests = self.sitting.state.finished
        self.view.tray.eggs.tell_changed(outcome.egg.uid)
        self.view.light_up(outcome.code)
        self._show()
        warns = bool(outcome.contradictions) or outcome.code is FindingCode.ROTTEN
        self.view.foot.tell(words.given_sentence(outcome, self.view.place(outcome.egg)), warns=warns)

    def _take_back(self) -> None:
        outcome = self.sitting.take_back()
        if isinstance(outcome, Refused):
            self._tell_why(outcome)
            return
        if outcome.egg is not None:
            self.view.tray.eggs.tell_changed(outcome.egg.uid)
            text = self.tr("{place}: taken back.").format(place=self.view.place(outcome.egg))
        else:
            step = step_sentence(outcome.step, self._context.zone)
            text = self.tr("Taken back: {step}.").format(step=step)
        self._look_at_egg()
        self.view.foot.tell(text)

    def _skip(self) -> None:
        state = self.sitting.state
        if state.skip(self._context.now()):
            self._look_at_egg()
        elif state.finished:
            self._rests = True
            self._show()
        else:
            self.view.foot.tell(self.tr("It is the only egg left."))

    def _look_at_egg(self) -> None:
        """The cursor has moved: the egg is shown even when all are done."""
        self._rests = self.sitting.state.current is None
        self._show()

    def _point_at(self, uid: str) -> None:
        self._number.close()
        self.sitting.state.go_to_egg(uid)
        self._look_at_egg()

    def _find_number(self) -> None:
        """Goes to the egg whose number is being typed; back to where it was typed where there is none."""
        number, state = self._number.number, self.sitting.state
        text = "" if number is None else self.tr("Egg {number}").format(number=number)
        found = number is not None and state.go_to(number)
        if not found and self._number.origin:
            state.go_to_egg(self._number.origin)
        if number is not None and not found:
            text = self.tr("There is no egg {number} in this batch.").format(number=number)
        self.view.foot.tell(text, warns=number is not None and not found)
        self._look_at_egg()

    def _close_number(self) -> None:
        self._number.close()
        self.view.foot.tell("")
        self._look_at_egg()

    def _ask_note(self) -> None:
        egg = self.sitting.state.current
        if egg is not None:
            label = self.tr("Note on {place}").format(place=self.view.place(egg))
            self.view.foot.ask(label, "", self._keep_note)

    def _keep_note(self, text: str) -> bool:
        if not text.strip():
            return True
        if not self.sitting.note(text):
            return False
        self.view.foot.tell(self.tr("The note is stored. Backspace takes it back."))
        self._show()
        return True

    def _name_observer(self, name: str) -> bool:
        if not self.sitting.set_observer(name):
            return False
        self._context.settings.keep(settings.OBSERVER, name.strip())
        self.view.show_time()
        return True

    # ---------------------------------------------------------------- showing

    def _show(self) -> None:
        self.view.show_all(self._number, rests=self._rests)

    def _show_hand(self) -> None:
        self.view.show_hand(self._hand, self._reader.printed)
        # The keys are new.
        self._pointer.watch()
        self._show()

    def _change_light(self, step: int) -> None:
        light = min(max(self._light + step, 1), len(CANDLING_LEVELS))
        if light != self._light:
            self._light = light
            self._context.settings.keep(settings.CANDLING_LIGHT, light)
            self._wear()

    def _wear(self) -> None:
        wear_scheme(self, load_scheme(CANDLING_LEVELS[self._light - 1]))
        self.view.head.show_light(self._light)

    def _take_keys(self) -> None:
        self.view.tray.setFocus(Qt.FocusReason.OtherFocusReason)

    def _greet(self) -> None:
        state, batch = self.sitting.state, self.sitting.batch
        if state.done and not self._rests:
            self.view.foot.tell(self.tr("The candling goes on: %n egg(s) are done.", "", state.done))
        elif look_on(max(self.sitting.day, 0.0), batch.incubation_days) is CandlingLook.TOO_EARLY:
            day = batch_day(first_useful_day(batch.incubation_days), 0)
            self.view.foot.tell(self.tr("Little is to be seen before {day}.").format(day=day))
        elif not self._rests:
            self.view.foot.tell(self.tr("Every verdict is stored as you give it."))

    def _tell_why(self, refused: Refused) -> None:
        # Of what the journal refused it has said why, and that is shown.
        if refused.why is not Refusal.NOT_STORED:
            egg = refused.egg
            place, figures = ("", None) if egg is None else (self.view.place(egg), self.sitting.eggs[egg.uid])
            step = "" if refused.step is None else step_sentence(refused.step, self._context.zone)
            self.view.foot.tell(words.refused_sentence(refused, place, figures, step), warns=True)

    def _tell_refused(self, error: JournalError) -> None:
        self.view.foot.tell(error_sentence(error), warns=True)


def _kept(kind: type[_Choice], value: str) -> _Choice:
    """A choice as it was kept; the first one where that is none."""
    choices = list(kind)
    return next((choice for choice in choices if choice.value == value), choices[0])
