"""The notes against the code: what is generated is up to date, what is written names things that are there."""
