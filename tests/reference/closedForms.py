"""Answers for tests/reference/closedForms.test.ts from SymPy: each closed form is derived here from first principles
(geometry, statics, beam equation, implicit equation, integral), never copied, and evaluated with 40 digits by mpmath."""
import json
import sys

import mpmath
import sympy as sp
from sympy import Rational, acos, atan, cos, integrate, log, pi, sin, solve, sqrt, symbols, tan

mpmath.mp.dps = 40
x, t = symbols("x t", positive=True)


def in_plane_meeting():
    """Setback of a bend: where the tangents at both ends of an arc meet."""
    radius, angle, a, b = symbols("radius angle a b")
    start, end = sp.Matrix([radius, 0]), sp.Matrix([radius * cos(angle), radius * sin(angle)])
    meeting = start + a * sp.Matrix([0, 1]) - end + b * sp.Matrix([-sin(angle), cos(angle)])
    return solve(list(meeting), [a, b])[a]


def thread():
    diameter, pitch = symbols("diameter pitch")
    height = sqrt(3) / 2 * pitch
    return diameter - 2 * Rational(3, 8) * height, diameter - 2 * Rational(17, 24) * height


def torque(preload, diameter, pitch, thread_friction, head_friction, bearing):
    """Thin helix of half flank angle 30 degrees plus friction under the head."""
    pitch_diameter = thread()[0]
    flank = pitch / (2 * pi) + thread_friction * pitch_diameter / 2 / cos(pi / 6)
    return preload * (flank + head_friction * bearing / 2)


def yield_preload():
    """Tension with torsion at the fully plastic section, von Mises."""
    force, diameter, pitch, yield_strength, friction, used = symbols(
        "force diameter pitch yieldStrength threadFriction utilisation", positive=True)
    pitch_diameter, root_diameter = thread()
    pitch_diameter = pitch_diameter.subs({"diameter": diameter, "pitch": pitch})
    root_diameter = root_diameter.subs({"diameter": diameter, "pitch": pitch})
    stress_diameter = (pitch_diameter + root_diameter) / 2
    per_force = pitch_diameter / 2 * (pitch / (pi * pitch_diameter) + friction / cos(pi / 6))
    tension = 1 / (pi * stress_diameter**2 / 4)
    shear = per_force / (pi * stress_diameter**3 / 12)
    return used * yield_strength / sqrt(tension**2 + 3 * shear**2)


def driven_wedge():
    """Forces on a wedge driven along the face: bevel and back carry normal force and friction against the motion."""
    drive, angle, bevel, back, on_bevel, on_back = symbols("drive angle bevelFriction backFriction B N")
    along = drive - back * on_back - on_bevel * (sin(angle) + bevel * cos(angle))
    across = on_back - on_bevel * (cos(angle) - bevel * sin(angle))
    return solve([along, across], [on_bevel, on_back])[on_back]


def released_wedge():
    """Pull that draws the wedge out, over the clamp force: the friction turns round."""
    angle, bevel, back, pull, on_bevel = symbols("angle bevelFriction backFriction pull B")
    along = pull + on_bevel * (sin(angle) - bevel * cos(angle)) - back
    across = 1 - on_bevel * (cos(angle) + bevel * sin(angle))
    return solve([along, across], [on_bevel, pull])[pull]


def wedge_block():
    force, angle, bevel, wall, on_bevel, on_wall = symbols("boltForce angle bevelFriction wallFriction B W")
    found = solve([force - wall * on_wall - on_bevel * (cos(angle) + bevel * sin(angle)),
                   on_wall - on_bevel * (sin(angle) - bevel * cos(angle))], [on_bevel, on_wall])
    return sp.Matrix([found[on_bevel], found[on_bevel] * (cos(angle) + bevel * sin(angle)), found[on_wall]])


