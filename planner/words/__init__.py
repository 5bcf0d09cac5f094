"""The words and shapes of an answer: units at the door, findings, tables. Any room may import it."""
