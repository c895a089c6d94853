"""Mass and structure of the frame."""
