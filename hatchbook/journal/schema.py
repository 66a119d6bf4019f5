"""The tables of a journal file, version 1.

Instants are whole seconds since 1970 in UTC; dates without a time are ISO text. Units: °C, % RH, grams,
millimetres, metres of altitude, millilitres. Every record has a random ``uid`` so that copies can be merged;
``probe.number`` and ``import_run.number`` are short keys for the rows that come by the million.
Ranges are checked here, so that no other program can store nonsense either: dates that there are (``+0 days``
makes 30 February another day), numbers that are finite (``9e999`` is SQLite's infinity).
"""

from __future__ import annotations

#: "HtBk" as a number: tells the file from other SQLite files.
APPLICATION_ID = 0x4874426B

_HOLDING = """
CREATE TABLE setting (
    key TEXT PRIMARY KEY NOT NULL,
    value TEXT NOT NULL
) STRICT;

CREATE TABLE machine (
    uid TEXT PRIMARY KEY NOT NULL,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    kind TEXT NOT NULL CHECK (kind IN ('forced_air', 'still_air')),
    altitude_m REAL NOT NULL DEFAULT 0 CHECK (altitude_m BETWEEN -500 AND 6000),
    trays INTEGER NOT NULL DEFAULT 1 CHECK (trays BETWEEN 1 AND 20),
    tray_rows INTEGER NOT NULL CHECK (tray_rows BETWEEN 1 AND 60),
    tray_columns INTEGER NOT NULL CHECK (tray_columns BETWEEN 1 AND 60),
    note TEXT NOT NULL DEFAULT '',
    retired_on TEXT CHECK (date(retired_on, '+0 days') IS retired_on)
) STRICT;

CREATE TABLE channel (
    uid TEXT PRIMARY KEY NOT NULL,
    machine TEXT NOT NULL REFERENCES machine (uid),
    position INTEGER NOT NULL CHECK (position >= 1),
    name TEXT NOT NULL DEFAULT '',
    area_cm2 REAL CHECK (area_cm2 > 0 AND area_cm2 < 9e999),
    volume_ml REAL CHECK (volume_ml > 0 AND volume_ml < 9e999),
    UNIQUE (machine, position)
) STRICT;

CREATE TABLE probe (
    uid TEXT PRIMARY KEY NOT NULL,
    number INTEGER NOT NULL UNIQUE,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    accuracy_humidity REAL CHECK (accuracy_humidity > 0 AND accuracy_humidity < 9e999),
    accuracy_temperature_c REAL CHECK (accuracy_temperature_c > 0 AND accuracy_temperature_c < 9e999),
    note TEXT NOT NULL DEFAULT '',
    retired_on TEXT CHECK (date(retired_on, '+0 days') IS retired_on)
) STRICT;

CREATE TABLE probe_placement (
    uid TEXT PRIMARY KEY NOT NULL,
    probe TEXT NOT NULL REFERENCES probe (uid),
    place TEXT NOT NULL CHECK (place IN ('machine', 'room')),
    machine TEXT REFERENCES machine (uid),
    from_at INTEGER NOT NULL,
    until_at INTEGER CHECK (until_at IS NULL OR until_at > from_at),
    CHECK ((place = 'machine') = (machine IS NOT NULL))
) STRICT;
CREATE INDEX probe_placement_machine ON probe_placement (machine, from_at);

CREATE TABLE probe_check (
    uid TEXT PRIMARY KEY NOT NULL,
    probe TEXT NOT NULL REFERENCES probe (uid),
    at INTEGER NOT NULL,
    quantity TEXT NOT NULL CHECK (quantity IN ('humidity', 'temperature')),
    method TEXT NOT NULL CHECK (method IN ('salt', 'reference')),
    reference_value REAL NOT NULL CHECK (reference_value BETWEEN -60 AND 110),
    shown_value REAL NOT NULL CHECK (shown_value BETWEEN -60 AND 110),
    salt TEXT NOT NULL DEFAULT '',
    temperature_c REAL CHECK (temperature_c BETWEEN -60 AND 100),
    note TEXT NOT NULL DEFAULT '',
    CHECK (quantity <> 'humidity' OR (reference_value BETWEEN 0 AND 100 AND shown_value BETWEEN 0 AND 100))
) STRICT;
CREATE INDEX probe_check_probe ON probe_check (probe, at);

CREATE TABLE pen (
    uid TEXT PRIMARY KEY NOT NULL,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    species TEXT NOT NULL DEFAULT '',
    breed TEXT NOT NULL DEFAULT '',
    letter TEXT NOT NULL DEFAULT '',
    from_on TEXT CHECK (date(from_on, '+0 days') IS from_on),
    until_on TEXT CHECK (date(until_on, '+0 days') IS until_on),
    note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE pen_member (
    uid TEXT PRIMARY KEY NOT NULL,
    pen TEXT NOT NULL REFERENCES pen (uid),
    name TEXT NOT NULL CHECK (name <> ''),
    sex TEXT NOT NULL CHECK (sex IN ('male', 'female')),
    breed TEXT NOT NULL DEFAULT '',
    ring TEXT NOT NULL DEFAULT '',
    from_on TEXT CHECK (date(from_on, '+0 days') IS from_on),
    until_on TEXT CHECK (date(until_on, '+0 days') IS until_on),
    note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX pen_member_pen ON pen_member (pen);

CREATE TABLE programme (
    uid TEXT PRIMARY KEY NOT NULL,
    code TEXT NOT NULL UNIQUE CHECK (code <> ''),
    species TEXT NOT NULL,
    title TEXT NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition))
) STRICT;
"""

