"""Bytes, addresses, limits and refusals of the service."""
