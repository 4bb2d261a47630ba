"""Point sets for tests/reference/publicScans.test.ts as NumPy reads them: PLY by its header (first element, fixed sizes), text by columns."""
import base64
import json
import sys

import numpy as np

TYPES = {"float": "f4", "double": "f8", "uchar": "u1", "int": "i4"}
ORDERS = {"binary_little_endian": "<", "binary_big_endian": ">"}


def ply(path):
    with open(path, "rb") as file:
        kind, count, columns = "", 0, []
        while (line := file.readline().decode("ascii").split()) != ["end_header"]:
            if line[0] == "format":
                kind = line[1]
            elif line[0] == "element":
                assert line[1] == "vertex" and count == 0, line
                count = int(line[2])
            elif line[0] == "property":
                columns.append((line[2], TYPES[line[1]]))
        if kind == "ascii":
            names = [name for name, _ in columns]
            rows = np.loadtxt(file, max_rows=count, ndmin=2)
            return rows[:, [names.index(axis) for axis in "xyz"]]
        rows = np.fromfile(file, np.dtype([(name, ORDERS[kind] + of) for name, of in columns]), count)
        return np.stack([rows[axis].astype(float) for axis in "xyz"], axis=1)


def read(path):
    points = ply(path) if path.endswith(".ply") else np.loadtxt(path, usecols=(0, 1, 2), ndmin=2)
    # Metres in a unit that make it between half a metre and a metre across: a power of two, so that scaling rounds nothing.
    factor = 2.0 ** -np.ceil(np.log2(np.linalg.norm(np.ptp(points, axis=0))))
    kept = ((points - points[0]) * factor).astype("<f4")
    return {
        "count": len(points),
        "factor": factor,
        "least": (points.min(0) * factor).tolist(),
        "greatest": (points.max(0) * factor).tolist(),
        "origin": (points[0] * factor).tolist(),
        "points": base64.b64encode(kept.tobytes()).decode(),
    }


print(json.dumps([read(case["inputs"]["path"]) for case in json.load(sys.stdin)]))
