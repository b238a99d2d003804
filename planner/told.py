"""What did the person read off, see and say while doing a step?"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Told:
    """Typed with a step that is done; nothing typed is none.

    `volume` is in microlitres, `confirmed` names the features that told a plant from its look-alikes,
    and `reason` says why the step goes on where a gate says to look again.
    """

    volume: int | None = None
    gravity: float | None = None
    sample_c: float | None = None
    must_c: float | None = None
    confirmed: str = ""
    reason: str = ""


NOTHING = Told()
