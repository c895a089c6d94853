"""Every published source once: what it is, what was taken from it, how we hold it."""

from foamwright.sources.measuring import MEASURING
from foamwright.sources.source import Source

__all__ = ["SOURCES", "Source"]

SOURCES: dict[str, Source] = {
    **MEASURING,
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
    "owen-2013": Source(
        citation="A. B. Owen, Monte Carlo theory, methods and examples, chapter 9, 2013",
        taken="importance sampling from a mixture that keeps the prior, effective sample size",
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
    "stevens-lewis-2003": Source(
        citation="B. L. Stevens, F. L. Lewis: Aircraft Control and Simulation, 2003, ch. 1",
        taken="equations of motion of a rigid aeroplane with quaternions",
        held="memory",
    ),
    "treloar-1975": Source(
        citation="L. R. G. Treloar: The Physics of Rubber Elasticity, 3rd ed., Oxford 1975, ch. 4",
        taken="pull of natural rubber in simple extension: ratio less one over its square",
        held="memory",
    ),
    "cross-2004": Source(
        citation="R. Cross: Physics of overarm throwing, American Journal of Physics 72, 2004",
        taken="sixty times the mass is thrown 2.4 times slower",
        held="abstract",
    ),
    "tillaar-cabri-2012": Source(
        citation="R. van den Tillaar, J. M. H. Cabri: Gender differences in the kinematics and "
        "ball velocity of overarm throwing in elite team handball players, "
        "Journal of Sports Sciences 30, 2012, p. 807",
        taken="21.1 and 19.2 m/s with balls of about 0.45 and 0.35 kg: what no thrower of a "
        "plane reaches",
        held="abstract",
    ),
    "hoerner-1965": Source(
        citation="S. F. Hoerner, Fluid-Dynamic Drag, published by the author, 1965",
        taken="form factor of bodies, base drag, drag coefficients of bluff shapes",
        held="memory",
    ),
    "katz-plotkin-2001": Source(
        citation="J. Katz, A. Plotkin, Low-Speed Aerodynamics, 2nd ed., Cambridge 2001, ch. 12",
        taken="horseshoe lattice, far-wake drag",
        held="memory",
    ),
    "lan-1974": Source(
        citation="C. E. Lan, A quasi-vortex-lattice method in thin wing theory, "
        "J. Aircraft 11 (1974) 518",
        taken="control points midway in the spacing angle",
        held="memory",
    ),
    "euler-1744": Source(
        citation="L. Euler, Methodus inveniendi lineas curvas, additamentum I, 1744; in every "
        "handbook of strength of materials",
        taken="load under which a slender column with pinned ends buckles",
        held="memory",
    ),
    "naca-hinge": Source(
        citation="NACA hinge-moment tests of plain control surfaces, 1930s, report number not "
        "known; one row quoted second-hand by hobby articles on servo torque",
        taken="18 by 1.8 in surface at 40 mph: 6.4 ozf in at 20 degrees, 3.2 at 10",
        held="second-hand",
    ),
    "glauert-1927": Source(
        citation="H. Glauert, Theoretical relationships for an aerofoil with hinged flap, "
        "ARC R&M 1095, 1927",
        taken="flap effectiveness, pitching and hinge moments",
        held="memory",
    ),
    "glauert-1926": Source(
        citation="H. Glauert, The Elements of Aerofoil and Airscrew Theory, Cambridge 1926, ch. XI",
        taken="lifting line by Fourier series, rectangular and tapered wings",
        held="memory",
    ),
    "prandtl-1921": Source(
        citation="L. Prandtl, Applications of modern hydrodynamics to aeronautics, "
        "NACA TR 116, 1921",
        taken="elliptic wing: slope, induced drag, downwash far behind",
        held="memory",
    ),
    "helmbold-1942": Source(
        citation="H. B. Helmbold, Der unverwundene Ellipsenfluegel als tragende Flaeche, "
        "Jahrbuch der deutschen Luftfahrtforschung 1942",
        taken="lift slope at low aspect ratio",
        held="second-hand",
    ),
    "datcom-1978": Source(
        citation="USAF Stability and Control Datcom, AFWAL-TR-83-3048, ch. 4 (4.1.3.2), 5 and 7",
        taken="lift slope of a swept wing, tail downwash, dihedral effect, wing height, yaw from "
        "roll",
        held="memory",
    ),
    "anderson-fundamentals": Source(
        citation="J. D. Anderson, Fundamentals of Aerodynamics, ch. 5 (examples 5.1, 5.2)",
        taken="worked examples of finite wings; example numbers from memory",
        held="memory",
    ),
    "anderson-introduction": Source(
        citation="J. D. Anderson, Introduction to Flight, ch. 6 (rate of climb of the CP-1) and "
        "ch. 7 (examples 7.2 to 7.7)",
        taken="rate of climb, worked examples of static stability; example numbers from memory",
        held="memory",
    ),
    "nelson-1998": Source(
        citation="R. C. Nelson, Flight Stability and Automatic Control, 2nd ed., 1998, ch. 2-5",
        taken="strip theory of roll damping and roll control, equations of small disturbances, "
        "modes of the NAVION",
        held="memory",
    ),
    "etkin-1996": Source(
        citation="B. Etkin, L. D. Reid, Dynamics of Flight: Stability and Control, 3rd ed., Wiley, "
        "1996",
        taken="equations of small disturbances, strip formulas of the rate derivatives",
        held="memory",
    ),
    "toll-queijo-1948": Source(
        citation="T. A. Toll, M. J. Queijo, Approximate Relations and Charts for Low-Speed "
        "Stability Derivatives of Swept Wings, NACA TN 1581, 1948",
        taken="yaw from roll of swept wings, odd over even slope",
        held="memory",
    ),
    "ogata-2010": Source(
        citation="K. Ogata, Modern Control Engineering, 5th ed., Prentice Hall, 2010",
        taken="gain and phase margin, ultimate gain, printed examples",
        held="memory",
    ),
    "franklin-powell-2015": Source(
        citation="G. F. Franklin, J. D. Powell, A. Emami-Naeini, Feedback Control of Dynamic "
        "Systems, 7th ed., Pearson, 2015",
        taken="stability margins of 1 / s (s + 1)^2",
        held="memory",
    ),
    "ziegler-nichols-1942": Source(
        citation="J. G. Ziegler, N. B. Nichols, Optimum Settings for Automatic Controllers, "
        "Trans. ASME 64 (1942) 759",
        taken="half the ultimate gain for a proportional controller",
        held="memory",
    ),
    "duda-1998": Source(
        citation="H. Duda, Flight Control System Design Considering Rate Saturation, Aerospace "
        "Science and Technology 2 (1998) 265",
        taken="describing function of a rate limit",
        held="memory",
    ),
    "purser-campbell-1945": Source(
        citation="P. E. Purser, J. P. Campbell, Experimental verification of a simplified "
        "vee-tail theory, NACA TR 823, 1945",
        taken="equivalent tail areas of a vee tail",
        held="memory",
    ),
    "bertin-smith": Source(
        citation="J. J. Bertin, M. L. Smith, Aerodynamics for Engineers, ch. 7",
        taken="lattice of 1 x 4 panels on a 45 degree wing; printed digits from memory",
        held="memory",
    ),
    "mason-vt": Source(
        citation="W. H. Mason, Applied Computational Aerodynamics notes, ch. 6, Virginia Tech",
        taken="slopes of the Warren-12 planform; digits from memory",
        held="memory",
    ),
    "munk-1924": Source(
        citation="M. M. Munk, The aerodynamic forces on airship hulls, NACA TR 184, 1924",
        taken="moment of a slender body; apparent mass of ellipsoids after Lamb",
        held="memory",
    ),
    "uiuc-propellers": Source(
        citation="J. B. Brandt, R. W. Deters, G. K. Ananda, O. D. Dantsker, M. S. Selig, "
        "UIUC Propeller Database, volumes 1-3, University of Illinois at Urbana-Champaign",
        taken="thrust and power against advance ratio, blade shapes; fits and spreads derived",
        held="read",
    ),
    "brandt-selig-2011": Source(
        citation="J. B. Brandt, M. S. Selig, Propeller Performance Data at Low Reynolds Numbers, "
        "AIAA 2011-1255 (2011)",
        taken="the measured curves, through the database",
        held="abstract",
    ),
    "deters-selig-2014": Source(
        citation="R. W. Deters, G. K. Ananda, M. S. Selig, Reynolds Number Effects on the "
        "Performance of Small-Scale Propellers, AIAA 2014-2151 (2014)",
        taken="the 9-inch research propeller at nine speeds, through the database",
        held="read",
    ),
    "ning-2014": Source(
        citation="S. A. Ning, A simple solution method for the blade element momentum equations "
        "with guaranteed convergence, Wind Energy 17 (2014) 1327",
        taken="one residual in the inflow angle, bracketed",
        held="memory",
    ),
    "glauert-1935": Source(
        citation="H. Glauert, Airplane Propellers, in W. F. Durand (ed.), Aerodynamic Theory, "
        "volume IV (1935)",
        taken="ideal thrust and efficiency of the actuator disc",
        held="memory",
    ),
    "betz-prandtl-1919": Source(
        citation="A. Betz with an appendix by L. Prandtl, Schraubenpropeller mit geringstem "
        "Energieverlust, Goettinger Nachrichten (1919) 193",
        taken="the tip factor",
        held="memory",
    ),
    "goldstein-1929": Source(
        citation="S. Goldstein, On the vortex theory of screw propellers, Proc. Royal Society A "
        "123 (1929) 440",
        taken="the limit of many blades",
        held="memory",
    ),
    "cao-strawson-2018": Source(
        citation="P. Cao, J. Strawson, bench data of small outrunner motors with 5-inch "
        "propellers (2018), MIT licence",
        taken="thrust, speed, voltage, current of eight propellers on several motors",
        held="read",
    ),
    "iso-2533": Source(
        citation="ISO 2533:1975, Standard Atmosphere",
        taken="constants and formulas below 11 km, sea-level values",
        held="second-hand",
    ),
    "ussa-1976": Source(
        citation="U.S. Standard Atmosphere 1976, NOAA-S/T 76-1562",
        taken="values at geometric altitudes, viscosity at sea level",
        held="second-hand",
    ),
    "buck-1981": Source(
        citation="A. L. Buck, New equations for computing vapor pressure and enhancement factor, "
        "J. Appl. Meteorology 20 (1981) 1527",
        taken="saturation pressure over water, fit e_w1",
        held="memory",
    ),
    "picard-2008": Source(
        citation="A. Picard, R. S. Davis, M. Glaeser, K. Fujii, Revised formula for the density of "
        "moist air (CIPM-2007), Metrologia 45 (2008) 149",
        taken="density of moist air, recomputed with coefficients from memory; tests only",
        held="memory",
    ),
    "white-2006": Source(
        citation="F. M. White, Viscous Fluid Flow, 3rd ed., McGraw-Hill 2006, table 1-2",
        taken="two other constant sets of the viscosity law; tests only",
        held="memory",
    ),
    "faa-handbook": Source(
        citation="FAA, Pilot's Handbook of Aeronautical Knowledge, performance chapter",
        taken="rule of thumb for density altitude; tests only",
        held="memory",
    ),
    "jardin-2007": Source(
        citation="M. R. Jardin, E. R. Mueller, Optimized measurements of UAV mass moment of "
        "inertia with a bifilar pendulum, AIAA 2007-6822",
        taken="small-angle formula of the swing on two cords",
        held="abstract",
    ),
    "bifilar-example-2025": Source(
        citation="Measuring the Moment of Inertia of UAV, worked example on bartslinger.com, 2025",
        taken="mass, spacing, cord, period and inertia of one swing; tests only",
        held="read",
    ),
    "drela-2007": Source(
        citation="M. Drela, First-Order DC Electric Motor Model, MIT lecture note (2007)",
        taken="three-constant motor and its closed forms",
        held="memory",
    ),
    "chen-rincon-mora-2006": Source(
        citation="M. Chen, G. A. Rincon-Mora, Accurate Electrical Battery Model Capable of "
        "Predicting Runtime and I-V Performance, IEEE Trans. Energy Conversion 21(2) "
        "(2006) 504",
        taken="open-circuit voltage and series resistance of an 850 mAh cell",
        held="second-hand",
    ),
    "iec-60028": Source(
        citation="IEC 60028, International standard of resistance for copper",
        taken="resistivity and temperature coefficient of annealed copper",
        held="second-hand",
    ),
    "peukert-1897": Source(
        citation="W. Peukert, Elektrotechnische Zeitschrift 20 (1897)",
        taken="discharge time against current",
        held="memory",
    ),
    "astm-b258": Source(
        citation="ASTM B258, Standard nominal diameters and cross-sectional areas of AWG sizes of "
        "solid round wires",
        taken="definition of the gauge; diameters and resistances of tables after it",
        held="second-hand",
    ),
    "iec-60228": Source(
        citation="IEC 60228, Conductors of insulated cables",
        taken="largest resistance of fine-stranded conductors, temperature factor",
        held="second-hand",
    ),
    "neets-4": Source(
        citation="U.S. Navy Electricity and Electronics Training Series, module 4, Electrical "
        "Conductors",
        taken="worked example of wire resistance; tests only",
        held="read",
    ),
    "preece-1884": Source(
        citation="W. H. Preece, On the heating effects of electric currents, Proc. Royal Society "
        "36 (1884) 464",
        taken="fusing current of bare copper wire",
        held="memory",
    ),
    "onderdonk-1928": Source(
        citation="I. M. Onderdonk, short-time melting of copper wire, quoted by E. R. Stauffacher, "
        "General Electric Review 31 (1928) 326",
        taken="the formula",
        held="memory",
    ),
    "rieger-2016": Source(
        citation="B. Rieger et al., J. Electrochemical Society 163 (2016) A1566; W. Ai et al., "
        "J. Electrochemical Society 167 (2020) 013512",
        taken="discharges of a 2.28 Ah pouch cell; tests only",
        held="second-hand",
    ),
    "ecker-2015": Source(
        citation="M. Ecker et al., J. Electrochemical Society 162 (2015) A1849, digitised by "
        "G. Richardson et al. (2020)",
        taken="discharges of a 7.5 Ah pouch cell; tests only",
        held="second-hand",
    ),
    "textbook-problem": Source(
        citation="problem of an electrical engineering course, seen on homeworklib.com: motor of "
        "12 V, 3800 rpm, 30 mN m at stall",
        taken="the inputs; the answer is worked out here; tests only",
        held="second-hand",
    ),
}
