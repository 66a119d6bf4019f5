"""The eggs as a candling finds them, and what becomes of one egg with what is seen in it."""

from __future__ import annotations

from hatchbook.figures.eggs import figures_from
from hatchbook.figures.outcomes import EggRecords, bounds_of, egg_records
from hatchbook.figures.results import EggFigures
from hatchbook.journal import Batch, Journal
from hatchbook.trade.codes import FindingCode
from hatchbook.trade.fates import EggOutcome

_FINDINGS = frozenset(FindingCode)


def eggs_before(journal: Journal, batch: Batch, candling: str) -> tuple[EggFigures, ...]:
    """The eggs of a batch, by number, as they were known without the findings of one candling (its uid)."""
    records = egg_records(journal, [batch.uid]).get(batch.uid, {})
    for finding in journal.candlings.findings_of(candling):
        records[finding.egg].findings.remove((finding.at, finding.code))
    return figures_from(journal, batch, records)


def last_finding(egg: EggFigures) -> tuple[float, FindingCode] | None:
    """The day of the last candling of an egg, since setting, and what was seen then."""
    seen = [(day, FindingCode(code)) for day, code in egg.seen if code in _FINDINGS]
    return seen[-1] if seen else None


def outcome_of_egg(journal: Journal, batch: Batch, egg: str) -> EggOutcome:
    """What became of one egg (its uid) by all that is recorded of it; four small queries."""
    records = EggRecords(
        [(finding.at, finding.code) for finding in journal.candlings.findings_of_egg(egg)],
        [(hatching.at, hatching.mark) for hatching in journal.hatchings.of_egg(egg)],
        [(opening.at, opening.result, opening.dead_day) for opening in journal.break_outs.of_egg(egg)],
        [(removal.at, removal.reason) for removal in journal.removals.of_egg(egg)],
    )
    return records.outcome(batch, bounds_of(batch))
