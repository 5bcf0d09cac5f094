"""Pictures as SVG, black on white: sweep, shares, turning, dial, cut, tightest spot, sawing sheet."""
