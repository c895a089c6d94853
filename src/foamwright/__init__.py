"""From bare foam to flight twenty: plain answers with honest odds for small foam planes."""

__version__ = "0.1.0"
