"""A thousand bars through the rules of one. Imports hardening and below."""
