"""The figures of many visits, per fault and in all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from statistics import median

from tests.field.outcome import Outcome


def percentile(values: list[float], share: float) -> float:
    """The value below which ``share`` of them lie."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))] if ordered else 0.0


def _share(hits: int, whole: int) -> str:
    return f"{100 * hits / whole:5.1f} %" if whole else "    -"


def per_fault(outcomes: list[Outcome]) -> list[str]:
    """One line a fault, by its first fault: visits, named or mended, condemned, median minutes, lock-outs, twice."""
    lines = [f"{'fault':30} visits  right  mended  condemned  minutes  lock-outs  twice  named first"]
    groups: dict[str, list[Outcome]] = {}
    for outcome in outcomes:
        groups.setdefault(outcome.faults[0], []).append(outcome)
    for fault, group in sorted(groups.items()):
        first = Counter(each.named[0] if each.named else "-" for each in group)
        lines.append(
            f"{fault:30} {len(group):6} {sum(good(each) for each in group):6} {sum(each.mended for each in group):7} "
            f"{sum(bool(each.condemned) for each in group):10} {median(each.minutes for each in group):8.0f} "
            f"{median(each.lock_outs for each in group):10.0f} {sum(len(each.asked_twice) for each in group):6}  "
            + ", ".join(f"{name} {count}" if count > 1 else name for name, count in first.most_common(3))
        )
    return lines


def good(outcome: Outcome) -> bool:
    """The fault was named right at some time, or is mended."""
    return outcome.good


def why_not(outcomes: list[Outcome]) -> list[str]:
    """Why visits ended without the right name, the commonest reason first, with the faults of each."""
    reasons: dict[str, Counter[str]] = {}
    for outcome in outcomes:
        if outcome.why_not:
            reasons.setdefault(outcome.why_not, Counter()).update(outcome.faults[:1])
    lines = []
    for reason, faults in sorted(reasons.items(), key=lambda item: -item[1].total()):
        told = ", ".join(f"{fault} {times}" if times > 1 else fault for fault, times in faults.most_common())
        lines.append(f"{reason:30} {_share(faults.total(), len(outcomes))}   {told}")
    return lines


def in_all(outcomes: list[Outcome]) -> list[str]:
    """The bars of the whole: what issue 19 asks for."""
    count = len(outcomes)
    minutes = [each.minutes for each in outcomes]
    first = [each.minutes_to_first for each in outcomes if each.named]
    mended = [each.minutes_to_mend for each in outcomes if each.minutes_to_mend is not None]
    closed = [each.words for each in outcomes if each.mended]
    one = [each for each in outcomes if len(each.faults) == 1]
    two = [each for each in outcomes if len(each.faults) > 1]
    return [
        f"visits                         {count}, {len(two)} with two faults",
        f"named or mended                {_share(sum(map(good, outcomes)), count)}"
        f"   (one fault {_share(sum(map(good, one)), len(one))}, two {_share(sum(map(good, two)), len(two))})",
        f"named right first              {_share(sum(each.first_was_right for each in outcomes), count)}",
        f"all mended at the end          {_share(sum(each.mended for each in outcomes), count)}",
        f"sound dear part condemned      {_share(sum(bool(each.condemned) for each in outcomes), count)}",
        f"check minutes                  median {median(minutes):.0f}, 90th percentile {percentile(minutes, 0.9):.0f}",
        f"check minutes to first name    median {median(first) if first else 0:.0f}, "
        f"90th percentile {percentile(first, 0.9):.0f}",
        f"check minutes until mended     median {median(mended) if mended else 0:.0f}, "
        f"90th percentile {percentile(mended, 0.9):.0f}",
        f"at most two lock-outs          {_share(sum(each.lock_outs <= 2 for each in outcomes), count)}",
        f"asked twice                    {_share(sum(bool(each.asked_twice) for each in outcomes), count)}"
        f"   ({sum(len(each.asked_twice) for each in outcomes)} times)",
        f"words spoken                   median {median(each.words for each in outcomes):.0f}"
        + (f", of mended visits {median(closed):.0f}" if closed else ""),
        f"unsafe                         {sum(len(each.hazards) for each in outcomes)}",
        f"ended                          {dict(Counter(each.closing for each in outcomes))}",
    ]


def leftovers(outcomes: Iterable[Outcome]) -> list[str]:
    """What the simulator could not follow: questions and repairs that it does not know."""
    strange: Counter[str] = Counter()
    undecided: Counter[str] = Counter()
    for each in outcomes:
        strange.update(each.not_understood)
        strange.update(f"question {key}" for key in each.strange)
        undecided.update(each.undecided)
    lines = [f"not understood: {text} ({times})" for text, times in strange.most_common()]
    if undecided:
        lines.append("undecided here: " + ", ".join(f"{key} {times}" for key, times in undecided.most_common()))
    return lines