_BATCH = """
CREATE TABLE batch (
    uid TEXT PRIMARY KEY NOT NULL,
    label TEXT NOT NULL UNIQUE CHECK (label <> ''),
    name TEXT NOT NULL DEFAULT '',
    species TEXT NOT NULL CHECK (species <> ''),
    breed TEXT NOT NULL DEFAULT '',
    machine TEXT NOT NULL REFERENCES machine (uid),
    probe TEXT REFERENCES probe (uid),
    set_at INTEGER NOT NULL,
    incubation_days REAL NOT NULL CHECK (incubation_days > 0 AND incubation_days < 9e999),
    programme TEXT NOT NULL CHECK (json_valid(programme)),
    early_until_day REAL NOT NULL CHECK (early_until_day > 0 AND early_until_day < 9e999),
    mid_until_day REAL NOT NULL CHECK (mid_until_day > early_until_day AND mid_until_day < 9e999),
    loss_low_percent REAL CHECK (loss_low_percent BETWEEN 0 AND 50),
    loss_high_percent REAL CHECK (loss_high_percent BETWEEN loss_low_percent AND 50),
    loss_day REAL CHECK (loss_day > 0 AND loss_day < 9e999),
    weigh_plan TEXT NOT NULL CHECK (weigh_plan IN ('marked', 'every_egg', 'whole_tray', 'none')),
    source TEXT NOT NULL CHECK (source IN ('own', 'shipped')),
    closed_at INTEGER CHECK (closed_at IS NULL OR closed_at >= set_at),
    note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX batch_set_at ON batch (set_at);

CREATE TABLE batch_phase (
    uid TEXT PRIMARY KEY NOT NULL,
    batch TEXT NOT NULL REFERENCES batch (uid),
    kind TEXT NOT NULL CHECK (kind IN ('incubation', 'lockdown')),
    machine TEXT REFERENCES machine (uid),
    from_day REAL NOT NULL CHECK (from_day >= 0 AND from_day < 9e999),
    to_day REAL NOT NULL CHECK (to_day > from_day AND to_day < 9e999),
    humidity_low REAL NOT NULL CHECK (humidity_low BETWEEN 0 AND 100),
    humidity_aim REAL NOT NULL CHECK (humidity_aim BETWEEN humidity_low AND humidity_high),
    humidity_high REAL NOT NULL CHECK (humidity_high BETWEEN 0 AND 100),
    temperature_low_c REAL NOT NULL CHECK (temperature_low_c BETWEEN 20 AND 45),
    temperature_aim_c REAL NOT NULL CHECK (temperature_aim_c BETWEEN temperature_low_c AND temperature_high_c),
    temperature_high_c REAL NOT NULL CHECK (temperature_high_c BETWEEN 20 AND 45),
    turns_per_day INTEGER NOT NULL DEFAULT 0 CHECK (turns_per_day BETWEEN 0 AND 48)
) STRICT;
CREATE INDEX batch_phase_batch ON batch_phase (batch, from_day);

CREATE TABLE duty (
    uid TEXT PRIMARY KEY NOT NULL,
    batch TEXT REFERENCES batch (uid),
    kind TEXT NOT NULL CHECK (kind <> ''),
    due_at INTEGER NOT NULL,
    day REAL CHECK (abs(day) < 9e999),
    ordinal INTEGER NOT NULL DEFAULT 1 CHECK (ordinal >= 1),
    of INTEGER NOT NULL DEFAULT 1 CHECK (of >= ordinal),
    text TEXT NOT NULL DEFAULT '',
    done_at INTEGER
) STRICT;
CREATE INDEX duty_due ON duty (due_at);
CREATE INDEX duty_batch ON duty (batch, due_at);

CREATE TABLE egg (
    uid TEXT PRIMARY KEY NOT NULL,
    batch TEXT NOT NULL REFERENCES batch (uid),
    number INTEGER NOT NULL CHECK (number >= 1),
    tray INTEGER CHECK (tray >= 1),
    tray_row INTEGER CHECK (tray_row >= 1),
    tray_column INTEGER CHECK (tray_column >= 1),
    pen TEXT REFERENCES pen (uid),
    dam TEXT REFERENCES pen_member (uid),
    laid_on TEXT CHECK (date(laid_on, '+0 days') IS laid_on),
    laid_mass_g REAL CHECK (laid_mass_g > 0 AND laid_mass_g < 9e999),
    set_mass_g REAL CHECK (set_mass_g > 0 AND set_mass_g < 9e999),
    length_mm REAL CHECK (length_mm > 0 AND length_mm < 9e999),
    breadth_mm REAL CHECK (breadth_mm > 0 AND breadth_mm < 9e999),
    shell_note TEXT NOT NULL DEFAULT '',
    marked INTEGER NOT NULL DEFAULT 0 CHECK (marked IN (0, 1)),
    mark TEXT NOT NULL DEFAULT '',
    remark TEXT NOT NULL DEFAULT '',
    UNIQUE (batch, number),
    CHECK ((tray IS NULL) = (tray_row IS NULL) AND (tray IS NULL) = (tray_column IS NULL))
) STRICT;
CREATE UNIQUE INDEX egg_place ON egg (batch, tray, tray_row, tray_column) WHERE tray IS NOT NULL;
CREATE INDEX egg_pen ON egg (pen);
"""

