"""Slender-body roll damping and cant moment of N fins on a round body: table for aero/roll.py.

Plane cross-flow problem: N radial fins from r to s carry vorticity g(y); the body is taken care of
by images at r^2/y (no net circulation far away). Normal velocity on a fin at radius y:
  N/(2 pi) int g(e) [ y^(N-1)/(y^N - e^N) - y^(N-1)/(y^N - (r^2/e)^N) ] de  =  y   (rolling)
Potential jump J(y) = int_y^s g. Apparent moments, s = 1, density 1:
  damping  a = N int J y dy      cant  b = N int J dy  (reciprocity)
Exact: N = 2, r = 0: a = pi/8; N = 4, r = 0: a = 2/pi. Run: python design/fin_roll_slender.py
"""

import numpy as np


def moments(count: int, body: float, panels: int = 400) -> tuple[float, float]:
    """Damping and cant moments of `count` fins from `body` to 1."""
    # graded towards the tip (and the axis without a body), where g has its root singularity
    edge = body + (1.0 - body) * np.sin(0.5 * np.pi * np.linspace(0.0, 1.0, panels + 1))
    width = np.diff(edge)
    vortex = edge[:-1] + 0.75 * width
    control = edge[:-1] + 0.25 * width
    y, e, n = control[:, None], vortex[None, :], count
    kernel = y ** (n - 1) / (y**n - e**n)
    kernel = kernel - y ** (n - 1) / (y**n - (body**2 / e) ** n)
    strength = np.linalg.solve(n / (2.0 * np.pi) * kernel, control)
    # each vortex closes a jump that reaches from the root to it
    damping = n * np.sum(strength * 0.5 * (vortex**2 - body**2))
    cant = n * np.sum(strength * (vortex - body))
    return abs(float(damping)), abs(float(cant))


if __name__ == "__main__":
    print("exact 2 fins", np.pi / 8, moments(2, 1e-6), "4 fins", 2 / np.pi, moments(4, 1e-6))
    for n in (2, 3, 4, 5, 6, 8):
        rows = [moments(n, max(b, 1e-6)) for b in (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8)]
        print(n, "damping", [round(a, 4) for a, _ in rows])
        print(n, "cant   ", [round(b, 4) for _, b in rows])
