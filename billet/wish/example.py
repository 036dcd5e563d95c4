"""A wish to begin with."""

EXAMPLE_WISH = """\
format = 1
title = "Kitchen bar"

[steels]
dark = "1084"
bright = "75Ni8"

[want]
thickness_mm = 5
width_mm = 40
length_mm = 280
layers = 200

[stock]
width_mm = 40
thickness_mm = { dark = [1.5, 2.0, 3.0], bright = [1.0, 1.5, 2.0] }

[limits]
stack_mm = 60
bar_mm = 600
"""
