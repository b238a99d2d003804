"""What the pages are written with: tokens, figures, days, glosses, forms and messages."""

import datetime as dt
import re
from pathlib import Path

import pytest
from django import forms
from django.contrib.messages import constants
from django.contrib.messages.storage.base import Message
from django.template import engines

from inventory import shown
from inventory.glossary import GLOSSES


@pytest.fixture
def page(rf, maker, settings):
    settings.PRETEND_TODAY = dt.date(2026, 4, 6)

    def render(source, host="testserver", **context):
        request = rf.get("/", headers={"host": host})
        request.user = maker
        html = engines["django"].from_string("{% load house %}" + source).render(context, request)
        return " ".join(html.split())

    return render


class JarForm(forms.Form):
    name = forms.CharField(max_length=5)
    state = forms.ChoiceField(choices=[("full", "full")], widget=forms.RadioSelect)
    opened = forms.BooleanField(required=False, help_text="Since when stands on the jar.")


def test_two_forms_of_a_page_have_two_tokens(page):
    html = page("{% form_token %}{% form_token %}", csrf_token="abc")

    tokens = re.findall(r'name="token" value="([0-9a-f]{32})"', html)
    assert len(set(tokens)) == 2
    assert html.count('name="csrfmiddlewaretoken" value="abc"') == 2


def test_a_quantity_is_shown_as_the_person_likes_it(page, maker, sugar):
    metric = page("{% quantity 1500000 item %}", item=sugar)
    maker.units = "imperial"
    pounds = page("{% quantity 1500000 item %}", item=sugar)
    gallons = page("{% quantity 4546090 'uL' %}")

    assert (metric, pounds, gallons) == ("1.5 kg", "3 lb 4.9 oz", "1 imp gal")


def test_pieces_take_the_word_of_their_item(page, yeast, sugar):
    assert page("{% quantity 2000 item %}", item=yeast) == "2 sachets"
    assert page("{% quantity nothing item %}", nothing=None, item=sugar) == "not known"


def test_nobody_signed_in_sees_metric(rf):
    assert shown.preference(rf.get("/")) == "metric"


def test_days_and_prices_are_written_one_way(page):
    html = page(
        "{{ d|day }}; {{ n|day }}; {{ d|away }}; {{ p|money }}; {{ m|money }}",
        d=dt.date(2026, 9, 12), n=None, p=1_087, m=-5,
    )  # fmt: skip

    assert html == "Sat 12 Sep 2026; no day; in 159 days; 10.87; -0.05"


@pytest.mark.parametrize(
    ("day", "words"),
    [(4, "2 days ago"), (5, "yesterday"), (6, "today"), (7, "tomorrow"), (9, "in 3 days")],
)
def test_how_far_a_day_lies_is_said_in_words(page, day, words):
    assert page("{{ d|away }}", d=dt.date(2026, 4, day)) == words


def test_a_trade_word_opens_its_meaning_without_a_script(page):
    html = page('{% gloss "racking" "racked" %}.')

    target = re.search(r'popovertarget="([^"]+)"[^>]*>racked</button>', html)[1]
    assert f'id="{target}" popover role="note">{GLOSSES["racking"]}</span></span>.' in html


def test_a_word_without_a_meaning_is_a_mistake(page):
    with pytest.raises(KeyError):
        page('{% gloss "flocculation" %}')


def test_glosses_are_one_line_and_promise_nothing():
    too_long = [word for word, meaning in GLOSSES.items() if len(meaning) > 90]
    promising = [word for word, meaning in GLOSSES.items() if re.search(r"\bsafe", meaning)]

    assert too_long == []
    assert promising == []


def test_an_unknown_figure_shows_no_number(page):
    html = page('{% include "components/_figure.html" with value="0" known="not known" %}')

    assert "figure-value" not in html
    assert GLOSSES["not known"] in html


