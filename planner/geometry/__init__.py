"""Closed-form geometry of the parts: reach of the swing, the swept ball, plane outlines."""
