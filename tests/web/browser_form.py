"""The form that posts to /design, read and sent as a browser without script would."""

from html.parser import HTMLParser
from typing import Any
from urllib.parse import parse_qsl, urlsplit

from web.http.address import decode


class Form(HTMLParser):
    """The form that posts to /design, as a browser without script would send it."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.pairs: list[tuple[str, str]] = []
        self.buttons: list[str] = []
        self._inside = False
        self._select = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if tag == "form":
            self._inside = (told.get("action") or "").removeprefix("../") == "design"
        if not self._inside:
            return
        name, value = told.get("name") or "", told.get("value") or ""
        if tag == "input" and (told.get("type") != "checkbox" or "checked" in told):
            self.pairs.append((name, value))
        elif tag == "select":
            self._select = name
        elif tag == "option" and "selected" in told:
            self.pairs.append((self._select, value))
        elif tag == "button" and name == "action":
            self.buttons.append(value)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._inside = False

    def sent(self, action: str | None = None, **changed: str) -> dict[str, str]:
        fields = dict(self.pairs) | changed
        return fields | ({"action": action} if action else {})


def recipe_of(location: str) -> dict[str, Any]:
    return decode(dict(parse_qsl(urlsplit(location).query))["r"])
