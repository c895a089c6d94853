"""Flight: where lift, drag and drive meet."""
