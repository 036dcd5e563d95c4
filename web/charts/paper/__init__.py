"""Drawings for sheets of paper, true to the scale they name: one user unit is a CSS pixel, 96 to the inch.

Every function takes a figure of a sheet (facts alone) and returns markup with its size in millimetres.
"""

from web.charts.paper.bar import end_scale, step_drawing, step_drawing_mm
from web.charts.paper.ruler import cut_ruler, ruler_scale
from web.charts.paper.stack import stack_drawing
from web.charts.paper.windows import windows_drawing

__all__ = [
    "cut_ruler",
    "end_scale",
    "ruler_scale",
    "stack_drawing",
    "step_drawing",
    "step_drawing_mm",
    "windows_drawing",
]
