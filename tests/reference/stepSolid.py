"""
Judge of solids in STEP files for tests/reference/step.test.ts: reads the text by part21.py, then checks and weighs the boundary with NumPy
and SciPy alone. Curves and surfaces: stepShapes.py; the sense of loops: ISO 10303-42 (memory). Integrals over a face are brought to its
loops by Green's theorem and taken by Gauss-Legendre, volume and centroid by the divergence theorem. Lengths in the unit of the file.
"""
import json
import sys
from collections import Counter, defaultdict

import numpy as np
from scipy.special import roots_legendre

sys.dont_write_bytecode = True  # Nothing is left beside the tests.
import part21
from stepShapes import CURVES, SURFACES, Torus

SAMPLES = 65


class File:
    """Instances by number, with what geometry needs of them."""

    def __init__(self, text):
        self.header, self.instances = part21.read(text)
        self.made = {}

    def only(self, number, *names):
        ((name, values),) = self.instances[number]
        if name not in names:
            raise ValueError(f"#{number}: expected {' or '.join(names)}, got {name}")
        return values

    def name(self, number):
        return self.instances[number][0][0]

    def all(self, name):
        return [number for number, records in self.instances.items() if any(one == name for one, _ in records)]

    def point(self, number):
        return np.array(self.only(number, "CARTESIAN_POINT")[1])

    def direction(self, number):
        return np.array(self.only(number, "DIRECTION")[1])

    def vertex(self, number):
        return self.point(self.only(number, "VERTEX_POINT")[1])

    def space_curve(self, number):
        """The curve in space of one that is also given on its surfaces."""
        while self.name(number) in ("SURFACE_CURVE", "SEAM_CURVE", "INTERSECTION_CURVE"):
            number = self.instances[number][0][1][1]
        return number

    def of(self, number, kinds):
        if self.name(number) not in kinds:
            raise ValueError(f"#{number}: no {' or '.join(kinds)} but {self.name(number)}")
        if number not in self.made:
            self.made[number] = kinds[self.name(number)](self, number)
        return self.made[number]

    def length(self, number):
        """Metres of a unit of length."""
        unit = dict(self.instances[number])
        if "SI_UNIT" in unit:
            return {"MILLI": 1e-3, "CENTI": 1e-2, part21.OMITTED: 1.0}[unit["SI_UNIT"][0]]
        value, of = self.only(unit["CONVERSION_BASED_UNIT"][1], "LENGTH_MEASURE_WITH_UNIT", "MEASURE_WITH_UNIT")
        # Some writers leave out the type of the measure.
        return (value[1] if isinstance(value, part21.Typed) else value) * self.length(of)

    def metres(self):
        """Of a unit of length, in every context that has one."""
        contexts = [dict(self.instances[one])["GLOBAL_UNIT_ASSIGNED_CONTEXT"][0] for one in self.all("GLOBAL_UNIT_ASSIGNED_CONTEXT")]
        return sorted({self.length(unit) for units in contexts for unit in units if unit in self.all("LENGTH_UNIT")})

    def near(self):
        """How near counts as one place, as the file says."""
        values = [self.only(one, "UNCERTAINTY_MEASURE_WITH_UNIT")[0] for one in self.all("UNCERTAINTY_MEASURE_WITH_UNIT")]
        return max(value[1] for value in values)


class Edge:
    """An edge as it runs from its start to its end: s from 0 to 1."""

    def __init__(self, file, number):
        _, self.start, self.end, curve, same = file.only(number, "EDGE_CURVE")
        self.curve = file.of(file.space_curve(curve), CURVES)
        ends = [file.vertex(self.start), file.vertex(self.end)]
        self.t0, self.t1 = (float(self.curve.parameter(p)) for p in ends)
        way = 1 if same == "T" else -1
        if self.curve.period:
            gone = (way * (self.t1 - self.t0)) % self.curve.period
            self.t1 = self.t0 + way * (self.curve.period if self.start == self.end or gone == 0 else gone)
        self.wrong_way = way * (self.t1 - self.t0) <= 0
        self.gaps = [float(np.linalg.norm(self.curve.point(t) - p)) for t, p in zip((self.t0, self.t1), ends)]
        self.points = self.at(np.linspace(0, 1, SAMPLES))

    def at(self, s):
        return self.curve.point(self.t0 + (self.t1 - self.t0) * s)

    def slope(self, s):
        return self.curve.slope(self.t0 + (self.t1 - self.t0) * s) * (self.t1 - self.t0)


