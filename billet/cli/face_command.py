"""The command that draws a bar: face, edge, end, or the flank of a blade ground from it."""

import argparse
from pathlib import Path

from billet.cli.reading import read_recipe, refusal
from billet.cli.writing import Answer


def face(chosen: argparse.Namespace) -> Answer:
    """The picture goes to a file, and in words to standard output; with --out - it goes there itself."""
    from billet import FaceAsked
    from billet import face as drawn_face

    asked = FaceAsked(
        view=chosen.view,
        width_px=chosen.width,
        ground_mm=chosen.ground,
        hand=not chosen.no_hand,
        from_mm=chosen.from_mm,
        length_mm=chosen.length,
        half_angle_deg=chosen.angle,
        blade_width_mm=chosen.blade,
    )
    picture = drawn_face(read_recipe(chosen.recipe), asked)
    if chosen.out == "-":
        return Answer("", raw=picture.png())
    try:
        Path(chosen.out).write_bytes(picture.png())
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "no file can have this name"
        raise refusal(f"cannot write {chosen.out[:200]!r}: {reason}") from None
    return Answer(picture.alt)
