"""What a person may write and what it means. Imports formulas, tables, contract values and wording only."""
