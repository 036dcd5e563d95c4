"""The design form: fields to recipe and back."""
