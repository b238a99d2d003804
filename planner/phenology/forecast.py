"""On which day will it open this year, how sure is that, and what moved it?

Days are numbers of a common year, as floats; spreads are standard deviations in days.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import NormalDist

from planner.phenology.learning import PLACE_SD_DAYS, Seen, after_cue, learn, yearly_sd
from planner.phenology.thermal import Reached

# So much lies outside on either side of an interval of four in five.
OUTSIDE = 0.1
# A clue this close to nothing is no reason; a judgement.
LEAST_MOVE = 0.05


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing that is known, by how many days it moved the expected day, and the spread after it."""

    words: str
    moved: float
    sd: float


@dataclass(frozen=True, slots=True)
class Cue:
    """An event of this year that came so many days late (below 0: early), and how far it tells."""

    words: str
    days_late: float
    correlation: float


@dataclass(frozen=True, slots=True)
class Forecast:
    """A normal day with its spread, cut off where it was looked at and was not open yet."""

    mean: float
    sd: float
    reasons: tuple[Reason, ...]
    not_yet_on: float | None = None

    @property
    def _normal(self) -> NormalDist:
        return NormalDist(self.mean, self.sd)

    @property
    def _gone(self) -> float:
        """The share of openings that a look has ruled out."""
        return 0.0 if self.not_yet_on is None else min(self._normal.cdf(self.not_yet_on), 0.999)

    def day(self, share: float) -> float:
        """By which day it has opened in that share of years, 0 to 1, both left out."""
        return self._normal.inv_cdf(self._gone + share * (1 - self._gone))

    @property
    def expected(self) -> float:
        return self.day(0.5)

    @property
    def interval(self) -> tuple[float, float]:
        """The days between which it opens in four years out of five."""
        return self.day(OUTSIDE), self.day(1 - OUTSIDE)

    def chance_by(self, day: float) -> float:
        """The chance that it has opened by the end of that day, 0 to 1."""
        gone = self._gone
        return max(0.0, (self._normal.cdf(day + 0.5) - gone) / (1 - gone))

    def chance_on(self, day: float, *, lasts: int) -> float:
        """The chance that it is open on that day, if it is open for `lasts` days once begun."""
        return self.chance_by(day) - self.chance_by(day - lasts)


def forecast(
    *,
    usual: float,
    usual_words: str,
    seen: Sequence[Seen] = (),
    place_sd: float = PLACE_SD_DAYS,
    cues: Sequence[Cue] = (),
    reached: Reached | None = None,
    reached_words: str = "",
    not_yet_on: float | None = None,
) -> Forecast:
    """All that is known of this year's opening, in the order in which it is learned.

    `usual` is the day the catalogue gives for the place. Of several cues the one that tells most counts.
    """
    spread = yearly_sd([one.day for one in seen if one.exact])
    first = learn(prior_mean=usual, seen=(), prior_sd=place_sd, yearly_sd=spread)
    found = Forecast(usual, first.next_year_sd, (Reason(usual_words, 0.0, first.next_year_sd),))
    if seen:
        own = learn(prior_mean=usual, seen=seen, prior_sd=place_sd, yearly_sd=spread)
        words = f"{len(seen)} own date{'' if len(seen) == 1 else 's'}, weighing {own.weight:.0%}"
        found = _moved(found, words, own.mean, own.next_year_sd)
    if cues:
        cue = max(cues, key=lambda one: abs(one.correlation))
        days, sd = after_cue(cue_days_late=cue.days_late, correlation=cue.correlation, sd=found.sd)
        found = _moved(found, cue.words, found.mean + days, sd)
    if reached:
        found = _warmed(found, reached, reached_words)
    if not_yet_on is None:
        return found
    cut = replace(found, not_yet_on=not_yet_on)
    moved = cut.expected - found.mean
    reasons = (*cut.reasons, Reason("looked at, and not open yet", moved, _spread_of(cut)))
    return replace(cut, reasons=reasons) if moved > LEAST_MOVE else found


def _moved(found: Forecast, words: str, mean: float, sd: float) -> Forecast:
    reason = Reason(words, mean - found.mean, sd)
    return replace(found, mean=mean, sd=sd, reasons=(*found.reasons, reason))


def _warmed(found: Forecast, reached: Reached, words: str) -> Forecast:
    """Both days, each by how sure it is.

    They lean on the same years and weather, so the spread is never taken for that of two
    independent witnesses (intersection of covariances, Julier and Uhlmann 1997).
    """
    share = found.sd**2 / (found.sd**2 + reached.sd**2)
    mean = found.mean + share * (reached.mean - found.mean)
    sd = (share / reached.sd**2 + (1 - share) / found.sd**2) ** -0.5
    return _moved(found, words, mean, sd)


def _spread_of(found: Forecast) -> float:
    """The standard deviation that an interval of four in five stands for."""
    low, high = found.interval
    return (high - low) / (2 * NormalDist().inv_cdf(1 - OUTSIDE))
