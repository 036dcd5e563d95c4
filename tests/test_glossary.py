"""The glossary: one line a word, found whatever its case."""

from billet.tables.glossary import explain, glossary


def test_every_entry_is_one_short_sentence() -> None:
    assert len(glossary()) >= 40
    for term, text in glossary().items():
        assert term == term.strip()
        assert text.endswith(".") and "\n" not in text
        assert len(text) <= 130, term


def test_is_in_alphabetical_order() -> None:
    terms = [term.casefold() for term in glossary()]
    assert terms == sorted(terms)


def test_finds_whatever_the_case() -> None:
    assert explain("MS") == explain("Ms") is not None
    assert explain("Window") == glossary()["window"]
    assert explain("phlogiston") is None
