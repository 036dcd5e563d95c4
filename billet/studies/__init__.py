"""The why behind a plan: curves, cooling, fires, skin. Imports report and below."""
