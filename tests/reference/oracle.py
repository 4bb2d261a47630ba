"""Answers for tests/reference/oracle.test.ts from the fluids library: pressure losses."""
import json
import sys

import fluids
from fluids.fittings import bend_miter, bend_rounded
from fluids.friction import Colebrook, Haaland, friction_factor

DEGREES = 57.29577951308232


def answer(case):
    kind, a = case["kind"], case["inputs"]
    if kind == "friction-factor":
        return Colebrook(a["reynolds"], a["relativeRoughness"]) if a["reynolds"] > 4000 else 64 / a["reynolds"]
    if kind == "haaland-friction-factor":
        return Haaland(a["reynolds"], a["relativeRoughness"])
    if kind == "swamee-jain-friction-factor":
        return friction_factor(a["reynolds"], a["relativeRoughness"], Method="Swamee_Jain_1976")
    if kind == "rennels-bend-loss":
        return bend_rounded(1.0, a["angle"] * DEGREES, fd=a["frictionFactor"], bend_diameters=a["radiusRatio"], method="Rennels")
    if kind == "bend-loss":
        return bend_rounded(1.0, a["angle"] * DEGREES, fd=0.0, Re=1e6, bend_diameters=a["radiusRatio"], roughness=0.0, L_unimpeded=50.0, method="Miller")
    if kind == "rennels-mitre-loss":
        return bend_miter(angle=a["angle"] * DEGREES, method="Rennels")
    if kind == "isothermal-mass-flow":
        return fluids.isothermal_gas(a["density"], a["frictionFactor"], P1=a["inletPressure"], P2=a["outletPressure"], L=a["length"], D=a["bore"])
    raise ValueError(f"no oracle for {kind}")


print(json.dumps([answer(case) for case in json.load(sys.stdin)]))
