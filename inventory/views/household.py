from django.http import FileResponse
from django.urls import reverse
from django.utils.text import slugify

from inventory import carrying, clock
from inventory import household as house
from inventory.access import access
from inventory.forms.household import HouseholdForm
from inventory.sent import sent_once
from inventory.tables.household import PersonTable
from inventory.views.editing import edit_page
from inventory.views.listing import listing


@access(read="picker")
def household(request):
    return listing(
        request,
        rows=house.people(),
        table_class=PersonTable,
        template="inventory/household.html",
        name="people",
        context={"facts": facts(request.house)},
    )


def facts(house):
    """What is set for the house, in words."""
    degrees = abs(house.latitude_thousandths) / 1000
    side = "north" if house.latitude_thousandths >= 0 else "south"
    return [
        ("Time zone", house.time_zone),
        ("Country", house.country),
        ("Latitude", f"{degrees:g}° {side}"),
        ("Height above the sea", f"{house.height_m} m"),
        ("Units for new people", house.get_units_display()),
    ]


@access(read="keeper", write="keeper")
@sent_once
def household_edit(request):
    return edit_page(
        request,
        instance=house.current(),
        form_class=HouseholdForm,
        save=house.change,
        goal=reverse("inventory:household"),
        title="Change the house",
        template="inventory/household_edit.html",
        time_zones=HouseholdForm.time_zones(),
    )


@access(read="keeper")
def everything(request):
    """The whole house as one file, for its keeper."""
    name = f"{slugify(request.house.name) or 'house'}-{clock.today().isoformat()}.zip"
    return FileResponse(carrying.as_file(), as_attachment=True, filename=name)
