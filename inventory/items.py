"""What can the house hold and count?"""

from django.db import transaction
from django.db.models import F

from inventory import activity
from inventory.dealing import deal
from inventory.editing import save_edit
from inventory.locks import lock_items
from inventory.models import Item, Person, Receipt, Requirement
from inventory.refusals import Refusal
from inventory.values import check_edit, check_row


@transaction.atomic
def add_item(*, by: Person | None, **values) -> Item:
    """A new item; atomic, leaves an activity."""
    item = Item(**values)
    check_row(item)
    item.save(force_insert=True)
    activity.record(by=by, verb="add", subject=item, summary=f"Added {item}")
    return item


@transaction.atomic
def edit_item(item: Item, *, version: int, values: dict, by: Person | None) -> Item:
    """Change an item if nobody did since `version`; how it is counted stays once it is in use."""
    lock_items([item.pk])
    check_edit(item, values)
    if values.get("base", item.base) != item.base and is_in_use(item):
        raise Refusal(
            f"{item} is in use and stays counted {item.get_base_display()}; add a new item instead.",
            field="base",
        )
    edited = save_edit(item, version=version, values=values, by=by)
    deal(items=[item.pk], by=by, locked=True)
    return edited


@transaction.atomic
def archive_item(*, item: Item, by: Person | None) -> Item:
    """Put an item out of sight; refused while it is needed or on its way. Can be undone."""
    lock_items([item.pk])
    needed = Requirement.objects.filter(item=item, state=Requirement.State.OPEN).first()
    if needed:
        raise Refusal(f"{item} is still needed for {needed}.")
    if Receipt.objects.filter(item=item, state=Receipt.State.EXPECTED).exists():
        raise Refusal(f"{item} is still on its way.")
    return _set_archived(item, True, by)


@transaction.atomic
def restore_item(*, item: Item, by: Person | None) -> Item:
    """Bring an archived item back. Can be undone."""
    return _set_archived(item, False, by)


@activity.undoes("items.archive")
def _undo_archive(data: dict, by: Person | None) -> None:
    row = Item.objects.filter(pk=data["item"])
    row.update(archived=data["archived"], version=F("version") + 1)


def _set_archived(item: Item, archived: bool, by: Person | None) -> Item:
    before = Item.objects.filter(pk=item.pk, archived=not archived)
    if not before.update(archived=archived, version=F("version") + 1):
        raise Refusal(f"{item} is {'archived' if archived else 'in use'} already.")
    item.refresh_from_db()
    activity.record(
        by=by,
        verb="archive" if archived else "restore",
        subject=item,
        summary=f"{'Archived' if archived else 'Brought back'} {item}",
        undo="items.archive",
        undo_data={"item": item.pk, "archived": not archived},
    )
    return item


def is_in_use(item: Item) -> bool:
    """Whether lots, needs, receipts or the lines of recipes count in its unit."""
    pointing = [relation for relation in item._meta.related_objects if relation.one_to_many]
    return any(getattr(item, name.get_accessor_name()).exists() for name in pointing)
