"""The fields of records in the breeder's words, and those that say nothing to a breeder."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP

#: By field; where a kind of record means something else by it, below.
_WORDS = {
    "accuracy_humidity": QT_TRANSLATE_NOOP("RecordFields", "humidity right to"),
    "accuracy_temperature_c": QT_TRANSLATE_NOOP("RecordFields", "temperature right to"),
    "already": QT_TRANSLATE_NOOP("RecordFields", "stored before"),
    "altitude_m": QT_TRANSLATE_NOOP("RecordFields", "altitude"),
    "area_cm2": QT_TRANSLATE_NOOP("RecordFields", "open surface"),
    "at": QT_TRANSLATE_NOOP("RecordFields", "time"),
    "batch": QT_TRANSLATE_NOOP("RecordFields", "batch"),
    "breadth_mm": QT_TRANSLATE_NOOP("RecordFields", "breadth"),
    "breed": QT_TRANSLATE_NOOP("RecordFields", "breed"),
    "by_whom": QT_TRANSLATE_NOOP("RecordFields", "done by"),
    "channels_filled": QT_TRANSLATE_NOOP("RecordFields", "channels filled"),
    "chick_mass_g": QT_TRANSLATE_NOOP("RecordFields", "mass of the chick"),
    "clear": QT_TRANSLATE_NOOP("RecordFields", "clear"),
    "closed_at": QT_TRANSLATE_NOOP("RecordFields", "closed"),
    "culled": QT_TRANSLATE_NOOP("RecordFields", "culled"),
    "dam": QT_TRANSLATE_NOOP("RecordFields", "hen"),
    "day": QT_TRANSLATE_NOOP("RecordFields", "day"),
    "dead_day": QT_TRANSLATE_NOOP("RecordFields", "died on day"),
    "differing": QT_TRANSLATE_NOOP("RecordFields", "differing from those stored"),
    "done_at": QT_TRANSLATE_NOOP("RecordFields", "done"),
    "due_at": QT_TRANSLATE_NOOP("RecordFields", "due"),
    "early_dead": QT_TRANSLATE_NOOP("RecordFields", "dead early"),
    "early_until_day": QT_TRANSLATE_NOOP("RecordFields", "early deaths until day"),
    "egg": QT_TRANSLATE_NOOP("RecordFields", "egg"),
    "eggs_on_tray": QT_TRANSLATE_NOOP("RecordFields", "eggs on the tray"),
    "eggs_set": QT_TRANSLATE_NOOP("RecordFields", "eggs set"),
    "ended_at": QT_TRANSLATE_NOOP("RecordFields", "ended"),
    "ends_at": QT_TRANSLATE_NOOP("RecordFields", "ended"),
    "file_name": QT_TRANSLATE_NOOP("RecordFields", "file"),
    "first_at": QT_TRANSLATE_NOOP("RecordFields", "first reading"),
    "from_at": QT_TRANSLATE_NOOP("RecordFields", "since"),
    "from_day": QT_TRANSLATE_NOOP("RecordFields", "from day"),
    "from_on": QT_TRANSLATE_NOOP("RecordFields", "since"),
    "hatched": QT_TRANSLATE_NOOP("RecordFields", "hatched"),
    "humidity": QT_TRANSLATE_NOOP("RecordFields", "humidity"),
    "humidity_aim": QT_TRANSLATE_NOOP("RecordFields", "humidity aimed at"),
    "humidity_high": QT_TRANSLATE_NOOP("RecordFields", "highest mean humidity"),
    "humidity_low": QT_TRANSLATE_NOOP("RecordFields", "lowest mean humidity"),
    "incubation_days": QT_TRANSLATE_NOOP("RecordFields", "days of incubation"),
    "infertile_opened": QT_TRANSLATE_NOOP("RecordFields", "infertile when opened"),
    "kept_though_odd": QT_TRANSLATE_NOOP("RecordFields", "kept though odd"),
    "kind": QT_TRANSLATE_NOOP("RecordFields", "kind"),
    "label": QT_TRANSLATE_NOOP("RecordFields", "number"),
    "laid_mass_g": QT_TRANSLATE_NOOP("RecordFields", "mass when laid"),
    "laid_on": QT_TRANSLATE_NOOP("RecordFields", "laid on"),
    "last_at": QT_TRANSLATE_NOOP("RecordFields", "last reading"),
    "late_dead": QT_TRANSLATE_NOOP("RecordFields", "dead late"),
    "length_mm": QT_TRANSLATE_NOOP("RecordFields", "length"),
    "letter": QT_TRANSLATE_NOOP("RecordFields", "letter on the shells"),
    "lines": QT_TRANSLATE_NOOP("RecordFields", "lines"),
    "loss_day": QT_TRANSLATE_NOOP("RecordFields", "day of the weight lost"),
    "loss_high_percent": QT_TRANSLATE_NOOP("RecordFields", "most weight lost"),
    "loss_low_percent": QT_TRANSLATE_NOOP("RecordFields", "least weight lost"),
    "machine": QT_TRANSLATE_NOOP("RecordFields", "machine"),
    "marked": QT_TRANSLATE_NOOP("RecordFields", "marked for weighing"),
    "mass_g": QT_TRANSLATE_NOOP("RecordFields", "mass"),
    "method": QT_TRANSLATE_NOOP("RecordFields", "checked by"),
    "mid_dead": QT_TRANSLATE_NOOP("RecordFields", "dead mid"),
    "mid_until_day": QT_TRANSLATE_NOOP("RecordFields", "mid deaths until day"),
    "name": QT_TRANSLATE_NOOP("RecordFields", "name"),
    "note": QT_TRANSLATE_NOOP("RecordFields", "note"),
    "number": QT_TRANSLATE_NOOP("RecordFields", "number"),
    "pen": QT_TRANSLATE_NOOP("RecordFields", "pen"),
    "pipped_dead": QT_TRANSLATE_NOOP("RecordFields", "died in pip"),
    "place": QT_TRANSLATE_NOOP("RecordFields", "place"),
    "position": QT_TRANSLATE_NOOP("RecordFields", "position"),
    "probe": QT_TRANSLATE_NOOP("RecordFields", "probe"),
    "programme": QT_TRANSLATE_NOOP("RecordFields", "programme"),
    "programme_code": QT_TRANSLATE_NOOP("RecordFields", "programme"),
    "quantity": QT_TRANSLATE_NOOP("RecordFields", "checked for"),
    "reason": QT_TRANSLATE_NOOP("RecordFields", "reason"),
    "reference_value": QT_TRANSLATE_NOOP("RecordFields", "true value"),
    "rejected": QT_TRANSLATE_NOOP("RecordFields", "lines left out"),
    "remark": QT_TRANSLATE_NOOP("RecordFields", "remark"),
    "resolution_g": QT_TRANSLATE_NOOP("RecordFields", "scale to"),
    "result": QT_TRANSLATE_NOOP("RecordFields", "found"),
    "retired_on": QT_TRANSLATE_NOOP("RecordFields", "retired on"),
    "ring": QT_TRANSLATE_NOOP("RecordFields", "ring or mark"),
    "rotten": QT_TRANSLATE_NOOP("RecordFields", "rotten"),
    "salt": QT_TRANSLATE_NOOP("RecordFields", "salt"),
    "season": QT_TRANSLATE_NOOP("RecordFields", "season"),
    "set_at": QT_TRANSLATE_NOOP("RecordFields", "set"),
    "set_mass_g": QT_TRANSLATE_NOOP("RecordFields", "mass when set"),
    "set_on": QT_TRANSLATE_NOOP("RecordFields", "set on"),
    "sex": QT_TRANSLATE_NOOP("RecordFields", "sex"),
    "shell_note": QT_TRANSLATE_NOOP("RecordFields", "shell"),
    "shown_value": QT_TRANSLATE_NOOP("RecordFields", "value it showed"),
    "source": QT_TRANSLATE_NOOP("RecordFields", "source"),
    "species": QT_TRANSLATE_NOOP("RecordFields", "species"),
    "stored": QT_TRANSLATE_NOOP("RecordFields", "readings stored"),
    "taken_out": QT_TRANSLATE_NOOP("RecordFields", "taken out"),
    "tare_g": QT_TRANSLATE_NOOP("RecordFields", "empty tray"),
    "temperature_aim_c": QT_TRANSLATE_NOOP("RecordFields", "temperature aimed at"),
    "temperature_c": QT_TRANSLATE_NOOP("RecordFields", "temperature"),
    "temperature_high_c": QT_TRANSLATE_NOOP("RecordFields", "highest temperature"),
    "temperature_low_c": QT_TRANSLATE_NOOP("RecordFields", "lowest temperature"),
    "text": QT_TRANSLATE_NOOP("RecordFields", "text"),
    "title": QT_TRANSLATE_NOOP("RecordFields", "name"),
    "to_day": QT_TRANSLATE_NOOP("RecordFields", "until day"),
    "tray_columns": QT_TRANSLATE_NOOP("RecordFields", "places in a row"),
    "tray_mass_g": QT_TRANSLATE_NOOP("RecordFields", "tray with eggs"),
    "tray_rows": QT_TRANSLATE_NOOP("RecordFields", "rows of a tray"),
    "trays": QT_TRANSLATE_NOOP("RecordFields", "trays"),
    "turns_per_day": QT_TRANSLATE_NOOP("RecordFields", "turnings a day"),
    "until_at": QT_TRANSLATE_NOOP("RecordFields", "until"),
    "until_on": QT_TRANSLATE_NOOP("RecordFields", "until"),
    "value": QT_TRANSLATE_NOOP("RecordFields", "value"),
    "vent": QT_TRANSLATE_NOOP("RecordFields", "vent"),
    "volume_ml": QT_TRANSLATE_NOOP("RecordFields", "holds"),
    "water_ml": QT_TRANSLATE_NOOP("RecordFields", "water"),
    "weigh_plan": QT_TRANSLATE_NOOP("RecordFields", "weighing"),
}
_OWN_WORDS = {
    ("machine", "kind"): QT_TRANSLATE_NOOP("RecordFields", "air"),
    ("batch_phase", "kind"): QT_TRANSLATE_NOOP("RecordFields", "phase"),
    ("duty", "kind"): QT_TRANSLATE_NOOP("RecordFields", "duty"),
    ("event", "kind"): QT_TRANSLATE_NOOP("RecordFields", "event"),
    ("egg", "mark"): QT_TRANSLATE_NOOP("RecordFields", "mark on the shell"),
    ("hatching", "mark"): QT_TRANSLATE_NOOP("RecordFields", "seen"),
    ("finding", "code"): QT_TRANSLATE_NOOP("RecordFields", "finding"),
    ("break_out_mark", "code"): QT_TRANSLATE_NOOP("RecordFields", "sign"),
}
#: Never shown: what only the file needs, or what is said with the record itself.
_HIDDEN = frozenset(
    {"uid", "digest", "layout", "entered", "import_run", "candling", "weighing", "break_out", "key"}
)
_OWN_HIDDEN = frozenset(
    {
        ("probe", "number"),
        ("import_run", "number"),
        ("import_run", "probe"),
        ("programme", "code"),
        ("break_out_mark", "kind"),
        ("channel", "machine"),
        ("probe_placement", "probe"),
        ("probe_check", "probe"),
        ("pen_member", "pen"),
        ("reading", "probe"),
        ("batch_phase", "batch"),
        ("duty", "batch"),
        ("duty", "ordinal"),
        ("duty", "of"),
        ("weighing", "batch"),
        ("egg", "batch"),
        ("candling", "batch"),
        ("event", "batch"),
        *((kind, "egg") for kind in ("finding", "egg_mass", "hatching", "break_out", "removal", "event")),
    }
)
PLACE_FIELDS = ("tray", "tray_row", "tray_column")
"""The three that together are an egg's place."""


def is_told(kind: str, field: str) -> bool:
    """Whether a field says something to a breeder."""
    return field not in _HIDDEN and (kind, field) not in _OWN_HIDDEN


def field_word(kind: str, field: str) -> str | None:
    """The word for a field of a kind of record, as it stands in a sentence; None where there is none."""
    word = _OWN_WORDS.get((kind, field)) or _WORDS.get(field)
    if field in PLACE_FIELDS:
        word = _WORDS["place"]
    return None if word is None else QCoreApplication.translate("RecordFields", word)