class Loop:
    """Edges of a bound in the order and sense in which the bound runs."""

    def __init__(self, file, number, edges):
        _, loop, same = file.only(number, "FACE_BOUND", "FACE_OUTER_BOUND")
        self.outer = file.name(number) == "FACE_OUTER_BOUND"
        turns = []
        for oriented in file.only(loop, "EDGE_LOOP")[1]:
            _, _, _, edge, forward = file.only(oriented, "ORIENTED_EDGE")
            turns.append((edge, forward == "T"))
        self.turns = turns if same == "T" else [(edge, not forward) for edge, forward in reversed(turns)]
        self.edges = edges

    def ends(self):
        for number, forward in self.turns:
            edge = self.edges[number]
            yield (edge.start, edge.end) if forward else (edge.end, edge.start)

    def broken(self):
        ends = list(self.ends())
        return sum(end != start for (_, end), (start, _) in zip(ends, ends[1:] + ends[:1]))

    def run(self, surface, s):
        """Parameters and their slopes at s of each edge in turn, followed without a jump; and by how much they fail to close."""
        whole = np.concatenate([[0], s, [1]])
        uv, ways = [], []
        for number, forward in self.turns:
            edge = self.edges[number]
            on = whole if forward else 1 - whole
            p, slope = edge.at(on), edge.slope(on) * (1 if forward else -1)
            u, v = surface.uv(p)
            su, sv = surface.slopes(u, v)
            uv.append((u, v))
            ways.append(((slope * su).sum(-1) / (su * su).sum(-1), (slope * sv).sum(-1) / (sv * sv).sum(-1)))
        out = []
        for i, period in enumerate(surface.periods):
            row = np.concatenate([pair[i] for pair in uv])
            out.append(np.unwrap(row, period=period) if period else row)
        gap = max(abs(row[-1] - row[0]) for row in out)
        shape = (len(self.turns), len(whole))
        u, v = (row.reshape(shape)[:, 1:-1] for row in out)
        return u, v, np.array([dv for _, dv in ways])[:, 1:-1], gap


def face_sums(surface, loops, about, order):
    """Of each loop its area in the parameters, signed; of the face the sums of area, volume and first moments; the worst gap of a loop."""
    x, w = roots_legendre(order)
    x, w = (x + 1) / 2, w / 2
    u0, signs, total, worst = None, [], np.zeros(5), 0.0
    for loop in loops:
        u, v, dv, gap = loop.run(surface, x)
        worst = max(worst, gap)
        u0 = u[0, 0] if u0 is None else u0
        signs.append(float((w * (u - u0) * dv).sum()))
        # Inner integral from u0 to the loop, on a third axis.
        inner = u0 + (u - u0)[..., None] * x
        across = np.broadcast_to(v[..., None], inner.shape)
        p = surface.point(inner, across) - about
        n = np.cross(*surface.slopes(inner, across))
        each = np.stack([np.linalg.norm(n, axis=-1), (p * n).sum(-1) / 3, *np.moveaxis(p * p * n / 2, -1, 0)])
        total += ((each * w).sum(-1) * (u - u0) * dv * w).sum((1, 2))
    return signs, total, worst


def joined(faces):
    """Number of groups of faces that hang together over edges."""
    left, groups = set(range(len(faces))), 0
    at = defaultdict(list)
    for i, loops in enumerate(faces):
        for loop in loops:
            for edge, _ in loop.turns:
                at[edge].append(i)
    while left:
        groups, waiting = groups + 1, [left.pop()]
        while waiting:
            for loop in faces[waiting.pop()]:
                for edge, _ in loop.turns:
                    fresh = left.intersection(at[edge])
                    left -= fresh
                    waiting += fresh
    return groups


