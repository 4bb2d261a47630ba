"""
Reader of the clear text encoding of ISO 10303-21, written from the grammar of the standard (its tables of tokens and productions, from
memory), not from any writer. What breaks the grammar raises; what breaks the entities' declarations is a list of faults in words.
Declarations: ISO 10303-41 and -42 and AP214 (memory), for the types that a solid and its product need.
"""
import re

TOKEN = re.compile(
    r"""(?P<space>[ \n\r\t]+|/\*.*?\*/)
    |(?P<special>END-ISO-10303-21|ISO-10303-21)
    |(?P<string>'(?:[^']|'')*')
    |(?P<real>[+-]?[0-9]+\.[0-9]*(?:E[+-]?[0-9]+)?)
    |(?P<integer>[+-]?[0-9]+)
    |(?P<ref>\#[0-9]+)
    |(?P<enumeration>\.[A-Z_][A-Z0-9_]*\.)
    |(?P<binary>"[0-3][0-9A-F]*")
    |(?P<keyword>!?[A-Z_][A-Z0-9_]*)
    |(?P<mark>[()=;,*$])""",
    re.VERBOSE | re.DOTALL,
)
DIRECTIVE = re.compile(
    r"\\X2\\(?P<two>(?:[0-9A-F]{4})+)\\X0\\|\\X4\\(?P<four>(?:[0-9A-F]{8})+)\\X0\\|\\X\\(?P<one>[0-9A-F]{2})"
    r"|\\S\\(?P<high>[ -~])|\\P[A-I]\\|(?P<slash>\\\\)|(?P<quote>'')"
)


class Ref(int):
    """Number of an instance."""


class Enumeration(str):
    """A value between points: T and F are the booleans."""


class Typed(tuple):
    """A value with the name of its type."""


OMITTED, DERIVED = "$", "*"


class Mark(str):
    """An omitted or a derived value."""


def decoded(quoted):
    """The characters that a string stands for."""
    # Writers that keep their lines short break them within strings too: a line break is no character of a string.
    body, out, at = re.sub("[\n\r]", "", quoted[1:-1]), [], 0
    while at < len(body):
        found = DIRECTIVE.match(body, at)
        if found is None:
            if not " " <= body[at] <= "~" or body[at] in "\\'":
                raise ValueError(f"string {quoted!r}: {body[at]!r} is not of the basic alphabet")
            out.append(body[at])
            at += 1
            continue
        at = found.end()
        if found["two"]:
            out.append(bytes.fromhex(found["two"]).decode("utf-16-be"))
        elif found["four"]:
            out.append(bytes.fromhex(found["four"]).decode("utf-32-be"))
        elif found["one"]:
            out.append(chr(int(found["one"], 16)))
        elif found["high"]:
            out.append(chr(ord(found["high"]) + 128))
        elif found["slash"]:
            out.append("\\")
        elif found["quote"]:
            out.append("'")
    return "".join(out)


class Reader:
    """Walks over the tokens of a text."""

    def __init__(self, text):
        self.tokens, at = [], 0
        while at < len(text):
            found = TOKEN.match(text, at)
            if found is None:
                raise ValueError(f"no token at {text[at:at + 40]!r}")
            at = found.end()
            if found.lastgroup != "space":
                self.tokens.append((found.lastgroup, found[0]))
        self.at = 0

    def take(self, *wanted):
        got = self.tokens[self.at] if self.at < len(self.tokens) else ("end", "end of text")
        if wanted and got[1] not in wanted and got[0] not in wanted:
            raise ValueError(f"token {self.at + 1}: expected {' or '.join(wanted)}, got {got[1]!r}")
        self.at += 1
        return got

    def sees(self, text):
        return self.at < len(self.tokens) and self.tokens[self.at][1] == text

    def parameters(self):
        """A list between brackets, empty or parted by commas."""
        self.take("(")
        out = []
        while not self.sees(")"):
            out.append(self.parameter())
            if not self.sees(")"):
                self.take(",")
                if self.sees(")"):
                    raise ValueError(f"token {self.at}: a comma before a closing bracket")
        self.take(")")
        return out

    def parameter(self):
        if self.sees("("):
            return self.parameters()
        kind, text = self.take("string", "real", "integer", "ref", "enumeration", "binary", "keyword", OMITTED, DERIVED)
        if kind == "keyword":
            return Typed((text, *self.parameters()))
        make = {"string": decoded, "real": float, "integer": int, "mark": Mark, "binary": str}
        if kind == "ref":
            return Ref(text[1:])
        return Enumeration(text.strip(".")) if kind == "enumeration" else make[kind](text)

    def record(self):
        _, name = self.take("keyword")
        return name, self.parameters()

    def instance(self):
        """Records of an instance: one, or of a complex one several between brackets in the order of their names."""
        if not self.sees("("):
            return [self.record()]
        self.take("(")
        records = [self.record()]
        while not self.sees(")"):
            records.append(self.record())
        self.take(")")
        names = [name for name, _ in records]
        if names != sorted(names):
            raise ValueError(f"parts of a complex instance are not in the order of their names: {', '.join(names)}")
        return records


