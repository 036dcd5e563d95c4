"""Words of the craft explained in one line each, for those who are new to them."""

from functools import cache

from billet.tables.reading import read_toml


@cache
def glossary() -> dict[str, str]:
    """Term to its one-line explanation, in alphabetical order whatever the case."""
    terms = read_toml("glossary.toml")
    return {term: terms[term] for term in sorted(terms, key=str.casefold)}


def explain(term: str) -> str | None:
    """The explanation of a term, whatever its case; None where the glossary has none."""
    wanted = term.casefold()
    return next((text for entry, text in glossary().items() if entry.casefold() == wanted), None)
