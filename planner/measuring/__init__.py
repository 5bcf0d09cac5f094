"""What was measured on a turned ball, and what it says to move."""
