"""From the governing sizes to every size: what to choose from, the rules, what must be met."""
