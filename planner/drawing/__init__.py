"""Drawing sheets: one model in paper millimetres, and the writers that print it."""
