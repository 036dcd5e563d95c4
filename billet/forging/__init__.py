"""Geometry of the bar through every step: layers, sizes, losses, events. Imports recipe and below."""
