"""A flow's texts in other languages, from files beside it."""
