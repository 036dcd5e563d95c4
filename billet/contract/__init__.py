"""The frozen rows of the report and the study. Imports nothing of billet but wording and errors."""
