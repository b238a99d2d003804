"""What a gate answers: may this step be done, why not, and what would open it?"""

from collections.abc import Iterable
from dataclasses import dataclass

GO, LOOK_AGAIN, STOP = LEVELS = ("go", "look again", "stop")


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing that speaks against a step: how gravely, in words, and what would open it."""

    level: str
    words: str
    ways_out: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.level not in (LOOK_AGAIN, STOP):
            raise ValueError(f"a reason is to look again or to stop, not {self.level}")


@dataclass(frozen=True, slots=True)
class Verdict:
    """All reasons of one gate at once; without any it is open."""

    gate: str
    reasons: tuple[Reason, ...] = ()

    @property
    def level(self) -> str:
        return max((reason.level for reason in self.reasons), key=LEVELS.index, default=GO)


def verdict(gate: str, reasons: Iterable[Reason]) -> Verdict:
    """The gravest reasons first."""
    return Verdict(gate, tuple(sorted(reasons, key=lambda r: -LEVELS.index(r.level))))


def both(gate: str, *verdicts: Verdict) -> Verdict:
    """The reasons of several gates as one."""
    return verdict(gate, (reason for one in verdicts for reason in one.reasons))


def stop(words: str, *ways_out: str) -> Reason:
    return Reason(STOP, words, ways_out)


def look_again(words: str, *ways_out: str) -> Reason:
    return Reason(LOOK_AGAIN, words, ways_out)
