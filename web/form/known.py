"""What the form offers from the library, read once."""

from functools import cache

from billet import steels
from web.form.writing import Known


@cache
def known() -> Known:
    """The names of the library's steels: designations, and what else they are called in the trade."""
    names = dict.fromkeys(name for steel in steels() for name in (steel.designation, *steel.aliases))
    return Known(steels=tuple(names))