class Solid:
    """One solid: what is wrong with it, in words, and what it measures."""

    def __init__(self, file, number):
        self.file, self.faults, self.near = file, [], file.near()
        self.name, shell = file.only(number, "MANIFOLD_SOLID_BREP")
        self.faces = [file.only(face, "ADVANCED_FACE") for face in file.only(shell, "CLOSED_SHELL")[1]]
        self.edges = {}
        for _, bounds, _, _ in self.faces:
            for bound in bounds:
                for oriented in file.only(file.only(bound, "FACE_BOUND", "FACE_OUTER_BOUND")[1], "EDGE_LOOP")[1]:
                    edge = file.only(oriented, "ORIENTED_EDGE")[3]
                    self.edges[edge] = self.edges.get(edge) or Edge(file, edge)
        self.loops = [[Loop(file, bound, self.edges) for bound in bounds] for _, bounds, _, _ in self.faces]
        self.surfaces = [file.of(surface, SURFACES) for _, _, surface, _ in self.faces]
        self.off = {"vertices": 0.0, "curves": 0.0, "frames": 0.0}

    def fault(self, yes, words):
        if yes:
            self.faults.append(words)

    def check_uses(self):
        uses = Counter(turn for loops in self.loops for loop in loops for turn in loop.turns)
        for edge in self.edges:
            there, back = uses[edge, True], uses[edge, False]
            self.fault((there, back) != (1, 1), f"edge #{edge} is used {there} times forwards and {back} times backwards")
        for i, loops in enumerate(self.loops):
            self.fault(sum(loop.outer for loop in loops) > 1, f"face {i + 1} has more than one outer bound")
            for loop in loops:
                broken = loop.broken()
                self.fault(broken > 0, f"a loop of face {i + 1} is not head to tail at {broken} places")
        self.fault(joined(self.loops) != 1, f"the shell falls into {joined(self.loops)} parts")

    def check_places(self):
        for number, edge in self.edges.items():
            gap = max(edge.gaps)
            self.off["vertices"] = max(self.off["vertices"], gap)
            self.off["frames"] = max(self.off["frames"], edge.curve.skew)
            self.fault(gap > self.near, f"a vertex of edge #{number} is {gap:.3g} off its curve")
            self.fault(edge.wrong_way, f"edge #{number} runs against its curve")
        for i, (surface, loops) in enumerate(zip(self.surfaces, self.loops)):
            self.off["frames"] = max(self.off["frames"], surface.f.skew)
            crossed = isinstance(surface, Torus) and not surface.sizes[0] >= surface.sizes[1] > 0
            self.fault(crossed, f"the torus of face {i + 1} crosses itself: its radii are {surface.sizes}")
            for edge in {edge for loop in loops for edge, _ in loop.turns}:
                gap = float(surface.off(self.edges[edge].points).max())
                self.off["curves"] = max(self.off["curves"], gap)
                self.fault(gap > self.near, f"edge #{edge} is {gap:.3g} off the surface of face {i + 1}")
        self.fault(self.off["frames"] > 1e-9, f"a direction is {self.off['frames']:.3g} off unit length or square")

    def check_sense(self, i, signs):
        """Loops run anticlockwise about the normal of the face, holes the other way."""
        wanted = 1 if self.faces[i][3] == "T" else -1
        self.fault(sum(signs) * wanted <= 0, f"the loops of face {i + 1} run the wrong way round for its normal")
        most = max(signs, key=abs)
        others = [sign for sign in signs if sign is not most]
        self.fault(any(sign * most >= 0 for sign in others), f"a hole of face {i + 1} runs the way of its outer loop")
        if any(loop.outer for loop in self.loops[i]):
            named = signs[[loop.outer for loop in self.loops[i]].index(True)]
            self.fault(named != most, f"the outer bound of face {i + 1} lies within another")

    def weigh(self, order):
        places = np.array([self.file.vertex(v) for edge in self.edges.values() for v in (edge.start, edge.end)])
        about, sums, faces = places.mean(0), np.zeros(5), []
        for i, (surface, loops) in enumerate(zip(self.surfaces, self.loops)):
            signs, total, gap = face_sums(surface, loops, about, order)
            self.fault(gap > 1e-6, f"a loop of face {i + 1} does not close on its surface")
            self.check_sense(i, signs)
            sense = 1 if self.faces[i][3] == "T" else -1
            total[0] *= sense
            sums += total
            face = {"kind": type(surface).__name__, "area": total[0], "loops": len(loops), "sizes": surface.sizes}
            faces.append({**face, "at": surface.f.at.tolist(), "outward": (sense * surface.f.z).tolist()})
        area, volume, *first = sums
        self.fault(not volume > 0, f"the solid is inside out: its volume is {volume}")
        return {"area": area, "volume": volume, "centroid": (about + np.array(first) / volume).tolist(), "boundary": faces}

    def judged(self):
        self.check_uses()
        self.check_places()
        sums = self.weigh(32)
        faults = sorted(set(self.faults))
        again = self.weigh(48)
        alike = {key: abs(sums[key] - again[key]) / again[key] for key in ("area", "volume")}
        vertices = {v for edge in self.edges.values() for v in (edge.start, edge.end)}
        holes = sum(len(loops) - 1 for loops in self.loops)
        # Euler-Poincare of one shell: V - E + F - holes = 2 (1 - genus).
        genus = 1 - (len(vertices) - len(self.edges) + len(self.faces) - holes) / 2
        counts = {"vertices": len(vertices), "edges": len(self.edges), "faces": len(self.faces)}
        return {**again, **counts, "name": self.name, "genus": genus, "faults": faults, "off": self.off, "quadrature": max(alike.values())}


def judge(text):
    """What is wrong with the text as a whole, and every solid in it. A text that cannot be read at all is one fault."""
    try:
        file = File(text)
        faults, others = part21.undeclared(file.header, file.instances)
        used = {one for records in file.instances.values() for _, values in records for one in references(values)}
        faults += [f"#{number} is not there" for number in sorted(used - set(file.instances))]
    except ValueError as error:
        return {"faults": [str(error)], "solids": []}
    head = {"name": file.header["FILE_NAME"][0], "time": file.header["FILE_NAME"][1], "schema": file.header["FILE_SCHEMA"][0]}
    about = {"head": head, "metres": file.metres(), "others": others, "unused": sorted(set(file.instances) - used)}
    solids = []
    for number in file.all("MANIFOLD_SOLID_BREP"):
        try:
            solids.append(Solid(file, number).judged())
        except (ValueError, KeyError) as error:
            faults.append(f"solid #{number}: {error}")
    return {**about, "faults": faults, "solids": solids}


def references(value):
    """Instances that a value names."""
    if isinstance(value, part21.Ref):
        yield value
    elif isinstance(value, (list, part21.Typed)):
        for one in value:
            yield from references(one)


print(json.dumps([judge(case["inputs"]["text"]) for case in json.load(sys.stdin)]))
