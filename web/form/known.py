"""What the form offers from the library, read once."""

from functools import cache

from billet import steels
from web.form.writing import Known


@cache
def known() -> Known:
    """The designations of the library."""
    return Known(steels=tuple(steel.designation for steel in steels()))
