"""The units a plane file may use, what each dimension can be, and what it is shown in."""

DEFINITIONS = """
meter = [length] = m
kilogram = [mass] = kg
second = [time] = s
ampere = [current] = A
kelvin = [temperature]; offset: 0 = K
radian = [] = rad
revolution = [] = rev

millimeter = 0.001 m = mm
centimeter = 0.01 m = cm
decimeter = 0.1 m = dm
kilometer = 1000 m = km
inch = 0.0254 m = in
foot = 0.3048 m = ft
gram = 0.001 kg = g
milligram = 1e-6 kg = mg
ounce = 0.028349523125 kg = oz
pound = 0.45359237 kg = lb
minute = 60 s = min
hour = 3600 s = h
millisecond = 0.001 s = ms
degree = 0.017453292519943295 radian = deg
newton = kg * m / s ** 2 = N
gram_force = 0.00980665 N = gf
kilogram_force = 9.80665 N = kgf
ounce_force = 0.2780138509537812 N = ozf
pascal = N / m ** 2 = Pa
hectopascal = 100 Pa = hPa
kilopascal = 1000 Pa = kPa
megapascal = 1e6 Pa = MPa
gigapascal = 1e9 Pa = GPa
joule = N * m = J
watt = J / s = W
milliwatt = 0.001 W = mW
watt_hour = 3600 J = Wh
volt = W / A = V
millivolt = 0.001 V = mV
milliampere = 0.001 A = mA
ohm = V / A = ohm = Ω
milliohm = 0.001 ohm = mohm = mΩ
ampere_hour = 3600 A * s = Ah
milliampere_hour = 3.6 A * s = mAh
mile_per_hour = 0.44704 m / s = mph
knot = 0.5144444444444445 m / s = kn
rpm = 0.016666666666666666 revolution / s
degC = kelvin; offset: 273.15
degF = 5 / 9 * kelvin; offset: 233.15 + 200 / 9
hertz = 1 / s = Hz
kilohertz = 1000 / s = kHz
percent = 0.01
"""
"""Every unit a plane file may use, and no other: a typing error is found, not guessed at."""

USUAL: dict[str, dict[str, tuple[float, float]]] = {
    "mass": {
        "g": (1e-3, 0.0),
        "kg": (1.0, 0.0),
        "mg": (1e-6, 0.0),
        "oz": (0.028349523125, 0.0),
        "lb": (0.45359237, 0.0),
    },
    "length": {
        "mm": (1e-3, 0.0),
        "cm": (1e-2, 0.0),
        "m": (1.0, 0.0),
        "in": (0.0254, 0.0),
        "ft": (0.3048, 0.0),
        "km": (1e3, 0.0),
    },
    "elevation": {"m": (1.0, 0.0), "ft": (0.3048, 0.0), "km": (1e3, 0.0)},
    "area": {
        "cm2": (1e-4, 0.0),
        "mm2": (1e-6, 0.0),
        "dm2": (1e-2, 0.0),
        "m2": (1.0, 0.0),
        "in2": (0.0254**2, 0.0),
    },
    "fraction": {"%": (0.01, 0.0)},
    "angle": {"deg": (0.017453292519943295, 0.0), "rad": (1.0, 0.0)},
    "speed": {
        "m/s": (1.0, 0.0),
        "km/h": (1 / 3.6, 0.0),
        "mph": (0.44704, 0.0),
        "kn": (1852 / 3600, 0.0),
        "ft/s": (0.3048, 0.0),
    },
    "time": {"min": (60.0, 0.0), "s": (1.0, 0.0), "h": (3600.0, 0.0), "ms": (1e-3, 0.0)},
    "temperature": {
        "degC": (1.0, 273.15),
        "degF": (5 / 9, 459.67 * 5 / 9),
        "K": (1.0, 0.0),
    },
    "voltage": {"V": (1.0, 0.0), "mV": (1e-3, 0.0)},
    "current": {"A": (1.0, 0.0), "mA": (1e-3, 0.0)},
    "power": {"W": (1.0, 0.0), "mW": (1e-3, 0.0)},
    "resistance": {"mohm": (1e-3, 0.0), "ohm": (1.0, 0.0)},
    "charge": {"mAh": (3.6, 0.0), "Ah": (3600.0, 0.0)},
    "speed constant": {"rpm/V": (1 / 60, 0.0)},
    "rotation speed": {"rpm": (1 / 60, 0.0)},
    "turn rate": {"deg/s": (0.017453292519943295, 0.0), "rad/s": (1.0, 0.0)},
    "frequency": {"Hz": (1.0, 0.0), "kHz": (1e3, 0.0)},
    "force": {
        "gf": (9.80665e-3, 0.0),
        "N": (1.0, 0.0),
        "kgf": (9.80665, 0.0),
        "ozf": (0.028349523125 * 9.80665, 0.0),
    },
    "torque": {
        "kgf cm": (0.0980665, 0.0),
        "N m": (1.0, 0.0),
        "ozf in": (0.028349523125 * 9.80665 * 0.0254, 0.0),
    },
    "energy": {"Wh": (3600.0, 0.0), "J": (1.0, 0.0)},
    "density": {"kg/m3": (1.0, 0.0)},
    "pressure": {"hPa": (100.0, 0.0), "Pa": (1.0, 0.0)},
    "stress": {"kPa": (1e3, 0.0), "MPa": (1e6, 0.0), "GPa": (1e9, 0.0), "Pa": (1.0, 0.0)},
}
"""Factor and offset to SI of the units people write, the likeliest first.

A test holds every one against the unit library; it is loaded only for other combinations, because
loading it takes longer than reading a whole plane.
"""

