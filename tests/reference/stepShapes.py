"""Curves and surfaces of ISO 10303-42 with their parameters (memory), for stepSolid.py. Lengths in the unit of the file, radians."""
import numpy as np

import part21

TURN = 2 * np.pi


class Placement:
    """A right-handed frame; a reference direction that is not across the axis is projected, as the standard does."""

    def __init__(self, file, number):
        _, at, axis, ref = file.only(number, "AXIS2_PLACEMENT_3D")
        self.at = file.point(at)
        axis = np.array([0.0, 0.0, 1.0]) if axis == part21.OMITTED else file.direction(axis)
        if ref == part21.OMITTED:
            ref = np.eye(3)[0 if abs(axis[0]) < 0.999 else 1]
            ref = ref - (ref @ axis) * axis / (axis @ axis)
            ref = ref / np.linalg.norm(ref)
        else:
            ref = file.direction(ref)
        self.skew = max(abs(np.linalg.norm(axis) - 1), abs(np.linalg.norm(ref) - 1), abs(axis @ ref))
        self.z = axis / np.linalg.norm(axis)
        across = ref - (ref @ self.z) * self.z
        self.x = across / np.linalg.norm(across)
        self.y = np.cross(self.z, self.x)

    def local(self, p):
        q = p - self.at
        return q @ self.x, q @ self.y, q @ self.z


class Line:
    period = None

    def __init__(self, file, number):
        _, at, vector = file.only(number, "LINE")
        _, way, length = file.only(vector, "VECTOR")
        self.at, way = file.point(at), file.direction(way)
        self.skew = abs(np.linalg.norm(way) - 1)
        self.way = way / np.linalg.norm(way) * length

    def point(self, t):
        return self.at + np.multiply.outer(t, self.way)

    def slope(self, t):
        return np.broadcast_to(self.way, (*np.shape(t), 3))

    def parameter(self, p):
        return (p - self.at) @ self.way / (self.way @ self.way)


class Circle:
    period = TURN

    def __init__(self, file, number):
        _, place, self.r = file.only(number, "CIRCLE")
        self.f = Placement(file, place)
        self.skew = self.f.skew

    def point(self, t):
        return self.f.at + self.r * (np.multiply.outer(np.cos(t), self.f.x) + np.multiply.outer(np.sin(t), self.f.y))

    def slope(self, t):
        return self.r * (np.multiply.outer(-np.sin(t), self.f.x) + np.multiply.outer(np.cos(t), self.f.y))

    def parameter(self, p):
        x, y, _ = self.f.local(p)
        return np.arctan2(y, x)


class Surface:
    """Has parameters u, v such that the cross product of the slopes along u and along v is the normal of the standard."""

    periods = (None, None)

    def __init__(self, file, number, name, sizes):
        _, place, *self.sizes = file.only(number, name)
        assert len(self.sizes) == sizes
        self.f = Placement(file, place)

    def place(self, x, y, z):
        return self.f.at + x[..., None] * self.f.x + y[..., None] * self.f.y + z[..., None] * self.f.z

    def turn(self, u, x, y, z):
        """A vector along out, round and axis at the angle u."""
        out = np.multiply.outer(np.cos(u), self.f.x) + np.multiply.outer(np.sin(u), self.f.y)
        along = np.multiply.outer(-np.sin(u), self.f.x) + np.multiply.outer(np.cos(u), self.f.y)
        return x[..., None] * out + y[..., None] * along + z[..., None] * self.f.z


class Plane(Surface):
    def __init__(self, file, number):
        super().__init__(file, number, "PLANE", 0)

    def uv(self, p):
        return self.f.local(p)[:2]

    def off(self, p):
        return np.abs(self.f.local(p)[2])

    def point(self, u, v):
        return self.place(u, v, 0 * u)

    def slopes(self, u, v):
        return np.broadcast_to(self.f.x, (*u.shape, 3)), np.broadcast_to(self.f.y, (*u.shape, 3))


class Cylinder(Surface):
    periods = (TURN, None)

    def __init__(self, file, number):
        super().__init__(file, number, "CYLINDRICAL_SURFACE", 1)

    def uv(self, p):
        x, y, z = self.f.local(p)
        return np.arctan2(y, x), z

    def off(self, p):
        x, y, _ = self.f.local(p)
        return np.abs(np.hypot(x, y) - self.sizes[0])

    def point(self, u, v):
        return self.f.at + self.turn(u, self.sizes[0] + 0 * u, 0 * u, v)

    def slopes(self, u, v):
        none = 0 * u
        return self.turn(u, none, self.sizes[0] + none, none), self.turn(u, none, none, 1 + none)


class Cone(Surface):
    """Its half angle is taken to be in radians."""

    periods = (TURN, None)

    def __init__(self, file, number):
        super().__init__(file, number, "CONICAL_SURFACE", 2)
        self.rise = np.tan(self.sizes[1])

    def uv(self, p):
        x, y, z = self.f.local(p)
        return np.arctan2(y, x), z

    def off(self, p):
        x, y, z = self.f.local(p)
        return np.abs(np.hypot(x, y) - self.sizes[0] - z * self.rise) * np.cos(self.sizes[1])

    def point(self, u, v):
        return self.f.at + self.turn(u, self.sizes[0] + v * self.rise, 0 * u, v)

    def slopes(self, u, v):
        none = 0 * u
        return self.turn(u, none, self.sizes[0] + v * self.rise, none), self.turn(u, self.rise + none, none, 1 + none)


class Torus(Surface):
    periods = (TURN, TURN)

    def __init__(self, file, number):
        super().__init__(file, number, "TOROIDAL_SURFACE", 2)

    def uv(self, p):
        x, y, z = self.f.local(p)
        return np.arctan2(y, x), np.arctan2(z, np.hypot(x, y) - self.sizes[0])

    def off(self, p):
        x, y, z = self.f.local(p)
        return np.abs(np.hypot(np.hypot(x, y) - self.sizes[0], z) - self.sizes[1])

    def point(self, u, v):
        R, r = self.sizes
        return self.f.at + self.turn(u, R + r * np.cos(v), 0 * u, r * np.sin(v))

    def slopes(self, u, v):
        R, r = self.sizes
        return (
            self.turn(u, 0 * u, R + r * np.cos(v), 0 * u),
            self.turn(u, -r * np.sin(v), 0 * u, r * np.cos(v)),
        )


CURVES = {"LINE": Line, "CIRCLE": Circle}
SURFACES = {"PLANE": Plane, "CYLINDRICAL_SURFACE": Cylinder, "CONICAL_SURFACE": Cone, "TOROIDAL_SURFACE": Torus}
