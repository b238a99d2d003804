"""While it works and when it goes into glass: yeast in, bottling, pressure, sweetness, doses, places."""

from dataclasses import dataclass

from planner.gates.verdict import Reason, Verdict, look_again, stop, verdict
from planner.wishes import LIVE_SUGAR_G_PER_L, WAYS_OUT

# Common practice, no source: sulphite given at the must is let go for a day before the yeast.
SULPHITE_HOURS = 24.0
# Of the rating; common practice, no source.
NEAR_SHARE = 0.8
STILL_TWICE = "still twice"
# Wider than any bottle is a plain cork made for; CETIE guide 1 names 1.2 g/L for still wine.
NO_RATING = "what holds it is not rated for pressure, or its rating is not known"


def yeast_in(
    *,
    must_c: float | None,
    yeast_low_c: float | None,
    yeast_high_c: float | None,
    sulphite_hours_ago: float | None,
) -> Verdict:
    """The must within the yeast's warmth, and no sulphite in the last day; none: no sulphite given."""
    reasons = []
    if must_c is None:
        reasons.append(stop("how warm the must is is not known", "measure it"))
    elif yeast_high_c is not None and must_c > yeast_high_c:
        reasons.append(
            stop(
                f"{must_c:g} °C is over the yeast's {yeast_high_c:g} °C",
                "let it cool, then read again",
            )
        )
    elif yeast_low_c is not None and must_c < yeast_low_c:
        reasons.append(
            stop(
                f"{must_c:g} °C is under the yeast's {yeast_low_c:g} °C", "warm it, then read again"
            )
        )
    if must_c is not None and yeast_high_c is None:
        reasons.append(look_again("what warmth the yeast bears is not known", "look at its packet"))
    if sulphite_hours_ago is not None and sulphite_hours_ago < SULPHITE_HOURS:
        reasons.append(
            stop(
                f"sulphite went in {sulphite_hours_ago:.0f} h ago",
                f"wait until {SULPHITE_HOURS:.0f} h have passed, stirring now and then",
            )
        )
    return verdict("yeast in", reasons)


def bottle_still(*, stillness: str, finished: bool | None, is_steadied: bool) -> Verdict:
    """Still twice at or below its finish, or steadied; `finished` none where that is not known."""
    return verdict("bottle still", [] if is_steadied else _unfinished(stillness, finished))


def bottle_with_fizz(
    *,
    stillness: str,
    finished: bool | None,
    is_steadied: bool,
    is_fined_bare: bool,
    left_counted: bool,
) -> Verdict:
    """As for still, with what sugar is left counted into the pressure, and yeast alive to work."""
    reasons = _unfinished(stillness, finished)
    if is_steadied:
        reasons.append(stop("it is steadied: no yeast will make the fizz", "keep it still"))
    if is_fined_bare:
        reasons.append(
            stop(
                "it is fined or filtered bare of yeast", "add yeast for the bottle", "keep it still"
            )
        )
    if not left_counted:
        reasons.append(
            stop(
                "what sugar is left is not counted into the pressure",
                "read its gravity and reckon the priming with it",
            )
        )
    return verdict("bottle with fizz", reasons)


def _unfinished(stillness: str, finished: bool | None) -> list[Reason]:
    if stillness != STILL_TWICE:
        return [
            stop(
                f"it is {stillness}: two equal readings three or more days apart are wanted",
                "read it again in three days",
            )
        ]
    if finished is None:
        return [
            stop(
                "nobody wrote down its gravity before the yeast, so whether it has finished or is "
                "stuck is not known",
                "write that reading down with its day, if it stands on paper",
                "steady it and keep it still",
            )
        ]
    if not finished:
        return [
            stop(
                "it stands still above its finish: it is stuck, and may start again in the bottle",
                "mend the stuck ferment",
                "steady it and keep it still",
            )
        ]
    return []


def pressure(
    *,
    gauge_bar: float,
    bottle_rated_bar: float | None,
    closure_rated_bar: float | None,
    most_volumes: float | None = None,
) -> Verdict:
    """The pressure at the warmest of the place against the weaker of bottle and closure.

    A rating that is not known counts as not for pressure.
    """
    ratings = {"the bottle": bottle_rated_bar, "the closure": closure_rated_bar}
    unknown = [name for name, rated in ratings.items() if rated is None]
    if unknown:
        return verdict(
            "pressure",
            [stop(f"{' and '.join(unknown)}: {NO_RATING}", "bottles and closures rated for it")],
        )
    part, rated = min(ratings.items(), key=lambda pair: pair[1])
    if gauge_bar > rated:
        less = "" if most_volumes is None else f": at most {most_volumes:.2f} volumes"
        words = f"{gauge_bar:.2f} bar is over {part}, rated {rated:g} bar"
        ways = (f"less sugar{less}", "a cooler place", f"{part} rated for more")
        return verdict("pressure", [stop(words, *ways)])
    if gauge_bar > NEAR_SHARE * rated:
        words = f"{gauge_bar:.2f} bar is {gauge_bar / rated:.0%} of what {part} is rated for"
        return verdict("pressure", [look_again(words, "less sugar", "a cooler place")])
    return verdict("pressure", [])


def sweet_and_live(*, sugar_g_per_l: float | None, yeast_alive: bool, closed: bool) -> Verdict:
    """Sugar with living yeast in a closed bottle; sugar that is not known counts as there."""
    if not (yeast_alive and closed):
        return verdict("sweet and live", [])
    if sugar_g_per_l is None:
        return verdict(
            "sweet and live",
            [stop("how much sugar is left is not known", "read its gravity", *WAYS_OUT)],
        )
    if sugar_g_per_l >= LIVE_SUGAR_G_PER_L:
        words = f"{sugar_g_per_l:.0f} g/L of sugar, living yeast and a closed bottle"
        return verdict("sweet and live", [stop(words, *WAYS_OUT)])
    return verdict("sweet and live", [])


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit of the country: what it is of, how much there would be, how much there may be."""

    what: str
    after: float | None
    most: float
    unit: str = "mg/L"


def dose(*limits: Limit) -> Verdict:
    """What an addition brings a total to against its limit; a total that is not known is looked at."""
    reasons = []
    for limit in limits:
        if limit.after is None:
            words = f"{limit.what} is not known, so its limit of {limit.most:g} {limit.unit} is not checked"
            reasons.append(look_again(words, "measure it, or add up what was given"))
        elif limit.after > limit.most:
            words = f"{limit.what} would come to {limit.after:.0f} of {limit.most:g} {limit.unit}"
            reasons.append(stop(words, "a smaller dose"))
        elif limit.after > NEAR_SHARE * limit.most:
            words = f"{limit.what} would come to {limit.after:.0f} of {limit.most:g} {limit.unit}"
            reasons.append(look_again(words, "a smaller dose"))
    return verdict("dose", reasons)


def place(*, name: str, before: Verdict, after: Verdict) -> Verdict:
    """A filled lot with fizz, judged anew at once when the warmest of its place changes."""
    if after.level == "go" or after == before:
        return verdict("place", after.reasons)
    ways = ("move it somewhere cooler today, with goggles and gloves on", "chill and open it")
    return verdict(
        "place",
        [
            Reason(one.level, f"in {name}: {one.words}", (*ways, *one.ways_out))
            for one in after.reasons
        ],
    )
