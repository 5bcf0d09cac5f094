"""DXF of outlines and lines, and what a drawing in ezdxf needs; the sheets are written with it too."""
