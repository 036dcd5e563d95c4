"""The routes, one module a kind of page."""
