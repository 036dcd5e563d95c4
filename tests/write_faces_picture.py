"""Draws web/static/faces.png: the bars of all example recipes, one under another in the order of their names.

    python tests/write_faces_picture.py

Each is shown by the view that tells most of it. What cannot be drawn is left out, and told.
"""

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from billet import BilletError, example_recipes, face, first_views, plan  # noqa: E402
from billet.pattern.png import png_bytes  # noqa: E402
from billet.pattern.scale_bar import with_scale_bar  # noqa: E402

PICTURE = ROOT / "web" / "static" / "faces.png"
WIDTH_PX, GAP_PX = 1000, 14


def main() -> None:
    strips = []
    for name, path in sorted(example_recipes().items()):
        try:
            bar = plan(path)
            picture = face(bar, replace(first_views(bar)[0], width_px=WIDTH_PX))
        except BilletError as refused:
            print(f"{name}: {refused}")  # noqa: T201
            continue
        print(f"{name}: {picture.alt}")  # noqa: T201
        strips += [with_scale_bar(picture.grey, picture.facts.mm_per_px), np.ones((GAP_PX, WIDTH_PX))]
    PICTURE.write_bytes(png_bytes(np.concatenate(strips)))


if __name__ == "__main__":
    main()
