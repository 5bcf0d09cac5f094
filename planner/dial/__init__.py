"""The dial: its lines and how to index them, on plain numbers."""
