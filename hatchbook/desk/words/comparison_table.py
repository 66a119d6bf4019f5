"""What the table of a comparison and its charts say of a group and of a batch."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.groups import group_word, rate_word
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import NONE_SIGN, count_of, number, range_text, share
from hatchbook.desk.words.seasons import odds_text
from hatchbook.figures.comparison_results import BatchPoint, GroupRate, GroupRow, Place, Standing
from hatchbook.statistics.tallies import RateKind

_COUNTS = (
    QT_TRANSLATE_NOOP("ComparisonTable", "Group"),
    QT_TRANSLATE_NOOP("ComparisonTable", "Batches"),
    QT_TRANSLATE_NOOP("ComparisonTable", "Set"),
)
_STANDINGS = {
    Standing.WITHIN: QT_TRANSLATE_NOOP("ComparisonTable", "against the others: may be chance ({odds})"),
    Standing.LOWER: QT_TRANSLATE_NOOP(
        "ComparisonTable", "lower than the others by more than chance ({odds})"
    ),
    Standing.HIGHER: QT_TRANSLATE_NOOP(
        "ComparisonTable", "higher than the others by more than chance ({odds})"
    ),
}
#: What a batch's hits are among its trials.
_OF_BATCH = {
    RateKind.FERTILITY: QT_TRANSLATE_NOOP("ComparisonTable", "{count} eggs fertile"),
    RateKind.HATCH_OF_FERTILE: QT_TRANSLATE_NOOP("ComparisonTable", "{count} fertile eggs hatched"),
    RateKind.HATCH_OF_SET: QT_TRANSLATE_NOOP("ComparisonTable", "{count} eggs set hatched"),
    RateKind.EARLY_DEAD: QT_TRANSLATE_NOOP("ComparisonTable", "{count} fertile eggs dead early"),
    RateKind.MID_DEAD: QT_TRANSLATE_NOOP("ComparisonTable", "{count} fertile eggs dead mid"),
    RateKind.LATE_DEAD: QT_TRANSLATE_NOOP("ComparisonTable", "{count} fertile eggs dead late"),
    RateKind.PIPPED_DEAD: QT_TRANSLATE_NOOP("ComparisonTable", "{count} fertile eggs died in pip"),
}
_PLACES = {
    Place.INSIDE: QT_TRANSLATE_NOOP("ComparisonTable", "within what batches of its size scatter by"),
    Place.LOW: QT_TRANSLATE_NOOP("ComparisonTable", "low: {odds} by chance"),
    Place.HIGH: QT_TRANSLATE_NOOP("ComparisonTable", "high: {odds} by chance"),
    Place.FAR_LOW: QT_TRANSLATE_NOOP("ComparisonTable", "far too low: {odds} by chance"),
    Place.FAR_HIGH: QT_TRANSLATE_NOOP("ComparisonTable", "far above the others: {odds} by chance"),
}
ALL_PLACES = _PLACES


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("ComparisonTable", text, "", n)


def counts_column(column: int) -> str:
    """The name of one of the first columns."""
    return _tr(_COUNTS[column])


def column_title(kind: RateKind) -> str:
    """The name of a rate's column: Hatched, of fertile."""
    return rate_word(kind)


def range_caption() -> str:
    """Over the numbers of a rate's column."""
    return _tr("% (95 % range)")


def all_batches_word(species: str) -> str:
    """The row of all batches: All batches; All batches: hen."""
    return _tr("All batches: {species}").format(species=species) if species else _tr("All batches")


def row_sentence(name: str, row: GroupRow) -> str:
    """A row as it is read aloud: Brook pen, 7 batches, 216 eggs set."""
    return listed([name, _tr("%n batch(es)", row.batches), _tr("%n egg(s) set", row.eggs_set)])


def standing_words(rate: GroupRate) -> str:
    """How a group stands against the others; "" where there are none."""
    match rate.standing:
        case Standing.TOO_FEW:
            return _tr("too few to say")
        case Standing.NOT_COMPARED:
            return ""
    return _tr(_STANDINGS[rate.standing]).format(odds=odds_text(1.0 if rate.p is None else rate.p))


def rate_cell_sentence(kind: RateKind, rate: GroupRate) -> str:
    """A rate of a group: Hatched, of fertile: 64 %, range 57–71, 120 of 188, lower than …."""
    if rate.mean is None:
        return _tr("{rate}: not known").format(rate=rate_word(kind))
    parts = [
        _mean_and_drawn(rate),
        _tr("range {range}").format(range=range_text(rate.low * 100, rate.high * 100)),
        count_of(rate.hits, rate.trials),
        standing_words(rate),
    ]
    return _tr("{rate}: {values}").format(
        rate=rate_word(kind), values=listed([part for part in parts if part])
    )


def _mean_and_drawn(rate: GroupRate) -> str:
    """64 %; of a group with too few eggs also what is rather to be expected of it."""
    alone, drawn = share(rate.mean), share(rate.drawn)
    if rate.standing is not Standing.TOO_FEW or rate.drawn is None or alone == drawn:
        return alone
    return _tr("by itself {rate}, drawn towards the others {drawn}").format(rate=alone, drawn=drawn)


def sorting_words(kind: RateKind) -> str:
    """Over a rate's column: by what it sorts."""
    return _tr(
        "{rate}. A click sorts. Groups with few eggs stand where they are to be expected, nearer to the others."
    ).format(rate=rate_word(kind))


def mean_text(rate: GroupRate) -> str:
    """The mean by itself: 64 %."""
    return NONE_SIGN if rate.mean is None else share(rate.mean)


def span_text(rate: GroupRate) -> str:
    """The range by itself: 57–71."""
    return "" if rate.mean is None else range_text(rate.low * 100, rate.high * 100)


def batch_sentence(point: BatchPoint, kind: RateKind, first_month: int) -> str:
    """A batch of the charts: 24-02 Brook hens, Brook pen: 13 of 25 fertile eggs hatched, 52 % (34–70); low: …."""
    title = f"{point.label} {point.name}".strip()
    group = "" if point.group is None else group_word(point.group, first_month)
    machine = point.machine if point.machine != group else ""
    names = listed([part for part in (title, group, machine) if part])
    counted = _tr(_OF_BATCH[kind]).format(count=count_of(point.hits, point.trials))
    place = _tr(_PLACES[point.place]).format(odds=odds_text(point.p))
    return _tr("{batch}: {counted}, {rate} ({range}); {place}").format(
        batch=names,
        counted=counted,
        rate=share(point.share),
        range=range_text(point.low * 100, point.high * 100),
        place=place,
    )


def charts_at_rest(count: int) -> str:
    """In the read-out while nothing is pointed at."""
    return _tr(
        "%Ln batch(es); 19 of 20 lie in the band by chance. Point at one, or go through them with the arrow keys.",
        count,
    )


def scale_number(at: float) -> str:
    """A tick of a scale of shares: 60."""
    return number(at * 100, 0)


def scale_top(at: float) -> str:
    """The highest tick, which carries the unit: 100 %."""
    return share(at)


_SIZES = {
    RateKind.FERTILITY: QT_TRANSLATE_NOOP("ComparisonTable", "eggs set"),
    RateKind.HATCH_OF_SET: QT_TRANSLATE_NOOP("ComparisonTable", "eggs set"),
}


def size_unit(kind: RateKind) -> str:
    """What the size of a batch is counted in: fertile eggs; eggs set where the rate is of these."""
    text = _SIZES.get(kind)
    return _tr("fertile eggs") if text is None else _tr(text)
