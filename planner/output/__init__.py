"""What is printed and written: one job worked out, its topics, sheets, pictures, the package."""
