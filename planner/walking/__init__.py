"""The check of a route apart from its planner: each step held, reached and measured, or refused."""
