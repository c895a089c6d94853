"""A new plane file but for its items: head, wishes, day, and the bare airframe."""

from foamwright.jobs.interview import BY_KEY
from foamwright.jobs.shapes import SHAPES, cuts
from foamwright.jobs.sheet import HEADER, MARK, Lines, Sheet, entry, quoted, station
from foamwright.plane.airframe import Layout
from foamwright.quantity import read

TAIL_DIHEDRAL = "38 ± 3 deg"
"""Of each half of a usual V tail."""


def plane_lines(sheet: Sheet) -> Lines:
    """Return the head of the file."""
    told = sheet.told
    return [
        *HEADER.format(mark=MARK).splitlines(),
        "",
        entry("name", told["name"]),
        entry("layout", sheet.layout),
        entry("region", told.get("region", "EU"), "  # whose rules: EU, US or UK"),
        entry("units", told.get("units", "metric"), "  # of the answers: metric or imperial"),
        entry("currency", told.get("currency", "EUR"), "  # of every price in this file"),
    ]


def target_lines(sheet: Sheet) -> Lines:
    """Return the wishes; those nobody has are left as remarks."""
    examples = {
        "top_speed": "24 m/s",
        "endurance": "8 min",
        "mass_line": "250 g",
        "budget": f"120 {sheet.told.get('currency', 'EUR')}",
        "stall_speed": "7 m/s",
    }
    lines = ["", "[targets]", "# A wish that is left out leaves its question open."]
    for name, example in examples.items():
        wish = sheet.told.get(f"targets.{name}")
        lines.append(entry(name, wish) if wish else f"# {entry(name, example)}")
    return lines


def table_lines(sheet: Sheet, table: str) -> Lines:
    """Return a table whose keys are those of the interview."""
    keys = [key for key in BY_KEY if key.startswith(f"{table}.")]
    return [
        "",
        f"[{table}]",
        *(entry(key.partition(".")[2], sheet.text(key), sheet.remark(key)) for key in keys),
    ]


def airframe_lines(sheet: Sheet) -> Lines:
    """Return the bare foam."""
    told = sheet.told
    foam = "" if "foam" in told else f"  # {MARK}: which foam it is"
    lines = ["", "[airframe]", entry("foam", told.get("foam", "EPP"), foam)]
    mass, balance = told.get("scale.bare_mass"), told.get("scale.bare_balance")
    if mass:
        lines.append(entry("bare_mass", mass))
    else:
        lines.append(f'# bare_mass = "80 g"  # {MARK}: estimated from the volume until weighed')
    if balance:
        lines.append(f"bare_balance = {{ x = {quoted(balance)} }}")
    else:
        lines.append(
            f'# bare_balance = {{ x = "200 mm" }}  # {MARK}: from the volumes until balanced'
        )
    return lines


def surface_lines(name: str, role: str, stations: Lines, others: Lines | None = None) -> Lines:
    """Return one surface."""
    return [
        "",
        "[[airframe.surfaces]]",
        entry("name", name),
        entry("role", role),
        *(others or []),
        "stations = [",
        *stations,
        "]",
    ]


def section_fields(sheet: Sheet) -> tuple[dict[str, str], dict[str, str]]:
    """Return thickness and camber of the wing's root and tip, as told or as is usual."""
    root: dict[str, str] = {}
    tip: dict[str, str] = {}
    for name in ("thickness", "camber"):
        key = f"ruler.{name}"
        if key not in sheet.told and key not in sheet.stand_in:
            continue
        text = sheet.text(key)
        quantity = read(text, "length", "fraction")
        root[name] = tip[name] = text
        if quantity.dimension == "length":  # the tip is taken as the same section, smaller
            share = quantity.value / sheet.metres("ruler.root_chord")
            tip[name] = f"{share * 100:.1f} %"
    return root, tip


def wing_lines(sheet: Sheet) -> Lines:
    """Return the wing."""
    root, tip = section_fields(sheet)
    half = sheet.sum((0.5, "ruler.span"))
    edge, back = "ruler.wing_from_nose", "ruler.tip_set_back"
    stations = [
        station(
            {
                "y": "0 mm",
                "leading_edge": sheet.text(edge),
                "chord": sheet.text("ruler.root_chord"),
                **root,
            },
            sheet.remark(edge, "ruler.root_chord", *(f"ruler.{name}" for name in root)),
        ),
        station(
            {
                "y": half,
                "leading_edge": sheet.sum((1.0, edge), (1.0, back)),
                "chord": sheet.text("ruler.tip_chord"),
                **tip,
            },
            sheet.remark(back, "ruler.tip_chord"),
        ),
    ]
    others = [entry("dihedral", sheet.text("ruler.dihedral"), sheet.remark("ruler.dihedral"))]
    camber = sheet.remark("ruler.camber").strip()
    if camber and "camber" not in root:
        others.append(f'{camber}; add for instance camber = "2 %" to both stations')
    return surface_lines("wing", "wing", stations, others)