def read(text):
    """Header records and instances by number, each a list of records (name, parameters)."""
    reader = Reader(text)
    reader.take("ISO-10303-21"), reader.take(";")
    reader.take("HEADER"), reader.take(";")
    header = []
    while not reader.sees("ENDSEC"):
        header.append(reader.record())
        reader.take(";")
    if [name for name, _ in header[:3]] != ["FILE_DESCRIPTION", "FILE_NAME", "FILE_SCHEMA"]:
        raise ValueError(f"header is not description, name and schema: {[name for name, _ in header]}")
    reader.take("ENDSEC"), reader.take(";"), reader.take("DATA"), reader.take(";")
    instances = {}
    while not reader.sees("ENDSEC"):
        number = Ref(reader.take("ref")[1][1:])
        if number in instances or number == 0:
            raise ValueError(f"#{number} is not a new number")
        reader.take("=")
        instances[number] = reader.instance()
        reader.take(";")
    reader.take("ENDSEC"), reader.take(";"), reader.take("END-ISO-10303-21"), reader.take(";")
    if reader.at != len(reader.tokens):
        raise ValueError("text after the end of the exchange structure")
    return dict(header), instances


# Attributes in their order: s string, r real, i integer, b boolean, e enumeration, m measure with its type, * derived, #TYPE|TYPE instance of
# one of these, # any instance, (..) list of at least one, ? behind one that may be left out, / between two of which either will do.
CURVES = "#LINE|CIRCLE|ELLIPSE|B_SPLINE_CURVE|B_SPLINE_CURVE_WITH_KNOTS|SURFACE_CURVE|SEAM_CURVE"
SURFACES = "#PLANE|B_SPLINE_SURFACE|B_SPLINE_SURFACE_WITH_KNOTS|SURFACE_OF_LINEAR_EXTRUSION|SURFACE_OF_REVOLUTION|CYLINDRICAL_SURFACE|CONICAL_SURFACE|TOROIDAL_SURFACE|SPHERICAL_SURFACE"
DECLARED = {
    "FILE_DESCRIPTION": "(s) s",
    "FILE_NAME": "s s (s) (s) s s s",
    "FILE_SCHEMA": "(s)",
    "CARTESIAN_POINT": "s (r)",
    "DIRECTION": "s (r)",
    "VECTOR": "s #DIRECTION r",
    "AXIS2_PLACEMENT_3D": "s #CARTESIAN_POINT #DIRECTION? #DIRECTION?",
    "LINE": "s #CARTESIAN_POINT #VECTOR",
    "CIRCLE": "s #AXIS2_PLACEMENT_3D r",
    "PLANE": "s #AXIS2_PLACEMENT_3D",
    "CYLINDRICAL_SURFACE": "s #AXIS2_PLACEMENT_3D r",
    "CONICAL_SURFACE": "s #AXIS2_PLACEMENT_3D r r",
    "TOROIDAL_SURFACE": "s #AXIS2_PLACEMENT_3D r r",
    "VERTEX_POINT": "s #CARTESIAN_POINT",
    "EDGE_CURVE": f"s #VERTEX_POINT #VERTEX_POINT {CURVES} b",
    "ORIENTED_EDGE": "s * * #EDGE_CURVE b",
    "EDGE_LOOP": "s (#ORIENTED_EDGE)",
    "FACE_BOUND": "s #EDGE_LOOP b",
    "FACE_OUTER_BOUND": "s #EDGE_LOOP b",
    "ADVANCED_FACE": f"s (#FACE_BOUND|FACE_OUTER_BOUND) {SURFACES} b",
    "CLOSED_SHELL": "s (#ADVANCED_FACE)",
    "MANIFOLD_SOLID_BREP": "s #CLOSED_SHELL",
    "ADVANCED_BREP_SHAPE_REPRESENTATION": "s (#MANIFOLD_SOLID_BREP|AXIS2_PLACEMENT_3D) #GEOMETRIC_REPRESENTATION_CONTEXT",
    "APPLICATION_CONTEXT": "s",
    "APPLICATION_PROTOCOL_DEFINITION": "s s i #APPLICATION_CONTEXT",
    "PRODUCT_CONTEXT": "s #APPLICATION_CONTEXT s",
    "PRODUCT": "s s s? (#PRODUCT_CONTEXT|MECHANICAL_CONTEXT)",
    "PRODUCT_RELATED_PRODUCT_CATEGORY": "s s? (#PRODUCT)",
    "PRODUCT_DEFINITION_FORMATION": "s s? #PRODUCT",
    "PRODUCT_DEFINITION_CONTEXT": "s #APPLICATION_CONTEXT s",
    "PRODUCT_DEFINITION_FORMATION_WITH_SPECIFIED_SOURCE": "s s? #PRODUCT e",
    "PRODUCT_DEFINITION": "s s? #PRODUCT_DEFINITION_FORMATION|PRODUCT_DEFINITION_FORMATION_WITH_SPECIFIED_SOURCE #PRODUCT_DEFINITION_CONTEXT|DESIGN_CONTEXT",
    "PRODUCT_DEFINITION_SHAPE": "s s? #",
    "SHAPE_DEFINITION_REPRESENTATION": "#PRODUCT_DEFINITION_SHAPE|PROPERTY_DEFINITION #ADVANCED_BREP_SHAPE_REPRESENTATION|SHAPE_REPRESENTATION",
    "UNCERTAINTY_MEASURE_WITH_UNIT": "m #NAMED_UNIT s s?",
    "LENGTH_UNIT": "",
    "PLANE_ANGLE_UNIT": "",
    "SOLID_ANGLE_UNIT": "",
    "NAMED_UNIT": "*/#DIMENSIONAL_EXPONENTS",
    "SI_UNIT": "e? e",
    "GEOMETRIC_REPRESENTATION_CONTEXT": "i",
    "GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT": "(#UNCERTAINTY_MEASURE_WITH_UNIT)",
    "GLOBAL_UNIT_ASSIGNED_CONTEXT": "(#NAMED_UNIT)",
    "REPRESENTATION_CONTEXT": "s s",
}
PLAIN = {"s": str, "r": float, "i": int, "e": Enumeration, "m": Typed, "*": Mark}


