"""Every published source once: what it is, what was taken from it, how we hold it."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, kw_only=True, slots=True)
class Source:
    """One published source."""

    citation: str
    """Author, title, place, year."""
    taken: str
    """What the project took from it."""
    held: Literal["read", "abstract", "second-hand", "memory", "own"]
    """How we know it; 'memory' and 'second-hand' are to be checked before they are printed."""


SOURCES: dict[str, Source] = {
    "own-derivation": Source(
        citation="foamwright, derived in the code beside it",
        taken="algebra",
        held="own",
    ),
    "common-practice": Source(
        citation="common practice of the trade, no source",
        taken="figures and rules of thumb with their spread",
        held="memory",
    ),
    "ridders-1979": Source(
        citation="C. Ridders, A new algorithm for computing a single root of a real continuous "
        "function, IEEE Trans. Circuits and Systems 26 (1979) 979",
        taken="the update formula",
        held="memory",
    ),
    "sharpe-2024": Source(
        citation="P. Sharpe, NeuralFoil, open section-coefficient library, version 0.3.3, MIT "
        "licence, 2024",
        taken="section lift, drag and moment behind the shipped atlas",
        held="read",
    ),
    "selig-1989": Source(
        citation="M. S. Selig, J. F. Donovan, D. B. Fraser, Airfoils at Low Speeds, SoarTech 8, "
        "1989",
        taken="tabulated characteristics of Clark-Y, four-digit sections and a flat plate",
        held="second-hand",
    ),
    "selig-1995": Source(
        citation="M. S. Selig, J. J. Guglielmo, A. P. Broeren, P. Giguere, Summary of Low-Speed "
        "Airfoil Data, vol. 1, SoarTech, 1995",
        taken="tabulated characteristics and drag runs of low-Reynolds-number sections",
        held="second-hand",
    ),
    "selig-2004": Source(
        citation="M. S. Selig, B. D. McGranahan, Wind Tunnel Aerodynamic Tests of Six Airfoils "
        "for Use on Small Wind Turbines, NREL/SR-500-34515, 2004",
        taken="lift and drag of the E387 from Re 100 k to 300 k",
        held="second-hand",
    ),
    "lyon-1998": Source(
        citation="C. A. Lyon, A. P. Broeren, P. Giguere, A. Gopalarathnam, M. S. Selig, Summary "
        "of Low-Speed Airfoil Data, vol. 3, SoarTech, 1998",
        taken="drag and lift runs of low-Reynolds-number sections and a bent sheet",
        held="second-hand",
    ),
    "abbott-1959": Source(
        citation="I. H. Abbott, A. E. von Doenhoff, Theory of Wing Sections, Dover, 1959",
        taken="thin-airfoil theory, four- and five-digit mean lines",
        held="memory",
    ),
    "blasius-1908": Source(
        citation="H. Blasius, Grenzschichten in Fluessigkeiten mit kleiner Reibung, Z. Math. "
        "Phys. 56 (1908) 1",
        taken="laminar skin friction of a flat plate",
        held="memory",
    ),
    "schlichting-1979": Source(
        citation="H. Schlichting, Boundary-Layer Theory, 7th ed., McGraw-Hill, 1979",
        taken="turbulent skin friction 0.074 Re^-0.2 and the allowance for a laminar start",
        held="memory",
    ),
    "hoerner-1965": Source(
        citation="S. F. Hoerner, Fluid-Dynamic Drag, published by the author, 1965",
        taken="form factor of bodies, base drag, drag coefficients of bluff shapes",
        held="memory",
    ),
}
