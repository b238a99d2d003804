"""What is wrong with a page as it stands in the browser?"""

import json

from axe_playwright_python.base import AXE_SCRIPT

# WCAG 2.0, 2.1 and 2.2, levels A and AA, in the names of axe-core's rule sets.
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
RUN_AXE = f"axe.run(document, {json.dumps({'runOnly': RULES, 'resultTypes': ['violations']})})"

# What a first visit may weigh, compressed and in all.
MOST_BYTES = 100_000
OPEN_ALL = "document.querySelectorAll('details').forEach(part => { part.open = true; })"
# What a page has too much or too little of; an empty list if all is well.
LAY_OF_THE_PAGE = """
() => {
  const found = [];
  const root = document.documentElement;
  const ids = [...document.querySelectorAll("[id]")].map(part => part.id);
  const twice = ids.filter((id, place) => ids.indexOf(id) !== place);
  const count = selector => document.querySelectorAll(selector).length;
  if (root.scrollWidth > WIDTH) {
    const wide = [...document.querySelectorAll("main *")].filter(
      part => part.getBoundingClientRect().right > WIDTH + 1 && !part.closest(".table-wide, svg"));
    const names = wide.slice(0, 3).map(part => part.outerHTML.slice(0, 120));
    found.push(`scrolls sideways: ${root.scrollWidth} of WIDTH px: ${names.join(" | ")}`);
  }
  const main = document.querySelector("main");
  const edge = main && main.getBoundingClientRect().right - parseFloat(getComputedStyle(main).paddingRight);
  const out = [...document.querySelectorAll("main table")].filter(
    table => table.getBoundingClientRect().right > edge + 1 && !table.closest(".table-wide"));
  if (out.length) found.push(`a table sticks out of the page: ${out[0].outerHTML.slice(0, 120)}`);
  if (count("h1") !== 1) found.push(`${count("h1")} first headings`);
  if (count("main") !== 1) found.push(`${count("main")} main landmarks`);
  if (!document.querySelector("header")) found.push("no head of the page");
  if (!/^.{3,} - .{3,}$/.test(document.title)) found.push(`title: ${document.title}`);
  if (root.lang !== "en-GB") found.push(`language: ${root.lang}`);
  if (twice.length) found.push(`ids twice: ${twice.join(" ")}`);
  if (window.broken.length) found.push(`content policy broken: ${window.broken.join(" ")}`);
  return found;
}
"""
# Whether a stop of the keyboard is not wholly out of sight or covered by something (success
# criterion 2.4.11); a tall box may be seen in part.
IS_SEEN = """
  const isSeen = stop => {
    const { left, right, top, bottom } = stop.getClientRects()[0];
    return [top + 4, (top + bottom) / 2, bottom - 4].some(y => {
      const part = document.elementFromPoint((left + right) / 2, y);
      return part && (stop.contains(part) || part.contains(stop) || part.closest("label"));
    });
  };
"""
# Goes to every stop, forwards and back, and names those that are not seen.
COVERED_STOPS = """
() => {
  IS_SEEN
  const stops = [...document.querySelectorAll(
    "a[href], button:not([disabled]), input:not([type=hidden]), select, textarea, summary, [tabindex='0']")]
    .filter(stop => stop.checkVisibility({ visibilityProperty: true }) && stop.getClientRects().length);
  const found = new Set();
  for (const stop of [...stops, ...stops.toReversed()]) {
    stop.focus();
    if (document.activeElement === stop && !isSeen(stop)) found.add(stop.outerHTML.slice(0, 100));
  }
  document.activeElement.blur();
  return [...found];
}
""".replace("IS_SEEN", IS_SEEN)
# What is wrong with the stop in focus: covered, or without a ring round it; "" if nothing is.
FAULT_OF_FOCUS = """
() => {
  IS_SEEN
  const stop = document.activeElement;
  if (stop === document.body || stop.matches("main")) return "";
  const style = getComputedStyle(stop);
  const ring = stop.matches(":focus-visible") && style.outlineStyle !== "none"
    && parseFloat(style.outlineWidth) >= 2;
  const name = stop.outerHTML.slice(0, 100);
  return (isSeen(stop) ? "" : `covered: ${name} `) + (ring ? "" : `no ring: ${name}`);
}
""".replace("IS_SEEN", IS_SEEN)


class Scales:
    """Counts the bytes of every visit as a first one: nothing comes from the browser's cache."""

    def __init__(self, page):
        self.bytes = 0
        wire = page.context.new_cdp_session(page)
        wire.on("Network.loadingFinished", self._add)
        wire.send("Network.enable")
        wire.send("Network.setCacheDisabled", {"cacheDisabled": True})

    def _add(self, event: dict) -> None:
        self.bytes += int(event["encodedDataLength"])

    def empty(self) -> None:
        self.bytes = 0

    def too_heavy(self) -> list[str]:
        """A page that came without its style sheets would be suspiciously light."""
        if not 20_000 < self.bytes <= MOST_BYTES:
            return [f"weighs {self.bytes} bytes on a first visit"]
        return []


def lay_of(page, width: int) -> list[str]:
    return page.evaluate(LAY_OF_THE_PAGE.replace("WIDTH", str(width)))


def covered_stops(page) -> list[str]:
    return [f"focus covered: {stop}" for stop in page.evaluate(COVERED_STOPS)]


def fault_of_focus(page) -> str:
    return page.evaluate(FAULT_OF_FOCUS)


def bring_axe(page) -> None:
    page.evaluate(AXE_SCRIPT)


def violations(page) -> list[str]:
    """Each rule of axe that is broken, with the first places."""
    return [
        f"{rule['id']}: {', '.join(str(node['target']) for node in rule['nodes'][:3])}"
        f" ({rule['nodes'][0]['failureSummary'].splitlines()[-1].strip()})"
        for rule in page.evaluate(RUN_AXE)["violations"]
    ]
