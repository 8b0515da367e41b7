"""Changes made to the formulas and limits one at a time, to see whether the tests notice."""
