"""How does the pressure in each bottle rise with the warmth, and where is its rating?"""

from inventory.pictures import Fact, Key, Limit, Line, Picture, Plot, value_axis
from planner import fizz
from planner.bottling_plan import Plan, Wish, glass_of

COOLEST, WARMEST, STEP = 0, 38, 2
KEYS = (
    Key("stroke", "line", "pressure over the atmosphere"),
    Key("stroke", "limit", "what the weaker of bottle and closure is rated for"),
)


def pressure_picture(plan: Plan, wish: Wish) -> Picture | None:
    """The kind of bottle nearest to its rating, over the temperatures of a house; none without one."""
    shown = [line for line in plan.lines if line.pressed and line.count]
    if not shown:
        return None
    line = max(shown, key=lambda one: _strain(one, plan))
    return of_glass(
        f"Pressure in {line.item}",
        _glass(line, plan),
        plan.wine,
        line.pressed.co2_g_per_l,
        warmest_c=wish.place.warmest_c if wish.place else None,
    )


def of_glass(
    title: str, glass: fizz.Glass, wine: fizz.Wine, co2_g_per_l: float, *, warmest_c: float | None
) -> Picture:
    """Pressure over temperature for one bottle, with its rating as a line."""
    points = _points(glass, wine, co2_g_per_l)
    rated = glass.rated_bar
    top = max([bar for _, bar in points] + ([rated] if rated else []))
    over = next((warm for warm, bar in points if rated is not None and bar > rated), None)
    warm = fizz.WARM_ROOM_C if warmest_c is None else warmest_c
    at_warm = fizz.gauge(wine, glass, co2_g_per_l, warm).value
    said = f"{at_warm:.2f} bar at {warm:g} °C"
    if rated is None:
        said += "; no rating is known, so it is not for pressure"
    elif over is None:
        said += f", rated {rated:g} bar; it stays below up to {points[-1][0]} °C"
    else:
        said += f", rated {rated:g} bar; it passes the rating from {over} °C on"
    plot = Plot(
        across=value_axis(COOLEST, points[-1][0], lambda value: f"{value:.0f}", name="°C"),
        up=value_axis(0, top * 1.1, lambda value: f"{value:.0f}", name="bar"),
        lines=[Line("pressure", points)],
        limits=[Limit(f"{rated:g} bar", rated, beyond=True)] if rated else [],
        now=warm if warm <= points[-1][0] else None,
        now_text="warmest",
    )
    return Picture(
        title=title,
        finding=f"{said}.",
        drawing=plot.drawing(),
        head=("Temperature", "Pressure"),
        facts=tuple(Fact((f"{at} °C", f"{bar:.2f} bar")) for at, bar in points),
        keys=KEYS if rated else KEYS[:1],
    )


def _points(glass: fizz.Glass, wine: fizz.Wine, co2_g_per_l: float) -> list[tuple[int, float]]:
    """As far as the formula reaches: where warmth would close the head space it ends."""
    found = []
    for warm in range(COOLEST, WARMEST + 1, STEP):
        try:
            found.append((warm, max(0.0, fizz.gauge(wine, glass, co2_g_per_l, warm).value)))
        except ValueError:
            break
    return found


def _strain(line, plan: Plan) -> float:
    rated = _glass(line, plan).rated_bar
    return line.pressed.at_warmest.value / rated if rated else float("inf")


def _glass(line, plan: Plan) -> fizz.Glass:
    closure = getattr(line.closure, "closure_type", None) if line.closure else None
    return glass_of(line.kind, closure)
