from django.shortcuts import render

from inventory.access import access
from inventory.glossary import GROUPS


@access(read="guest")
def glossary(request):
    groups = [(heading, sorted(words.items())) for heading, words in GROUPS.items()]
    return render(request, "inventory/glossary.html", {"groups": groups})
