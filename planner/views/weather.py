from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from inventory import clock
from inventory.access import access
from inventory.refusals import Refusal
from inventory.sent import sent_once
from inventory.views.editing import brought, form_page
from inventory.views.saying import say_done
from planner import weather, weather_files
from planner.forms.weather import NormalsForm, WeatherForm
from planner.models import WeatherFile
from planner.phenology.normals import stations
from planner.tables.weather import WeatherFileTable, YearTable, years_of
from planner.warmth_picture import warmth_picture

State = WeatherFile.State


@access(read="picker")
def weather_page(request):
    held = weather.here(request.house)
    files = WeatherFile.objects.filter(state=State.TAKEN_IN).select_related("by")
    today = clock.today()
    context = {
        "files": WeatherFileTable(files),
        "usual": weather.normals(),
        "years": YearTable(years_of(held, today)) if held else None,
        "picture": warmth_picture(held, today=today) if held else None,
    }
    return render(request, "planner/weather.html", context)


@access(read="maker", write="maker")
@sent_once
def weather_add(request):
    form = WeatherForm(*brought(request), person=request.user)

    def act(form):
        typed = form.values()
        name, data = typed.pop("file")
        return weather.look_at(name=name, data=data, by=request.user, **typed)

    page = {"title": "Bring a weather file", "submit": "Look at it"}
    page["cancel"] = reverse("planner:weather")
    return form_page(request, form=form, act=act, **page)


@access(read="picker", write="maker")
@sent_once
def weather_file(request, pk):
    """What is in a file, before it counts and after."""
    file = get_object_or_404(WeatherFile.objects.select_related("by"), pk=pk)
    wrong = ""
    if request.method == "POST":
        try:
            weather.take_in(file=file, by=request.user)
        except Refusal as refusal:
            wrong = refusal.message
        else:
            say_done(request)
            return redirect("planner:weather")
    rows = file.days.order_by("day").values_list("day", "low", "high")
    days = [(day, _degrees(low), _degrees(high)) for day, low, high in rows]
    context = {
        "file": file,
        "days": [*days[:5], *days[-5:]] if len(days) > 10 else days,
        "count": len(days),
        "oddities": file.oddities.splitlines(),
        "looked_at": file.state == State.LOOKED_AT,
        "wrong": wrong,
    }
    return render(request, "planner/weather_file.html", context, status=422 if wrong else 200)


@access(read="maker", write="maker")
@sent_once
def normals_add(request):
    form = NormalsForm(*brought(request), person=request.user)

    def act(form):
        weather.set_normals(by=request.user, **_months(form.values()))
        return "planner:weather"

    page = {"title": "Usual months", "submit": "Take them", "cancel": reverse("planner:weather")}
    return form_page(request, form=form, act=act, **page)


def _degrees(hundredths):
    return None if hundredths is None else hundredths / weather.HUNDREDTHS


def _months(typed) -> dict:
    height = {"height_m": typed["height_m"]}
    if typed["station"]:
        row = stations()[typed["station"]]
        usual = {"name": row.name, "lows": row.lows_c, "highs": row.highs_c}
        return usual | {"height_m": round(row.height_m)}
    if typed["file"]:
        name, data = typed["file"]
        found = weather_files.read(data)
        if not found.months:
            raise Refusal("This file holds days, not months.", field="file")
        lows, highs = weather_files.months_to_normals(found.months)
        return height | {"name": typed["name"] or name[:120], "lows": lows, "highs": highs}
    usual = {"lows": typed["lows"], "highs": typed["highs"]}
    return height | usual | {"name": typed["name"] or "as typed"}
