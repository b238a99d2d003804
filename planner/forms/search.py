from django import forms

from inventory.fields import LineField
from inventory.search import MOST_LETTERS


class SearchForm(forms.Form):
    q = LineField(label="Find", required=False, most=MOST_LETTERS)
