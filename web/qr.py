"""A link as a square of dots for paper."""

import io

import segno
from markupsafe import Markup


def qr_svg(link: str) -> Markup:
    """SVG with classes and no inline style, ready to stand in a page."""
    out = io.BytesIO()
    segno.make(link, error="l", micro=False).save(
        out, kind="svg", xmldecl=False, svgns=True, svgclass="qr", lineclass="qr-dots",
        omitsize=True, border=4, title="The link to this plan", nl=False,
    )  # fmt: skip
    return Markup(out.getvalue().decode("utf-8"))
