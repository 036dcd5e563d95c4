"""Every default of a recipe, and every bound a value must keep.

The bounds are ours: wide enough for any small forge, narrow enough that a slip of a decimal point or
of a unit is caught, and that no recipe can keep the machine busy for long.
"""

from typing import Any

FORMAT = 1

DEFAULTS: dict[str, Any] = {
    "scale_factor": 1.0,
    "heats": 1,
    "atmosphere": "reducing",
    "flux": True,
    "kerf_mm": 2.0,
    "trim_mm": 0.0,
    "side_mm": 0.0,
    "edge_mm": 1.0,
    "made": "ground",
    "start": "normalised",
    "edge_at": "middle",
    "press": False,
    "controlled_cooling": False,
    "share_recipe": False,
}

ATMOSPHERES = ("air", "reducing", "sealed")
ORDERS = ("same", "turned", "folded")
MADE = ("ground", "forged")
STARTS = ("normalised", "spheroidised")
EDGE_AT = ("middle", "face")
OIL_CLASSES = ("brine", "water", "fast oil", "medium oil", "slow oil", "hot oil", "vegetable oil")
STEPS = ("weld", "draw", "grind", "restack", "crop", "upset", "turn", "other")

TITLE_LONGEST = 120
NAME_LONGEST = 40
NOTE_LONGEST = 300

STEELS = (1, 12)
PLATES = (1, 400)
STEPS_COUNT = (0, 60)
HEATS = (1, 50)
PIECES = (1, 60)
FOLDED_PIECES = (2, 4)
MOST_LAYERS = 10_000

PLATE_MM = (0.02, 100.0)
STACK_HEIGHT_MM = 400.0
WIDTH_MM = (5.0, 500.0)
LENGTH_MM = (10.0, 5000.0)
HEIGHT_MM = (0.3, 400.0)
LENGTH_AFTER_MM = (10.0, 20000.0)
MEASURED_MM = (0.1, 20000.0)
GRIND_MM = (0.0, 100.0)
KERF_MM = (0.0, 10.0)
TRIM_MM = (0.0, 2000.0)
SCALE_FACTOR = (0.0, 5.0)
FORGE_C = (600.0, 3000.0)
"""Open upwards on purpose: what melts is told by the steels, and a heat in Fahrenheit by its name."""
MINUTES = (0.0, 600.0)

BLADE_MM = (0.3, 30.0)
EDGE_MM = (0.05, 30.0)
BEVEL_DEG = (0.5, 45.0)
BLADE_WIDTH_MM = (2.0, 500.0)
BLADE_LENGTH_MM = (10.0, 5000.0)
BEVEL_HEIGHT_MM = (1.0, 500.0)
TEMPER_HRC = (30.0, 68.0)
OILS = (0, 12)
NICKEL_BALL_S = (1.0, 60.0)
HOT_LENGTH_MM = (20.0, 5000.0)
TALLEST_MM = (5.0, 1000.0)
COOLING_K_H = (1.0, 1000.0)
HALF_WIDTH_K = (0.5, 200.0)
HARDEN_C = (650.0, 1300.0)
ELEMENT_WT = (0.0, 100.0)
STEEL_CARBON_WT = 2.5
"""Above about 2.1 % carbon an iron alloy is cast iron; the highest tool steels reach 2.3."""
