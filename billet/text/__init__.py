"""Report, state and steel as plain text. Imports sheets and below."""