def thick_tube():
    """Lame: radial A - B/r^2, round A + B/r^2, with the pressure inside and nothing outside."""
    pressure, inner, outer, a, b = symbols("pressure innerRadius outerRadius a b")
    found = solve([a - b / inner**2 + pressure, a - b / outer**2], [a, b])
    return found[a] + found[b] / inner**2, pressure * pi * inner**2 / (pi * outer**2 - pi * inner**2)


def thick_wall():
    """Greatest strain at the bore of an open tube equals that of plain tension at the allowable stress."""
    pressure, bore, allowable, poisson, squared = symbols("pressure bore allowableStress poisson k")
    ratio = solve(pressure * (squared + 1) + poisson * pressure * (squared - 1) - allowable * (squared - 1), squared)[0]
    return bore / 2 * (sqrt(ratio) - 1)


def beam_bow():
    """Beam clamped at both ends under an even load: EI w'''' = q."""
    load, pitch, width, thickness, modulus, factor = symbols("load pitch width thickness modulus endFactor", positive=True)
    c = symbols("c0:4")
    stiffness = modulus * width * thickness**3 / 12
    w = load / pitch * x**4 / 24 / stiffness + sum(c[i] * x**i for i in range(4))
    found = solve([w.subs(x, 0), sp.diff(w, x).subs(x, 0), w.subs(x, pitch), sp.diff(w, x).subs(x, pitch)], c)
    return factor * w.subs(found).subs(x, pitch / 2)


def guided_stress():
    """Leg held at both ends, one end moved sideways without turning."""
    modulus, diameter, sway, length = symbols("modulus outsideDiameter sway length", positive=True)
    c = symbols("c0:4")
    w = sum(c[i] * x**i for i in range(4))
    found = solve([w.subs(x, 0), sp.diff(w, x).subs(x, 0), w.subs(x, length) - sway, sp.diff(w, x).subs(x, length)], c)
    return sp.Abs((modulus * diameter / 2 * sp.diff(w.subs(found), x, 2)).subs(x, 0))


def first_mode():
    """Rayleigh's quotient with the static shape of a cantilever under an end load."""
    modulus, diameter, wall, length, density, mass = symbols("modulus outsideDiameter wall length density tipMass", positive=True)
    shape = (3 * x**2 * length - x**3) / (2 * length**3)
    inertia = pi / 64 * (diameter**4 - (diameter - 2 * wall) ** 4)
    area = pi / 4 * (diameter**2 - (diameter - 2 * wall) ** 2)
    strain = integrate(modulus * inertia * sp.diff(shape, x, 2) ** 2, (x, 0, length))
    kinetic = integrate(density * area * shape**2, (x, 0, length)) + mass
    return sqrt(strain / kinetic) / (2 * pi)


def tube_body():
    diameter, wall, length, density, r = symbols("outsideDiameter wall length density r", positive=True)
    mass = integrate(2 * pi * r * density * length, (r, diameter / 2 - wall, diameter / 2))
    modulus = integrate(pi * r**3, (r, diameter / 2 - wall, diameter / 2)) / (diameter / 2)
    return mass, modulus


def wedge_of_mitre():
    """A wedge between two planes that lean half the deflection each, in the plane of the bend, at three distances out."""
    radius, diameter, angle, count = symbols("radius outsideDiameter angle count", positive=True)
    height = symbols("height")
    cut = angle / count / 2
    lengths = [2 * solve(height * cos(cut) - out * sin(cut), height)[0] for out in (radius, radius + diameter / 2, radius - diameter / 2)]
    polygon = count * lengths[0]
    end = diameter / 2 / cos(cut) - diameter / 2
    return sp.Matrix([*lengths, polygon / integrate(radius, (t, 0, angle)), end])


def cope_depth():
    """Ray along the branch's wall against the main tube, y^2 + z^2 = R^2, from outside."""
    main, r, angle, offset, phi, s = symbols("mainRadius r angle offset phi s")
    point = s * sp.Matrix([cos(angle), 0, sin(angle)]) + r * cos(phi) * sp.Matrix([-sin(angle), 0, cos(angle)])
    point += (offset + r * sin(phi)) * sp.Matrix([0, 1, 0])
    a, b, c = sp.Poly(sp.expand(point[1] ** 2 + point[2] ** 2 - main**2), s).all_coeffs()
    depth = (-b + sqrt(b**2 - 4 * a * c)) / (2 * a)
    return sp.Matrix([depth, point[0].subs(s, depth), point[1]])


