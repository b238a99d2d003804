"""What do a house's own dates say of the next year?

Days are numbers of a common year; standard deviations are in days. Normal with normal shrinkage: the
place-shifted date of the catalogue first, the house's own dates as they come.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import NormalDist

from planner.phenology.spread import BETWEEN_YEAR_SD_DAYS

# Swiss cherry bloom, 1961-2020: station means lie 4.1 to 5.5 days about a regression on place.
PLACE_SD_DAYS = 5.5
# From memory, assumptions both: how events of one year go together.
SPRING_CORRELATION, AUTUMN_CORRELATION = 0.5, 0.3
# Swiss cherry bloom 1991-2020: 5.77 days of a year's anomaly are common to all stations and 5.69
# their own, so a neighbour's tells half of it.
NEIGHBOUR_CORRELATION = 0.5
# The printed spread between years counts as so many years of the house's own; a judgement.
SPREAD_YEARS = 8
# Whoever did not look the day before has looked within so many days, on average; a judgement. A bound
# further after the usual day than twice the yearly spread tells nothing of it.
LOOKS_EVERY_DAYS = 4.0
TELLS_WITHIN_SD = 2.0
FAR_OUT = -6.0
CLOSE_ENOUGH_DAYS = 0.001
ROUNDS = 50
_STANDARD = NormalDist()


@dataclass(frozen=True, slots=True)
class Seen:
    """A first sighting in one year; `exact` where the day before was looked at too.

    One that is not exact is a bound: it was open on that day, and may have been some days before.
    """

    day: float
    exact: bool = True

    @property
    def likely(self) -> float:
        """The day it opened, as far as one sighting tells."""
        return self.day if self.exact else self.day - LOOKS_EVERY_DAYS


@dataclass(frozen=True, slots=True)
class Learned:
    """The long-run day at this spot, how sure it is, and what one more year may do.

    `weight` is the share of the own dates in it, 0 to 1.
    """

    mean: float
    sd: float
    weight: float
    next_year_sd: float


def yearly_sd(days: Sequence[float], *, usual: float = BETWEEN_YEAR_SD_DAYS) -> float:
    """The spread between years at this spot: the printed one, and the own dates as they come."""
    if len(days) < 2:
        return usual
    middle = sum(days) / len(days)
    own = sum((day - middle) ** 2 for day in days)
    return sqrt((SPREAD_YEARS * usual**2 + own) / (SPREAD_YEARS + len(days) - 1))


def learn(
    *,
    prior_mean: float,
    seen: Sequence[Seen],
    prior_sd: float = PLACE_SD_DAYS,
    yearly_sd: float = BETWEEN_YEAR_SD_DAYS,
) -> Learned:
    """The long-run day after the own dates; without any it is the prior.

    A bound counts by what it leaves possible: its expected day below the bound, and of a whole
    date the share that its spread has lost (expectation and maximisation; Louis 1982).
    """
    if prior_sd <= 0 or yearly_sd <= 0:
        raise ValueError("A spread must be above 0 days.")
    mean, shares = prior_mean, [1.0] * len(seen)
    days = [one.day for one in seen]
    for _ in range(ROUNDS if any(not one.exact for one in seen) else 1):
        before = mean
        for n, one in enumerate(seen):
            if not one.exact:
                days[n], shares[n] = _below(one.day, mean, yearly_sd)
        mean = _posterior(prior_mean, prior_sd, yearly_sd, days, [1.0] * len(days))[0]
        if abs(mean - before) < CLOSE_ENOUGH_DAYS:
            break
    _, weight = _posterior(prior_mean, prior_sd, yearly_sd, days, shares)
    sd = prior_sd * sqrt(1 - weight)
    return Learned(mean, sd, weight, sqrt(sd**2 + yearly_sd**2))


def _posterior(
    prior: float, prior_sd: float, yearly_sd: float, days: Sequence[float], shares: Iterable[float]
) -> tuple[float, float]:
    """Mean and weight: `shares` say how much of a date each is."""
    held = sum(shares)
    if not days or held <= 0:
        return prior, 0.0
    weight = prior_sd**2 / (prior_sd**2 + yearly_sd**2 / held)
    return prior + weight * (sum(days) / len(days) - prior), weight


def _below(bound: float, mean: float, sd: float) -> tuple[float, float]:
    """The expected day of one that came by `bound`, and how much of its spread the bound took.

    That somebody looks every few days makes the days just before the bound likelier.
    """
    if bound <= mean + TELLS_WITHIN_SD * sd:
        mean += sd**2 / LOOKS_EVERY_DAYS
    z = (bound - mean) / sd
    # Far out the ratio of density to chance is taken from its series (Mills 1926).
    pull = _STANDARD.pdf(z) / _STANDARD.cdf(z) if z > FAR_OUT else -z - 1 / z
    left = min(1.0, max(0.0, 1 - z * pull - pull**2))
    return mean - sd * pull, 1 - left


def after_cue(*, cue_days_late: float, correlation: float, sd: float) -> tuple[float, float]:
    """Days by which a later event of the same year moves, and its spread then.

    `cue_days_late` is below 0 where the cue came early; the two events have equal spread.
    """
    if not -1 <= correlation <= 1:
        raise ValueError(f"A correlation lies between -1 and 1, not {correlation:g}.")
    return correlation * cue_days_late, sd * sqrt(1 - correlation**2)
