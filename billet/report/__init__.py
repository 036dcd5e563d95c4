"""Compiles what was found into the report and words it. Imports hardening and below."""
