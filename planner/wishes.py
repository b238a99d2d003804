"""Can these wishes be had together? Pure: facts in, verdicts with the ways out."""

from dataclasses import dataclass

GO, LOOK_AGAIN, STOP = "go", "look again", "stop"
# g/L; Reg. (EU) 2019/33 Annex III B for the words, a guide for what is no grape wine.
SPANS = {
    "dry": (0.0, 4.0),
    "medium dry": (4.0, 12.0),
    "medium": (12.0, 45.0),
    "sweet": (45.0, 500.0),
}
# Common practice, no source: below this, sugar left makes no pressure worth fearing.
LIVE_SUGAR_G_PER_L = 4.0

STEADY = "steady it with sulphite and sorbate when it is bright, and keep it still"
PASTEURISE = "heat the closed bottles through, by a tried method, and keep it still"
COLD = "keep it cold, open it within weeks, and name the risk on every bottle"
DRY_OUT = "let it ferment dry"
AT_TABLE = "bottle it dry and sweeten it in the glass"
WAYS_OUT = (STEADY, PASTEURISE, COLD, DRY_OUT, AT_TABLE)


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is wanted; an empty word is no wish. `closing` is still, fizz or open."""

    sweet: str = ""
    closing: str = ""
    steadied: bool = False


@dataclass(frozen=True, slots=True)
class Verdict:
    """go, look again or stop, why, and what would open it."""

    level: str
    reason: str
    ways_out: tuple[str, ...] = ()


def judge(
    wishes: Wishes, *, left_low_g_per_l: float | None, left_high_g_per_l: float | None
) -> list[Verdict]:
    """Every verdict on these wishes, the gravest first; what is left of the sugar may be not known."""
    found = [
        *_sweet_and_live(wishes, left_high_g_per_l),
        *_fizz_and_steadied(wishes),
        *_out_of_reach(wishes, left_low_g_per_l, left_high_g_per_l),
    ]
    order = (STOP, LOOK_AGAIN, GO)
    return sorted(found, key=lambda verdict: order.index(verdict.level))


def _sweet_and_live(wishes: Wishes, left_high: float | None) -> list[Verdict]:
    """Sugar, living yeast and a closed bottle make a bottle that bursts."""
    if wishes.steadied or wishes.closing not in ("still", "fizz"):
        return []
    wanted = SPANS.get(wishes.sweet, (0.0, 0.0))[0]
    if wanted >= LIVE_SUGAR_G_PER_L:
        return [
            Verdict(
                STOP,
                f"{wishes.sweet}, live yeast and a closed bottle do not go together: the yeast "
                "ferments the sugar in the bottle, and the bottle may burst",
                WAYS_OUT,
            )
        ]
    if left_high is not None and left_high >= LIVE_SUGAR_G_PER_L:
        return [
            Verdict(
                LOOK_AGAIN,
                f"the yeast may stop with up to {left_high:.0f} g/L of sugar left; closed in with "
                "live yeast that can start again",
                (STEADY, "less sugar in the must", "a yeast that bears more", COLD),
            )
        ]
    return []


def _fizz_and_steadied(wishes: Wishes) -> list[Verdict]:
    if wishes.closing == "fizz" and wishes.steadied:
        return [
            Verdict(
                STOP,
                "steadied yeast makes no fizz in the bottle",
                ("leave it unsteadied, dry and primed by weight", "keep it still"),
            )
        ]
    return []


def _out_of_reach(wishes: Wishes, low: float | None, high: float | None) -> list[Verdict]:
    """A sweetness that this must will not come to by itself."""
    if not wishes.sweet or low is None or high is None:
        return []
    least, most = SPANS[wishes.sweet]
    if high < least:
        ways = ("sweeten it once it is steadied", "more sugar than the yeast bears, then steady it")
        return [
            Verdict(
                LOOK_AGAIN,
                f"{wishes.sweet} wants {least:g} g/L or more; this ferments to {high:.0f} g/L at most",
                ways,
            )
        ]
    if low > most:
        ways = ("less sugar in the must", "a yeast that bears more", "call it sweeter")
        return [
            Verdict(
                LOOK_AGAIN,
                f"{wishes.sweet} allows {most:g} g/L; at least {low:.0f} g/L will be left",
                ways,
            )
        ]
    return []
