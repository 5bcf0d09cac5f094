"""Standards as data: one CSV table a family, one loader, thin typed look-ups."""
