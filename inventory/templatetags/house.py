"""What every page needs: form tokens, figures as this person reads them, glosses, the places."""

import secrets
from dataclasses import asdict
from urllib.parse import urlsplit

from django import template
from django.template.defaultfilters import slugify
from django.template.loader import render_to_string
from django.utils.html import format_html
from django.utils.safestring import mark_safe

from inventory import clock, shown
from inventory.glossary import GLOSSES, gloss_of
from inventory.known import KNOWN
from inventory.sent import new_token

register = template.Library()
LOOPBACK = ("localhost", "127.0.0.1", "::1")
AT_HAND = ("Today", "Season", "Store", "Batches")


@register.simple_tag(takes_context=True)
def form_token(context):
    """Two hidden inputs: against forged forms, and so that a form sent twice counts once."""
    return format_html(
        '<input type="hidden" name="csrfmiddlewaretoken" value="{}">'
        '<input type="hidden" name="token" value="{}">',
        context.get("csrf_token", ""),
        new_token(),
    )


@register.simple_tag(takes_context=True)
def quantity(context, amount, kind):
    return shown.quantity_text(amount, kind, shown.preference(context.get("request")))


@register.filter
def day(value):
    return shown.day_text(value)


@register.filter
def moment(value):
    return shown.moment_text(value)


@register.filter
def away(value):
    return shown.away_text(value, clock.today()) if value else ""


@register.filter
def money(value):
    return shown.money_text(value)


@register.simple_tag
def fresh_id(stem):
    """An id that no other part of the page has, also after a live update."""
    return f"{stem}-{secrets.token_hex(4)}"


@register.simple_tag
def gloss(word, text=""):
    """A word that opens its meaning; nothing stands between it and the comma after it."""
    inputs = {"word": text or word, "meaning": gloss_of(word), "id": fresh_id(slugify(word))}
    return mark_safe(render_to_string("components/_gloss.html", inputs).strip())


@register.inclusion_tag("components/_words.html")
def words_here(*words):
    """The trade words that stand on this page outside its lists; each must be in the glossary."""
    return {"words": words}


@register.inclusion_tag("components/_known.html")
def how_known(*names):
    """How kinds of figures on this page are known, in one line; `words=name` says another word."""
    pairs = [name.partition("=") for name in names]
    return {"lines": [(words, KNOWN[kind or words]) for words, _, kind in pairs]}


@register.inclusion_tag("components/_figure.html")
def known(value, kind):
    """A figure with its note, by the kind it is of."""
    return {"value": value, **asdict(KNOWN[kind])}


@register.filter
def less_name(error, name):
    """An error without the name of its box in front, where the name already stands beside it."""
    return str(error).removeprefix(f"{name}: ")


@register.filter
def meaning(word):
    """The one line for a word that is in the glossary; any other text stands for itself."""
    return GLOSSES.get(str(word).lower(), word)


@register.simple_tag
def focus_first_bad(form):
    """Let the browser itself put the cursor into the first box to mend; works without a script."""
    for name in form.fields if form.is_bound else ():
        if form.errors.get(name):
            form.fields[name].widget.attrs["autofocus"] = True
            break
    return ""


@register.filter
def at_hand(places):
    return [place for place in places if place["title"] in AT_HAND]


@register.filter
def further(places):
    return [place for place in places if place["title"] not in AT_HAND]


@register.filter
def current_place(places):
    return next((place for place in places if place["current"]), None)


@register.simple_tag(takes_context=True)
def overheard(context):
    """Is a keeper looking at a house whose passwords cross the network unsealed?"""
    request = context.get("request")
    if not context.get("plain_http") or context.get("role") != "keeper" or request is None:
        return False
    return urlsplit(f"//{request.get_host()}").hostname not in LOOPBACK


@register.filter
def undo_of(message):
    """The number of the activity that a message offers to undo, from its tag `undo:123`."""
    tags = (message.extra_tags or "").split()
    return next((tag[5:] for tag in tags if tag.startswith("undo:") and tag[5:].isdigit()), "")
