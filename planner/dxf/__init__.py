"""DXF from plane curves."""
