"""What is really on the shelf: many lots counted in one go?"""

import datetime as dt
from collections.abc import Mapping

from django.db import transaction

from inventory import activity, ledger
from inventory.locks import lock_items
from inventory.models import Lot, Movement, Person
from inventory.refusals import Refusal

MOST_LINES = 500


@transaction.atomic
def count_all(
    *, counted: Mapping[int, int], on: dt.date, by: Person | None, reason: str = ""
) -> list[Movement]:
    """Set each of these lots to what was counted; all or none. Returns the lines that differed.

    Every lot leaves its own activity, so that one wrong count can be undone alone.
    """
    if not counted:
        raise Refusal("Count at least one lot.")
    if len(counted) > MOST_LINES:
        raise Refusal(f"At most {MOST_LINES} lots at once.")
    lots = Lot.objects.select_related("item").in_bulk(list(counted))
    lock_items(lot.item_id for lot in lots.values())
    lines = [
        ledger.count(lot=lots[key], counted=amount, on=on, by=by, reason=reason)
        for key, amount in sorted(counted.items())
    ]
    found = [line for line in lines if line is not None]
    first = lots[min(counted)]
    activity.record(
        by=by,
        verb="count",
        subject=first,
        summary=f"Counted {len(lines)} lots, {len(found)} of them otherwise than recorded",
    )
    return found
