"""Frozen records made from the files in billet/data; every row carries its source."""
