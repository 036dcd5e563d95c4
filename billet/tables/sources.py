"""The bibliography: every source that data and formulas name, merged from one file a topic."""

import re
from dataclasses import dataclass
from functools import cache

from billet.errors import BilletError
from billet.tables.reading import data_files, read_toml

SEEN = ("print", "transcription", "memory")
NO_PUBLICATION = ("common-practice", "from-memory", "own-construction")
"""Keys that say where a figure comes from when nobody published it."""
PUBLICATION = {"author", "title", "published", "seen"}
OPTIONAL = {"short", "note"}


@dataclass(frozen=True)
class Source:
    """One entry. `seen`: print, transcription (a public copy of it) or memory (unconfirmed).

    `author` is the author or the firm, `published` the edition, year and place; both are empty for the
    keys of NO_PUBLICATION. `short` names the source inside a sentence.
    """

    key: str
    author: str
    title: str
    published: str
    short: str
    seen: str
    note: str

    @property
    def citation(self) -> str:
        """Author, title, edition and place in one line; the title alone where nothing was published."""
        return ", ".join(part for part in (self.author, self.title, self.published) if part)


class SourceError(BilletError):
    """A source key that is missing, stands twice, or lacks what an entry must have."""


@cache
def sources() -> dict[str, Source]:
    """All sources by key, in the order of the files sources_<topic>.toml.

    Raises SourceError where a key stands in two files, or an entry lacks author, title or year.
    """
    merged: dict[str, Source] = {}
    for name in data_files("sources_", ".toml"):
        for key, entry in read_toml(name).items():
            if key in merged:
                raise SourceError(f"{name}: the source {key!r} already stands in another file")
            merged[key] = _read(name, key, entry)
    return merged


def source(key: str) -> Source:
    """The source with this key. Raises SourceError where there is none."""
    try:
        return sources()[key]
    except KeyError:
        raise SourceError(f"no source with the key {key!r}") from None


def _read(name: str, key: str, entry: dict[str, str]) -> Source:
    needed = {"title", "seen"} if key in NO_PUBLICATION else PUBLICATION
    if not needed <= set(entry) <= needed | OPTIONAL or not all(entry[part].strip() for part in needed):
        raise SourceError(f"{name}: {key!r} needs {', '.join(sorted(needed))}, and may have short and note")
    if entry["seen"] not in SEEN:
        raise SourceError(f"{name}: {key!r} was seen in {entry['seen']!r}, not one of {SEEN}")
    published = entry.get("published", "")
    if (
        key not in NO_PUBLICATION
        and re.search(r"\b(1[89]|20)\d\d\b", f"{published} {entry['title']}") is None
    ):
        raise SourceError(f"{name}: {key!r} tells no year of publication")
    author = entry.get("author", "")
    short = entry.get("short", author or entry["title"].split(",")[0])
    return Source(key, author, entry["title"], published, short, entry["seen"], entry.get("note", ""))