def shielded():
    """Two large plates and a shield between: the heat with it over the heat without, from the radiosity resistances."""
    hot, cold, shield, q, middle = symbols("hot cold shield q m")
    leg = lambda e1, e2: (1 - e1) / e1 + 1 + (1 - e2) / e2
    found = solve([1 - middle - q * leg(hot, shield), middle - q * leg(shield, cold)], [q, middle])
    return found[q] * leg(hot, cold)


def mixing(cosine):
    """Momentum along the pipe at equal pressures, then what of the total pressure is gone, on the upstream head."""
    ratio = symbols("areaRatio")
    after = ratio
    rise = 2 * (ratio * cosine - after**2)
    return 1 - after**2 - rise


def throat():
    mach, gamma = symbols("mach gamma", positive=True)
    rise = 1 + (gamma - 1) / 2 * mach**2
    velocity, density = mach * sqrt(gamma / rise), rise ** (-1 / (gamma - 1))
    return velocity * density, 1 / density - 1


def purge():
    """Stirred vessel: K V dC/dt = Q (C_s - C)."""
    volume, flow, target, residual, initial, factor, changes = symbols(
        "volume flow target residual initial deadLegFactor volumeChanges")
    c = sp.Function("c")
    n = symbols("n")
    found = sp.dsolve(sp.Eq(c(n).diff(n), residual - c(n)), c(n), ics={c(0): initial}).rhs
    return found.subs(n, changes), factor * volume / flow * log((initial - residual) / (target - residual))


def stretched(fibre):
    """A strip keeps its volume when its length becomes that of another radius."""
    before, radius, angle, after = symbols("wall radius angle after")
    return solve(integrate(before, (t, 0, radius * angle)) - integrate(after, (t, 0, fibre * angle)), after)[0]


def roof():
    """Apex of the two lines that touch a circle and lean limitAngle from level."""
    diameter, limit = symbols("diameter limitAngle")
    touching = diameter / 2 * sp.Matrix([sin(limit), cos(limit)])
    return touching[1] + touching[0] * tan(limit)


def colebrook(v):
    """Closed form by Lambert's W, another way than any iteration: X = 1/sqrt(f) = -2 log10(b + a X)."""
    a, b, k = mpmath.mpf("2.51") / v["reynolds"], v["relativeRoughness"] / mpmath.mpf("3.7"), 2 / mpmath.log(10)
    # For rough pipes the exponential overflows a double, not mpmath.
    return 1 / (k * mpmath.lambertw(mpmath.exp(b / (a * k)) / (a * k)).real - b / a) ** 2


def enthalpy(v):
    """Integral of cp/R = sum a_i T^(i-2) with the record's constant, J/mol over the gas constant."""
    temperature = symbols("T", positive=True)
    heat = sum(sp.Rational(a) * temperature ** (i - 2) for i, a in enumerate(v["coefficients"]))
    primitive = integrate(heat, temperature) + sp.Rational(v["constant"])
    return sp.N(primitive.subs(temperature, sp.Rational(v["temperature"])), 40)


R, A, s, e, D, OD = symbols("radius angle spacing error diameter outsideDiameter")
d2, d3 = thread()
P = symbols("pitch")
F, muG, muK, DK = symbols("preload threadFriction headFriction bearingDiameter")
layer, plate = symbols("layer plateAngle")


def steep_wave():
    """Sound of the compressed gas plus the speed it has itself been given."""
    still, gamma, ratio = symbols("soundSpeed gamma pressureRatio", positive=True)
    sound = still * ratio ** ((gamma - 1) / (2 * gamma))
    return sound + 2 / (gamma - 1) * (sound - still)


