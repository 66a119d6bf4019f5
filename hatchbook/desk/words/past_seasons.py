"""Past seasons in words: what columns hold, why lines stay out, what an import would do, what counts cannot be."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QCoreApplication, QLocale

from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.exchange.past_seasons.bringing_in import PastPlan
from hatchbook.exchange.past_seasons.fields import PastField
from hatchbook.exchange.past_seasons.grid import TableFileError, TableProblem
from hatchbook.exchange.past_seasons.reading import NoBatch, PastSeasonsTable
from hatchbook.exchange.past_seasons.refusals import PastReason, RefusedRun, Why
from hatchbook.figures.past_batches import CountFault, CountTrouble

_FIELDS = {
    PastField.LEAVE_OUT: QT_TRANSLATE_NOOP("PastSeasons", "Leave out"),
    PastField.LABEL: QT_TRANSLATE_NOOP("PastSeasons", "Number"),
    PastField.NAME: QT_TRANSLATE_NOOP("PastSeasons", "Name"),
    PastField.SEASON: QT_TRANSLATE_NOOP("PastSeasons", "Season"),
    PastField.SET_ON: QT_TRANSLATE_NOOP("PastSeasons", "Set on"),
    PastField.SPECIES: QT_TRANSLATE_NOOP("PastSeasons", "Species"),
    PastField.BREED: QT_TRANSLATE_NOOP("PastSeasons", "Breed"),
    PastField.PEN: QT_TRANSLATE_NOOP("PastSeasons", "Pen"),
    PastField.MACHINE: QT_TRANSLATE_NOOP("PastSeasons", "Machine"),
    PastField.PROGRAMME: QT_TRANSLATE_NOOP("PastSeasons", "Programme"),
    PastField.SOURCE: QT_TRANSLATE_NOOP("PastSeasons", "Own or shipped"),
    PastField.EGGS_SET: QT_TRANSLATE_NOOP("PastSeasons", "Eggs set"),
    PastField.FERTILE: QT_TRANSLATE_NOOP("PastSeasons", "Fertile"),
    PastField.CLEAR: QT_TRANSLATE_NOOP("PastSeasons", "Clear"),
    PastField.INFERTILE_OPENED: QT_TRANSLATE_NOOP("PastSeasons", "Opened, infertile"),
    PastField.EARLY_DEAD: QT_TRANSLATE_NOOP("PastSeasons", "Dead early"),
    PastField.MID_DEAD: QT_TRANSLATE_NOOP("PastSeasons", "Dead mid"),
    PastField.LATE_DEAD: QT_TRANSLATE_NOOP("PastSeasons", "Dead late"),
    PastField.PIPPED_DEAD: QT_TRANSLATE_NOOP("PastSeasons", "Died in pip"),
    PastField.HATCHED: QT_TRANSLATE_NOOP("PastSeasons", "Hatched"),
    PastField.CULLED: QT_TRANSLATE_NOOP("PastSeasons", "Culled"),
    PastField.ROTTEN: QT_TRANSLATE_NOOP("PastSeasons", "Rotten"),
    PastField.TAKEN_OUT: QT_TRANSLATE_NOOP("PastSeasons", "Taken out"),
    PastField.NOTE: QT_TRANSLATE_NOOP("PastSeasons", "Note"),
}

_REASONS = {
    PastReason.NOT_TEXT: QT_TRANSLATE_NOOP("PastSeasons", "holds signs that are no text"),
    PastReason.TOO_MANY_CELLS: QT_TRANSLATE_NOOP("PastSeasons", "more columns than there are names"),
    PastReason.NOT_COMPUTED: QT_TRANSLATE_NOOP(
        "PastSeasons", "{field}: the result of the formula is not stored in the file"
    ),
    PastReason.NO_EGGS_SET: QT_TRANSLATE_NOOP("PastSeasons", "no number of eggs set"),
    PastReason.NOT_A_COUNT: QT_TRANSLATE_NOOP("PastSeasons", "{field}: “{cell}” is no count"),
    PastReason.PERCENTAGE: QT_TRANSLATE_NOOP("PastSeasons", "{field}: “{cell}” is a share, not a count"),
    PastReason.NOT_WHOLE: QT_TRANSLATE_NOOP("PastSeasons", "{field}: “{cell}” is no whole number"),
    PastReason.NEGATIVE: QT_TRANSLATE_NOOP("PastSeasons", "{field}: “{cell}” is less than none"),
    PastReason.TOO_LARGE: QT_TRANSLATE_NOOP("PastSeasons", "{field}: “{cell}” is too large"),
    PastReason.COUNTS_EXCEED: QT_TRANSLATE_NOOP(
        "PastSeasons", "the counts add up to {count}, but {limit} were set"
    ),
    PastReason.OPENED_EXCEED: QT_TRANSLATE_NOOP(
        "PastSeasons", "{count} opened and infertile, but only {limit} clear"
    ),
    PastReason.FERTILE_EXCEED: QT_TRANSLATE_NOOP("PastSeasons", "{count} fertile, but only {limit} set"),
    PastReason.FERTILE_CONTRADICTS: QT_TRANSLATE_NOOP(
        "PastSeasons", "{count} fertile, but {limit} by the clear ones"
    ),
    PastReason.NO_SEASON: QT_TRANSLATE_NOOP("PastSeasons", "neither season nor date"),
    PastReason.NOT_A_SEASON: QT_TRANSLATE_NOOP("PastSeasons", "“{cell}” is no year"),
    PastReason.NOT_A_DATE: QT_TRANSLATE_NOOP("PastSeasons", "“{cell}” is no date"),
    PastReason.DATE_WITHOUT_YEAR: QT_TRANSLATE_NOOP("PastSeasons", "“{cell}” has no year"),
    PastReason.NO_SUCH_DAY: QT_TRANSLATE_NOOP("PastSeasons", "there is no day “{cell}”"),
    PastReason.IN_FUTURE: QT_TRANSLATE_NOOP("PastSeasons", "“{cell}” has not come yet"),
    PastReason.SEASON_CONTRADICTS: QT_TRANSLATE_NOOP("PastSeasons", "“{cell}” is not of the season {year}"),
    PastReason.NO_SPECIES: QT_TRANSLATE_NOOP("PastSeasons", "no species"),
    PastReason.UNKNOWN_SPECIES: QT_TRANSLATE_NOOP("PastSeasons", "“{cell}” is no species that is known"),
    PastReason.UNKNOWN_SOURCE: QT_TRANSLATE_NOOP("PastSeasons", "“{cell}” is neither own nor shipped"),
    PastReason.UNKNOWN_PROGRAMME: QT_TRANSLATE_NOOP("PastSeasons", "“{cell}” is no programme that is known"),
    PastReason.SAID_AGAIN: QT_TRANSLATE_NOOP("PastSeasons", "says again what line {line} says"),
    PastReason.LABEL_TWICE: QT_TRANSLATE_NOOP(
        "PastSeasons", "line {line} has the number {cell} too, for another batch"
    ),
    PastReason.LABEL_TAKEN: QT_TRANSLATE_NOOP("PastSeasons", "the journal has another batch {cell}"),
}
#: The same where several lines have the reason, each with another cell.
_BARE_REASONS = {
    PastReason.NOT_COMPUTED: QT_TRANSLATE_NOOP(
        "PastSeasons", "results of formulas are not stored in the file"
    ),
    PastReason.NOT_A_COUNT: QT_TRANSLATE_NOOP("PastSeasons", "{field}: no count"),
    PastReason.PERCENTAGE: QT_TRANSLATE_NOOP("PastSeasons", "{field}: shares, not counts"),
    PastReason.NOT_WHOLE: QT_TRANSLATE_NOOP("PastSeasons", "{field}: no whole number"),
    PastReason.NEGATIVE: QT_TRANSLATE_NOOP("PastSeasons", "{field}: less than none"),
    PastReason.TOO_LARGE: QT_TRANSLATE_NOOP("PastSeasons", "{field}: too large"),
    PastReason.COUNTS_EXCEED: QT_TRANSLATE_NOOP("PastSeasons", "the counts add up to more than were set"),
    PastReason.OPENED_EXCEED: QT_TRANSLATE_NOOP("PastSeasons", "more opened and infertile than clear"),
    PastReason.FERTILE_EXCEED: QT_TRANSLATE_NOOP("PastSeasons", "more fertile than set"),
    PastReason.FERTILE_CONTRADICTS: QT_TRANSLATE_NOOP(
        "PastSeasons", "fertile and clear contradict each other"
    ),
    PastReason.NOT_A_SEASON: QT_TRANSLATE_NOOP("PastSeasons", "the season is no year"),
    PastReason.NOT_A_DATE: QT_TRANSLATE_NOOP("PastSeasons", "the date is none"),
    PastReason.DATE_WITHOUT_YEAR: QT_TRANSLATE_NOOP("PastSeasons", "the date has no year"),
    PastReason.NO_SUCH_DAY: QT_TRANSLATE_NOOP("PastSeasons", "there is no such day"),
    PastReason.IN_FUTURE: QT_TRANSLATE_NOOP("PastSeasons", "the day has not come yet"),
    PastReason.SEASON_CONTRADICTS: QT_TRANSLATE_NOOP("PastSeasons", "date and season contradict each other"),
    PastReason.UNKNOWN_SPECIES: QT_TRANSLATE_NOOP("PastSeasons", "species that are not known"),
    PastReason.UNKNOWN_SOURCE: QT_TRANSLATE_NOOP("PastSeasons", "neither own nor shipped"),
    PastReason.UNKNOWN_PROGRAMME: QT_TRANSLATE_NOOP("PastSeasons", "programmes that are not known"),
    PastReason.SAID_AGAIN: QT_TRANSLATE_NOOP("PastSeasons", "say again what earlier lines say"),
    PastReason.LABEL_TWICE: QT_TRANSLATE_NOOP("PastSeasons", "earlier lines have the same numbers"),
    PastReason.LABEL_TAKEN: QT_TRANSLATE_NOOP(
        "PastSeasons", "the journal has other batches of these numbers"
    ),
}

_PROBLEMS = {
    TableProblem.CANNOT_BE_OPENED: QT_TRANSLATE_NOOP("PastSeasons", "This file cannot be opened."),
    TableProblem.NOT_A_TABLE: QT_TRANSLATE_NOOP(
        "PastSeasons", "This file is no table: neither text in columns nor an XLSX workbook."
    ),
    TableProblem.EMPTY: QT_TRANSLATE_NOOP("PastSeasons", "There is nothing in this table."),
    TableProblem.OLD_OR_LOCKED: QT_TRANSLATE_NOOP(
        "PastSeasons",
        "This workbook is of an older kind, or locked with a password. Save it as XLSX or CSV without one.",
    ),
    TableProblem.OTHER_WORKBOOK: QT_TRANSLATE_NOOP(
        "PastSeasons", "This workbook is of another kind. Save it as XLSX or CSV."
    ),
    TableProblem.DAMAGED: QT_TRANSLATE_NOOP(
        "PastSeasons", "This workbook is damaged. Open it in the spreadsheet program and save it anew."
    ),
    TableProblem.TOO_LARGE: QT_TRANSLATE_NOOP(
        "PastSeasons", "This table is too large. Split it and import the parts."
    ),
    TableProblem.NO_SUCH_SHEET: QT_TRANSLATE_NOOP("PastSeasons", "There is no such sheet in this workbook."),
}

_MISSING = {
    PastField.EGGS_SET: QT_TRANSLATE_NOOP("PastSeasons", "Choose which column holds the eggs set."),
    PastField.SPECIES: QT_TRANSLATE_NOOP(
        "PastSeasons", "No column holds the species: choose the one that all these batches are of."
    ),
    PastField.SEASON: QT_TRANSLATE_NOOP(
        "PastSeasons",
        "No column holds the season or the date of setting: choose the column, or the season of all.",
    ),
}

_MOST_NAMED = 4


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("PastSeasons", text, "", n)


def _count(number: int) -> str:
    return QLocale().toString(number)


def field_word(field: PastField) -> str:
    """What a column holds."""
    return _tr(_FIELDS[field])


def refusal_sentence(why: Why) -> str:
    """Why one line stays out."""
    return _filled(_REASONS[why.reason], why)


def run_sentence(run: RefusedRun) -> str:
    """Why neighbouring lines stay out."""
    if run.alike:
        return refusal_sentence(run.why)
    return _filled(_BARE_REASONS.get(run.why.reason, _REASONS[run.why.reason]), run.why)


def _filled(sentence: str, why: Why) -> str:
    return _tr(sentence).format(
        cell=why.cell,
        count=_count(why.count),
        limit=_count(why.limit),
        line=_count(why.count),
        year=why.count,
        field=field_word(why.field) if why.field is not None else "",
    )


def table_problem(error: BaseException) -> str:
    """Why a file cannot be read; other errors by their own sentence."""
    if not isinstance(error, TableFileError):
        return error_sentence(error)
    sentence = _tr(_PROBLEMS[error.problem])
    return f"{sentence} ({error.detail})" if error.detail else sentence


def missing_sentence(field: PastField) -> str:
    """What has to be chosen before lines can be batches."""
    return _tr(_MISSING[field])


# ------------------------------------------------------------------ what an import would do


def sum_sentence(table: PastSeasonsTable, plan: PastPlan) -> str:
    """The sum at the foot: lines, new ones, refused ones, those there already; headings and blanks do not count."""
    lines = len(table.rows) + len(table.refused)
    counts = {
        "new": _count(len(plan.batches)),
        "out": _count(len(plan.refused)),
        "already": _count(len(plan.already)),
    }
    if plan.already:
        sentence = _tr("%Ln line(s): {new} new, {out} refused, {already} already in the journal.", lines)
    else:
        sentence = _tr("%Ln line(s): {new} new, {out} refused, none already in the journal.", lines)
    return sentence.format(**counts)


def account_sentences(table: PastSeasonsTable) -> str:
    """The lines that are no batch, one kind a line."""
    kinds = (
        (NoBatch.ABOVE, _tr("%Ln line(s) above the column names", table.count(NoBatch.ABOVE))),
        (NoBatch.HEADER, _tr("%Ln line(s) of column names", table.count(NoBatch.HEADER))),
        (NoBatch.BLANK, _tr("%Ln blank line(s)", table.count(NoBatch.BLANK))),
        (NoBatch.SEASON, _tr("%Ln line(s) that name a season", table.count(NoBatch.SEASON))),
        (NoBatch.TITLE, _tr("%Ln line(s) of a heading or a remark", table.count(NoBatch.TITLE))),
        (NoBatch.TOTAL, _tr("%Ln line(s) of sums or means", table.count(NoBatch.TOTAL))),
    )
    return "\n".join(text for kind, text in kinds if table.count(kind))


def remarks(table: PastSeasonsTable) -> list[str]:
    """What was understood beyond what stands there."""
    dashes = sum(row.dashes for row in table.rows)
    carried = sum(row.carried for row in table.rows)
    without_day = sum(row.without_day for row in table.rows)
    sums = table.count(NoBatch.TOTAL)
    found = []
    both = zip(table.names, table.columns, strict=True)
    left_out = [name for name, field in both if name and field is PastField.LEAVE_OUT]
    if left_out:
        text = _tr("%Ln column(s) left out: {names}.", len(left_out))
        found.append(text.format(names=named(left_out)))
    if sums:
        found.append(_tr("Passed over: %Ln line(s) of sums or means.", sums))
    if carried:
        found.append(_tr("Season taken from a line above: %Ln line(s).", carried))
    if dashes:
        found.append(_tr("Taken as not counted: %Ln dash(es).", dashes))
    if without_day:
        text = _tr(
            "Season taken from a date without a day, which stands in the note: %Ln line(s).", without_day
        )
        found.append(text)
    return found


def label_sentence(plan: PastPlan) -> str:
    """Of the batches that get a number: that they do, and which; "" where none does."""
    unnumbered = [one for one in plan.labels if not one.before]
    renamed = [one for one in plan.labels if one.before]
    sentences = []
    if unnumbered:
        first, last = unnumbered[0].after, unnumbered[-1].after
        if len(unnumbered) == 1:
            sentences.append(_tr("New number for a batch without one: {first}.").format(first=first))
        else:
            text = _tr("New numbers for %Ln batch(es) without one: {first} to {last}.", len(unnumbered))
            sentences.append(text.format(first=first, last=last))
    if renamed:
        pairs = named([f"{one.before} → {one.after}" for one in renamed])
        sentences.append(_tr("New numbers for %Ln batch(es): {pairs}.", len(renamed)).format(pairs=pairs))
    return " ".join(sentences)


def taken_sentence(plan: PastPlan) -> str:
    """That numbers of the file are those of other batches."""
    return _tr("%Ln batch(es) with a number that another batch has.", plan.taken)


def made_sentences(plan: PastPlan) -> list[str]:
    """Pens and machines that come with the batches."""
    found = []
    if plan.pens:
        text = _tr("%Ln new pen(s): {names}.", len(plan.pens))
        found.append(text.format(names=named([pen.name for pen in plan.pens])))
    if plan.machines:
        text = _tr("%Ln new machine(s): {names}.", len(plan.machines))
        found.append(text.format(names=named([machine.name for machine in plan.machines])))
    return found


def named(names: Sequence[str]) -> str:
    """The first few names, and how many more there are."""
    shown = ", ".join(names[:_MOST_NAMED])
    more = len(names) - _MOST_NAMED
    return shown if more <= 0 else _tr("{names} and %Ln more", more).format(names=shown)


# ------------------------------------------------------------------ counts typed by hand


def count_sentence(trouble: CountTrouble) -> str:
    """What cannot be about counts that were typed."""
    match trouble.fault:
        case CountFault.NO_EGGS:
            return _tr("Enter how many eggs were set.")
        case CountFault.NEGATIVE:
            return _tr("A count cannot be less than none.")
        case CountFault.EXCEED:
            return _tr("The counts add up to {count}, but {limit} eggs were set.").format(
                count=_count(trouble.count), limit=_count(trouble.limit)
            )
        case CountFault.OPENED_EXCEED:
            return _tr("{count} were opened and infertile, but only {limit} were clear.").format(
                count=_count(trouble.count), limit=_count(trouble.limit)
            )


def typed_sentence(why: Why) -> str:
    """What is wrong with a count or a season that was typed."""
    if why.reason is PastReason.NOT_A_SEASON:
        return _tr("“{cell}” is no year.").format(cell=why.cell)
    if why.reason is PastReason.TOO_LARGE:
        return _tr("That is too large.")
    return _tr("“{cell}” is no number of eggs.").format(cell=why.cell)


def left_sentence(left: int) -> str:
    """What becomes of the eggs of which no count tells."""
    if not left:
        return _tr("Every egg is accounted for.")
    return _tr("%Ln egg(s) more: their end is not known.", left)
