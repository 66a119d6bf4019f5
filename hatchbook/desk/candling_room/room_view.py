"""The parts of the candling room in their places, showing a sitting as it is."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.candling_room.egg_face import EggFace, Face
from hatchbook.desk.candling_room.faces import egg_face, number_face, summary_face
from hatchbook.desk.candling_room.foot import RoomFoot
from hatchbook.desk.candling_room.hands import LAYOUTS, Deed, Hand, next_hand
from hatchbook.desk.candling_room.head import RoomHead
from hatchbook.desk.candling_room.hints import HintGrid
from hatchbook.desk.candling_room.keyboard import Command
from hatchbook.desk.candling_room.number_entry import NumberEntry
from hatchbook.desk.candling_room.room_key import KeyBlock
from hatchbook.desk.candling_room.round_state import RoundEgg, next_order
from hatchbook.desk.candling_room.sitting import Sitting
from hatchbook.desk.candling_room.tray_column import TrayColumn
from hatchbook.desk.context import DeskContext
from hatchbook.desk.words import candling as words
from hatchbook.desk.words.dates import batch_day, date_time
from hatchbook.trade.candling import LID_CARE_S, look_on
from hatchbook.trade.codes import FindingCode

_MARGIN = 28
#: How the width is shared by tray, egg and keys; and where the tray has many columns.
_SHARES, _WIDE_SHARES = (37, 26, 44), (48, 22, 40)
_MANY_COLUMNS = 9


class RoomView(QWidget):
    """Head, tray, egg, keys, hints, foot; it shows and never acts.

    Args:
        context: for the time and its zone.
        sitting: what is shown.
    """

    def __init__(self, context: DeskContext, sitting: Sitting, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context, self._sitting = context, sitting
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.title = self.tr("Candling on {day}").format(day=batch_day(sitting.day, 0))
        look = look_on(max(sitting.day, 0.0), sitting.batch.incubation_days)
        self.head = RoomHead(self.title)
        self.left = TrayColumn(sitting)
        self.tray = self.left.tray
        self.face = EggFace()
        self.keys = KeyBlock(sitting.fate_of, look)
        self.hints = HintGrid()
        self.foot = RoomFoot()
        self._as_last_key = self._skip_key = ""
        self._lay_out()

    def _lay_out(self) -> None:
        right = QVBoxLayout()
        right.setSpacing(0)
        right.addStretch(30)
        right.addWidget(self.keys, 10_000)
        right.addSpacing(20)
        right.addWidget(self.hints)
        right.addStretch(70)
        middle = QHBoxLayout()
        middle.setSpacing(24)
        many = self.tray.eggs.columnCount() >= _MANY_COLUMNS
        tray_share, face_share, keys_share = _WIDE_SHARES if many else _SHARES
        middle.addWidget(self.left, tray_share)
        middle.addWidget(self.face, face_share)
        middle.addLayout(right, keys_share)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(_MARGIN, 18, _MARGIN, 12)
        rows.setSpacing(20)
        rows.addWidget(self.head)
        rows.addLayout(middle, 1)
        rows.addWidget(self.foot)

    def place(self, egg: RoundEgg) -> str:
        """An egg by its place."""
        return words.egg_place(self._sitting.eggs[egg.uid], self.tray.eggs.trays)

    # ---------------------------------------------------------------- showing

    def show_all(self, typed: NumberEntry, *, rests: bool) -> None:
        """Shows the sitting as it is; ``rests``: all eggs are done, and the summary is wanted."""
        state = self._sitting.state
        egg = state.current
        self.show_progress(rests=rests)
        if egg is not None:
            self.tray.eggs.show_tray_of(egg)
            self.tray.show_current(egg.uid)
        self.left.name_tray()
        self.face.show_face(summary_face(self._sitting) if rests or egg is None else self._face(egg, typed))
        last = None if egg is None or rests else egg.last
        self.keys.show_counts(state.counts, last)
        self.hints.hint(self._as_last_key).set_does(words.as_last_words(last))
        self.hints.hint(self._skip_key).set_does(
            self.tr("end the candling") if rests and state.done else self.tr("skip the egg")
        )
        self.show_time()

    def show_progress(self, *, rests: bool) -> None:
        """How many are done, and how long the rest takes."""
        state = self._sitting.state
        due = state.due
        at = -1 if rests else next((at for at, egg in enumerate(due) if egg is state.current), -1)
        text = words.progress_sentence(state.done, state.total, state.seconds_left())
        self.head.show_progress([egg.uid in state.verdicts for egg in due], at, text)

    def show_time(self) -> None:
        """The clock, and how long the lid is open."""
        now, lid, batch = self._context.now(), self._sitting.lid, self._sitting.batch
        seconds, counts = lid.seconds(now), lid.counts(now)
        warns = counts and seconds > LID_CARE_S
        text = words.lid_sentence(seconds, counts=counts)
        self.head.show_lid(self.tr("{lid}: eggs cool").format(lid=text) if warns else text, warns=warns)
        facts = self.tr("{batch}, {when}")
        if self._sitting.candling.by_whom:
            facts = self.tr("{batch}, {when}, candled by {observer}")
        when = date_time(now, self._context.zone)
        observer = self._sitting.candling.by_whom
        named = f"{batch.label} {batch.name}".strip()
        self.head.show_facts(facts.format(batch=named, when=when, observer=observer))

    def show_hand(self, hand: Hand, printed: Mapping[str, str]) -> None:
        """Lays out the keys of another hand; ``printed``: what is printed on the keys, by place."""
        layout, order = LAYOUTS[hand], self._sitting.state.order
        self._as_last_key, self._skip_key, take_back = words.deed_keys(hand)
        self.keys.show_hand(layout)
        self.keys.show_printed(printed)
        self.hints.show_hints(
            [
                (self._as_last_key, words.as_last_words(None), Deed.AS_LAST),
                (take_back, self.tr("take it back"), Deed.TAKE_BACK),
                (self._skip_key, self.tr("skip the egg"), Deed.SKIP),
                (self.tr("Arrows"), self.tr("another egg"), None),
                (self.tr("1 2 3 …"), self.tr("egg by its number"), None),
                (self.tr("Esc"), self.tr("stop, all is stored"), Command.STOP),
            ],
            [
                (layout.lid_printed, self.tr("lid shut, lid open"), Deed.LID),
                ("N", self.tr("note"), Command.NOTE),
                ("F2", words.hand_word(next_hand(hand)), Command.HAND),
                ("F3", words.order_word(next_order(order)), Command.ORDER),
                ("F4", self.tr("who candles"), Command.OBSERVER),
                # On the number pad, plus is a verdict.
                ("= −" if hand is Hand.PAD else "+ −", self.tr("screen light"), Command.BRIGHTER),
            ],
        )
        aside = self.tr("{hand}, eggs {order}")
        self.foot.aside.setText(aside.format(hand=words.hand_sentence(hand), order=words.order_word(order)))

    def light_up(self, code: FindingCode) -> None:
        """The key of a verdict that was stored."""
        self.keys.key(code).light_up()

    def _face(self, egg: RoundEgg, typed: NumberEntry) -> Face:
        if typed.number is not None and typed.number != egg.number:
            return number_face(typed.text)
        notes = self._context.door.journal.events.of_egg(egg.uid)
        return egg_face(self._sitting, egg, self.place(egg), notes[-1].text if notes else "")
