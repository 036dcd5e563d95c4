"""What the form offers from the library, read once."""

from functools import cache

from billet import control_methods, steels
from web.form.view import Choice
from web.form.writing import Known


@cache
def known() -> Known:
    """Ways to judge the heat, and the designations of the library."""
    return Known(
        methods=tuple(Choice(method.key, method.label) for method in control_methods()),
        steels=tuple(steel.designation for steel in steels()),
    )
