"""Drawings and diagrams as SVG text: pure functions of the report or of plain sequences.

Every function takes `key`, which starts all ids inside the picture (one page may hold many), and
`width` in CSS pixels: 700 for wide paper (true to the named scale on A4 and Letter), 340 for a
telephone. The result is markup with everything escaped; it is empty where there is nothing to draw.
"""

from web.charts.bar import bar_drawing
from web.charts.bar_chosen import chosen_end, chosen_side, steel_key
from web.charts.bar_grown import bar_grown
from web.charts.bar_picture import bar_picture
from web.charts.bar_step import bar_step, cut_drawing
from web.charts.bevel import bevel_lines
from web.charts.carbon import carbon_profile
from web.charts.contrast import alloy_contrast
from web.charts.cooling import cooling_curves
from web.charts.hardness import hardness_against_temperature
from web.charts.heat import heat_curves
from web.charts.layers import layers_along_schedule
from web.charts.partner_table import partner_square
from web.charts.ranges import steel_ranges
from web.charts.start_picture import start_picture
from web.charts.state import state_drawing
from web.charts.sweep import swept_carbon, swept_window
from web.charts.temper import temper_bands
from web.charts.window import steel_windows, window_axis

__all__ = [
    "alloy_contrast",
    "bar_drawing",
    "bar_grown",
    "bar_picture",
    "bar_step",
    "bevel_lines",
    "carbon_profile",
    "chosen_end",
    "chosen_side",
    "cooling_curves",
    "cut_drawing",
    "hardness_against_temperature",
    "heat_curves",
    "layers_along_schedule",
    "partner_square",
    "start_picture",
    "state_drawing",
    "steel_key",
    "steel_ranges",
    "steel_windows",
    "swept_carbon",
    "swept_window",
    "temper_bands",
    "window_axis",
]
