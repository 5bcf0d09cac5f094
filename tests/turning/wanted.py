"""The piece that is wanted, its bar and the roughing tools, from the job's own keys."""

from __future__ import annotations

from math import sqrt

import numpy as np
from msgspec import Struct
from turning.simulator import HAIR_MM, Column, Tools

from planner.job.tables import Job
from planner.turning.model import BallPlan


class Wanted(Struct, dict=True):
    """A plan, and the job it is of."""

    plan: BallPlan
    job: Job

    @property
    def radius(self) -> float:
        """Of the ball."""
        return self.plan.ball.spec.diameter / 2

    @property
    def half(self) -> bool:
        """Whether nothing is turned behind the equator."""
        return self.plan.ball.spec.shape == "hemisphere"

    @property
    def taper(self) -> bool:
        """Whether it stands on a taper handle."""
        return self.plan.ball.spec.shape == "taper handle"

    @property
    def neck(self) -> float:
        """The stem's radius at the ball: 0.35 of the ball where the job says nothing."""
        spec = self.plan.ball.spec
        return (spec.stem_diameter or 0.35 * spec.diameter) / 2

    @property
    def shoulder(self) -> float:
        """Where ball and stem meet, behind the centre."""
        return 0.0 if self.half else sqrt(self.radius**2 - self.neck**2)

    def piece(self, z: Column) -> Column:
        """The finished piece's radius at the places."""
        spec = self.plan.ball.spec
        ball = np.sqrt(np.maximum(0.0, self.radius**2 - z**2))
        if self.half:
            return np.where(z >= 0.0, ball, 0.0)
        if spec.stem_length is None:
            return ball
        end = self.shoulder + spec.stem_length
        large = (spec.large_diameter or 0.0) / 2 if self.taper else self.neck
        stem = np.interp(-z, [self.shoulder, end + HAIR_MM], [self.neck, large])
        return np.where(-z < self.shoulder, ball, np.where(-z <= end, stem, 0.0))

    @property
    def blank_radius(self) -> float:
        """Across the corners."""
        over = {"round": 1.0, "square": sqrt(2.0), "hexagon": 2 / sqrt(3.0)}
        return self.plan.ball.blank_mm / 2 * over[self.plan.ball.spec.blank_shape]

    @property
    def tools(self) -> Tools:
        """As the job's turning table gives them; a plain tool is its round nose."""
        turning = self.job.turning
        nose = turning.roughing_corner
        if turning.roughing_tool == "plain":
            return Tools(2 * nose, nose, nose)
        return Tools(turning.roughing_width, min(nose, turning.roughing_width / 2), nose)
