"""Before the must: is it the right plant, made safe to use, fresh, all there, and will it fit?"""

import datetime as dt
from collections.abc import Sequence

from planner.gates.verdict import Reason, Verdict, look_again, stop, verdict

# The catalogue's levels: 3 a toxic part or a group who must avoid it, 4 a deadly likeness.
SERIOUS = 3
# Common practice, no source: the share of an open vessel left empty for foam.
FOAM_SHARE = 0.15


def identity(*, plant: str, hazard_level: int, confirmed: bool, banned: bool = False) -> Verdict:
    """A plant with a dangerous likeness goes on only with the features that were seen."""
    reasons = []
    if banned:
        reasons.append(stop(f"{plant} must not be used", "leave it, and tell who picked it"))
    elif hazard_level >= SERIOUS and not confirmed:
        reasons.append(
            stop(
                f"nobody has written down which features part {plant} from its look-alikes",
                "write down the features you saw; in doubt throw it out",
            )
        )
    return verdict("identity", reasons)


def making_safe(*, steps: Sequence[tuple[str, bool, str]]) -> Verdict:
    """Steps that take a poison away: (what, still planned, reason it was left out)."""
    reasons: list[Reason] = []
    for what, is_planned, why in steps:
        if is_planned:
            continue
        if why.strip():
            reasons.append(look_again(f"{what} was left out: {why}", "put it back into the plan"))
        else:
            reasons.append(
                stop(f"{what} is not in the plan", "put it back, or write why it is not wanted")
            )
    return verdict("making-safe step", reasons)


def hold(*, lots: Sequence[tuple[str, dt.date | None]], on: dt.date) -> Verdict:
    """Lots past the day they keep until; a lot without a day keeps."""
    return verdict(
        "hold clock",
        (
            look_again(
                f"{mark} kept until {until:%d.%m.%Y}", "smell and look at it; use another lot"
            )
            for mark, until in lots
            if until is not None and until < on
        ),
    )


def start(
    *,
    missing: Sequence[str],
    vessel: str,
    usable_l: float | None,
    wanted_l: float,
    is_free: bool,
) -> Verdict:
    """What is missing, whether the vessel is free, and whether the must with its fruit fits.

    `usable_l` is the vessel less its foam room; none where no vessel was chosen.
    """
    reasons = [
        look_again(f"{thing} is missing", "fetch or buy it, or begin without it and say why")
        for thing in missing
    ]
    if usable_l is None:
        reasons.append(look_again("no vessel is chosen", "choose one that holds it with foam room"))
    elif wanted_l > usable_l:
        reasons.append(
            stop(
                f"{wanted_l:.1f} L do not fit: {vessel} takes {usable_l:.1f} L under its foam room",
                "a larger vessel",
                "less must",
                "two vessels",
            )
        )
    if usable_l is not None and not is_free:
        reasons.append(
            look_again(f"{vessel} is in use", "another vessel, an earlier racking, a later start")
        )
    return verdict("start", reasons)
