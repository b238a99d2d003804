"""How far do forecasts miss open flowering records, and do four in five lie in their interval?

Blueberry bushes of one wood, 1990 to 2001 (data of the package pyPhenology): each year from the fifth
on is foretold 42 and 14 days before the usual day from nothing later than that day, by the earlier
years only. The years of one wood go together, so the shares wander by a tenth either way. Beside it
stand the plain mean of the earlier years and the calendar, the day of the first year for ever.

    DJANGO_SETTINGS_MODULE=tests.settings python -m tests.bench.bench_forecast
"""

from math import sqrt
from statistics import fmean

from tests.reference.open_flowering import bushes
from tests.reference.test_open_flowering import foretold


def main():
    print(
        f"{'before':>7} {'n':>4} {'ours':>6} {'mean':>6} {'calendar':>9} {'in 80 %':>8}  (error in days)"
    )
    for before_days in (42, 14):
        ours, means, calendars, inside = [], [], [], []
        for bush in (*bushes("budburst"), *bushes("flowers")):
            for year in sorted(bush)[4:]:
                found, usual = foretold(bush, year, before_days=before_days)
                low, high = found.interval
                ours.append(found.expected - bush[year])
                means.append(usual - bush[year])
                calendars.append(bush[min(bush)] - bush[year])
                inside.append(round(low) <= bush[year] <= round(high))
        print(
            f"{before_days:>5} d {len(ours):>4} {_error(ours):>6.2f} {_error(means):>6.2f} "
            f"{_error(calendars):>9.2f} {fmean(inside):>8.0%}"
        )


def _error(misses):
    return sqrt(fmean(miss**2 for miss in misses))


if __name__ == "__main__":
    main()
