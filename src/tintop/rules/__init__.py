"""Rule books as values: what is to be recorded of a car, clauses, how books stack, what is found."""
