"""Textbook formulas and columns of many candidates: plain arithmetic, nothing of the project."""
