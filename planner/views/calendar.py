from django.conf import settings
from django.http import Http404, HttpResponse, HttpResponseNotModified
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_POST, require_safe

from inventory import clock
from inventory.access import access, public
from inventory.refusals import Refusal
from inventory.sent import sent_once
from inventory.views.saying import say_done
from planner import agenda, feed, feeds
from planner.forms.feeds import FeedForm
from planner.models import Batch, FeedToken, Step

ICS = "text/calendar; charset=utf-8"


@access(read="guest")
def calendar(request):
    return _calendar_page(request, FeedForm(person=request.user))


@access(write="guest")
@require_POST
@sent_once
def feed_add(request):
    form = FeedForm(request.POST, person=request.user)
    if not form.is_valid():
        return _calendar_page(request, form, status=422)
    try:
        token, secret = feeds.make_token(person=request.user, by=request.user, **form.cleaned_data)
    except Refusal as no:
        form.apply_refusal(no)
        return _calendar_page(request, form, status=422)
    address = settings.SITE_URL + reverse("planner:feed", args=[secret])
    response = _calendar_page(request, FeedForm(person=request.user), new=(token, address))
    # A repeat of this form is sent here; the secret is told this once.
    response["Location"] = reverse("planner:calendar")
    response["Cache-Control"] = "no-store"
    return response


@access(write="guest")
@require_POST
@sent_once
def feed_delete(request, pk):
    token = get_object_or_404(FeedToken, pk=pk, person=request.user)
    feeds.revoke(token=token, by=request.user)
    say_done(request)
    return redirect("planner:calendar")


@access(read="guest")
@require_safe
def schedule(request):
    steps = feed.shown(Step.objects.all(), clock.today())
    text = feed.calendar(name=request.house.name, steps=steps)
    return _download(text, request.house.name)


@access(read="guest")
@require_safe
def batch_calendar(request, pk):
    batch = get_object_or_404(Batch, pk=pk)
    text = feed.calendar(name=batch.name, steps=batch.steps.all(), uid=f"batch-{batch.pk}")
    return _download(text, batch.name)


@public
@require_safe
def feed_by_secret(request, secret):
    """The private calendar: unknown secrets are absent pages, unchanged ones cost two queries."""
    token = feeds.find(secret)
    if token is None:
        raise Http404
    today = clock.today()
    mark = feeds.etag(token, today)
    if mark in request.headers.get("If-None-Match", ""):
        response = HttpResponseNotModified()
    else:
        body = feeds.body(token=token, house=request.house, today=today)
        response = HttpResponse(body, content_type=ICS)
    response["ETag"] = mark
    response["Cache-Control"] = "private, no-cache"
    response["Referrer-Policy"] = "no-referrer"
    response["X-Robots-Tag"] = "noindex"
    return response


def _calendar_page(request, form, *, new=None, status=200):
    context = {
        "months": agenda.months(today=clock.today()),
        "tokens": FeedToken.objects.filter(person=request.user),
        "form": form,
        "new": new,
    }
    return render(request, "planner/calendar.html", context, status=status)


def _download(text, name):
    response = HttpResponse(text, content_type=ICS)
    filename = f"{slugify(name) or 'schedule'}.ics"
    response["Content-Disposition"] = f'attachment; filename="{filename}"'
    response["Cache-Control"] = "private, no-cache"
    return response