MEANT = {
    "gr": "g",
    "gm": "g",
    "gramm": "g",
    "gramms": "g",
    "lbs": "lb",
    "ounces": "oz",
    '"': "in",
    "''": "in",
    "inches": "in",
    "'": "ft",
    "feet": "ft",
    "metre": "m",
    "metres": "m",
    "millimetre": "mm",
    "millimetres": "mm",
    "centimetre": "cm",
    "centimetres": "cm",
    "kmh": "km/h",
    "kph": "km/h",
    "kmph": "km/h",
    "mps": "m/s",
    "kt": "kn",
    "kts": "kn",
    "knots": "kn",
    "fps": "ft/s",
    "sec": "s",
    "secs": "s",
    "mins": "min",
    "hr": "h",
    "hrs": "h",
    "c": "degC",
    "°c": "degC",
    "celsius": "degC",
    "f": "degF",
    "fahrenheit": "degF",
    "kv": "rpm/V",
    "ohms": "ohm",
    "mohms": "mohm",
    "amp": "A",
    "amps": "A",
    "volts": "V",
    "watts": "W",
    "nm": "N m",
    "kg cm": "kgf cm",
    "kg*cm": "kgf cm",
    "kgcm": "kgf cm",
    "oz in": "ozf in",
    "€": "EUR",
    "euro": "EUR",
    "euros": "EUR",
    "$": "USD",
    "dollars": "USD",
    "£": "GBP",
}
"""What people write that is no unit here, in lower case: offered as a correction, never taken."""

SANE: dict[str, tuple[float, float]] = {
    "mass": (0.0, 20.0),
    "length": (-3.0, 3.0),
    "elevation": (-500.0, 6000.0),
    "area": (0.0, 2.0),
    "fraction": (-1.0, 3.0),
    "angle": (-1.6, 1.6),
    "speed": (0.0, 150.0),
    "time": (0.0, 36000.0),
    "temperature": (223.15, 333.15),
    "voltage": (0.0, 60.0),
    "current": (0.0, 300.0),
    "power": (0.0, 5000.0),
    "resistance": (0.0, 100.0),
    "charge": (0.0, 36000.0 * 2),
    "speed constant": (1.0, 500.0),
    "rotation speed": (0.0, 2000.0),
    "turn rate": (0.0, 40.0),
    "frequency": (0.1, 1e4),
    "force": (0.0, 200.0),
    "torque": (0.0, 10.0),
    "energy": (0.0, 1e6),
    "density": (1.0, 3000.0),
    "pressure": (3e4, 1.2e5),
    "stress": (0.0, 1e12),
    "money": (0.0, 1e6),
}
"""What a foam plane and its site can be [SI]; outside it something was mistyped."""

SHOWN: dict[str, dict[str, tuple[str, float, float]]] = {
    "metric": {
        "mass": ("g", 1e3, 0.0),
        "length": ("mm", 1e3, 0.0),
        "elevation": ("m", 1.0, 0.0),
        "area": ("cm²", 1e4, 0.0),
        "ground area": ("ha", 1e-4, 0.0),
        "fraction": ("%", 1e2, 0.0),
        "angle": ("°", 57.29577951308232, 0.0),
        "speed": ("m/s", 1.0, 0.0),
        "temperature": ("°C", 1.0, -273.15),
        "resistance": ("mΩ", 1e3, 0.0),
        "charge": ("mAh", 1 / 3.6, 0.0),
        "speed constant": ("rpm/V", 60.0, 0.0),
        "rotation speed": ("rpm", 60.0, 0.0),
        "turn rate": ("°/s", 57.29577951308232, 0.0),
        "frequency": ("Hz", 1.0, 0.0),
        "force": ("N", 1.0, 0.0),
        "pull": ("g", 1e3 / 9.80665, 0.0),  # as a kitchen scale shows it
        "torque": ("N·m", 1.0, 0.0),
        "inertia": ("g·m²", 1e3, 0.0),
        "wing loading": ("g/dm²", 10.0, 0.0),
        "energy per distance": ("Wh/km", 1 / 3.6, 0.0),
        "energy": ("J", 1.0, 0.0),
        "voltage": ("V", 1.0, 0.0),
        "current": ("A", 1.0, 0.0),
        "power": ("W", 1.0, 0.0),
        "density": ("kg/m³", 1.0, 0.0),
        "pressure": ("hPa", 0.01, 0.0),
        "stress": ("kPa", 1e-3, 0.0),
        "number": ("", 1.0, 0.0),
        "count": ("", 1.0, 0.0),
    },
    "imperial": {
        "mass": ("oz", 35.27396194958041, 0.0),
        "length": ("in", 39.37007874015748, 0.0),
        "elevation": ("ft", 1 / 0.3048, 0.0),
        "area": ("sq in", 1550.0031000062, 0.0),
        "ground area": ("acres", 1 / 4046.8564224, 0.0),
        "speed": ("mph", 2.2369362920544025, 0.0),
        "temperature": ("°F", 1.8, -459.67),
        "force": ("ozf", 3.5969431019354, 0.0),
        "pull": ("oz", 3.5969431019354, 0.0),
        "torque": ("ozf·in", 141.61193227806, 0.0),
        "wing loading": ("oz/sq ft", 3.2770556, 0.0),
        "energy per distance": ("Wh/mile", 1.609344 / 3.6, 0.0),
    },
}
"""The unit a dimension is shown in, with factor and offset from SI."""