_COURSE = """
CREATE TABLE candling (
    uid TEXT PRIMARY KEY NOT NULL,
    batch TEXT NOT NULL REFERENCES batch (uid),
    at INTEGER NOT NULL,
    ended_at INTEGER CHECK (ended_at IS NULL OR ended_at >= at),
    by_whom TEXT NOT NULL DEFAULT '',
    note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX candling_batch ON candling (batch, at);

CREATE TABLE finding (
    uid TEXT PRIMARY KEY NOT NULL,
    candling TEXT NOT NULL REFERENCES candling (uid),
    egg TEXT NOT NULL REFERENCES egg (uid),
    at INTEGER NOT NULL,
    code TEXT NOT NULL
        CHECK (code IN ('clear', 'alive', 'unsure', 'early_dead', 'dead', 'cracked', 'rotten')),
    note TEXT NOT NULL DEFAULT '',
    UNIQUE (candling, egg)
) STRICT;
CREATE INDEX finding_egg ON finding (egg, at);

CREATE TABLE weighing (
    uid TEXT PRIMARY KEY NOT NULL,
    batch TEXT NOT NULL REFERENCES batch (uid),
    at INTEGER NOT NULL,
    resolution_g REAL CHECK (resolution_g > 0 AND resolution_g < 9e999),
    tray_mass_g REAL CHECK (tray_mass_g > 0 AND tray_mass_g < 9e999),
    tare_g REAL CHECK (tare_g >= 0 AND tare_g < 9e999),
    eggs_on_tray INTEGER CHECK (eggs_on_tray > 0),
    entered TEXT CHECK (entered IS NULL OR json_valid(entered)),
    note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX weighing_batch ON weighing (batch, at);

CREATE TABLE egg_mass (
    uid TEXT PRIMARY KEY NOT NULL,
    weighing TEXT NOT NULL REFERENCES weighing (uid),
    egg TEXT NOT NULL REFERENCES egg (uid),
    mass_g REAL NOT NULL CHECK (mass_g > 0 AND mass_g < 9e999),
    entered TEXT CHECK (entered IS NULL OR json_valid(entered)),
    kept_though_odd INTEGER NOT NULL DEFAULT 0 CHECK (kept_though_odd IN (0, 1)),
    UNIQUE (weighing, egg)
) STRICT;
CREATE INDEX egg_mass_egg ON egg_mass (egg);

CREATE TABLE event (
    uid TEXT PRIMARY KEY NOT NULL,
    at INTEGER NOT NULL,
    ends_at INTEGER CHECK (ends_at IS NULL OR ends_at >= at),
    kind TEXT NOT NULL CHECK (kind <> ''),
    machine TEXT REFERENCES machine (uid),
    batch TEXT REFERENCES batch (uid),
    egg TEXT REFERENCES egg (uid),
    channels_filled INTEGER CHECK (channels_filled >= 0),
    vent REAL CHECK (vent BETWEEN 0 AND 1),
    water_ml REAL CHECK (water_ml >= 0 AND water_ml < 9e999),
    text TEXT NOT NULL DEFAULT '',
    CHECK (machine IS NOT NULL OR batch IS NOT NULL)
) STRICT;
CREATE INDEX event_batch ON event (batch, at);
CREATE INDEX event_machine ON event (machine, at);

CREATE TABLE hatching (
    uid TEXT PRIMARY KEY NOT NULL,
    egg TEXT NOT NULL REFERENCES egg (uid),
    at INTEGER NOT NULL,
    mark TEXT NOT NULL CHECK (mark IN ('internal_pip', 'external_pip', 'hatched', 'helped', 'died_in_pip',
                                       'weak', 'culled')),
    chick_mass_g REAL CHECK (chick_mass_g > 0 AND chick_mass_g < 9e999),
    ring TEXT NOT NULL DEFAULT '',
    note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX hatching_egg ON hatching (egg, at);

CREATE TABLE break_out (
    uid TEXT PRIMARY KEY NOT NULL,
    egg TEXT NOT NULL UNIQUE REFERENCES egg (uid),
    at INTEGER NOT NULL,
    by_whom TEXT NOT NULL DEFAULT '',
    result TEXT NOT NULL CHECK (result IN ('infertile', 'early_dead', 'mid_dead', 'late_dead', 'pipped_dead',
                                           'rotten', 'unknown')),
    dead_day REAL CHECK (dead_day >= 0 AND dead_day < 9e999),
    note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE break_out_mark (
    uid TEXT PRIMARY KEY NOT NULL,
    break_out TEXT NOT NULL REFERENCES break_out (uid),
    kind TEXT NOT NULL CHECK (kind IN ('malposition', 'sign')),
    code TEXT NOT NULL CHECK (code <> ''),
    UNIQUE (break_out, kind, code)
) STRICT;

CREATE TABLE removal (
    uid TEXT PRIMARY KEY NOT NULL,
    egg TEXT NOT NULL UNIQUE REFERENCES egg (uid),
    at INTEGER NOT NULL,
    reason TEXT NOT NULL CHECK (reason IN ('taken_out_alive', 'broken')),
    note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE past_batch (
    uid TEXT PRIMARY KEY NOT NULL,
    label TEXT NOT NULL UNIQUE CHECK (label <> ''),
    name TEXT NOT NULL DEFAULT '',
    season INTEGER NOT NULL CHECK (season BETWEEN 1800 AND 2200),
    set_on TEXT CHECK (date(set_on, '+0 days') IS set_on),
    species TEXT NOT NULL CHECK (species <> ''),
    breed TEXT NOT NULL DEFAULT '',
    pen TEXT REFERENCES pen (uid),
    machine TEXT REFERENCES machine (uid),
    programme_code TEXT NOT NULL DEFAULT '',
    source TEXT NOT NULL CHECK (source IN ('own', 'shipped')),
    eggs_set INTEGER NOT NULL CHECK (eggs_set > 0),
    clear INTEGER CHECK (clear >= 0),
    infertile_opened INTEGER CHECK (infertile_opened >= 0),
    early_dead INTEGER CHECK (early_dead >= 0),
    mid_dead INTEGER CHECK (mid_dead >= 0),
    late_dead INTEGER CHECK (late_dead >= 0),
    pipped_dead INTEGER CHECK (pipped_dead >= 0),
    culled INTEGER CHECK (culled >= 0),
    rotten INTEGER CHECK (rotten >= 0),
    taken_out INTEGER CHECK (taken_out >= 0),
    hatched INTEGER CHECK (hatched >= 0),
    note TEXT NOT NULL DEFAULT '',
    CHECK (coalesce(clear, 0) + coalesce(early_dead, 0) + coalesce(mid_dead, 0) + coalesce(late_dead, 0)
           + coalesce(pipped_dead, 0) + coalesce(rotten, 0) + coalesce(taken_out, 0) + coalesce(culled, 0)
           + coalesce(hatched, 0) <= eggs_set),
    CHECK (coalesce(infertile_opened, 0) <= coalesce(clear, 0))
) STRICT;
"""