def tail_lines(sheet: Sheet) -> Lines:
    """Return the tail or the canard."""
    layout = sheet.layout
    roles = {"V-tail": "vee tail", "canard": "canard"}
    role = roles.get(layout, "tail")
    side = -1.0 if layout == "canard" else 1.0
    edge = sheet.sum((1.0, "ruler.wing_from_nose"), (side, "ruler.tail_arm"))
    keys = ("ruler.tail_span", "ruler.tail_chord", "ruler.tail_arm")
    fields = {"leading_edge": edge, "chord": sheet.text("ruler.tail_chord")}
    if SHAPES[layout].incidence:
        fields["twist"] = SHAPES[layout].incidence
    if layout == "T-tail":
        fields["z"] = sheet.sum((1.0, "ruler.fin_height"))
    stations = [
        station({"y": "0 mm", **fields}, sheet.remark(*keys)),
        station({"y": sheet.sum((0.5, "ruler.tail_span")), **fields}, ""),
    ]
    others = []
    if layout == "V-tail":
        others.append(
            entry("dihedral", TAIL_DIHEDRAL, f"  # {MARK}: angle of each half above level")
        )
    return surface_lines(role, role, stations, others)


def fin_lines(sheet: Sheet) -> Lines:
    """Return the fin, or the twin fins."""
    apart = SHAPES[sheet.layout].fins * sheet.metres("ruler.span")
    aft = sheet.metres("ruler.wing_from_nose")
    height, chord = sheet.metres("ruler.fin_height"), sheet.metres("ruler.fin_chord")
    root = sheet.metres("ruler.root_chord")
    if sheet.layout in ("tail aft", "T-tail", "twin-tail jet"):
        edge = aft + sheet.metres("ruler.tail_arm") - 0.2 * chord
    elif sheet.layout == "swept wing":
        edge = aft + sheet.metres("ruler.tip_set_back")
    else:
        edge = aft + root - chord
    place = {"y": f"{apart * 1e3:.0f} mm"} if apart else {}
    stations = [
        station(
            {**place, "z": f"{z * 1e3:.0f} mm", "leading_edge": f"{x * 1e3:.0f} mm", "chord": text},
            remark,
        )
        for z, x, text, remark in (
            (0.0, edge, sheet.text("ruler.fin_chord"), sheet.remark("ruler.fin_chord")),
            (
                height,
                edge + 0.3 * chord,
                f"{0.7 * chord * 1e3:.0f} mm",
                sheet.remark("ruler.fin_height"),
            ),
        )
    ]
    others = ["mirrored = true"] if apart else []
    others.append(f"# {MARK}: where the fin stands, how it tapers")
    return surface_lines("fin", "fin", stations, others)


CONTROLS: dict[Layout, tuple[tuple[str, str, str, str, str, str], ...]] = {
    "tail aft": (
        ("wing", "aileron", "50 %", "95 %", "25 %", "wing servos"),
        ("tail", "elevator", "5 %", "100 %", "35 %", "tail servo"),
    ),
    "V-tail": (
        ("wing", "aileron", "50 %", "95 %", "25 %", "wing servos"),
        ("tail", "ruddervator", "5 %", "100 %", "35 %", "tail servos"),
    ),
    "T-tail": (
        ("wing", "aileron", "50 %", "95 %", "25 %", "wing servos"),
        ("tail", "elevator", "5 %", "100 %", "35 %", "tail servo"),
    ),
    "plank": (("wing", "elevon", "30 %", "95 %", "20 %", "wing servos"),),
    "swept wing": (("wing", "elevon", "35 %", "95 %", "22 %", "wing servos"),),
    "delta": (("wing", "elevon", "15 %", "95 %", "15 %", "wing servos"),),
    "canard": (
        ("wing", "aileron", "50 %", "95 %", "25 %", "wing servos"),
        ("tail", "elevator", "10 %", "100 %", "40 %", "tail servo"),
    ),
    "twin-tail jet": (("tail", "elevon", "20 %", "100 %", "40 %", "tail servos"),),
}
"""Usual control surfaces: where, what, from, to, share of the chord, moved by."""


def control_lines(sheet: Sheet, where: str) -> Lines:
    """Return the control surfaces of wing or tail."""
    lines: Lines = []
    for surface, role, start, end, share, servo in CONTROLS[sheet.layout]:
        if surface != where:
            continue
        lines += [
            "",
            "[[airframe.surfaces.controls]]",
            f"# {MARK}: where it is cut and how far it moves",
            entry("name", role),
            entry("role", role),
            entry("start", start),
            entry("end", end),
            entry("chord_fraction", share),
            entry("throw_up", "14 deg"),
            entry("throw_down", "12 deg"),
            entry("servo", servo),
        ]
    return lines


def body_lines(sheet: Sheet) -> Lines:
    """Return the body as four cuts."""
    keys = ("ruler.body_length", "ruler.body_width", "ruler.body_height")
    stations = [
        station(
            {
                "x": sheet.sum((along, keys[0])),
                "width": sheet.sum((width, keys[1])),
                "height": sheet.sum((height, keys[2])),
            },
            sheet.remark(*keys) if width == 1.0 else "",
        )
        for along, width, height in cuts(sheet.layout)
    ]
    return [
        "",
        "[[airframe.bodies]]",
        entry("name", "body"),
        f"# {MARK}: the cuts at nose, rear and end; usual shares of the widest",
        "stations = [",
        *stations,
        "]",
    ]


def frame_lines(sheet: Sheet) -> Lines:
    """Return everything but the items."""
    tailed = SHAPES[sheet.layout].tail[0] > 0.0
    return [
        *plane_lines(sheet),
        *target_lines(sheet),
        *table_lines(sheet, "site"),
        *table_lines(sheet, "thrower"),
        *airframe_lines(sheet),
        *wing_lines(sheet),
        *control_lines(sheet, "wing"),
        *(tail_lines(sheet) if tailed else []),
        *control_lines(sheet, "tail"),
        *([] if sheet.layout == "V-tail" else fin_lines(sheet)),
        *body_lines(sheet),
    ]
