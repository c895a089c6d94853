"""The notebook in the browser: one drawing, the questions beside it, everything written below."""
