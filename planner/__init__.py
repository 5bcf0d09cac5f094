"""The planner: what is done with the parts - reading a job, sizing, checking, planning, printing."""

__version__ = "0.2.0"
