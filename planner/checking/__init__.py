"""Will it clear, will it hold, how round: clearance, strength, budget, and the search over choices."""
