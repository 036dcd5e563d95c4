"""The bibliography: every source that data and formulas name, merged from one file a topic."""

from dataclasses import dataclass
from functools import cache

from billet.errors import BilletError
from billet.tables.reading import data_files, read_toml

SEEN = ("print", "transcription", "memory")


@dataclass(frozen=True)
class Source:
    """One entry. `seen`: print, transcription (a public copy of it) or memory (unconfirmed)."""

    key: str
    citation: str
    seen: str
    note: str

    @property
    def short(self) -> str:
        """The citation up to its first comma, for use inside a sentence."""
        return self.citation.split(",")[0]


class SourceError(BilletError):
    """A source key that is missing, stands twice, or lacks what an entry must have."""


@cache
def sources() -> dict[str, Source]:
    """All sources by key, in the order of the files sources_<topic>.toml.

    Raises SourceError where a key stands in two files, or an entry has other keys than it should.
    """
    merged: dict[str, Source] = {}
    for name in data_files("sources_", ".toml"):
        for key, entry in read_toml(name).items():
            if key in merged:
                raise SourceError(f"{name}: the source {key!r} already stands in another file")
            if not {"citation", "seen"} <= set(entry) <= {"citation", "seen", "note"}:
                raise SourceError(f"{name}: {key!r} needs citation and seen, and may have a note")
            if entry["seen"] not in SEEN:
                raise SourceError(f"{name}: {key!r} was seen in {entry['seen']!r}, not one of {SEEN}")
            merged[key] = Source(key, entry["citation"], entry["seen"], entry.get("note", ""))
    return merged


def source(key: str) -> Source:
    """The source with this key. Raises SourceError where there is none."""
    try:
        return sources()[key]
    except KeyError:
        raise SourceError(f"no source with the key {key!r}") from None
