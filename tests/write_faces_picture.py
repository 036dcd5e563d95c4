"""Draws web/static/faces.png, the bars of all example recipes under one another: `python tests/write_faces_picture.py`.

Each is shown by the view that tells most of it, with its name; one that cannot be drawn is left out.
"""

import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from billet import BilletError, FaceAsked, example_recipes, face, first_views, plan  # noqa: E402
from billet.pattern.png import png_bytes  # noqa: E402
from billet.pattern.scale_bar import with_scale_bar  # noqa: E402
