"""Sources on measuring: paper, photographs, stiffness, what is made of uncertain numbers."""

from foamwright.sources.source import Source

MEASURING: dict[str, Source] = {
    "iso-216": Source(
        citation="ISO 216, Writing paper and certain classes of printed matter: trimmed sizes, A "
        "and B series, 2007",
        taken="A4 is 210 by 297 mm; sides of 150 to 600 mm may be 2 mm off",
        held="memory",
    ),
    "asme-y14-1": Source(
        citation="ANSI/ASME Y14.1, Decimal inch drawing sheet size and format, 1995",
        taken="size A, letter paper: 8.5 by 11 in",
        held="memory",
    ),
    "roark": Source(
        citation="R. J. Roark, W. C. Young, Formulas for Stress and Strain, 5th ed., 1975, torsion "
        "of bars with any elongated section",
        taken="torsion constant from thickness along the middle line",
        held="memory",
    ),
    "jcgm-100": Source(
        citation="JCGM 100, Evaluation of measurement data: guide to the expression of uncertainty "
        "in measurement, 2008",
        taken="linear propagation of standard uncertainties (5.1, 5.2); limits alone as a "
        "rectangular distribution (4.3.7)",
        held="memory",
    ),
    "kish-1965": Source(
        citation="L. Kish, Survey sampling, Wiley, New York 1965, 8.2",
        taken="design effect: n readings of which each pair shares a part r of its variance tell "
        "as much as n / (1 + (n - 1) r) independent ones",
        held="memory",
    ),
    "blom-1958": Source(
        citation="G. Blom, Statistical estimates and transformed beta-variables, Wiley, New York "
        "1958",
        taken="the lowest of n normal readings lies about as low as the normal quantile of "
        "(1 - 0.375) / (n + 0.25)",
        held="memory",
    ),
    "minka-2001": Source(
        citation="T. P. Minka, Expectation propagation for approximate Bayesian inference, Proc. "
        "Uncertainty in Artificial Intelligence (2001) 362",
        taken="a factor that is no normal stands as the normal one that leaves the same mean and "
        "variance",
        held="memory",
    ),
    "birge-1932": Source(
        citation="R. T. Birge, The calculation of errors by the method of least squares, Physical "
        "Review 40 (1932) 207",
        taken="where results lie farther apart than their errors explain, the error of their mean "
        "grows by the root of chi squared over degrees of freedom",
        held="memory",
    ),
    "silverman-1986": Source(
        citation="B. W. Silverman, Density Estimation for Statistics and Data Analysis, Chapman "
        "and Hall, 1986",
        taken="width of the smoothing in two dimensions (4.3), wider where points lie alone (5.3)",
        held="memory",
    ),
    "hyndman-1996": Source(
        citation="R. J. Hyndman, Computing and graphing highest density regions, The American "
        "Statistician 50 (1996) 120",
        taken="the level of a highest density region as a quantile of the density at the sample",
        held="memory",
    ),
    "friis-1946": Source(
        citation="H. T. Friis, A note on a simple transmission formula, Proc. Institute of Radio "
        "Engineers 34 (1946) 254",
        taken="received power falls with the square of the distance in free space: 20 dB when it "
        "grows tenfold",
        held="memory",
    ),
    "hartley-1997": Source(
        citation="R. I. Hartley, In defense of the eight-point algorithm, IEEE Trans. Pattern "
        "Analysis and Machine Intelligence 19 (1997) 580",
        taken="points normalised before a direct linear transform",
        held="memory",
    ),
    "patterson-thompson-1971": Source(
        citation="H. D. Patterson, R. Thompson, Recovery of inter-block information when block "
        "sizes are unequal, Biometrika 58 (1971) 545-554",
        taken="the likelihood of what a fitted mean leaves: it does not take the variance for "
        "smaller by what the mean took",
        held="memory",
    ),
    "fuller-1987": Source(
        citation="W. A. Fuller, Measurement error models, Wiley, New York 1987, 2.2",
        taken="errors of known covariance in what is regressed on draw its coefficients to zero; "
        "their mean products are subtracted from the normal equations",
        held="memory",
    ),
    "ljung-1999": Source(
        citation="L. Ljung, System Identification: Theory for the User, 2nd edition, 1999",
        taken="the direct prediction error method for loops that are closed (13.4)",
        held="memory",
    ),
    "zhang-2000": Source(
        citation="Z. Zhang, A flexible new technique for camera calibration, IEEE Trans. Pattern "
        "Analysis and Machine Intelligence 22 (2000) 1330",
        taken="what a view of a plane says of its camera: right angles, and one scale both ways",
        held="memory",
    ),
    "hua-sarkar-1990": Source(
        citation="Y. Hua, T. K. Sarkar, Matrix pencil method for estimating parameters of "
        "exponentially damped/undamped sinusoids in noise, IEEE Trans. Acoustics, Speech and "
        "Signal Processing 38 (1990) 814",
        taken="poles of a sequence from the singular vectors of its Hankel matrix",
        held="memory",
    ),
    "ntouros-2025": Source(
        citation="E. Ntouros, P. Kelley, E. Smeur, Airspeed estimation for UAVs using only "
        "propeller feedback, arXiv 2507.03456, 2025; data at 4TU.ResearchData, CC BY 4.0",
        taken="that power and speed of a propeller tell the airspeed; for tests the rows of its "
        "wind tunnel and of a free flight",
        held="abstract",
    ),
}