def mouth():
    """Rim of the cup from the point of the tungsten, the torch turned by the tilt."""
    stick, cup, lean = symbols("stickOut cupDiameter tilt")
    return sp.Matrix([[cos(lean), sin(lean)], [-sin(lean), cos(lean)]]) * sp.Matrix([cup / 2, stick])


expressions = {
    "bend-arc": lambda: integrate(R, (t, 0, A)),
    "bend-chord": lambda: sqrt((R * cos(A) - R) ** 2 + (R * sin(A)) ** 2),
    "bend-sagitta": lambda: R - R * cos(A / 2),
    "bend-setback": lambda: in_plane_meeting(),
    "arc-chord-error": lambda: R - sqrt(R**2 - (s / 2) ** 2),
    "chord-angle-for-error": lambda: 2 * acos((R - e) / R),
    "bend-wall-outside": lambda: stretched(R + OD / 2),
    "bend-wall-inside": lambda: stretched(R - OD / 2),
    "kerf-angle": lambda: symbols("kerf") / R,
    "stress-area": lambda: pi / 4 * ((d2 + d3) / 2) ** 2,
    "thread-shear-area": lambda: pi / P * D * (P / 2 + (D - d2) * tan(pi / 6)),
    "vdi-tightening-torque": lambda: torque(F, D, P, muG, muK, DK),
    "vdi-nut-factor": lambda: torque(1, D, P, muG, muK, DK) / D,
    "vdi-yield-preload": lambda: yield_preload(),
    "wedge-clamp-force": lambda: driven_wedge(),
    "wedge-release-share": lambda: released_wedge(),
    "wedge-locking-angle": lambda: atan(symbols("bevelFriction")) + atan(symbols("backFriction")),
    "wedge-block": lambda: wedge_block(),
    "lame-bore-stress": lambda: thick_tube()[0],
    "lame-axial-stress": lambda: thick_tube()[1],
    "birnie-wall": lambda: thick_wall(),
    "flange-bow": lambda: beam_bow(),
    "guided-bend-stress": lambda: guided_stress(),
    "first-mode-frequency": lambda: first_mode(),
    "tube-mass": lambda: tube_body()[0],
    "tube-section-modulus": lambda: tube_body()[1],
    "mitre-bend": lambda: wedge_of_mitre(),
    "cope": lambda: cope_depth(),
    "shield-ratio": lambda: shielded(),
    "collector-loss": lambda: mixing(cos(symbols("halfAngle"))),
    "mass-flow-function": lambda: throat()[0],
    "compressibility-error": lambda: throat()[1],
    "residual-oxygen": lambda: purge()[0],
    "purge-time": lambda: purge()[1],
    "teardrop-apex": lambda: roof(),
    "finite-wave-speed": lambda: steep_wave(),
    "layer-step-out": lambda: layer * cos(plate) / sin(plate),
    "stair-roughness": lambda: layer * cos(plate) * integrate(sp.Abs(t - Rational(1, 2)), (t, 0, 1)),
    "torch-mouth-offset": lambda: mouth()[0],
    "torch-mouth-height": lambda: mouth()[1],
}
functions = {"friction-factor": colebrook, "enthalpy": enthalpy}
compiled = {}


def answer(case):
    kind, inputs = case["kind"], case["inputs"]
    if kind in functions:
        return float(functions[kind](inputs if kind == "enthalpy" else {k: mpmath.mpf(v) for k, v in inputs.items()}))
    if kind not in compiled:
        form = expressions[kind]()
        names = sorted({str(free) for free in form.free_symbols})
        plain = form.subs({free: symbols(str(free)) for free in form.free_symbols})
        compiled[kind] = names, sp.lambdify([symbols(name) for name in names], plain, "mpmath")
    names, form = compiled[kind]
    found = form(*(mpmath.mpf(inputs[name]) for name in names))
    return [float(v.real) for v in found] if hasattr(found, "rows") else float(mpmath.re(found))


print(json.dumps([answer(case) for case in json.load(sys.stdin)]))