def test_a_figure_names_its_rule_and_source(page):
    html = page(
        '{% include "components/_figure.html" with value="11.3 %" known="worked out" '
        'rule="By the fall of the extract." source="the readings" %}'
    )

    assert '<span class="figure-value">11.3 %</span>' in html
    assert "By the fall of the extract." in html
    assert "Source: the readings" in html


def test_a_form_to_mend_says_so_on_top_and_at_the_box(page):
    form = JarForm({"name": "too long", "opened": "on"})

    html = page('{% include "components/_form.html" with submit="Keep" %}', form=form)

    assert '<div class="errors" role="alert">' in html
    assert '<li><a href="#id_name">Name</a>: Ensure this value has at most 5' in html
    assert '<li><a href="#id_state">State</a>: This field is required.</li>' in html
    assert (
        '<fieldset class="field field-many field-wrong" aria-describedby="id_state_error">' in html
    )
    name_box = re.search(r'<input type="text" name="name"[^>]*>', html)[0]
    assert 'aria-invalid="true"' in name_box
    assert 'aria-describedby="id_name_error"' in name_box
    assert 'value="too long"' in name_box
    assert html.count("autofocus") == 1
    assert "autofocus" in name_box


def test_help_and_need_stand_at_the_box(page):
    html = page('{% include "components/_form.html" with submit="Keep" %}', form=JarForm())

    assert '<label for="id_name">Name</label> <span class="field-need"' in html
    assert 'id="id_opened_helptext">Since when stands on the jar.</div>' in html
    assert 'aria-describedby="id_opened_helptext"' in html
    assert "autofocus" not in html


def test_an_error_does_not_repeat_the_name_of_its_box(page):
    assert page('{{ "Day: 31 Feb is no day"|less_name:"Day" }}') == "31 Feb is no day"


@pytest.mark.parametrize(("tags", "number"), [("undo:12", "12"), ("", ""), ("undo:x", "")])
def test_a_message_may_carry_what_undoes_it(page, tags, number):
    message = Message(constants.SUCCESS, "Received", extra_tags=tags)

    assert page("{{ message|undo_of }}", message=message) == number


@pytest.mark.parametrize(
    ("host", "role", "heard"),
    [("192.168.0.9:8000", "keeper", "True"), ("192.168.0.9", "maker", "False"),
     ("127.0.0.1:8000", "keeper", "False"), ("localhost", "keeper", "False")],
)  # fmt: skip
def test_the_keeper_is_told_that_plain_http_can_be_overheard(page, settings, host, role, heard):
    settings.ALLOWED_HOSTS = ["*"]

    assert page("{% overheard %}", host=host, role=role, plain_http=True) == heard


def test_https_cannot_be_overheard(page):
    assert page("{% overheard %}", role="keeper", plain_http=False) == "False"


def test_the_phone_bar_has_four_places_and_marks_the_current_one(page):
    titles = ["Today", "Season", "Store", "Recipes", "Batches", "Cellar", "Calendar", "Household"]
    places = [
        {"address": f"/{title}/", "title": title, "current": title == "Cellar"} for title in titles
    ]

    html = page('{% include "components/_places.html" %}', places=places)

    bar = html[html.index('class="bar"') :]
    assert re.findall(r'<a href="/(\w+)/"', bar) == ["Today", "Season", "Store", "Batches"]
    assert "aria-current" not in bar
    assert ", you are in Cellar" in bar
    assert html.count('<a href="/Cellar/" aria-current="page">') == 1


def test_a_form_goes_back_to_its_page_unless_told_where(page):
    part = "{% include 'components/_form.html' with submit='Save' "

    at_home = page(part + "%}", form=JarForm(), address="/elsewhere/")
    sent_away = page(part + "send_to='/elsewhere/' %}", form=JarForm())

    assert 'action=""' in at_home
    assert 'action="/elsewhere/"' in sent_away


def test_no_page_names_the_address_of_a_form_by_a_word_it_does_not_know():
    pages = Path("templates").rglob("*.html")

    wrong = re.compile(r'include "components/_form\.html"[^%]* address=')
    assert [str(path) for path in pages if wrong.search(path.read_text())] == []