_READINGS = """
CREATE TABLE import_run (
    uid TEXT PRIMARY KEY NOT NULL,
    number INTEGER NOT NULL UNIQUE,
    probe TEXT NOT NULL REFERENCES probe (uid),
    at INTEGER NOT NULL,
    file_name TEXT NOT NULL,
    digest TEXT NOT NULL,
    layout TEXT NOT NULL CHECK (json_valid(layout)),
    lines INTEGER NOT NULL CHECK (lines >= 0),
    stored INTEGER NOT NULL CHECK (stored >= 0),
    already INTEGER NOT NULL CHECK (already >= 0),
    differing INTEGER NOT NULL CHECK (differing >= 0),
    rejected INTEGER NOT NULL CHECK (rejected >= 0),
    first_at INTEGER,
    last_at INTEGER
) STRICT;

-- The key's columns stand first: SQLite 3.40 tells of missing values that are there in a table like this else.
CREATE TABLE import_reject (
    import_run INTEGER NOT NULL REFERENCES import_run (number),
    line INTEGER NOT NULL,
    reason TEXT NOT NULL,
    text TEXT NOT NULL,
    PRIMARY KEY (import_run, line, reason)
) STRICT, WITHOUT ROWID;

-- In time order per probe: a batch's readings lie together however large the journal grows. ``import_run`` is
-- no declared reference: taking a run back would then search every reading; the check of a journal covers it.
CREATE TABLE reading (
    probe INTEGER NOT NULL REFERENCES probe (number),
    at INTEGER NOT NULL,
    temperature_c REAL CHECK (temperature_c BETWEEN -60 AND 100),
    humidity REAL CHECK (humidity BETWEEN 0 AND 100),
    import_run INTEGER,
    entered TEXT CHECK (entered IS NULL OR json_valid(entered)),
    PRIMARY KEY (probe, at),
    CHECK (temperature_c IS NOT NULL OR humidity IS NOT NULL)
) STRICT, WITHOUT ROWID;
"""

_HISTORY = """
CREATE TABLE history_step (
    number INTEGER PRIMARY KEY NOT NULL,
    uid TEXT NOT NULL UNIQUE,
    at INTEGER NOT NULL,
    code TEXT NOT NULL CHECK (code <> ''),
    batch TEXT,
    details TEXT NOT NULL CHECK (json_valid(details)),
    state TEXT NOT NULL CHECK (state IN ('done', 'undone', 'dropped'))
) STRICT;
CREATE INDEX history_step_state ON history_step (state, number);
CREATE INDEX history_step_batch ON history_step (batch, number);

CREATE TABLE history_change (
    step INTEGER NOT NULL REFERENCES history_step (number),
    position INTEGER NOT NULL,
    kind TEXT NOT NULL CHECK (kind <> ''),
    record TEXT NOT NULL,
    before TEXT CHECK (before IS NULL OR json_valid(before)),
    after TEXT CHECK (after IS NULL OR json_valid(after)),
    payload BLOB,
    PRIMARY KEY (step, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX history_change_record ON history_change (kind, record);
"""

#: Every statement of version 1, in the order of its references.
VERSION_1 = _HOLDING + _BATCH + _COURSE + _READINGS + _HISTORY
