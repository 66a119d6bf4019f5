"""What a comparison of batches found, the strongest first: more than chance, may be chance, too small to say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from statistics import median
from typing import TYPE_CHECKING

from hatchbook.figures.comparison_looks import Looks
from hatchbook.figures.comparison_names import GroupNames
from hatchbook.figures.comparison_results import POINTS_TO_TELL, Finding, FindingKind, GroupName, Question
from hatchbook.figures.comparison_rows import ComparedBatch, Grouping
from hatchbook.statistics.adjustment import overlaps_of
from hatchbook.statistics.comparison import (
    Comparison,
    Entry,
    GroupAgainstRest,
    Trend,
    adjusted_comparison,
    batches_needed,
)
from hatchbook.statistics.comparison_results import LEVEL, Overlap
from hatchbook.statistics.tallies import counts

if TYPE_CHECKING:
    from hatchbook.figures.comparison import Compared

_MIXED_UP_WITH = (Grouping.MACHINE, Grouping.PEN, Grouping.SOURCE, Grouping.SEASON)
"""What a group can be mixed up with although nobody asked; in this order."""
_FEWEST = 2
"""A single batch is compared with nothing."""


def findings_of(
    question: Question,
    sections: Sequence[Compared],
    names: GroupNames,
    looks: Looks,
    line: Trend | None,
    batches: Sequence[ComparedBatch],
) -> tuple[Finding, ...]:
    """The findings about the rate that was asked for.

    Args:
        question: what was asked.
        sections: the groupings as they were compared.
        names: of the groups.
        looks: by how much the chances of each grouping are to be corrected.
        line: the trend over the seasons, where one was looked for.
        batches: all that were compared.
    """
    return _Findings(question, sections, names, looks, batches).all(line)


class _Findings:
    def __init__(
        self,
        question: Question,
        sections: Sequence[Compared],
        names: GroupNames,
        looks: Looks,
        batches: Sequence[ComparedBatch],
    ) -> None:
        self.outcome = question.outcome
        self.sections = sections
        self.names = names
        self.looks = looks
        self.batches = batches
        self.real = {section.grouping: self._real(section) for section in sections}

    def all(self, line: Trend | None) -> tuple[Finding, ...]:
        if len(self.batches) < _FEWEST:
            return ()
        if not any(counts(batch.tally, self.outcome)[1] for batch in self.batches):
            return (Finding(FindingKind.NOT_KNOWN),)
        trend = None if line is None else self._trend(line)
        real = [found for section in self.sections for found in self.real[section.grouping]]
        if trend is not None and trend.kind is FindingKind.TREND:
            real.append([trend])
        # The less likely by chance first; of two that are as good as impossible the larger difference.
        real.sort(key=lambda found: (max(found[0].p or 0.0, 1e-6), -_size(found[0])))
        asked = [section.grouping for section in self.sections]
        findings = [finding for found in _without_mirrors(real, asked) for finding in found]
        tested = any(section.by_rate[self.outcome].p_value is not None for section in self.sections)
        if tested and not findings:
            findings.append(Finding(FindingKind.NOTHING))
        for section in self.sections:
            is_seasons = section.grouping is Grouping.SEASON
            # That the seasons differ is said by their trend already.
            if not (is_seasons and trend in findings):
                findings += self._chance(section)
            if is_seasons and trend is not None and trend not in findings:
                findings.append(trend)
        findings += [finding for section in self.sections for finding in self._too_small(section)]
        findings += [finding for section in self.sections for finding in self._needed(section)]
        return tuple(findings)

    def _corrected(self, p: float, grouping: Grouping) -> float:
        return min(1.0, p * self.looks.get(grouping, 1.0))

    def _named(self, section: Compared, keys: Sequence[str]) -> tuple[GroupName, ...]:
        return tuple(self.names.in_order(section.grouping, keys))

    # -------------------------------------------------------------- more than chance

    def _real(self, section: Compared) -> list[list[Finding]]:
        """Each finding with what qualifies it."""
        comparison = section.by_rate[self.outcome]
        if comparison.p_value is None:
            return []
        standing_out = [
            one for one in comparison.against_rest if self._corrected(one.p_holm, section.grouping) < LEVEL
        ]
        if len(comparison.against_rest) == 2:
            # Of two groups each is the rest of the other: one sentence, on the worse.
            sign = -1 if self.outcome.is_loss else 1
            standing_out = sorted(standing_out, key=lambda one: sign * one.difference)[:1]
        if standing_out:
            return [
                [self._group(section, comparison, one), *self._qualified(section, one)]
                for one in standing_out
            ]
        pairs = [
            one for one in comparison.differences if self._corrected(one.p_holm, section.grouping) < LEVEL
        ]
        if pairs:
            best = min(pairs, key=lambda one: one.p_holm)
            low, high = (best.a, best.b) if best.difference < 0 else (best.b, best.a)
            worse, better = (high, low) if self.outcome.is_loss else (low, high)
            return [
                [
                    Finding(
                        FindingKind.PAIR,
                        section.grouping,
                        self._named(section, [worse]),
                        self._named(section, [better]),
                        mean=comparison.group(worse).mean,
                        rest_mean=comparison.group(better).mean,
                        p=self._corrected(best.p_holm, section.grouping),
                    )
                ]
            ]
        p = self._corrected(comparison.p_value, section.grouping)
        return [[Finding(FindingKind.AMONG, section.grouping, p=p)]] if p < LEVEL else []

    def _group(
        self, section: Compared, comparison: Comparison[str], against: GroupAgainstRest[str]
    ) -> Finding:
        return Finding(
            FindingKind.GROUP,
            section.grouping,
            self._named(section, [against.key]),
            self._named(section, against.rest),
            rest_is_all=len(against.rest) == len(comparison.against_rest) - 1,
            mean=against.mean,
            rest_mean=against.rest_mean,
            p=self._corrected(against.p_holm, section.grouping),
        )

    def _qualified(self, section: Compared, against: GroupAgainstRest[str]) -> list[Finding]:
        """What the other grouping says to it, and with what it is mixed up although nobody asked."""
        asked = [other.grouping for other in self.sections if other is not section]
        found = [one for second in asked for one in self._adjusted(section, against, second)]
        if any(one.kind is FindingKind.CONFOUNDED for one in found):
            return found
        for second in _MIXED_UP_WITH:
            if second not in asked and second is not section.grouping:
                entries = self._entries(section.grouping, second)
                mixed = self._confounded(section, against, second, overlaps_of(entries))
                if mixed is not None:
                    return [*found, mixed]
        return found

    def _adjusted(
        self, section: Compared, against: GroupAgainstRest[str], second: Grouping
    ) -> Iterator[Finding]:
        """Whether the difference is there with the second grouping evened out, if that can be told."""
        entries = self._entries(section.grouping, second)
        if len({entry.second for entry in entries}) < 2:
            return
        adjusted = adjusted_comparison(entries)
        mixed = self._confounded(section, against, second, adjusted.overlaps)
        if mixed is not None:
            yield mixed
            return
        group = next((one for one in adjusted.groups if one.key == against.key), None)
        if group is None:
            return
        p = self._corrected(group.p_holm, section.grouping)
        same_way = (group.difference < 0) == (against.difference < 0)
        yield Finding(
            FindingKind.HOLDS if p < LEVEL and same_way else FindingKind.FADES,
            section.grouping,
            self._named(section, [against.key]),
            second=second,
            mean=group.mean,
            rest_mean=group.rest_mean,
            p=p,
        )

    def _confounded(
        self,
        section: Compared,
        against: GroupAgainstRest[str],
        second: Grouping,
        overlaps: Sequence[Overlap[str]],
    ) -> Finding | None:
        """That the group can not be told from the second grouping; of one group alone there is nothing to tell."""
        if len({level for overlap in overlaps for level in overlap.levels}) < 2:
            return None
        overlap = next((one for one in overlaps if one.key == against.key), None)
        if overlap is None or overlap.told_apart:
            return None
        return Finding(
            FindingKind.CONFOUNDED,
            section.grouping,
            self._named(section, [against.key]),
            tuple(self.names.in_order(second, overlap.levels)),
            second=second,
        )

    def _entries(self, first: Grouping, second: Grouping) -> list[Entry[str]]:
        """Batches, or their parts, by both groupings; what nobody knows has no part."""
        entries = []
        for batch in self.batches:
            for (one, other), (_eggs, tally) in batch.split((first, second)).items():
                hits, trials = counts(tally, self.outcome)
                if trials and one is not None and other is not None:
                    entries.append(Entry(hits, trials, one, other, batch.uid))
        return entries

    def _trend(self, line: Trend) -> Finding:
        p = self._corrected(line.p, Grouping.SEASON)
        return Finding(
            FindingKind.TREND if p < LEVEL else FindingKind.TREND_CHANCE,
            Grouping.SEASON,
            mean=line.from_mean,
            rest_mean=line.to_mean,
            p=p,
            seasons=(round(line.from_score), round(line.to_score)),
        )

    # -------------------------------------------------------------- may be chance, too small

    def _chance(self, section: Compared) -> list[Finding]:
        comparison = section.by_rate[self.outcome]
        if comparison.p_value is None:
            return [self._not_compared(section)]
        if self.real[section.grouping]:
            return []
        p = self._corrected(comparison.p_value, section.grouping)
        tested = [estimate for estimate in comparison.groups if not estimate.too_small]
        if len(tested) == 2:
            one, other = sorted(tested, key=lambda estimate: -(estimate.mean or 0.0))
            return [
                Finding(
                    FindingKind.PAIR_CHANCE,
                    section.grouping,
                    self._named(section, [one.key]),
                    self._named(section, [other.key]),
                    mean=one.mean,
                    rest_mean=other.mean,
                    p=p,
                )
            ]
        means = [estimate.mean for estimate in tested if estimate.mean is not None]
        return [
            Finding(FindingKind.AMONG_CHANCE, section.grouping, mean=min(means), rest_mean=max(means), p=p)
        ]

    def _not_compared(self, section: Compared) -> Finding:
        """Why a grouping gives nothing to compare."""
        keys = [estimate.key for estimate in section.by_rate[self.outcome].groups if estimate.trials > 0]
        if len(keys) > 1:
            return Finding(FindingKind.TOO_FEW, section.grouping)
        if not keys:
            return Finding(FindingKind.NOT_NOTED, section.grouping)
        return Finding(FindingKind.ONLY_ONE, section.grouping, self._named(section, keys))

    def _too_small(self, section: Compared) -> list[Finding]:
        comparison = section.by_rate[self.outcome]
        if comparison.p_value is None:
            return []
        small = {estimate.key: estimate for estimate in comparison.groups if estimate.too_small}
        return [
            Finding(
                FindingKind.TOO_SMALL,
                section.grouping,
                (name,),
                mean=small[name.key].mean,
                rest_mean=small[name.key].shrunken,
                batches=small[name.key].batches,
                eggs=small[name.key].trials,
            )
            for name in self._named(section, list(small))
            if name.key is not None
        ]

    def _needed(self, section: Compared) -> list[Finding]:
        """How many more batches a difference of ten points would take, where none is seen and more can come."""
        if section.grouping is Grouping.SEASON:
            return []
        comparison = section.by_rate[self.outcome]
        mean = comparison.overall.mean
        if comparison.p_value is None or mean is None or not comparison.spread_known:
            return []
        if self.real[section.grouping]:
            return []
        largest = sorted((group.batches for group in comparison.groups if not group.too_small), reverse=True)
        sizes = [
            trials
            for clusters in section.clusters.values()
            for trials in (counts(cluster.tally, self.outcome)[1] for cluster in clusters)
            if trials
        ]
        eggs = round(median(sizes))
        needed = batches_needed(mean, comparison.rho, max(eggs, 1), POINTS_TO_TELL)
        return [
            Finding(
                FindingKind.NEEDED, section.grouping, batches=max(0, needed - largest[1]), eggs=max(eggs, 1)
            )
        ]


def _without_mirrors(real: Sequence[list[Finding]], asked: Sequence[Grouping]) -> Iterator[list[Finding]]:
    """A group and the one it can not be told from are one finding: that of the grouping asked for first."""
    mixed = {
        (one.groups[0], one.rest[0])
        for found in real
        for one in found
        if one.kind is FindingKind.CONFOUNDED and len(one.rest) == 1
    }
    for found in real:
        mirrored = any((two, one) in mixed and found[0].groups == (one,) for one, two in mixed)
        if not (mirrored and found[0].grouping is not asked[0]):
            yield found


def _size(finding: Finding) -> float:
    return abs((finding.mean or 0.0) - (finding.rest_mean or 0.0))
