"""Pictures as SVG, black on white: the sweep, the shares, the turning, the sawing sheet."""
