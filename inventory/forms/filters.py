"""What a list may be narrowed by; every query parameter goes through one of these."""

from django import forms
from django.db.models import Q

from inventory.fields import LineField


class ListFilter(forms.Form):
    """A search by any word; subclasses name the columns searched in `searched`."""

    searched: tuple[str, ...] = ()

    q = LineField(label="Find", required=False, most=100)

    def narrow(self, rows):
        for word in (self.cleaned_data.get("q") or "").split():
            found = Q()
            for column in self.searched:
                found |= Q(**{f"{column}__icontains": word})
            rows = rows.filter(found)
        return rows
