"""Buckling of a uniform column, clamped at one end, held sideways part-way, free at the other: Hermite beam elements
with geometric stiffness and a general eigenvalue solver. Writes k of P = k E I / a^2, a the distance of the hold from
the clamp, P the compression between clamp and hold, r the ratio of the compression there to that beyond the hold."""
import json
import pathlib

import numpy as np
import scipy
from scipy.linalg import eigh

def constant(leg_at, ratio, n=400):
    m = max(4, round(n * leg_at)); k = max(4, n - m)
    lengths = [leg_at / m] * m + ([(1 - leg_at) / k] * k if leg_at < 1 else [])
    nodes = len(lengths) + 1
    K = np.zeros((2 * nodes, 2 * nodes)); G = np.zeros_like(K)
    for e, h in enumerate(lengths):
        ke = np.array([[12, 6*h, -12, 6*h], [6*h, 4*h*h, -6*h, 2*h*h], [-12, -6*h, 12, -6*h], [6*h, 2*h*h, -6*h, 4*h*h]]) / h**3
        ge = np.array([[36, 3*h, -36, 3*h], [3*h, 4*h*h, -3*h, -h*h], [-36, -3*h, 36, -3*h], [3*h, -h*h, -3*h, 4*h*h]]) / (30*h)
        i = slice(2 * e, 2 * e + 4)
        K[i, i] += ke; G[i, i] += ge * (1.0 if e < m else 1.0 / ratio)
    free = [d for d in range(2 * nodes) if d not in (0, 1, 2 * m)]
    K, G = K[np.ix_(free, free)], G[np.ix_(free, free)]
    mu = eigh(G, K, eigvals_only=True, subset_by_index=[len(free) - 1, len(free) - 1])[0]
    return leg_at**2 / mu

CASES = [(0.15, 1.0), (0.5, 1.0), (0.9, 1.0), (1.0, 1.0), (0.5, 4.0), (0.9, 5.0), (0.3, 3.0)]

if __name__ == "__main__":
    rows = [{"held_at": f, "ratio": r, "constant": float(f"{constant(f, r):.12g}")} for f, r in CASES]
    versions = f"numpy {np.__version__}, scipy {scipy.__version__}"
    answer = {"what": __doc__.replace("\n", " "), "versions": versions, "rows": rows}
    path = pathlib.Path(__file__).parent / "answers" / "column.json"
    path.write_text(json.dumps(answer, indent=1) + "\n")
    for row in rows:
        print(row)