def fits(value, kind, instances):
    """Whether a value is what is declared."""
    if "/" in kind:
        return any(fits(value, one, instances) for one in kind.split("/"))
    if kind.endswith("?"):
        return value == OMITTED and isinstance(value, Mark) or fits(value, kind[:-1], instances)
    if kind.startswith("("):
        return isinstance(value, list) and len(value) > 0 and all(fits(one, kind[1:-1], instances) for one in value)
    if kind.startswith("#"):
        if not isinstance(value, Ref) or value not in instances:
            return False
        return kind == "#" or any(name in kind[1:].split("|") for name, _ in instances[value])
    if kind == "b":
        return isinstance(value, Enumeration) and value in ("T", "F")
    # Texts, marks and enumerations are strings here, numbers of instances are integers: the very type counts.
    return type(value) is PLAIN[kind] and (kind != "*" or value == DERIVED)


def undeclared(header, instances):
    """Faults against the declarations, and names of types that have none here."""
    faults, others = [], set()
    records = [(name, name, values) for name, values in header.items()]
    records += [(f"#{number} {name}", name, values) for number, of in instances.items() for name, values in of]
    for where, name, values in records:
        if name not in DECLARED:
            others.add(name)
            continue
        kinds = DECLARED[name].split()
        if len(kinds) != len(values):
            faults.append(f"{where}: expected {len(kinds)} attributes, got {len(values)}")
        faults += [
            f"{where}: attribute {i + 1} is {value!r}, expected {kind}"
            for i, (value, kind) in enumerate(zip(values, kinds))
            if not fits(value, kind, instances)
        ]
    return faults, sorted(others)
