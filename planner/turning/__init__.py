"""Turning the balls: roughing to steps, passes in the metal, and the plan of each ball of a job."""
