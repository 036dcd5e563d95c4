"""Reads the data files that ship inside the package, each once."""

import csv
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def read_toml(name: str) -> dict[str, Any]:
    """The TOML file billet/data/<name> as a dict. Treat it as read-only."""
    return tomllib.loads(files("billet").joinpath("data").joinpath(name).read_text(encoding="utf-8"))


@cache
def read_csv(name: str) -> tuple[dict[str, str], ...]:
    """The rows of the CSV file billet/data/<name>, header as keys."""
    text = files("billet").joinpath("data").joinpath(name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def data_files(prefix: str, suffix: str) -> tuple[str, ...]:
    """Names of the data files that begin and end so, sorted."""
    names = (entry.name for entry in files("billet").joinpath("data").iterdir())
    return tuple(sorted(n for n in names if n.startswith(prefix) and n.endswith(suffix)))
