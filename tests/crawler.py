"""Walks the site by its own links and collects every form and query parameter it meets."""

from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import parse_qsl, urljoin, urlsplit

SKIPPED = ("/sign-out/", "/static/")


@dataclass
class Form:
    action: str
    method: str
    values: dict[str, str] = field(default_factory=dict)
    typed: list[str] = field(default_factory=list)
    files: list[str] = field(default_factory=list)

    @property
    def key(self) -> tuple:
        """Forms alike but for the number of the row they act on count as one."""
        path = "/".join("0" if part.isdigit() else part for part in self.action.split("/"))
        return self.method, path, tuple(sorted(self.values))


class Page(HTMLParser):
    """The links and forms of one page, with what stands in the boxes."""

    def __init__(self, address: str, text: str):
        super().__init__()
        self.address, self.links, self.forms = address, [], []
        self.form = self.area = self.choice = None
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        if tag == "a" and found.get("href"):
            self.links.append(urljoin(self.address, found["href"]))
        elif tag == "form":
            action = urljoin(self.address, found.get("action") or self.address)
            self.form = Form(action, (found.get("method") or "get").lower())
            self.forms.append(self.form)
        elif self.form is not None and found.get("name"):
            self._box(tag, found)
        elif (
            tag == "option"
            and self.choice
            and ("selected" in found or not self.form.values[self.choice])
        ):
            self.form.values[self.choice] = found.get("value") or ""

    def _box(self, tag, found):
        name, kind = found["name"], found.get("type", "text")
        if tag == "input" and kind in ("checkbox", "radio"):
            if "checked" in found:
                self.form.values[name] = found.get("value") or "on"
            self.form.typed.append(name)
        elif tag == "input":
            self.form.values[name] = found.get("value") or ""
            if kind not in ("hidden", "submit"):
                self.form.typed.append(name)
            if kind == "file":
                self.form.files.append(name)
        elif tag in ("select", "textarea"):
            self.form.values[name] = ""
            self.form.typed.append(name)
            self.choice, self.area = (name, None) if tag == "select" else (None, name)

    def handle_data(self, data):
        if self.area:
            self.form.values[self.area] += data

    def handle_endtag(self, tag):
        if tag == "form":
            self.form = None
        elif tag == "textarea":
            self.area = None
        elif tag == "select":
            self.choice = None


def crawl(client, start: str = "/", *, most: int = 300) -> tuple[dict, dict[tuple, Form]]:
    """Every page reached by links (path -> query names) and every form, one of each kind."""
    waiting, seen, forms, queries = [start], set(), {}, {}
    while waiting and len(seen) < most:
        address = waiting.pop(0)
        shape = _shape(address)
        if shape in seen:
            continue
        seen.add(shape)
        response = client.get(address)
        assert response.status_code < 500, address
        path = urlsplit(address).path
        queries.setdefault(path, set()).update(k for k, _ in parse_qsl(urlsplit(address).query))
        if not response.get("Content-Type", "").startswith("text/html"):
            continue
        page = Page(address, response.content.decode())
        waiting += [link for link in page.links if _inside(link)]
        for form in page.forms:
            if not form.action.startswith(SKIPPED):
                forms.setdefault(form.key, form)
            if form.method == "get":
                queries.setdefault(urlsplit(form.action).path, set()).update(form.values)
    return queries, forms


def _inside(link: str) -> bool:
    parts = urlsplit(link)
    return not parts.netloc and parts.path.startswith("/") and not parts.path.startswith(SKIPPED)


def _shape(address: str) -> tuple:
    """Two rows of one kind look alike: /items/3/ and /items/4/ are walked once each way."""
    parts = urlsplit(address)
    path = "/".join("0" if part.isdigit() else part for part in parts.path.split("/"))
    if path.startswith("/plants/") and path != "/plants/":
        path = "/plants/0/"
    return path, tuple(sorted(key for key, _ in parse_qsl(parts.query)))
